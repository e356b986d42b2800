"""Grain sizes and sanding against printed tables and worked arithmetic.

ISO 6344, Coated abrasives: grain size analysis, ISO, 1998 (its years from memory); ANSI B74.18,
Grading of certain abrasive grain on coated abrasive material, ANSI, 1996 (from memory). What stands
here was found in cross charts that bear no title, or is from memory, as each table says.
"""

import pytest

from finishsched.film.abrading import sanding_takes
from finishsched.film.grade_steps import Change, step_between
from finishsched.model.grades import UnknownGradeError, grade_of

# ISO 6344 (FEPA P), mean grain in um. P80 to P220: cross charts; the rest from memory.
FEPA = {
    "P80": 201, "P100": 162, "P120": 125, "P150": 100, "P180": 82, "P220": 68, "P240": 58.5,
    "P280": 52.2, "P320": 46.2, "P360": 40.5, "P400": 35.0, "P500": 30.2, "P600": 25.8,
    "P800": 21.8, "P1000": 18.3, "P1200": 15.3, "P1500": 12.6, "P2000": 10.3, "P2500": 8.4,
}  # fmt: skip
# ANSI B74.18 (CAMI), mean grain in um: cross charts.
CAMI = {
    "CAMI 80": 192, "CAMI 100": 141, "CAMI 120": 116, "CAMI 150": 93, "CAMI 180": 78,
    "CAMI 220": 66, "CAMI 240": 53, "CAMI 280": 44, "CAMI 320": 36, "CAMI 360": 28.8,
    "CAMI 400": 23.6, "CAMI 500": 19.7, "CAMI 600": 16.0, "CAMI 800": 12.2, "CAMI 1000": 9.2,
}  # fmt: skip


@pytest.mark.parametrize(("name", "grain_um"), [*FEPA.items(), *CAMI.items()])
def test_grain_as_in_the_standards(name, grain_um):
    """Each grade has the mean grain of its standard's table, ISO 6344 or ANSI B74.18, see above."""
    assert grade_of(name).grain_um == grain_um
    assert grade_of(name).name == name


@pytest.mark.parametrize(
    ("cami", "fepa"),
    [("CAMI 320", "P400"), ("CAMI 400", "P800"), ("CAMI 500", "P1000"), ("CAMI 600", "P1200")],
)
def test_the_two_systems_meet_where_cross_charts_say(cami, fepa):
    """CAMI 320 is about P400, 400 P800, 500 P1000, 600 P1200: cross charts, no title, to 10 %."""
    assert grade_of(cami).grain_um == pytest.approx(grade_of(fepa).grain_um, rel=0.10)


def test_sanding_draws_down_a_veneer_as_worked():
    """120, 180, 220 takes about 0.14 mm of a 0.6 mm face, 23 % (worked; half a grain assumed)."""
    taken_um = sum(sanding_takes(grade_of(name)).likely for name in ("P120", "P180", "P220"))
    assert taken_um == pytest.approx(140, abs=5)
    assert 100 * taken_um / 600 == pytest.approx(23, abs=0.5)


@pytest.mark.parametrize(
    ("before", "after", "change"),
    [
        ("P120", "P180", Change.GOOD),  # 1.52
        ("P320", "P400", Change.GOOD),  # 1.32
        ("P180", "P320", Change.WIDE),  # 1.77
        ("P120", "P240", Change.SKIPPED),  # 2.14
        ("P400", "P240", Change.REVERSED),
    ],
)
def test_the_printed_step_rule(before, after, change):
    """From one grade to the next the grain shrinks by 1.3 to 1.6, at most 2.0: print, no title."""
    assert step_between(grade_of(before), grade_of(after)).change is change


@pytest.mark.parametrize(
    ("name", "grain_um"),
    [("film 12 um", 12.0), ("cloth 6 microns", 6.0), ("cushioned cloth 1.5um", 1.5),
     ("0000 synthetic wool", 25.8), ("bronze wool", 25.8),
     ("fine bronze wool", 25.8), ("0000 bronze wool", 25.8)],
)  # fmt: skip
def test_film_and_cushioned_cloth_go_by_their_grain(name, grain_um):
    """Their makers name them by the mean grain itself; wools are rough equivalents from memory."""
    assert grade_of(name).grain_um == grain_um
    assert grade_of(grade_of(name).name) == grade_of(name)


@pytest.mark.parametrize(
    ("name", "grain_um"),
    [("0 wool", 50), ("00 wool", 40), ("000 wool", 35), ("0000 wool", 25), ("grey pad", 37.5),
     ("maroon pad", 60)],
)  # fmt: skip
def test_wools_and_pads_rub_as_a_printed_chart_has_them(name, grain_um):
    """M. Asser, "True grit", 2008, no publisher at hand: to 5 %; grey is printed as 35 to 40."""
    assert grade_of(name).grain_um == pytest.approx(grain_um, rel=0.05)


@pytest.mark.parametrize("name", ["film 0 um", "film 900 um", "cloth 6000"])
def test_no_film_is_of_such_a_grain(name):
    """Nothing, as coarse as gravel, or a number of some maker's own."""
    with pytest.raises(UnknownGradeError):
        grade_of(name)
