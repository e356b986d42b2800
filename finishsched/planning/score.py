"""How good a plan is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias

from finishsched.planning.pots import pots_to_mix
from finishsched.planning.problem import Done, Miss, Placed, Plan, Problem, Score

SPLIT_WEIGHT = 2
"""A minute for which a sitting is split weighs as so many late ones: a sitting put off over a night
is worth keeping whole at the price of some forty hours, of all pieces together, and not of a week
(our assumption). Every planner and everybody who compares plans asks here."""

_Reached: TypeAlias = tuple[str, int]
"""The goal of an activity that is done or placed, and its end with its tail in minutes."""


def goal_finishes(problem: Problem, plan: Plan) -> dict[str, int]:
    """Return when each goal is reached, as far as its activities are done or placed.

    A goal that has none of either is left out.

    Args:
        problem: has the goals, and what is done of them.
        plan: where the rest lies.

    Returns:
        Minutes since 1970, by the key of the goal.

    """
    return _finishes(_reached(problem, plan))


def score(problem: Problem, plan: Plan) -> Score:
    """Return the score of a plan; its misses are taken as it tells them.

    Args:
        problem: what is planned.
        plan: one in which nothing is named that the problem does not know.

    """
    reached = list(_reached(problem, plan))
    ends = [reached_min for _, reached_min in reached]
    last_min = max(ends, default=problem.now_min)
    finishes = _finishes(reached)
    late = _lateness(problem, finishes)
    hard_misses = [miss for miss in plan.misses if miss.hard]
    hard_late_min = sum(miss.late_min for miss in hard_misses)
    split_min = _split(problem, hard_misses)
    late_min = sum(late)
    return Score(
        left_out=len(plan.left_out),
        spoilt_min=hard_late_min - split_min,
        late_and_split_min=late_and_split(late_min, split_min),
        latest_min=max(late, default=0),
        finish_min=last_min,
        remedies_min=_mending(problem, plan),
        pots=pots_to_mix(problem, plan.placed),
        goals_min=sum(finishes.values()),
        late_min=late_min,
        split_min=split_min,
    )


def late_and_split(late_min: int, split_min: int) -> int:
    """Return what lateness and split sittings weigh together, in minutes of lateness.

    Args:
        late_min: by how much goals are late, together.
        split_min: for how long sittings are split, together.

    """
    return late_min + SPLIT_WEIGHT * split_min


def _split(problem: Problem, hard_misses: Sequence[Miss]) -> int:
    """Return the minutes for which sittings are split, together.

    Args:
        problem: has the windows.
        hard_misses: those that must not be missed, and are.

    """
    if not hard_misses:
        return 0
    sittings = {(lag.before, lag.after) for lag in problem.lags if lag.in_one_sitting}
    split = [miss for miss in hard_misses if (miss.before, miss.after) in sittings]
    return sum(miss.late_min for miss in split)


def _mending(problem: Problem, plan: Plan) -> int:
    """Return the minutes by which all activities together are longer than they need be."""
    minutes = {activity.key: activity.minutes for activity in problem.activities}
    total = 0
    # What is longer than the activity itself is the mending of what it missed.
    for placed in plan.placed:
        length = placed.end_min - placed.start_min
        total += length - minutes[placed.key]
    return total


def _reached(problem: Problem, plan: Plan) -> Iterator[_Reached]:
    """Yield the goal of each activity that is done or placed, and its end with its tail."""
    activities = {activity.key: activity for activity in problem.activities}
    everything: tuple[Done | Placed, ...] = (*problem.done, *plan.placed)
    for there in everything:
        activity = activities[there.key]
        reached_min = there.end_min + activity.tail_min
        yield activity.goal, reached_min


def _finishes(reached: Iterable[_Reached]) -> dict[str, int]:
    """Return by goal the last minute at which anything of it is reached."""
    finishes: dict[str, int] = {}
    for goal, reached_min in reached:
        if not goal:
            continue
        last_so_far = finishes.get(goal, reached_min)
        finishes[goal] = max(last_so_far, reached_min)
    return finishes


def _lateness(problem: Problem, finishes: dict[str, int]) -> list[int]:
    """Return by how many minutes each goal that has a due date is late; 0 for one in time.

    Args:
        problem: has the goals.
        finishes: by goal, when it is reached; one that is never reached is not counted.

    """
    late: list[int] = []
    for goal in problem.goals:
        if goal.due_min is not None and goal.key in finishes:
            over_min = finishes[goal.key] - goal.due_min
            late.append(max(0, over_min))
    return late
