"""From the board to a plan that others can read."""

from __future__ import annotations

from finishsched.planning.held import held_back
from finishsched.planning.problem import Miss, Placed, Plan, Problem
from finishsched.planning.quick.inner import NOT
from finishsched.planning.quick.placing import Placing


def plan_of(problem: Problem, placing: Placing) -> Plan:
    """Return the plan on the board, with every miss and what held back each start."""
    inner, board = placing.inner, placing.board
    names = [hands.name for hands in problem.hands]
    placed = [
        Placed(inner.keys[number], start, board.end[number], names[by] if by >= 0 else None)
        for number, (start, by) in enumerate(zip(board.start, board.by, strict=True))
        if start != NOT
    ]
    placed.sort(key=lambda p: (p.start_min, p.key))
    left_out = tuple(key for number, key in enumerate(inner.keys) if board.start[number] == NOT)
    plan = Plan(tuple(placed), misses_of(problem, placed), left_out)
    return held_back(problem, plan)


def misses_of(problem: Problem, placed: list[Placed]) -> tuple[Miss, ...]:
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
