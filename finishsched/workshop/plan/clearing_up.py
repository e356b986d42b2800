"""When hands clear up, by a plan: before other work that asks for it, or before the hours end."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from finishsched.planning.problem import Hands, Placed, Plan, Problem


def clearing_up_min(problem: Problem, plan: Plan) -> Mapping[str, int]:
    """Return the minutes of clearing up that follow on some work, by its key."""
    set_ups = {each.kind: each for each in problem.set_ups}
    kinds = {activity.key: activity.kind for activity in problem.activities}
    found: dict[str, int] = {}
    for hands in problem.hands:
        for works in _by_hours(hands, plan):
            of_works = [kinds[each.key] for each in works]
            for number, (each, kind) in enumerate(zip(works, of_works, strict=True)):
                if kind in set_ups:
                    own = set_ups[kind]
                    then = of_works[number + 1 :]
                    found[each.key] = clears_min(kind, then, own.after_min, own.at_end_min)
    return {key: minutes for key, minutes in found.items() if minutes}


def clears_min(kind: str, then: Sequence[str], at_once_min: int, at_end_min: int) -> int:
    """Return the minutes of clearing up that follow on one work in the hours of some hands.

    What is put by between works is cleaned once: after the last of its kind.

    Args:
        kind: the kind of the work.
        then: the kinds of what the same hands do after it in the same hours, in that order.
        at_once_min: what is cleared up before work of any other kind.
        at_end_min: what is cleared up once, before the hours end.

    """
    other_follows = not then or then[0] != kind
    is_the_last = kind not in then
    return max(at_once_min if other_follows else 0, at_end_min if is_the_last else 0)


def _by_hours(hands: Hands, plan: Plan) -> Iterator[list[Placed]]:
    """Give what some hands do in each of their hours, in the order of time."""
    opens = [window.start_min for window in hands.windows]
    mine = [each for each in plan.placed if each.by == hands.name and each.end_min > each.start_min]
    mine.sort(key=lambda each: each.start_min)
    for _, works in groupby(mine, lambda each: bisect_right(opens, each.start_min)):
        yield list(works)
