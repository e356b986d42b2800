"""A split sitting has a price in lateness when plans are weighed; what is spoilt has none."""

from dataclasses import replace

import pytest
from planning_shops import DAY

from finishsched.planning.going_on.steady import promise_of
from finishsched.planning.judging.checker import check
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import (
    Activity,
    Done,
    Goal,
    Hands,
    Lag,
    Placed,
    Plan,
    Problem,
    Score,
)
from finishsched.planning.quick import quick_plan
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.cost import costing_of
from finishsched.planning.quick.ordering import in_order
from finishsched.planning.replan import worth_offering
from finishsched.planning.score import late_and_split, score
from finishsched.planning.whole_plan import whole_plan
from finishsched.planning.window import Window

HOUR, EVENING = 60, 120
WHOLE = Score(0, 0, 0, 0, 0, 0, 0, 0)


def score_of(late_h, split_h=0.0, spoilt_h=0.0):
    """Return the score of a plan that is late, splits sittings and lets things spoil."""
    split_min, late_min = round(split_h * HOUR), round(late_h * HOUR)
    return replace(
        WHOLE,
        spoilt_min=round(spoilt_h * HOUR),
        late_and_split_min=late_and_split(late_min, split_min),
        late_min=late_min,
        split_min=split_min,
    )


def shop(others, *, in_one_sitting=True):
    """Return a shop of two coats that fill an evening, and others due on that evening."""
    coats = [Activity(key, 60, ("Ada",), "box") for key in ("coat 1", "coat 2")]
    rubs = [Activity(f"rub {piece}", 20, ("Ada",), piece) for piece in others]
    lag = Lag("coat 1", "coat 2", 0, 45, in_one_sitting=in_one_sitting)
    evenings = tuple(Window(day * DAY, day * DAY + EVENING) for day in range(4))
    goals = (Goal("box"), *(Goal(piece, due_min=EVENING) for piece in others))
    return Problem((*coats, *rubs), (lag,), (Hands("Ada", evenings),), goals=goals)


def plan_with(problem, **begins):
    """Return the plan in which each begins then: both coats, and the others one after another."""
    starts = {"coat 1": 0, "coat 2": begins["second_coat"]}
    rubs = [each.key for each in problem.activities if each.key not in starts]
    for number, key in enumerate(rubs):
        starts[key] = begins["rubs"] + 20 * number
    minutes = {each.key: each.minutes for each in problem.activities}
    order = sorted(starts, key=lambda key: (starts[key], key))
    placed = tuple(Placed(k, starts[k], starts[k] + minutes[k], "Ada") for k in order)
    return whole_plan(problem, placed)


def whole_and_split(problem):
    """Return the plan with both coats this evening, and that with the second one tomorrow."""
    whole = plan_with(problem, second_coat=60, rubs=DAY)
    split = plan_with(problem, second_coat=DAY, rubs=60)
    assert not check(problem, whole)
    assert not check(problem, split)
    return whole, split


def test_a_few_minutes_less_of_a_break_never_outweigh_days_of_lateness():
    """Of two plans that split a sitting for 35 hours, the one 56 hours less late is better."""
    assert promise_of(score_of(310, split_h=35.5)) < promise_of(score_of(366, split_h=35.4))


def test_a_night_between_two_coats_is_worth_hours_of_lateness_and_no_week():
    """A sitting is kept whole for a day of lateness, and split where that saves a week."""
    split = promise_of(score_of(0, split_h=21))
    assert promise_of(score_of(24)) < split < promise_of(score_of(7 * 24))


def test_no_lateness_is_worth_a_mix_gone_off_or_glue_that_skinned():
    """A minute past such a window is worse than a year of lateness."""
    assert promise_of(score_of(365 * 24)) < promise_of(score_of(0, spoilt_h=0.1))


def test_one_piece_that_waits_a_day_does_not_split_a_sitting():
    """The sitting stays whole where only one small piece comes a day too late for it."""
    problem = shop(["lid"])
    whole, split = whole_and_split(problem)
    assert not worth_offering(problem, whole, split)
    assert worth_offering(problem, split, whole)


def test_three_pieces_that_would_wait_a_day_do():
    """Three days of lateness, together, are more than a night between two coats is worth."""
    problem = shop(["lid", "tray", "panel"])
    whole, split = whole_and_split(problem)
    assert worth_offering(problem, whole, split)
    assert not worth_offering(problem, split, whole)


def test_for_a_mix_they_never_do():
    """Where the second is done from the mix of the first, nothing is worth letting that go off."""
    problem = shop(["lid", "tray", "panel"], in_one_sitting=False)
    whole, split = whole_and_split(problem)
    assert not worth_offering(problem, whole, split)
    assert worth_offering(problem, split, whole)


@pytest.mark.parametrize("others", [["lid"], ["lid", "tray", "panel"]])
def test_a_first_plan_splits_where_one_to_go_on_by_would(others):
    """With the first coat laid, the search finds the better plan of the two by those weights."""
    problem = shop(others)
    begun = replace(problem, now_min=60, done=(Done("coat 1", 0, 60, "Ada"),))
    promised = []
    for plan in whole_and_split(problem):
        left = tuple(each for each in plan.placed if each.key != "coat 1")
        promised.append(promise_of(score(begun, Plan(left, plan.misses))))
    found = quick_plan(begun, rounds=100)
    assert not check(begun, found)
    assert promise_of(score(begun, found)) == min(promised)


@pytest.mark.parametrize("in_one_sitting", [True, False])
@pytest.mark.parametrize("first_is_done", [True, False])
def test_the_search_counts_split_sittings_as_the_score_does(in_one_sitting, first_is_done):
    """Coats too long for one evening are a day apart by both, the first of them done or not."""
    problem = shop([], in_one_sitting=in_one_sitting)
    long = tuple(replace(each, minutes=100) for each in problem.activities)
    problem = replace(problem, activities=long)
    if first_is_done:
        problem = replace(problem, now_min=100, done=(Done("coat 1", 0, 100, "Ada"),))
    inner = inner_of(problem)
    placing = in_order(inner, blocks_of(inner, keep_soft=False), range(len(inner.keys)))
    cost, found = costing_of(inner).cost_of(placing), score(problem, plan_of(problem, placing))
    assert found.hard_late_min == DAY - 100 - 45
    assert found.split_min == (found.hard_late_min if in_one_sitting else 0)
    assert promise_of(cost) == promise_of(found)
