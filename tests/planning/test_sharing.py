"""What is mixed and does not keep serves several pieces, where that makes nothing late."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from planning_shops import DAY, evenings, problems

from finishsched.planning.faults import sound
from finishsched.planning.judging.checker import Broken, check
from finishsched.planning.pots import all_mixed, pots_to_mix
from finishsched.planning.problem import (
    Activity,
    Done,
    Goal,
    Hands,
    HeldBy,
    Lag,
    Mixed,
    Placed,
    Plan,
    Pot,
    Problem,
)
from finishsched.planning.quick import quick_plan
from finishsched.planning.replan import replan
from finishsched.planning.score import score
from finishsched.planning.sharing import with_shared_pots

EPOXY = Pot("epoxy", 30)
LAWS = settings(max_examples=80)


def shop(waits, minutes=10, due=None, life=30):
    """Return pieces that are sanded on the first evening, and filled so many minutes later.

    After that the first of them has a whole week of its own to go, which nothing else can shorten.
    """
    activities, lags = [], []
    for number, wait in enumerate(waits):
        name = f"p{number}"
        activities.append(Activity(f"{name} sand", 20, ("Ada",), name))
        activities.append(Activity(f"{name} fill", minutes, ("Ada",), name, pot="epoxy"))
        lags.append(Lag(f"{name} sand", f"{name} fill", wait))
    activities.append(Activity("long", 10, ("Ada",), "long", tail_min=20 * DAY))
    goals = [Goal(f"p{number}", due if number == 0 else None) for number in range(len(waits))]
    return Problem(
        tuple(activities), tuple(lags), (Hands("Ada", evenings()),),
        goals=(*goals, Goal("long")), pots=(Pot("epoxy", life),),
    )  # fmt: skip


def evening_of(plan, key):
    """Return the day on which something of a plan begins."""
    (placed,) = [each for each in plan.placed if each.key == key]
    return placed.start_min // DAY


def test_a_fill_waits_an_evening_for_the_other_where_nothing_is_due():
    """Ready on the second evening and on the third, both are filled on the third, from one mix."""
    problem = shop((600, 600 + DAY))
    plan = replan(problem, None).plan
    assert not check(problem, plan)
    assert evening_of(plan, "p0 fill") == evening_of(plan, "p1 fill") == 2
    assert [mixed.keys for mixed in plan.mixed] == [("p0 fill", "p1 fill")]
    (first,) = [each for each in plan.placed if each.key == "p0 fill"]
    assert (first.held_by, first.held_by_key) == (HeldBy.POT, "p1 fill")


def test_what_is_due_before_the_other_is_ready_waits_for_no_mix():
    """The same, with the first due on the second evening: it is not late to save a mix."""
    problem = shop((600, 600 + DAY), due=DAY + 22 * 60)
    plan = replan(problem, None).plan
    assert evening_of(plan, "p0 fill") == 1
    assert not plan.mixed
    assert pots_to_mix(problem, plan.placed) == 2


def test_no_more_is_done_from_a_mix_than_its_life_allows():
    """Five fills of ten minutes take two mixes good for half an hour: not one, nor three."""
    problem = shop((600,) * 5)
    plan = replan(problem, None).plan
    assert not check(problem, plan)
    assert sorted(len(mixed.keys) for mixed in plan.mixed) == [2, 3]
    assert score(problem, plan).pots == 2


def test_a_week_is_too_long_to_wait_for_a_mix():
    """A fill that is ready eight days after the other is mixed for by itself."""
    plan = replan(shop((600, 600 + 8 * DAY)), None).plan
    assert not plan.mixed


def test_what_was_mixed_for_something_done_serves_the_next_as_long_as_it_is_good():
    """Begun at 18:20, a mix is there till 18:50: what is placed within that mixes nothing."""
    sanded = [Done(f"p{n} sand", 1060 + 5 * n, 1065 + 5 * n, "Ada") for n in (0, 1)]
    filled = Done("p0 fill", 18 * 60 + 20, 18 * 60 + 30, "Ada")
    problem = replace(shop((0, 0)), now_min=18 * 60 + 31, done=(*sanded, filled))
    in_time = [Placed("p1 fill", 18 * 60 + 40, 18 * 60 + 50, "Ada")]
    too_late = [Placed("p1 fill", 18 * 60 + 41, 18 * 60 + 51, "Ada")]
    assert pots_to_mix(problem, in_time) == 0
    assert pots_to_mix(problem, too_late) == 1
    assert all_mixed(problem, in_time) == [Mixed("epoxy", ("p0 fill", "p1 fill"))]


TWO = Problem(
    (
        Activity("a", 10, pot="epoxy"),
        Activity("b", 10, pot="epoxy"),
        Activity("c", 10),
    ),
    pots=(EPOXY,),
)


@pytest.mark.parametrize(
    ("mixed", "starts"),
    [
        pytest.param([Mixed("epoxy", ("a", "b"))], (0, 21, 0), id="past its life"),
        pytest.param([Mixed("epoxy", ("a", "c"))], (0, 5, 0), id="done from nothing mixed"),
        pytest.param([Mixed("varnish", ("a", "b"))], (0, 5, 0), id="no such pot"),
        pytest.param([Mixed("epoxy", ("a", "x"))], (0, 5, 0), id="no such activity"),
        pytest.param(
            [Mixed("epoxy", ("a", "b")), Mixed("epoxy", ("b", "a"))], (0, 5, 0), id="from two"
        ),
    ],
)
def test_the_checker_finds_what_cannot_be_done_from_one_mix(mixed, starts):
    """Each way to say of a mix what is not so is found; a true one to the last minute never is."""
    placed = [Placed(key, at, at + 10) for key, at in zip("abc", starts, strict=True)]
    placed.sort(key=lambda each: (each.start_min, each.key))
    plan = Plan(tuple(placed), mixed=tuple(mixed))
    assert Broken.POT in {each.kind for each in check(TWO, plan)}
    for day in (0, 1440):
        true = (
            Placed("a", day, day + 10),
            Placed("c", day, day + 10),
            Placed("b", day + 20, day + 30),
        )
        assert not check(TWO, Plan(true, mixed=(Mixed("epoxy", ("a", "b")),)))


def test_of_one_mix_the_activity_that_lies_nowhere_is_named():
    """Not the one beside it, which lies where it should."""
    placed = tuple(Placed(key, 0, 10) for key in "abc")
    plan = Plan(placed, mixed=(Mixed("epoxy", ("a", "x")),))
    (told,) = (each for each in check(TWO, plan) if each.kind is Broken.POT)
    assert told.keys == ("x",)


@LAWS
@given(problems())
def test_sharing_makes_nothing_worse_that_counts_for_more(problem):
    """With mixes shared a plan can be carried out, mixes no more, and is no later."""
    problem = sound(problem).problem
    plan = quick_plan(problem, rounds=3)
    shared = with_shared_pots(problem, plan)
    assert not check(problem, shared)
    was, now = score(problem, plan), score(problem, shared)
    assert now.pots <= was.pots
    assert (now.left_out, now.hard_late_min, now.late_min) <= (
        was.left_out,
        was.hard_late_min,
        was.late_min,
    )
    if now.late_min == was.late_min:
        assert now.finish_min <= was.finish_min or now.latest_min < was.latest_min


def test_work_that_outlasts_its_mix_shares_it_with_nothing():
    """One fill takes longer than its mix is good, by its mending: another meanwhile mixes anew."""
    problem = shop((0, 0))
    evening = 18 * 60
    placed = (
        Placed("p0 fill", evening, evening + 35, "Ada"),
        Placed("p1 fill", evening + 5, evening + 15, "Ben"),
    )
    assert [mixed.keys for mixed in all_mixed(problem, placed)] == [("p0 fill",), ("p1 fill",)]
