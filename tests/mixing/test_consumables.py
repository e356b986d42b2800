"""Papers, cloths and what wets them: every step that uses some counts, in order and in range.

No published life of a sheet in the hand was found: the figures are our assumption, so these tests
hold laws of the reckoning, and no figure.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.documents.library import schedule_names, shipped_products, shipped_schedules
from finishsched.mixing.consumables import LEAST_SHEET, consumables_of
from finishsched.mixing.need import PieceWork
from finishsched.model.schedule import Schedule, Spread, Stage, StageName, StepPlan
from finishsched.model.step import steps_of
from finishsched.model.verbs import Verb


def used(name, area_m2=0.1, left=None):
    """Return what a shipped schedule uses up on so much area."""
    steps = steps_of(shipped_schedules()[name])
    keys = frozenset(step.key for step in steps) if left is None else left
    work = PieceWork("a/b", area_m2, "walnut", steps, keys)
    return consumables_of([work], shipped_products())


@pytest.mark.parametrize("name", schedule_names())
def test_every_grade_of_a_schedule_is_on_the_list(name):
    """No paper, wool or pad is forgotten, and nothing is there that no step uses."""
    graded = {s.grade for s in steps_of(shipped_schedules()[name]) if s.verb.abrades and s.grade}
    listed = {one.name for one in used(name) if one.unit in ("sheet", "pad")}
    assert listed == graded
    for one in used(name):
        assert 0 < one.amount.low <= one.amount.likely <= one.amount.high


@given(st.floats(0.01, 5.0), st.floats(0.0, 5.0))
def test_more_area_takes_no_less(area_m2, more_m2):
    """A larger piece never needs fewer sheets, cloths or drops."""
    small = {(one.name, one.unit): one.amount for one in used("padded-shellac-pattern", area_m2)}
    large = used("padded-shellac-pattern", area_m2 + more_m2)
    assert all(one.amount.likely >= small[one.name, one.unit].likely - 1e-9 for one in large)


@pytest.mark.parametrize("name", ["padded-shellac-open-pored", "wiped-oil"])
def test_pieces_at_the_same_step_use_up_what_one_piece_of_all_their_face_does(name):
    """Five small panels share sheets, cloths and pad, as they share what is mixed for them."""
    steps = steps_of(shipped_schedules()[name])
    keys = frozenset(step.key for step in steps)
    works = [PieceWork(f"a/{number}", 0.02, "walnut", steps, keys) for number in range(5)]
    apart = {one.name: one.amount.likely for one in consumables_of(works, shipped_products())}
    assert apart == pytest.approx({one.name: one.amount.likely for one in used(name, 0.1)})


def test_nobody_tears_less_than_a_quarter_sheet():
    """On a face of a hand each grade still takes its quarter."""
    sheets = [one for one in used("wiped-oil", 0.01) if one.unit == "sheet"]
    assert sheets
    assert all(one.amount.likely >= LEAST_SHEET.likely for one in sheets)


def test_what_is_done_is_used_no_more():
    """Only steps still to do are counted."""
    steps = steps_of(shipped_schedules()["wiped-oil"])
    last = frozenset(step.key for step in steps if step.verb is Verb.REST)
    assert used("wiped-oil", left=last) == ()


def test_paper_wet_with_a_product_takes_that_product():
    """Spirits under the paper are on the list; water from the tap is not."""
    names = {one.name for one in used("padded-shellac-open-pored") if one.unit == "ml"}
    assert names == {"mineral-spirits"}
    assert "water" not in {one.name for one in used("waterborne-over-shellac")}


@pytest.mark.parametrize("name", schedule_names())
def test_each_step_uses_up_what_its_verb_says(name):
    """By itself: cloths where it cleans or wipes, a cover with a pad's first coat, tape to mask."""
    for step in steps_of(shipped_schedules()[name]):
        does, alone = step.verb.does, used(name, left=frozenset((step.key,)))
        units = {one.unit for one in alone}
        assert ("cloth" in units) == bool(does.cleans or does.with_cloths)
        assert ("cover" in units) == (step.verb is Verb.PAD and step.coat == 1)
        assert ("m" in units) == (step.verb is Verb.MASK)


def test_a_tray_wiped_often_takes_a_few_cloths_and_no_dozen():
    """A cloth has several clean faces, so small faces share it; how many is told as a range."""
    steps = steps_of(shipped_schedules()["padded-shellac-pattern"])
    wipings = sum(step.verb.does.cleans or step.verb.does.with_cloths for step in steps)
    (cloths,) = (one for one in used("padded-shellac-pattern", 0.02) if one.unit == "cloth")
    assert wipings > 4
    assert 1 <= cloths.amount.likely <= wipings / 3
    assert cloths.amount.low < cloths.amount.likely < cloths.amount.high <= wipings


@pytest.mark.parametrize(("area_m2", "outline_m"), [(0.01, 0.4), (0.25, 2.0), (1.0, 4.0)])
def test_tape_goes_round_a_face(area_m2, outline_m):
    """What is masked off takes, at the likeliest, the outline of a square of that area."""
    plan = StepPlan("mask", Verb.MASK, "along the inlay")
    steps = steps_of(Schedule("s", "S", (Stage(StageName.BODY, (plan,)),)))
    work = PieceWork("a/b", area_m2, "walnut", steps, frozenset(step.key for step in steps))
    (tape,) = (one for one in consumables_of([work], {}) if one.name == "masking tape")
    assert tape.amount.likely == pytest.approx(outline_m)
    assert tape.unit == "m"


def test_what_a_step_cleans_with_is_on_the_list_though_no_amount_is_stated():
    """A wipe with spirits by its verb's usual amount; with an amount it is counted as a coat is."""
    plan = StepPlan("off", Verb.SPIRIT_OFF, "straight", product="mineral-spirits")
    for spread, listed in ((None, 1), (Spread(ml_per_m2=8.0), 0)):
        steps = steps_of(
            Schedule("s", "S", (Stage(StageName.BODY, (replace(plan, spread=spread),)),))
        )
        work = PieceWork("a/b", 0.5, "walnut", steps, frozenset(step.key for step in steps))
        found = [one for one in consumables_of([work], shipped_products()) if one.unit == "ml"]
        assert len(found) == listed
