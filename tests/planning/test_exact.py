"""The exact planner: never worse than where it starts, never against a rule, never in the way."""

import json
import subprocess
import sys
import time
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from planning_shops import DAY, evenings, problems

from finishsched.planning.bounds import lower_bound
from finishsched.planning.exact import (
    ExactStatus,
    ExactWorker,
    SolverMissingError,
    WorkerFault,
    exact_plan,
)
from finishsched.planning.exact.grid import Grid, common_unit_min
from finishsched.planning.faults import sound
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Activity, Done, Goal, Hands, Lag, Plan, Problem, Store, Use
from finishsched.planning.quick import first_plan
from finishsched.planning.score import score
from finishsched.planning.window import Window

pytest.importorskip("ortools", reason="the optional solver is not installed")

LAWS = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
PATIENCE_S = 600.0
"""For what is proven in a moment, and its process, where a machine is busy; never asserted."""
EVENING = 18 * 60


def answer(problem, start=None, limit_s=PATIENCE_S, **more):
    """Return the exact planner's answer, on one core and so the same each time."""
    start = first_plan(problem) if start is None else start
    return exact_plan(problem, start, limit_s=limit_s, workers=1, **more)


def draft(problem, start):
    """Return the exact model of a problem to the minute, as the planner draws it."""
    from finishsched.planning.exact.search import Search
    from finishsched.planning.exact.solving import draft_of

    search = Search(problem, start, time.monotonic() + 10, lambda: False, None)
    return draft_of(search, Grid(problem.now_min, 1), start.left_out, lenient=not search.whole)


@LAWS
@given(problems(most_pieces=2, most_steps=3, progress=True))
def test_the_model_allows_every_plan_that_passes_the_checker(problem):
    """Held to the quick planner's own starts and hands, the solver finds no rule broken."""
    from ortools.sat.python import cp_model

    problem = sound(problem).problem
    start = first_plan(problem)
    assume(not check(problem, start))
    drawn = draft(problem, start)
    for placed in start.placed:
        part = drawn.parts[placed.key]
        drawn.cp.add(part.start == placed.start_min - problem.now_min)
        if part.by:
            drawn.cp.add(part.by[placed.by] == 1)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(drawn.cp) in {cp_model.OPTIMAL, cp_model.FEASIBLE}


@LAWS
@given(problems(most_pieces=2, most_steps=3, progress=True), st.randoms(use_true_random=False))
def test_the_model_allows_no_plan_that_does_not(problem, chance):
    """Whatever the solver is asked for, what it finds passes the checker."""
    from ortools.sat.python import cp_model

    from finishsched.planning.exact.laying import plan_of

    problem = sound(problem).problem
    start = first_plan(problem)
    drawn = draft(problem, start)
    if not drawn.parts:
        return
    wish = sum(part.start * chance.choice((-1, 1)) for part in drawn.parts.values())
    for literal in (missed for _lag, missed in drawn.windows):
        wish += literal * chance.choice((-5000, 5000))
    drawn.cp.minimize(wish)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 1
    if solver.solve(drawn.cp) in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        plan = plan_of(drawn, solver.value, start.left_out)
        assert check(problem, plan) == ()


@LAWS
@given(problems(most_pieces=2, most_steps=4, progress=True))
def test_never_worse_and_never_below_the_bound(problem):
    """The answer passes the checker, is no worse than its start, and its bound bounds it."""
    problem = sound(problem).problem
    start = first_plan(problem)
    assume(not check(problem, start))
    found = answer(problem, start, limit_s=1.0)
    assert not check(problem, found.plan)
    assert score(problem, found.plan) <= score(problem, start)
    finish = score(problem, found.plan).finish_min
    assert lower_bound(problem) <= finish
    assert found.bound_min is None or found.bound_min <= finish


