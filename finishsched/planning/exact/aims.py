"""What the exact planner makes small, one after the other, as the solver takes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from ortools.sat.python import cp_model

from finishsched.planning.exact.parts import Draft, Mend, Part, Value
from finishsched.planning.problem import Goal
from finishsched.planning.score import SPLIT_WEIGHT


class Aim(StrEnum):
    """What is made small; in this order, as scores are compared."""

    SPOILT = "windows missed after which something is spoilt"
    LATE = "lateness, together, and split sittings"
    LATEST = "lateness of the latest"
    FINISH = "finish"
    REMEDIES = "minutes of mending"
    GOALS = "finishes, added up"


@dataclass(frozen=True, slots=True)
class Drawn:
    """One aim in a model."""

    aim: Aim
    value: Value
    """In units of the grid, except for minutes of mending."""


def draw_aims(draft: Draft, bound_min: int | None) -> list[Drawn]:
    """Return the aims that can differ between plans, in the order in which they are made small.

    Args:
        draft: the model, with all its parts.
        bound_min: a proven least finish, which the solver then need not look below.

    """
    aims: list[Drawn] = []
    spoilt = [over.missed for over in draft.overs if not over.lag.in_one_sitting]
    split = [over.missed for over in draft.overs if over.lag.in_one_sitting]
    if spoilt:
        aims.append(Drawn(Aim.SPOILT, sum(spoilt)))
    reached: dict[str, Value] = {}
    for goal in draft.facts.problem.goals:
        reached[goal.key] = _reached(draft, goal)
    aims += _lateness(draft, reached, sum(split))
    finish = _finish(draft, bound_min)
    aims.append(Drawn(Aim.FINISH, finish))
    mends: list[Mend] = []
    for part in draft.parts.values():
        mends += part.mends
    if mends:
        mending = sum(mend.missed * mend.minutes for mend in mends)
        aims.append(Drawn(Aim.REMEDIES, mending))
    if len(reached) > 1:
        all_finishes = sum(reached.values())
        aims.append(Drawn(Aim.GOALS, all_finishes))
    return aims


def _lateness(draft: Draft, reached: Mapping[str, Value], split: Value) -> Iterator[Drawn]:
    """Give the aims about what is late: all goals together, and the latest of several.

    Args:
        draft: the model.
        reached: when each goal is reached, by key.
        split: for how many units sittings are split, which is weighed against lateness.

    """
    late = [_late(draft, goal, reached[goal.key]) for goal in _due(draft)]
    if late or not isinstance(split, int):
        yield Drawn(Aim.LATE, sum(late) + SPLIT_WEIGHT * split)
    if len(late) > 1:
        latest = draft.cp.new_int_var(0, draft.horizon, "")
        draft.cp.add_max_equality(latest, late)
        yield Drawn(Aim.LATEST, latest)


def _due(draft: Draft) -> Iterator[Goal]:
    """Yield the goals that have a due date and something still to do."""
    for goal in draft.facts.problem.goals:
        if goal.due_min is not None and _members(draft, goal):
            yield goal


def _members(draft: Draft, goal: Goal) -> list[Part]:
    """Return the parts of a goal that are still to do."""
    parts = draft.parts.values()
    return [part for part in parts if part.activity.goal == goal.key]


def _far(draft: Draft) -> int:
    """Return a mark by which everything is reached, however badly it is planned."""
    longest_tail = 0
    for part in draft.parts.values():
        tail = draft.grid.up(part.activity.tail_min)
        longest_tail = max(longest_tail, tail)
    return draft.horizon + longest_tail


def _reached(draft: Draft, goal: Goal) -> Value:
    """Return when a goal is reached; 0 where nothing of it is left to do."""
    members = _members(draft, goal)
    if not members:
        return 0
    past = draft.facts.past.items()
    done = [key for key, activity in past if activity.goal == goal.key]
    least = _least_mark(draft, done)
    return _after_all(draft, members, least)


def _late(draft: Draft, goal: Goal, reached: Value) -> cp_model.IntVar:
    """Return by how many units a goal is late; never less than 0.

    Args:
        draft: the model.
        goal: one that has a due date.
        reached: when it is reached, in units of the grid.

    """
    due = draft.grid.at_or_before(goal.due_min or 0)
    at_most = max(_far(draft) - due, 0)
    late = draft.cp.new_int_var(0, at_most, "")
    draft.cp.add(late >= reached - due)
    return late


def _finish(draft: Draft, bound_min: int | None) -> cp_model.IntVar:
    """Return when everything is reached, not before a proven bound.

    Args:
        draft: the model.
        bound_min: the bound, where there is one.

    """
    least = _least_mark(draft, draft.facts.past)
    if bound_min is not None:
        bound_mark = draft.grid.at_or_before(bound_min)
        least = max(least, bound_mark)
    return _after_all(draft, draft.parts.values(), least)


def _least_mark(draft: Draft, keys: Iterable[str]) -> int:
    """Return the mark by which these of the done activities are reached, with their tails.

    Args:
        draft: the model.
        keys: those of the activities.

    """
    least = 0
    for key in keys:
        ended_min = draft.facts.done[key].end_min
        reached_min = ended_min + draft.facts.past[key].tail_min
        least = max(least, draft.grid.at_or_after(reached_min))
    return least


def _after_all(draft: Draft, parts: Iterable[Part], least: int) -> cp_model.IntVar:
    """Return a variable that is no less than a mark, nor than the end of any part with its tail.

    Args:
        draft: the model.
        parts: what is to be over by then.
        least: the mark.

    """
    most = max(least, _far(draft))
    reached = draft.cp.new_int_var(least, most, "")
    for part in parts:
        tail = draft.grid.up(part.activity.tail_min)
        draft.cp.add(reached >= part.end + tail)
    return reached
