"""How late an activity may start, through working hours, if nothing else were in its way.

Everything is a whole minute since 1970, as in the problem. What the rules press for rests on it:
what may start no later than tonight goes before what may wait until Saturday.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from finishsched.planning.quick.inner import NEVER, NOT, Inner
from finishsched.planning.quick.sittings import Sitting

NO_SITTINGS: Mapping[int, Sitting] = MappingProxyType({})
"""For whoever takes each activity by itself."""


def line_of(inner: Inner, members: list[list[int]]) -> list[int]:
    """Return the activities in an order that goes with their waits, circles within blocks aside.

    Args:
        inner: the problem in numbers.
        members: by block, its activities; blocks stand in the order of their waits.

    """
    if inner.line is not None:
        return inner.line
    return [number for inside in members for number in inside]


def earliest_starts(inner: Inner, line: Sequence[int]) -> list[int]:
    """Return earliest starts through working hours; NEVER where there are none."""
    return earliest_from(inner, line, inner.release)


def earliest_from(
    inner: Inner,
    line: Sequence[int],
    floor: Sequence[int],
    sittings: Mapping[int, Sitting] = NO_SITTINGS,
) -> list[int]:
    """Return earliest starts through working hours, as if hands did nothing else.

    Args:
        inner: the problem in numbers.
        line: all activities, in an order that goes with their waits.
        floor: by activity, the minute before which it cannot start.
        sittings: what must lie inside one stretch of hours, by the activity that it begins with.

    Returns:
        By activity, the minute; NEVER where there are no hours for it.

    """
    start = list(floor)
    minutes, before, by = inner.minutes, inner.before, inner.by
    end = [NOT] * len(start)
    for number in line:
        earliest = start[number]
        for other, least in before[number]:
            ready = end[other] + least
            earliest = max(earliest, ready)
        if by[number]:
            takes = minutes[number]
            sitting = sittings.get(number)
            if sitting is not None:
                earliest = sitting.first_from(earliest)
            earliest = min([_first(inner, hands, earliest, takes) for hands in by[number]])
        start[number] = earliest
        end[number] = min(NEVER, earliest + minutes[number])
    return start


def _first(inner: Inner, hands: int, earliest: int, minutes: int) -> int:
    """Return the first start from ``earliest`` on inside the hours of certain hands, or NEVER.

    Args:
        inner: the problem in numbers.
        hands: their number.
        earliest: the minute.
        minutes: how long the work takes.

    """
    starts, ends = inner.windows_of[hands]
    for at in range(bisect_right(ends, earliest), len(ends)):
        start = max(starts[at], earliest)
        if ends[at] - start >= minutes:
            return start
    return NEVER


def latest_starts(
    inner: Inner,
    line: Sequence[int],
    targets: Sequence[int],
    common: int,
    sittings: Mapping[int, Sitting] = NO_SITTINGS,
) -> list[int]:
    """Return the latest starts with which all is reached in time.

    Where working hours do not reach back far enough the start is earlier than any of them.

    Args:
        inner: the problem in numbers.
        line: all activities, in an order that goes with their waits.
        targets: by goal, the minute by which it is to be reached.
        common: the minute by which what belongs to no goal is to be reached.
        sittings: what must lie inside one stretch of hours, by the activity that it begins with.

    Returns:
        By activity, the minute.

    """
    latest = [0] * len(inner.minutes)
    for number in reversed(line):
        goal = inner.goal[number]
        target = targets[goal] if goal >= 0 else common
        end = target - inner.tail[number]
        for other, least in inner.after[number]:
            needed = latest[other] - least
            if needed < end and needed != NOT:
                end = needed
        latest[number] = _latest_start(inner, number, end)
        sitting = sittings.get(number)
        if sitting is not None:
            last_end = latest[sitting.last] + inner.minutes[sitting.last]
            latest[number] = min(latest[number], sitting.last_by(last_end))
    return latest


def _latest_start(inner: Inner, number: int, end: int) -> int:
    """Return the latest start of an activity that must be over by ``end``, by whoever is last.

    Args:
        inner: the problem in numbers.
        number: the activity.
        end: the minute.

    """
    minutes = inner.minutes[number]
    hands = inner.by[number]
    if not hands:
        return end - minutes
    start = _last(inner, hands[0], end, minutes)
    for other_hands in hands[1:]:
        start = max(start, _last(inner, other_hands, end, minutes))
    return start


def _last(inner: Inner, hands: int, end: int, minutes: int) -> int:
    """Return the last start inside the hours of certain hands that is over by ``end``.

    Args:
        inner: the problem in numbers.
        hands: their number.
        end: the minute.
        minutes: how long the work takes.

    Returns:
        The minute; before all hours where no stretch of them is long enough.

    """
    starts, ends = inner.windows_of[hands]
    at = bisect_left(starts, end) - 1
    while at >= 0:
        last = min(ends[at], end)
        if last - starts[at] >= minutes:
            return last - minutes
        at -= 1
    before_all_hours = starts[0] if starts else end
    return min(end, before_all_hours) - minutes
