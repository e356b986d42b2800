"""From the board to a plan that others can read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from finishsched.planning.held import reasons_of
from finishsched.planning.problem import HeldBy, Miss, Placed, Plan, Problem
from finishsched.planning.quick.inner import NOT
from finishsched.planning.quick.placing import Placing


class _Lying(NamedTuple):
    """Where something lies, before it is known what held it back."""

    start_min: int
    key: str
    end_min: int
    by: str | None


def plan_of(problem: Problem, placing: Placing, *, reasons: bool = True) -> Plan:
    """Return the plan on the board, with every miss and, if asked, what held back each start."""
    inner, board = placing.inner, placing.board
    names = [*[hands.name for hands in problem.hands], None]
    lying = sorted(
        _Lying(start, key, end, names[by])
        for key, start, end, by in zip(inner.keys, board.start, board.end, board.by, strict=True)
        if start != NOT
    )
    held = reasons_of(problem, lying) if reasons else [(HeldBy.NOTHING, "")] * len(lying)
    placed = tuple(
        [
            Placed(each.key, each.start_min, each.end_min, each.by, *why)
            for each, why in zip(lying, held, strict=True)
        ]
    )
    left_out = tuple(
        key for key, start in zip(inner.keys, board.start, strict=True) if start == NOT
    )
    return Plan(placed, _misses_of(problem, placed), left_out)


def _misses_of(problem: Problem, placed: Sequence[Placed]) -> tuple[Miss, ...]:
    """Return the windows that are missed, in the order of the problem's lags."""
    start = {p.key: p.start_min for p in placed}
    end = {p.key: p.end_min for p in placed}
    for there in problem.done:
        end[there.key] = there.end_min
    misses = []
    for lag in problem.lags:
        if lag.most_min is not None and lag.after in start and lag.before in end:
            late = start[lag.after] - end[lag.before] - lag.most_min
            if late > 0:
                misses.append(Miss(lag.before, lag.after, late, lag.hard))
    return tuple(misses)
