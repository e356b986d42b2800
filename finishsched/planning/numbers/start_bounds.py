"""How late an activity may start, through working hours, if nothing else were in its way.

Everything is a whole minute since 1970, as in the problem. What the rules press for rests on it:
what may start no later than tonight goes before what may wait until Saturday.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.numbers.sittings import Sitting, Stretches

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
    hours = inner.windows_of
    end = [NOT] * len(start)
    for number in line:
        earliest = start[number]
        for other, least in before[number]:
            ready = end[other] + least
            if ready > earliest:  # noqa: PLR1730 - quicker than max, and this is where time goes
                earliest = ready
        takes = minutes[number]
        if by[number]:
            if number in sittings:
                earliest = sittings[number].first_from(earliest)
            soonest = NEVER
            for hands in by[number]:
                soonest = _first(hours[hands], earliest, takes, soonest)
            earliest = soonest
        start[number] = earliest
        end[number] = earliest + takes if earliest < NEVER else NEVER
    return start


def _first(hours: Stretches, earliest: int, minutes: int, soonest: int) -> int:
    """Return the first start from ``earliest`` on inside certain hours, or a sooner one of others.

    Args:
        hours: those of one pair of hands.
        earliest: the minute.
        minutes: how long the work takes.
        soonest: the start that others can make.

    """
    starts, ends = hours
    for at in range(bisect_right(ends, earliest), len(ends)):
        start = starts[at]
        if start < earliest:  # noqa: PLR1730 - quicker than max, and this is where time goes
            start = earliest
        if start >= soonest:
            break
        if ends[at] - start >= minutes:
            return start
    return soonest


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
    minutes, after, by = inner.minutes, inner.after, inner.by
    hours = inner.windows_of
    latest = [0] * len(minutes)
    for number in reversed(line):
        goal = inner.goal[number]
        target = targets[goal] if goal >= 0 else common
        end = target - inner.tail[number]
        for other, least in after[number]:
            needed = latest[other] - least
            if needed < end and needed != NOT:
                end = needed
        takes = minutes[number]
        start = NOT if by[number] else end - takes
        for hands in by[number]:
            start = _last(hours[hands], end, takes, start)
        latest[number] = start
        if number in sittings:
            sitting = sittings[number]
            last_end = latest[sitting.last] + inner.minutes[sitting.last]
            latest[number] = min(latest[number], sitting.last_by(last_end))
    return latest


def _last(hours: Stretches, end: int, minutes: int, latest: int) -> int:
    """Return the last start inside certain hours that is over by ``end``, or a later one of others.

    Args:
        hours: those of one pair of hands.
        end: the minute.
        minutes: how long the work takes.
        latest: the start that others can make.

    Returns:
        The minute; before all hours where no stretch of them is long enough.

    """
    starts, ends = hours
    for at in range(bisect_left(starts, end) - 1, -1, -1):
        over = ends[at]
        if over > end:  # noqa: PLR1730 - quicker than min, and this is where time goes
            over = end
        start = over - minutes
        if start <= latest:
            return latest
        if start >= starts[at]:
            return start
    before_all_hours = starts[0] if starts else end
    return max(latest, min(end, before_all_hours) - minutes)
