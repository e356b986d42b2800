"""From a plan to the exact model's hints, and from what the solver found back to a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ortools.sat.python import cp_model

from finishsched.planning.exact.parts import Draft, Part
from finishsched.planning.misses import misses_of
from finishsched.planning.pots import mixed_of
from finishsched.planning.problem import Placed, Plan


def hints(draft: Draft, plan: Plan) -> Iterator[tuple[cp_model.IntVar, int]]:
    """Yield what the solver's variables would be in ``plan``, rounded to the grid.

    A solver that begins from a plan finds better ones much sooner than one that begins from
    nothing.
    """
    placed = {item.key: item for item in plan.placed}
    missed_min: dict[tuple[str, str], int] = {}
    for miss in plan.misses:
        window = (miss.before, miss.after)
        missed_min[window] = missed_min.get(window, 0) + miss.late_min
    for key, part in draft.parts.items():
        if key in placed:
            yield from _hints_of(draft, part, placed[key])
    for lag, literal in draft.windows:
        if lag.after in placed:
            yield literal, int((lag.before, lag.after) in missed_min)
    for lag, over in draft.overs:
        late_min = missed_min.get((lag.before, lag.after), 0)
        yield over, draft.grid.up(late_min)


def _hints_of(draft: Draft, part: Part, placed: Placed) -> Iterator[tuple[cp_model.IntVar, int]]:
    """Yield when a part starts, and by whose hands."""
    yield part.start, draft.grid.at_or_after(placed.start_min)
    for name, literal in part.by.items():
        yield literal, int(placed.by == name)


def plan_of(
    draft: Draft,
    value: Callable[[cp_model.IntVar], int],
    left_out: tuple[str, ...],
) -> Plan:
    """Return the plan that the solver's values mean, in minutes.

    Args:
        draft: the model.
        value: tells the value of a variable, in units of the grid.
        left_out: what is not in the model at all.

    """
    placed = [_placed(draft, key, part, value) for key, part in draft.parts.items()]
    placed.sort(key=lambda item: (item.start_min, item.key))
    problem = draft.facts.problem
    return Plan(tuple(placed), misses_of(problem, placed), left_out, mixed_of(problem, placed))


def _placed(
    draft: Draft,
    key: str,
    part: Part,
    value: Callable[[cp_model.IntVar], int],
) -> Placed:
    """Return where one part lies; it is as long as its own minutes and those of mending are.

    Args:
        draft: the model.
        key: which activity.
        part: how it stands in the model.
        value: tells the value of a variable, in units of the grid.

    """
    mending_min = sum(minutes for missed, minutes in part.mends if value(missed))
    start_min = draft.grid.time_min(value(part.start))
    end_min = start_min + part.activity.minutes + mending_min
    return Placed(key, start_min, end_min, _hands_of(part, value))


def _hands_of(part: Part, value: Callable[[cp_model.IntVar], int]) -> str | None:
    """Return whose hands do a part; None where it takes no hands.

    Where only one pair can do it the model has no variable for that.
    """
    for name, literal in part.by.items():
        if value(literal):
            return name
    return next(iter(part.activity.by), None)
