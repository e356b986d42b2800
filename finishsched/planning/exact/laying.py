"""From a plan to the exact model's hints, and from what the solver found back to a plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import TypeAlias

from ortools.sat.python import cp_model

from finishsched.planning.exact.parts import Draft, Part
from finishsched.planning.problem import Placed, Plan
from finishsched.planning.whole_plan import whole_plan

ValueOf: TypeAlias = Callable[[cp_model.IntVar], int]
"""Tells the value of a variable, in units of the grid."""
Hint: TypeAlias = tuple[cp_model.IntVar, int]
"""A variable, and what its value would be."""


def hints(draft: Draft, plan: Plan) -> Iterator[Hint]:
    """Yield what the solver's variables would be in ``plan``, rounded to the grid.

    A solver that begins from a plan finds better ones much sooner than one that begins from
    nothing.

    Args:
        draft: the model.
        plan: one that lies on no grid, or on another.

    """
    placed = {item.key: item for item in plan.placed}
    # By the two activities between which a window is missed, by how many minutes it is.
    missed_min: Counter[tuple[str, str]] = Counter()
    for miss in plan.misses:
        missed_min[miss.before, miss.after] += miss.late_min
    for key, part in draft.parts.items():
        if key in placed:
            yield from _hints_of(draft, part, placed[key])
    for lag, missed in draft.windows:
        if lag.after in placed:
            is_missed = (lag.before, lag.after) in missed_min
            yield missed, int(is_missed)
    for lag, over in draft.overs:
        late_min = missed_min[lag.before, lag.after]
        yield over, draft.grid.up(late_min)


def _hints_of(draft: Draft, part: Part, placed: Placed) -> Iterator[Hint]:
    """Yield when a part starts, and by whose hands.

    Args:
        draft: the model.
        part: how the activity stands in the model.
        placed: where it lies in the plan.

    """
    start = draft.grid.at_or_after(placed.start_min)
    yield part.start, start
    for name, literal in part.by.items():
        is_theirs = placed.by == name
        yield literal, int(is_theirs)


def plan_of(draft: Draft, value: ValueOf, left_out: tuple[str, ...]) -> Plan:
    """Return the plan that the solver's values mean, in minutes.

    Args:
        draft: the model.
        value: tells the value of a variable, in units of the grid.
        left_out: what is not in the model at all.

    """
    placed = [_placed(draft, key, part, value) for key, part in draft.parts.items()]
    placed.sort(key=lambda item: (item.start_min, item.key))
    problem = draft.facts.problem
    return whole_plan(problem, placed, left_out)


def _placed(draft: Draft, key: str, part: Part, value: ValueOf) -> Placed:
    """Return where one part lies; it is as long as its own minutes and those of mending are.

    Args:
        draft: the model.
        key: which activity.
        part: how it stands in the model.
        value: tells the value of a variable, in units of the grid.

    """
    mending_min = sum(mend.minutes for mend in part.mends if value(mend.missed))
    start_min = draft.grid.time_min(value(part.start))
    length_min = part.activity.minutes + mending_min
    return Placed(
        key=key,
        start_min=start_min,
        end_min=start_min + length_min,
        by=_hands_of(part, value),
    )


def _hands_of(part: Part, value: ValueOf) -> str | None:
    """Return whose hands do a part; None where it takes no hands.

    Where only one pair can do it the model has no variable for that.

    Args:
        part: how the activity stands in the model.
        value: tells the value of a variable, 0 or 1 for whose hands do it.

    """
    for name, literal in part.by.items():
        if value(literal):
            return name
    return next(iter(part.activity.by), None)
