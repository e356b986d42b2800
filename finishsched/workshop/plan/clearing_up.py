"""When hands clear up, by a plan: before other work that asks for it, or before the hours end."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from itertools import groupby, pairwise

from finishsched.planning.problem import Hands, Placed, Plan, Problem


def clearing_up_min(problem: Problem, plan: Plan) -> Mapping[str, int]:
    """Return the minutes of clearing up that follow on some work, by its key.

    What is put by between works is cleaned once: after the last of its kind in the same hours.
    """
    if not problem.set_ups:
        return {}
    at_once = {each.kind: each.after_min for each in problem.set_ups}
    at_end = {each.kind: each.at_end_min for each in problem.set_ups}
    kinds = {activity.key: activity.kind for activity in problem.activities}
    found: dict[str, int] = {}
    for hands in problem.hands:
        for works in _by_hours(hands, plan):
            changes = [one for one, then in pairwise(works) if kinds[one.key] != kinds[then.key]]
            for each in (*changes, works[-1]):
                found[each.key] = at_once.get(kinds[each.key], 0)
            for key in {kinds[each.key]: each.key for each in works}.values():
                found[key] = max(found.get(key, 0), at_end.get(kinds[key], 0))
    return {key: minutes for key, minutes in found.items() if minutes}


def _by_hours(hands: Hands, plan: Plan) -> Iterator[list[Placed]]:
    """Give what some hands do in each of their hours, in the order of time."""
    opens = [window.start_min for window in hands.windows]
    mine = [each for each in plan.placed if each.by == hands.name and each.end_min > each.start_min]
    mine.sort(key=lambda each: each.start_min)
    for _, works in groupby(mine, lambda each: bisect_right(opens, each.start_min)):
        yield list(works)
