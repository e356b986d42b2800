"""What the exact planner makes small, one after the other, as the solver takes it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from ortools.sat.python import cp_model

from finishsched.planning.exact.parts import Draft, Value
from finishsched.planning.problem import Goal


class Aim(StrEnum):
    """What is made small; in this order, as scores are compared."""

    HARD = "hard windows missed"
    LATE = "lateness, together"
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
    """Return the aims that can differ between plans; ``bound_min`` is a proven least finish."""
    aims: list[Drawn] = []
    if draft.overs:
        aims.append(Drawn(Aim.HARD, sum(over for _lag, over in draft.overs)))
    reached = {goal.key: _reached(draft, goal) for goal in draft.facts.problem.goals}
    late = [_late(draft, goal, reached[goal.key]) for goal in _due(draft)]
    if late:
        aims.append(Drawn(Aim.LATE, sum(late)))
    if len(late) > 1:
        latest = draft.cp.new_int_var(0, draft.horizon, "")
        draft.cp.add_max_equality(latest, late)
        aims.append(Drawn(Aim.LATEST, latest))
    aims.append(Drawn(Aim.FINISH, _finish(draft, bound_min)))
    mending = [hit * minutes for part in draft.parts.values() for hit, minutes in part.mends]
    if mending:
        aims.append(Drawn(Aim.REMEDIES, sum(mending)))
    if len(reached) > 1:
        aims.append(Drawn(Aim.GOALS, sum(reached.values())))
    return aims


def _due(draft: Draft) -> Iterator[Goal]:
    for goal in draft.facts.problem.goals:
        if goal.due_min is not None and _members(draft, goal):
            yield goal


def _members(draft: Draft, goal: Goal) -> list[str]:
    return [key for key, part in draft.parts.items() if part.activity.goal == goal.key]


def _far(draft: Draft) -> int:
    tails = [draft.grid.up(part.activity.tail_min) for part in draft.parts.values()]
    return draft.horizon + max(tails, default=0)


def _reached(draft: Draft, goal: Goal) -> Value:
    members = _members(draft, goal)
    if not members:
        return 0
    earlier = [
        draft.facts.done[key].end_min + activity.tail_min
        for key, activity in draft.facts.past.items()
        if activity.goal == goal.key
    ]
    least = max([draft.grid.at_or_after(time_min) for time_min in earlier], default=0)
    reached = draft.cp.new_int_var(max(least, 0), max(least, _far(draft)), "")
    for key in members:
        part = draft.parts[key]
        draft.cp.add(reached >= part.end + draft.grid.up(part.activity.tail_min))
    return reached


def _late(draft: Draft, goal: Goal, reached: Value) -> cp_model.IntVar:
    due = draft.grid.at_or_before(goal.due_min or 0)
    late = draft.cp.new_int_var(0, max(_far(draft) - due, 0), "")
    draft.cp.add(late >= reached - due)
    return late


def _finish(draft: Draft, bound_min: int | None) -> cp_model.IntVar:
    facts = draft.facts
    ended = [facts.done[key].end_min + item.tail_min for key, item in facts.past.items()]
    least = max((draft.grid.at_or_after(time_min) for time_min in ended), default=0)
    if bound_min is not None:
        least = max(least, draft.grid.at_or_before(bound_min))
    finish = draft.cp.new_int_var(max(least, 0), max(least, _far(draft)), "")
    for part in draft.parts.values():
        draft.cp.add(finish >= part.end + draft.grid.up(part.activity.tail_min))
    return finish
