"""How late an activity may start, through working hours, if nothing else were in its way."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from finishsched.planning.quick.inner import NEVER, NOT, Inner


def line_of(inner: Inner, members: list[list[int]]) -> list[int]:
    """Return the activities in an order that goes with their waits, circles within blocks aside."""
    if inner.line is not None:
        return inner.line
    return [number for inside in members for number in inside]


def earliest_starts(inner: Inner, line: Sequence[int]) -> list[int]:
    """Return earliest starts through working hours; NEVER where there are none."""
    return earliest_from(inner, line, inner.release)


def earliest_from(inner: Inner, line: Sequence[int], floor: Sequence[int]) -> list[int]:
    """Return the same for activities that cannot start before a ``floor`` of their own."""
    start = list(floor)
    minutes, before, by = inner.minutes, inner.before, inner.by
    end = [NOT] * len(start)
    for number in line:
        earliest = start[number]
        for other, least in before[number]:
            ready = end[other] + least
            earliest = max(earliest, ready)
        if by[number]:
            earliest = min(_first(inner, hands, earliest, minutes[number]) for hands in by[number])
        start[number] = earliest
        end[number] = min(NEVER, earliest + minutes[number])
    return start


def _first(inner: Inner, hands: int, earliest: int, minutes: int) -> int:
    starts, ends = inner.windows_of[hands]
    for at in range(bisect_right(ends, earliest), len(ends)):
        start = starts[at]
        start = max(start, earliest)
        if ends[at] - start >= minutes:
            return start
    return NEVER


def latest_starts(
    inner: Inner, line: Sequence[int], targets: Sequence[int], common: int
) -> list[int]:
    """Return latest starts for goals to be reached by ``targets``, all else by ``common``.

    Where working hours do not reach back far enough the start is earlier than any of them.
    """
    minutes, after, by = inner.minutes, inner.after, inner.by
    latest = [0] * len(minutes)
    for number in reversed(line):
        goal = inner.goal[number]
        end = (targets[goal] if goal >= 0 else common) - inner.tail[number]
        for other, least in after[number]:
            needed = latest[other] - least
            if needed < end and needed != NOT:
                end = needed
        hands = by[number]
        if hands:
            start = _last(inner, hands[0], end, minutes[number])
            for other_hands in hands[1:]:
                start = max(start, _last(inner, other_hands, end, minutes[number]))
            latest[number] = start
        else:
            latest[number] = end - minutes[number]
    return latest


def _last(inner: Inner, hands: int, end: int, minutes: int) -> int:
    starts, ends = inner.windows_of[hands]
    at = bisect_left(starts, end) - 1
    while at >= 0:
        last = ends[at]
        last = min(last, end)
        if last - starts[at] >= minutes:
            return last - minutes
        at -= 1
    return min(end, starts[0] if starts else end) - minutes
