"""From the board to a plan that others can read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from finishsched.planning.held import reasons_of
from finishsched.planning.numbers.inner import NOT
from finishsched.planning.problem import Placed, Plan, Problem
from finishsched.planning.quick.placing import Placing
from finishsched.planning.whole_plan import whole_plan


class _Lying(NamedTuple):
    """Where something lies, before it is known what held it back."""

    start_min: int
    key: str
    end_min: int
    by: str | None


def plan_of(problem: Problem, placing: Placing, *, reasons: bool = True) -> Plan:
    """Return the plan on the board, with every miss.

    Args:
        problem: what was planned.
        placing: the board, and what was left off it.
        reasons: whether to say of each start what held it back; that takes time of its own.

    """
    lying = _lying(problem, placing)
    placed = _with_reasons(problem, lying) if reasons else _without_reasons(lying)
    starts = zip(placing.inner.keys, placing.board.start, strict=True)
    left_out = [key for key, start in starts if start == NOT]
    return whole_plan(problem, placed, left_out)


def _lying(problem: Problem, placing: Placing) -> list[_Lying]:
    """Return what lies on the board, in the order of starts and then of keys."""
    board = placing.board
    # What takes no hands has the number -1: the last of the names.
    names = [*[hands.name for hands in problem.hands], None]
    lying: list[_Lying] = []
    for number, key in enumerate(placing.inner.keys):
        start = board.start[number]
        if start == NOT:
            continue
        end = board.end[number]
        name = names[board.by[number]]
        lying.append(_Lying(start, key, end, name))
    lying.sort()
    return lying


def _with_reasons(problem: Problem, lying: Sequence[_Lying]) -> tuple[Placed, ...]:
    """Return what is placed, with what held back each start."""
    placed: list[Placed] = []
    reasons = reasons_of(problem, lying)
    for each, (held_by, held_by_key) in zip(lying, reasons, strict=True):
        told = Placed(
            key=each.key,
            start_min=each.start_min,
            end_min=each.end_min,
            by=each.by,
            held_by=held_by,
            held_by_key=held_by_key,
        )
        placed.append(told)
    return tuple(placed)


def _without_reasons(lying: Sequence[_Lying]) -> tuple[Placed, ...]:
    """Return what is placed; what held it back is left open."""
    placed: list[Placed] = []
    for each in lying:
        untold = Placed(
            key=each.key,
            start_min=each.start_min,
            end_min=each.end_min,
            by=each.by,
        )
        placed.append(untold)
    return tuple(placed)
