"""A plan from where its activities lie: which windows it misses, and what is done from one mix.

Every planner ends here. The checker does not ask here: it works both out by itself, to hold them
against these.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from finishsched.planning.pots import mixed_of
from finishsched.planning.problem import Miss, Placed, Plan, Problem


def whole_plan(problem: Problem, placed: Sequence[Placed], left_out: Sequence[str] = ()) -> Plan:
    """Return the plan in which these activities lie there.

    Args:
        problem: what is planned.
        placed: where each lies that is not done, in the order of their starts.
        left_out: the keys of those that lie nowhere.

    """
    return Plan(
        placed=tuple(placed),
        misses=_misses_of(problem, placed),
        left_out=tuple(left_out),
        mixed=mixed_of(problem, placed),
    )


def _misses_of(problem: Problem, placed: Iterable[Placed]) -> tuple[Miss, ...]:
    """Return the windows that are missed, in the order of the problem's lags.

    Args:
        problem: has the windows, and what is done.
        placed: where the other activities lie; a window of one that lies nowhere is not missed.

    """
    ends = {there.key: there.end_min for there in problem.done}
    starts: dict[str, int] = {}
    for each in placed:
        starts[each.key] = each.start_min
        ends[each.key] = each.end_min
    misses: list[Miss] = []
    for lag in problem.lags:
        if lag.most_min is None:
            continue
        both_lie = lag.after in starts and lag.before in ends
        if not both_lie:
            continue
        waited_min = starts[lag.after] - ends[lag.before]
        late_min = waited_min - lag.most_min
        if late_min > 0:
            miss = Miss(
                before=lag.before,
                after=lag.after,
                late_min=late_min,
                hard=lag.hard,
            )
            misses.append(miss)
    return tuple(misses)