@settings(LAWS, max_examples=12)
@given(problems(most_pieces=2, most_steps=3), st.randoms(use_true_random=False))
def test_the_order_of_the_problem_changes_no_optimum(problem, chance):
    """Activities, lags, hands and goals in another order have the same best score."""
    problem = sound(problem).problem
    mixed = {
        name: tuple(chance.sample(getattr(problem, name), len(getattr(problem, name))))
        for name in ("activities", "lags", "hands", "goals", "stores", "set_ups")
    }
    found, other = (answer(one, limit_s=5.0) for one in (problem, replace(problem, **mixed)))
    if found.status is other.status is ExactStatus.OPTIMAL:
        assert score(problem, found.plan) == score(problem, other.plan)


@settings(LAWS, max_examples=12)
@given(problems(most_pieces=2, most_steps=3))
def test_a_week_later_is_the_same_plan_a_week_later(problem):
    """To move every time by a week moves the optimum by a week."""
    problem = sound(problem).problem
    week = 7 * DAY
    later = replace(
        problem,
        now_min=problem.now_min + week,
        hands=tuple(
            Hands(h.name, tuple(Window(w.start_min + week, w.end_min + week) for w in h.windows))
            for h in problem.hands
        ),
        goals=tuple(
            replace(g, due_min=None if g.due_min is None else g.due_min + week)
            for g in problem.goals
        ),
    )
    found, other = (answer(one, limit_s=5.0) for one in (problem, later))
    if found.status is other.status is ExactStatus.OPTIMAL:
        one, two = score(problem, found.plan), score(later, other.plan)
        assert two.finish_min == one.finish_min + week
        assert (two.late_min, two.remedies_min) == (one.late_min, one.remedies_min)


def two_coats(**changed):
    """Return a piece with two coats, a window of 30 h between, and ten minutes of mending."""
    lag = Lag("one", "two", 60, 30 * 60, 10)
    activities = (Activity("one", 30, ("Ada",), "lid"), Activity("two", 30, ("Ada",), "lid"))
    usual = {"hands": (Hands("Ada", evenings()),), "goals": (Goal("lid"),), "lags": (lag,)}
    return Problem(activities, **{**usual, **changed})


def test_a_plan_by_hand_is_proven():
    """Two coats an hour apart in one evening: nothing finishes before half past seven."""
    found = answer(two_coats(), Plan((), (), ("one", "two")))
    assert [placed.start_min for placed in found.plan.placed] == [EVENING, EVENING + 90]
    assert (found.proven, found.status) == (True, ExactStatus.OPTIMAL)
    assert found.bound_min == EVENING + 120


def test_a_missed_soft_window_is_mended():
    """With one evening a week the second coat is late: mended first, told, and not impossible."""
    once_a_week = Hands("Ada", (Window(0, 40), Window(7 * DAY, 7 * DAY + 60)))
    found = answer(two_coats(hands=(once_a_week,)), Plan((), (), ("one", "two")))
    second = found.plan.placed[1]
    assert (second.start_min, second.end_min) == (7 * DAY, 7 * DAY + 40)
    late = [miss.late_min for miss in found.plan.misses]
    first = found.plan.placed[0]
    assert late == [second.start_min - first.end_min - 30 * 60]
    assert found.status is ExactStatus.OPTIMAL


def test_a_hard_window_that_cannot_be_kept_is_called_infeasible():
    """The plan then misses it by as little as can be, and the answer says that it has to."""
    lag = Lag("one", "two", 60, 90, None)
    once_a_week = Hands("Ada", (Window(0, 40), Window(7 * DAY, 7 * DAY + 60)))
    problem = two_coats(hands=(once_a_week,), lags=(lag,))
    start = first_plan(problem)
    found = answer(problem, start)
    assert found.status is ExactStatus.INFEASIBLE
    assert score(problem, found.plan).hard_late_min == 7 * DAY - 40 - 90


