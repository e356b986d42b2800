"""How near to each other the hours that are left let two activities lie."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping
from typing import TypeAlias

from finishsched.planning.problem import Activity, Hands, Lag, Problem

Range: TypeAlias = tuple[int, int]
"""The first and the last minute at which something can be."""
_Alike: TypeAlias = tuple[tuple[str, ...], int, tuple[str, ...], int, int]
"""Whose and how long the one before is, the same of the one after, and the least wait."""


class OpenHours:
    """The hours that are left, and how near to each other they let two activities lie.

    Few lags differ in what that hangs on, so that each answer is kept.
    """

    def __init__(self, problem: Problem) -> None:
        self._activities = {activity.key: activity for activity in problem.activities}
        self._done = {each.key: each for each in problem.done}
        self._free: dict[str, list[Range]] = {}
        for hands in problem.hands:
            self._free[hands.name] = _left_of(hands, problem.now_min)
        self._known: dict[_Alike, int | None] = {}

    def least_gap(self, lag: Lag) -> int | None:
        """Return the least gap that hours allow, in minutes; None where they have no say in it."""
        if lag.after in self._done:
            return None
        after = self._activities[lag.after]
        if lag.before in self._done:
            end = self._done[lag.before].end_min
            return self._between([(end, end)], after, lag.least_min)
        before = self._activities[lag.before]
        alike = (before.by, before.minutes, after.by, after.minutes, lag.least_min)
        if alike not in self._known:
            ends = _ends_of(before, self._free)
            self._known[alike] = self._between(ends, after, lag.least_min)
        return self._known[alike]

    def _between(self, ends: list[Range] | None, after: Activity, least_min: int) -> int | None:
        """Return the least gap between an end and the start of what comes after."""
        starts = _starts_of(after, self._free)
        if starts is None or ends is None:
            return None
        return _least_gap(least_min, ends, starts)


def _left_of(hands: Hands, now_min: int) -> list[Range]:
    """Return what is left of the windows of a pair of hands."""
    ahead = [window for window in hands.windows if window.end_min > now_min]
    return [(max(window.start_min, now_min), window.end_min) for window in ahead]


def _ends_of(activity: Activity, free: Mapping[str, list[Range]]) -> list[Range] | None:
    """Return where an activity can end; None for what takes no hands, and so can be anywhere."""
    hours = _hours_of(activity.by, free)
    if hours is None:
        return None
    minutes = activity.minutes
    return sorted([(start + minutes, end) for start, end in hours if start + minutes <= end])


def _starts_of(activity: Activity, free: Mapping[str, list[Range]]) -> list[Range] | None:
    """Return where an activity can start; None for what takes no hands, and so can be anywhere."""
    hours = _hours_of(activity.by, free)
    if hours is None:
        return None
    minutes = activity.minutes
    return sorted([(start, end - minutes) for start, end in hours if start <= end - minutes])


def _hours_of(by: Iterable[str], free: Mapping[str, list[Range]]) -> list[Range] | None:
    """Return the hours of several hands together; None where there are no hands."""
    names = [name for name in by if name in free]
    if not names:
        return None
    return [stretch for name in names for stretch in free[name]]


def _least_gap(least_min: int, ends: list[Range], starts: list[Range]) -> int | None:
    """Return the least gap that the hours allow.

    For each end the soonest start is looked up, of all that may still be as late as it has to be.

    Args:
        least_min: no gap is less.
        ends: where the one before can end, in the order of time.
        starts: where the one after can start.

    Returns:
        Minutes; None where no start lies late enough after any end.

    """
    by_last = sorted(starts, key=lambda each: each[1])
    lasts = [last for _, last in by_last]
    soonest = [first for first, _ in by_last]
    for at in range(len(soonest) - 2, -1, -1):
        soonest[at] = min(soonest[at], soonest[at + 1])
    least: int | None = None
    for first, last in ends:
        at = bisect_left(lasts, first + least_min)
        if at == len(lasts):
            continue
        gap = max(least_min, soonest[at] - last)
        if least is None or gap < least:
            least = gap
        if least == least_min:
            break
    return least
