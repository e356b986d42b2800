"""From a plan to the exact model's hints, and from what the solver found back to a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ortools.sat.python import cp_model

from finishsched.planning.exact.parts import Draft
from finishsched.planning.problem import Done, Lag, Miss, Placed, Plan


def hints(draft: Draft, plan: Plan) -> Iterator[tuple[cp_model.IntVar, int]]:
    """Yield what the solver's variables would be in ``plan``, rounded to the grid."""
    placed = {item.key: item for item in plan.placed}
    missed = {(miss.before, miss.after) for miss in plan.misses}
    for key, part in draft.parts.items():
        item = placed.get(key)
        if item is None:
            continue
        yield part.start, draft.grid.at_or_after(item.start_min)
        for name, literal in part.by.items():
            yield literal, int(item.by == name)
    for lag, literal in draft.windows:
        if lag.after in placed:
            yield literal, int((lag.before, lag.after) in missed)
    for lag, over in draft.overs:
        late = [m.late_min for m in plan.misses if (m.before, m.after) == (lag.before, lag.after)]
        yield over, draft.grid.up(sum(late))


def plan_of(
    draft: Draft, value: Callable[[cp_model.IntVar], int], left_out: tuple[str, ...]
) -> Plan:
    """Return the plan that the solver's values mean, in minutes."""
    mended: dict[str, int] = {}
    placed: dict[str, Placed] = {}
    for key, part in draft.parts.items():
        mended[key] = sum(minutes for hit, minutes in part.mends if value(hit))
        start_min = draft.grid.time_min(value(part.start))
        end_min = start_min + part.activity.minutes + mended[key]
        names = [name for name, literal in part.by.items() if value(literal)]
        by = names[0] if names else next(iter(part.activity.by), None)
        placed[key] = Placed(key, start_min, end_min, by)
    ordered = sorted(placed.values(), key=lambda item: (item.start_min, item.key))
    return Plan(tuple(ordered), tuple(_misses(draft, placed)), left_out)


def _misses(draft: Draft, placed: dict[str, Placed]) -> Iterator[Miss]:
    done = draft.facts.done
    for lag in draft.facts.problem.lags:
        if lag.most_min is None or lag.after not in placed:
            continue
        end_min = _end_min(lag, placed, done)
        if end_min is None:
            continue
        late_min = placed[lag.after].start_min - end_min - lag.most_min
        if late_min > 0:
            yield Miss(lag.before, lag.after, late_min, lag.hard)


def _end_min(lag: Lag, placed: dict[str, Placed], done: dict[str, Done]) -> int | None:
    if lag.before in placed:
        return placed[lag.before].end_min
    return done[lag.before].end_min if lag.before in done else None
