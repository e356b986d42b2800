"""When hands clear up, by a plan: after work of one kind, before another kind or the hours' end."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from itertools import groupby, pairwise

from finishsched.planning.problem import Hands, Placed, Plan, Problem


def clearing_up_min(problem: Problem, plan: Plan) -> Mapping[str, int]:
    """Return the minutes of clearing up that follow at once on some work, by its key.

    Nothing is cleared up between works of the same kind in the same hours.
    """
    minutes = {each.kind: each.after_min for each in problem.set_ups if each.after_min}
    if not minutes:
        return {}
    kinds = {activity.key: activity.kind for activity in problem.activities}
    found: dict[str, int] = {}
    for hands in problem.hands:
        for works in _by_hours(hands, plan):
            ends = [one for one, then in pairwise(works) if kinds[one.key] != kinds[then.key]]
            for each in (*ends, works[-1]):
                if kinds[each.key] in minutes:
                    found[each.key] = minutes[kinds[each.key]]
    return found


def _by_hours(hands: Hands, plan: Plan) -> Iterator[list[Placed]]:
    """Give what some hands do in each of their hours, in the order of time."""
    opens = [window.start_min for window in hands.windows]
    mine = [each for each in plan.placed if each.by == hands.name and each.end_min > each.start_min]
    mine.sort(key=lambda each: each.start_min)
    for _, works in groupby(mine, lambda each: bisect_right(opens, each.start_min)):
        yield list(works)
