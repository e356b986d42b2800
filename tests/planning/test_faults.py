"""Faults found before planning: what cannot be is told in a sentence, and the rest is planned."""

from dataclasses import replace

import pytest
from hypothesis import given
from planning_shops import DAY, evenings, problems

from finishsched.planning.faults import sound
from finishsched.planning.judging.checker import check
from finishsched.planning.plan_fault import FaultKind
from finishsched.planning.problem import (
    Activity,
    Done,
    Goal,
    Hands,
    Lag,
    Problem,
    SetUp,
    Store,
    Use,
)
from finishsched.planning.quick import first_plan

ADA = Hands("Ada", evenings())


def work(key, minutes=20, by=("Ada",), goal="lid", **more):
    """Return an activity."""
    return Activity(key, minutes, by, goal, **more)


def shop(activities, lags=(), **more):
    """Return a problem of one person with three hours every evening."""
    return Problem(tuple(activities), tuple(lags), (ADA,), **more)


def the_one(problem):
    """Return the one fault, after seeing that what is left can be planned."""
    found = sound(problem)
    (fault,) = found.faults
    assert check(found.problem, first_plan(found.problem)) == ()
    return fault, {a.key for a in found.problem.activities}


def test_nothing_wrong():
    """A shop without faults is planned as it is."""
    problem = shop([work("a"), work("b")], [Lag("a", "b", 60, 2 * DAY, 15)])
    assert sound(problem).faults == ()
    assert sound(problem).problem == problem


def test_a_circle_is_named_and_left_out_with_what_follows():
    """Steps that wait for each other in a circle are named; what does not hang on them stays."""
    fault, left = the_one(
        shop(
            [work("a"), work("b"), work("c"), work("after"), work("free")],
            [Lag("a", "b"), Lag("b", "c"), Lag("c", "a"), Lag("c", "after")],
        )
    )
    assert fault.kind is FaultKind.CYCLE
    assert set(fault.keys) == {"a", "b", "c"}
    assert fault.left_out == ("a", "after", "b", "c")
    assert left == {"free"}


def test_a_hard_window_that_the_work_between_outlasts_is_a_circle_in_time():
    """B within 30 of A, with an hour's work that has to come between, can never be."""
    fault, _ = the_one(
        shop(
            [work("a"), work("between", 60), work("b")],
            [Lag("a", "between"), Lag("between", "b"), Lag("a", "b", 0, 30)],
        )
    )
    assert fault.kind is FaultKind.CYCLE


def test_a_window_that_closes_before_it_opens():
    """A window shorter than its wait is told with both, and the wait is kept."""
    fault, left = the_one(shop([work("a"), work("b")], [Lag("a", "b", 120, 60)]))
    assert fault.kind is FaultKind.BACKWARDS
    assert fault.minutes == 60
    assert "2 h" in fault.sentence
    assert left == {"a", "b"}


@pytest.mark.parametrize(
    ("minutes", "set_up", "over"), [(180, 0, 0), (181, 0, 1), (175, 5, 0), (175, 6, 1)]
)
def test_a_step_longer_than_any_session(minutes, set_up, over):
    """Three hours fit an evening of three hours to the minute, set-up and all, and no more."""
    problem = shop(
        [work("long", minutes, kind="sand"), work("after"), work("free")],
        [Lag("long", "after")],
        set_ups=(SetUp("sand", set_up),),
    )
    if not over:
        assert sound(problem).faults == ()
        return
    fault, left = the_one(problem)
    assert fault.kind is FaultKind.TOO_LONG
    assert fault.minutes == over
    assert "split" in fault.remedy
    assert left == {"free"}


def test_no_hours_at_all_and_unknown_names():
    """Work for somebody without hours, or for nobody here, is told and left out."""
    problem = replace(
        shop([work("a", by=("Ben",)), work("b", by=("Cleo",)), work("c")]),
        hands=(ADA, Hands("Ben", ())),
    )
    found = sound(problem)
    assert {f.kind for f in found.faults} == {FaultKind.NO_HOURS, FaultKind.UNKNOWN}
    assert {a.key for a in found.problem.activities} == {"c"}
    tied = shop([work("a", uses=(Use("shelf"),))], [Lag("a", "gone"), Lag("lost", "a")])
    found = sound(tied)
    assert [f.kind for f in found.faults] == [FaultKind.UNKNOWN] * 3
    assert {a.key for a in found.problem.activities} == {"a"}


def test_more_than_there_is():
    """A step that takes three clamps of two is told and left out."""
    fault, left = the_one(
        shop([work("a", uses=(Use("clamps", 3),)), work("b")], stores=(Store("clamps", 2),))
    )
    assert fault.kind is FaultKind.TOO_MUCH
    assert fault.minutes == 1
    assert left == {"b"}


NIGHT = DAY - 180


@pytest.mark.parametrize(
    ("least", "most", "over"),
    [
        (12 * 60, NIGHT, 0),
        (12 * 60, NIGHT - 1, 1),
        (180, NIGHT, 0),
        (160, 160, NIGHT - 160),
        (0, 30, 0),
    ],
)
def test_a_window_exactly_as_wide_as_the_night(least, most, over):
    """From the end of one evening to the start of the next is 21 h: to the minute it can be met."""
    problem = shop([work("a"), work("b")], [Lag("a", "b", least, most, 15)])
    if not over:
        assert sound(problem).faults == ()
        return
    fault, left = the_one(problem)
    assert fault.kind is FaultKind.NO_WINDOW
    assert fault.minutes == over
    assert fault.keys == ("a", "b")
    assert left == {"a", "b"}, "it is planned, and mended"


def test_a_window_from_the_past_is_measured_from_what_happened():
    """A coat done at noon, whose window closes before the evening, cannot be followed in time."""
    problem = replace(
        shop([work("a"), work("b")], [Lag("a", "b", 60, 300, 15)]),
        done=(Done("a", 5 * DAY + 700, 5 * DAY + 720, "Ada"),),
        now_min=5 * DAY + 730,
    )
    fault, _ = the_one(problem)
    assert fault.minutes == 18 * 60 - 720 - 300


def test_a_due_date_past_is_told_only_while_there_is_work():
    """What was due yesterday is told until it is done."""
    problem = shop([work("a")], goals=(Goal("lid", DAY),))
    problem = replace(problem, now_min=2 * DAY)
    fault, _ = the_one(problem)
    assert fault.kind is FaultKind.PAST_DUE
    assert fault.minutes == DAY
    done = replace(problem, done=(Done("a", 10, 30, "Ada"),))
    assert sound(done).faults == ()


@given(problems(progress=True))
def test_what_is_left_can_always_be_planned(problem):
    """Whatever a random shop looks like, what remains of it gets a plan that can be carried out."""
    found = sound(problem)
    assert check(found.problem, first_plan(found.problem)) == ()
    kept = {a.key for a in found.problem.activities}
    assert kept | set(found.left_out) == {a.key for a in problem.activities}
    assert sound(found.problem).left_out == ()
