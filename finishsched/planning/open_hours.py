"""How near to each other the hours that are left let two activities lie."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping
from typing import NamedTuple, TypeAlias

from finishsched.planning.problem import Activity, Hands, Lag, Problem

Range: TypeAlias = tuple[int, int]
"""The first and the last minute at which something can be."""


class _Alike(NamedTuple):
    """What the least gap between two activities hangs on."""

    before_by: tuple[str, ...]
    """Whose the one before is."""
    before_min: int
    """How long it takes."""
    after_by: tuple[str, ...]
    """Whose the one after is."""
    after_min: int
    """How long it takes."""
    least_min: int
    """The least wait between them."""


class OpenHours:
    """The hours that are left, and how near to each other they let two activities lie.

    Few lags differ in what that hangs on, so that each answer is kept.
    """

    def __init__(self, problem: Problem) -> None:
        """Know what is left of all hours."""
        self._activities = {activity.key: activity for activity in problem.activities}
        self._done = {there.key: there for there in problem.done}
        self._free: dict[str, list[Range]] = {}
        """By hands, what is left of their hours."""
        for hands in problem.hands:
            self._free[hands.name] = _left_of(hands, problem.now_min)
        self._known: dict[_Alike, int | None] = {}
        """The least gaps that were asked for up to now."""

    def least_gap(self, lag: Lag) -> int | None:
        """Return the least gap that hours allow between two activities.

        Args:
            lag: the wait between them, which no gap is less than.

        Returns:
            Minutes; None where the hours have no say in it.

        """
        if lag.after in self._done:
            return None
        after = self._activities[lag.after]
        if lag.before in self._done:
            end = self._done[lag.before].end_min
            return self._between([(end, end)], after, lag.least_min)
        before = self._activities[lag.before]
        alike = _Alike(
            before_by=before.by,
            before_min=before.minutes,
            after_by=after.by,
            after_min=after.minutes,
            least_min=lag.least_min,
        )
        if alike not in self._known:
            ends = _ends_of(before, self._free)
            self._known[alike] = self._between(ends, after, lag.least_min)
        return self._known[alike]

    def _between(self, ends: list[Range] | None, after: Activity, least_min: int) -> int | None:
        """Return the least gap between an end and the start of what comes after.

        Args:
            ends: where the one before can end; None where it can end anywhere.
            after: what comes after.
            least_min: no gap is less.

        """
        starts = _starts_of(after, self._free)
        if starts is None or ends is None:
            return None
        return _least_gap(least_min, ends, starts)


def _left_of(hands: Hands, now_min: int) -> list[Range]:
    """Return what is left of the windows of a pair of hands.

    Args:
        hands: whose windows.
        now_min: what lies before is left out.

    """
    left: list[Range] = []
    for window in hands.windows:
        if window.end_min > now_min:
            begins = max(window.start_min, now_min)
            left.append((begins, window.end_min))
    return left


def _ends_of(activity: Activity, free: Mapping[str, list[Range]]) -> list[Range] | None:
    """Return where an activity can end; None for what takes no hands, and so can be anywhere.

    Args:
        activity: how long it takes, and whose it is.
        free: by hands, what is left of their hours.

    """
    starts = _starts_of(activity, free)
    if starts is None:
        return None
    return [(first + activity.minutes, last + activity.minutes) for first, last in starts]


def _starts_of(activity: Activity, free: Mapping[str, list[Range]]) -> list[Range] | None:
    """Return where an activity can start; None for what takes no hands, and so can be anywhere.

    Args:
        activity: how long it takes, and whose it is.
        free: by hands, what is left of their hours.

    """
    hours = _hours_of(activity.by, free)
    if hours is None:
        return None
    found: list[Range] = []
    for opens, closes in hours:
        latest = closes - activity.minutes
        if opens <= latest:
            found.append((opens, latest))
    found.sort()
    return found


def _hours_of(by: Iterable[str], free: Mapping[str, list[Range]]) -> list[Range] | None:
    """Return the hours of several hands together; None where there are no hands.

    Args:
        by: the names of the hands; those that there are not are passed over.
        free: by hands, what is left of their hours.

    """
    names = [name for name in by if name in free]
    if not names:
        return None
    hours: list[Range] = []
    for name in names:
        hours += free[name]
    return hours


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
    # From the back: a start that may be later may also be as soon as any of those after it.
    last_but_one = len(soonest) - 2
    for at in range(last_but_one, -1, -1):
        soonest[at] = min(soonest[at], soonest[at + 1])
    least: int | None = None
    for first, last in ends:
        at = bisect_left(lasts, first + least_min)
        if at == len(lasts):
            continue
        until_then = soonest[at] - last
        gap = max(least_min, until_then)
        if least is None or gap < least:
            least = gap
        if least == least_min:
            break
    return least
