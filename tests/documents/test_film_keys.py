"""The keys about film in schedules, jobs and shops: read, inherited by steps, and their faults."""

import re

import pytest

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.model.film import BareGrades, FilmRules, Reach
from finishsched.model.step import steps_of

SCHEDULE = """\
schedule: x
title: X
source: common practice
stages:
  - stage: body
    steps:
      - rounds: 2
        steps:
          - level: block
            grade: [P400, P600]
            reach: {reach}
"""
SHOP = "shop: X\nfilm: {film}\n"
JOB = """\
job: x
title: X
pieces:
  - piece: lid
    title: Lid
    schedule: x
    relief: {relief}
    faces:
      - {{face: top, area: 0.1 m2}}
"""


def _read(text):
    return read(text.encode(), "x.yaml").model


def test_a_reach_for_all_rounds_or_for_each():
    """One value serves every round, a list gives each its own, and none leaves it open."""
    one = steps_of(_read(SCHEDULE.format(reach="flush")))
    assert [step.reach for step in one] == [Reach.FLUSH, Reach.FLUSH]
    each = steps_of(_read(SCHEDULE.format(reach="[level, scuff]")))
    assert [step.reach for step in each] == [Reach.LEVEL, Reach.SCUFF]
    none = steps_of(_read(SCHEDULE.format(reach="flush").replace("reach: flush", "with: felt")))
    assert [step.reach for step in none] == [None, None]


def test_a_shop_s_film_rules():
    """What is written is kept, and what is not has its default."""
    film = _read(SHOP.format(film="{bare_grades: CAMI, gauge_error: 0.2 mil}")).film
    assert film.bare_grades is BareGrades.CAMI
    assert film.gauge_error_um == pytest.approx(5.08)
    assert film.cut_through_odds_percent == FilmRules().cut_through_odds_percent


def test_a_stated_relief():
    """A job may say how deep the hollows are, in um or mil."""
    assert _read(JOB.format(relief="80 um")).pieces[0].relief_um == 80
    assert _read(JOB.format(relief="2 mil")).pieces[0].relief_um == pytest.approx(50.8)


def test_a_makers_own_hardness():
    """A job says how hard its wood is, in newtons or pounds: 4.448 N each (NIST SP 811, 2008)."""
    written = JOB.format(relief="80 um").replace("    relief", "    hardness: 1000 lbf\n    relief")
    assert _read(written).pieces[0].hardness_n == pytest.approx(4448.2, abs=0.1)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (SCHEDULE.format(reach="deep"), "'deep' is not a reach"),
        (SCHEDULE.format(reach="[level, scuff, flush]"), "'reach' has 3 values for 2 rounds"),
        (SHOP.format(film="{bare_grades: grit}"), "'grit' is not a system of grades"),
        (SHOP.format(film="{cut_through_odds: 5}"), "cut_through_odds|unit|write 5 %"),
        (SHOP.format(film="{odds: 5 %}"), "odds"),
        (JOB.format(relief="80"), "80"),
    ],
)
def test_a_wrong_key_is_told_with_what_would_do(text, says):
    """Each is a fault of its document."""
    with pytest.raises(DocumentFaultsError) as caught:
        _read(text)
    assert any(re.search(says, str(fault)) for fault in caught.value.faults)


INLAID = """\
job: box
title: Box
pieces:
  - piece: lid
    title: Lid
    schedule: any
    veneer: 0.6 mm
    inlay: {material: shell, thickness: 12 mil, in: 0.6 mm veneer}
    faces: [{face: top, length: 300 mm, width: 200 mm}]
"""


def test_an_inlay_is_read_in_mils_mm_and_um():
    """12 thousandths of an inch in 0.6 mm lies 0.3 mm low; um and mm say the same."""
    for written in ("12 mil", "0.3048 mm", "304.8 um"):
        (lid,) = read(INLAID.replace("12 mil", written).encode(), "box.yaml").model.pieces
        (inlay,) = lid.inlays
        assert inlay.low_um == pytest.approx(295.2)
        assert inlay.name == "shell inlay"
