"""Who is done early goes on: the sitting is moved up, and nothing else."""

from dataclasses import replace

from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Activity, Goal, Hands, Lag, Placed, Plan, Problem, Window
from finishsched.planning.tonight import IDLE_MIN, begun_now

EVENING, TOMORROW = Window(0, 240), Window(1440, 1680)


def _problem(**more):
    return Problem(
        activities=(
            Activity("a", 10, ("Ida",), goal="g"),
            Activity("b", 10, ("Ida",), goal="g"),
            Activity("c", 10, ("Ida",), goal="g"),
        ),
        lags=(Lag("a", "b", 30), Lag("b", "c", 600)),
        hands=(Hands("Ida", (EVENING, TOMORROW)),),
        goals=(Goal("g", None),),
        now_min=60,
        **more,
    )


def _plan(start):
    return Plan(
        (
            Placed("a", start, start + 10, "Ida"),
            Placed("b", start + 40, start + 50, "Ida"),
            Placed("c", 1440, 1450, "Ida"),
        )
    )


def _starts(plan):
    return {each.key: each.start_min for each in plan.placed}


def test_the_rest_of_the_sitting_is_begun_now():
    """Tonight's work moves up by as much, tomorrow's stays, and the checker passes it."""
    moved = begun_now(_problem(), _plan(100))
    assert _starts(moved) == {"a": 60, "b": 100, "c": 1440}
    assert not check(_problem(), moved)


def test_a_breath_is_no_idling():
    """What begins within ten minutes stays where it is."""
    plan = _plan(60 + IDLE_MIN)
    assert begun_now(_problem(), plan) is plan


def test_what_cannot_be_begun_yet_stays():
    """Where a wait is in the way the plan is as it was."""
    problem = _problem()
    held = replace(
        problem,
        activities=(replace(problem.activities[0], release_min=100), *problem.activities[1:]),
    )
    plan = _plan(100)
    assert begun_now(held, plan) is plan


def test_nobody_is_moved_who_is_not_here():
    """Between two sittings nothing moves."""
    away = replace(_problem(), now_min=300)
    plan = Plan((Placed("c", 1460, 1470, "Ida"),))
    assert begun_now(away, plan) is plan