def test_a_running_step_past_closing_time_is_no_fault():
    """What overran the evening stays as it is, and the next step waits for the next evening."""
    now_min = EVENING + 170
    running = Done("one", EVENING + 100, EVENING + 240, "Ada")
    problem = two_coats(done=(running,), now_min=now_min)
    found = answer(problem, Plan((), (), ("two",)))
    (placed,) = found.plan.placed
    assert placed.start_min == DAY + EVENING
    assert found.proven


def test_an_overfull_rack_of_the_past_is_no_fault():
    """More on the rack than it holds, by history: the next one waits until there is room."""
    use = Use("rack", hold_min=600)
    activities = tuple(Activity(key, 30, ("Ada",), uses=(use,)) for key in "abc")
    done = tuple(Done(key, 0, 30, "Ada") for key in "ab")
    hands = (Hands("Ada", (Window(0, 2000),)),)
    problem = Problem(activities, hands=hands, stores=(Store("rack", 1),), done=done, now_min=60)
    (placed,) = answer(problem, Plan((), (), ("c",))).plan.placed
    assert placed.start_min == 630


@pytest.mark.parametrize("done", [(), (Done("a1", 0, 10, "Ada"),)], ids=["ahead", "under way"])
def test_a_place_is_held_until_the_next_step(done):
    """With one clamp, held from the first step of a piece to its second, no other piece is begun.

    By hand: a1 at 0, a2 at 60 when its wait is over, then b1 at 70 and b2 at 120: never between.
    """
    activities = tuple(
        Activity(f"{piece}{number}", 10, ("Ada",), piece, uses=uses)
        for piece in "ab"
        for number, uses in ((1, (Use("clamp", until=f"{piece}2"),)), (2, ()))
    )
    lags = (Lag("a1", "a2", 50), Lag("b1", "b2", 40), Lag("a1", "b1"))
    hands = (Hands("Ada", (Window(0, 500),)),)
    now_min = max((each.end_min for each in done), default=0)
    problem = Problem(
        activities, lags, hands, (Store("clamp", 1),), done=done, now_min=now_min,
        goals=(Goal("a"), Goal("b")),
    )  # fmt: skip
    found = answer(problem, Plan((), (), tuple(a.key for a in activities[len(done) :])))
    starts = {placed.key: placed.start_min for placed in found.plan.placed}
    assert (starts["a2"], starts["b1"], starts["b2"]) == (60, 70, 120)
    assert found.status is ExactStatus.OPTIMAL


def test_a_coarse_grid_keeps_every_rule_to_the_minute():
    """Lengths of 7 and 13 minutes on a grid of 5: the plan found is sound, and never worse."""
    activities = tuple(
        Activity(f"p{piece}/{step}", 7 if step % 2 else 13, ("Ada",), f"p{piece}")
        for piece in range(32)
        for step in range(5)
    )
    lags = tuple(
        Lag(f"p{piece}/{step}", f"p{piece}/{step + 1}", 61, 3001, 3)
        for piece in range(32)
        for step in range(4)
    )
    goals = tuple(Goal(f"p{piece}") for piece in range(32))
    problem = Problem(activities, lags, (Hands("Ada", evenings()),), goals=goals)
    assert common_unit_min(problem) == 1
    start = first_plan(problem)
    better = []
    found = answer(problem, start, limit_s=2.0, on_better=better.append)
    assert not check(problem, found.plan)
    assert score(problem, found.plan) <= score(problem, start)
    assert all(not check(problem, plan) for plan in better)


def test_it_stops_when_it_is_told_to():
    """With a word to stop from the beginning it proves nothing, and answers with its start."""
    problem = two_coats()
    start = first_plan(problem)
    found = answer(problem, start, limit_s=60.0, stop=lambda: True)
    assert found.status is ExactStatus.STOPPED
    assert score(problem, found.plan) <= score(problem, start)


def many():
    """Return a problem that no solver is done with in a second."""
    activities = tuple(
        Activity(f"{piece}/{step}", 10 + (piece * step) % 17, ("Ada",), f"{piece}")
        for piece in range(12)
        for step in range(12)
    )
    lags = tuple(
        Lag(f"{piece}/{step}", f"{piece}/{step + 1}", 60 + 37 * ((piece + step) % 9))
        for piece in range(12)
        for step in range(11)
    )
    goals = tuple(Goal(f"{piece}", 5 * DAY) for piece in range(12))
    return Problem(activities, lags, (Hands("Ada", evenings()),), goals=goals)


@pytest.mark.parametrize("at_work", [False, True])
def test_to_cancel_the_worker_ends_its_process(at_work):
    """While the solver is loaded, or at work: the process is gone and nothing comes of it."""
    problem = many()
    nothing = Plan((), (), tuple(a.key for a in problem.activities))
    worker = ExactWorker(problem, nothing, limit_s=10 * PATIENCE_S)
    worker.start()
    while at_work and worker.poll().better is None:
        assert not worker.wait(0.05)
    worker.cancel()
    assert not worker.running
    assert worker.wait(PATIENCE_S), "an end at its own limit would take ten times as long"
    news = worker.poll()
    assert news.better is news.answer is None


def test_the_worker_answers_as_the_planner_does():
    """Plans and answer come whole through the pipe, and never before they are asked for."""
    problem = two_coats()
    start = Plan((), (), ("one", "two"))
    worker = ExactWorker(problem, start, limit_s=PATIENCE_S, workers=1)
    assert not worker.running
    worker.start()
    assert worker.wait(PATIENCE_S)
    news = worker.poll()
    expected = answer(problem, start)
    assert news.answer == expected
    assert news.better == expected.plan
    assert worker.poll().better is None


def test_a_worker_that_dies_is_told():
    """A process that ends without an answer is a fault, not a wait without end."""
    worker = ExactWorker(two_coats(), first_plan(two_coats()), limit_s=PATIENCE_S)
    worker.start()
    worker._process.kill()
    assert worker.wait(PATIENCE_S)
    with pytest.raises(WorkerFault):
        worker.poll()


def test_without_the_solver_it_says_how_to_get_it(monkeypatch):
    """The sentence has the command that installs the extra."""
    monkeypatch.setattr("finishsched.planning.exact.solver_is_there", lambda: False)
    with pytest.raises(SolverMissingError, match=r"pip install 'finishsched\[exact\]'"):
        answer(two_coats())


def test_the_door_loads_no_solver():
    """Importing the exact planner, and holding a worker, loads nothing of the solver."""
    code = (
        "import json, sys, finishsched.planning.exact as exact;"
        "from finishsched.planning.problem import Plan, Problem;"
        "exact.ExactWorker(Problem(()), Plan(()), limit_s=1);"
        "exact.solver_is_there();"
        "print(json.dumps(sorted({name.partition('.')[0] for name in sys.modules})))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert not {"ortools", "numpy", "pandas"} & set(json.loads(ran.stdout))


@given(st.integers(-5000, 5000), st.integers(-500, 500), st.integers(1, 60))
def test_the_ruler_rounds_to_the_safe_side(time_min, base_min, unit_min):
    """Marks lie around the time that they stand for, less than one unit away."""
    grid = Grid(base_min, unit_min)
    after, before = grid.at_or_after(time_min), grid.at_or_before(time_min)
    assert time_min <= grid.time_min(after) < time_min + unit_min
    assert time_min - unit_min < grid.time_min(before) <= time_min
    assert grid.down(time_min) * unit_min <= time_min <= grid.up(time_min) * unit_min


def test_the_longest_unit_of_all_figures():
    """Half hours and quarters have a quarter in common; one minute among them leaves a minute."""
    activities = (Activity("a", 30), Activity("b", 45))
    problem = Problem(activities, (Lag("a", "b", 60, 90),), now_min=7)
    assert common_unit_min(problem) == 15
    assert common_unit_min(replace(problem, lags=(Lag("a", "b", 61),))) == 1
