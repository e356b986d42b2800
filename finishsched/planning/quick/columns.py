"""Sorted columns of whole minutes, of which a board is made: free gaps, busy stretches, levels.

Each is two or four lists of the same length, kept in the order of time. Lists of whole numbers are
found in by halving and copied in one go: nothing that Python has is quicker, and a search does
little else.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from finishsched.planning.numbers.inner import NEVER, Inner

Gaps = tuple[list[int], list[int], list[int], list[int]]
"""Starts and ends of what is free, and the kinds of the work to the left and to the right."""
Lists = tuple[list[int], list[int]]
"""Starts and ends of busy stretches; or times, and the level of a store from each on."""


def first_gap(gaps: Gaps, earliest: int, minutes: int) -> tuple[int, int]:
    """Return the place of the first gap with so many minutes left, and the start in it.

    Args:
        gaps: what is free of the hours of one pair of hands.
        earliest: the minute from which on to look.
        minutes: how long the work takes.

    Returns:
        -1 and NEVER where there is no such gap.

    """
    starts, ends, _, _ = gaps
    at = bisect_right(ends, earliest)
    last = len(ends)
    while at < last:
        start = starts[at]
        if start < earliest:  # noqa: PLR1730 - quicker than max, and this is where time goes
            start = earliest
        if ends[at] - start >= minutes:
            return at, start
        at += 1
    return -1, NEVER


def first_gap_in_time(
    gaps: Gaps,
    earliest: int,
    minutes: int,
    at_end: int,
    closes: list[int],
) -> tuple[int, int]:
    """Return the same for work that is over so many minutes before the hours end.

    Args:
        gaps: what is free of the hours of one pair of hands.
        earliest: the minute from which on to look.
        minutes: how long the work takes.
        at_end: how many minutes of the hours are left after it, for whatever else.
        closes: when these hours end.

    """
    starts, ends, _, _ = gaps
    at = bisect_right(ends, earliest)
    last = len(ends)
    while at < last:
        start = starts[at]
        if start < earliest:  # noqa: PLR1730 - quicker than max, and this is where time goes
            start = earliest
        end = ends[at]
        left = end - start - minutes
        if left >= at_end or (left >= 0 and _closing(closes, end) - start >= minutes + at_end):
            return at, start
        at += 1
    return -1, NEVER


def _closing(closes: list[int], minute: int) -> int:
    """Return when those hours end that a minute lies in, or is the end of."""
    return closes[bisect_left(closes, minute)]


def first_gap_beside_set_ups(
    inner: Inner,
    gaps: Gaps,
    earliest: int,
    minutes: int,
    kind: int,
    at_end: int,
    closes: list[int],
) -> tuple[int, int]:
    """Return the same for a gap that also has room for getting ready, and clearing up after.

    Beside work of the same kind neither is needed.

    Args:
        inner: knows how long set-ups take.
        gaps: what is free of the hours of one pair of hands.
        earliest: the minute from which on to look.
        minutes: how long the work takes, without its set-up.
        kind: the number of its kind.
        at_end: how many minutes of the hours are left after it, for whatever else.
        closes: when these hours end.

    """
    starts, ends, left, right = gaps
    before, after = inner.set_up_before, inner.set_up_after
    for at in range(bisect_right(ends, earliest), len(ends)):
        start = starts[at]
        if left[at] != kind:
            start += after[left[at]] + before[kind]
        start = max(start, earliest)
        spare = 0
        if right[at] != kind:
            spare = after[kind] + before[right[at]]
        if ends[at] - start < minutes + spare:
            continue
        if not at_end or _closing(closes, ends[at]) - start >= minutes + at_end:
            return at, start
    return -1, NEVER


def first_clear(track: Lists, start: int, minutes: int) -> int:
    """Return the first start from a minute on at which a track is free for so long.

    Args:
        track: where it is busy.
        start: the minute.
        minutes: how long it must be free.

    """
    starts, ends = track
    at = bisect_right(ends, start)
    # Each stretch that is in the way puts it off to its end, where the next may be in the way.
    while at < len(ends) and starts[at] < start + minutes:
        start = ends[at]
        at += 1
    return start


def cut_gap(gaps: Gaps, at: int, start: int, end: int) -> tuple[bool, bool]:
    """Take a stretch out of the gap at a place; return whether anything is left before, and after.

    The kinds of work beside the gap are left as they are.

    Args:
        gaps: what is free of the hours of one pair of hands.
        at: the place of the gap.
        start: the minute from which on it is taken.
        end: the minute up to which.

    """
    starts, ends, _, _ = gaps
    old_end = ends[at]
    before, after = start > starts[at], end < old_end
    if before and after:
        ends[at] = start
        starts.insert(at + 1, end)
        ends.insert(at + 1, old_end)
    elif before:
        ends[at] = start
    elif after:
        starts[at] = end
    else:
        del starts[at], ends[at]
    return before, after


def cut_kinds(gaps: Gaps, at: int, kind: int, *, before: bool, after: bool) -> None:
    """Note that work of a kind now lies beside what ``cut_gap`` has left of a gap.

    Args:
        gaps: what is free of the hours of one pair of hands.
        at: the place that the gap had.
        kind: the number of the kind of work.
        before: whether anything is left before the work.
        after: whether anything is left after it.

    """
    _, _, left, right = gaps
    if before and after:
        left.insert(at + 1, kind)
        right.insert(at, kind)
    elif before:
        right[at] = kind
    elif after:
        left[at] = kind
    else:
        del left[at], right[at]


def add_stretch(starts: list[int], ends: list[int], start: int, end: int) -> None:
    """Make a track busy from one minute up to another; stretches that touch become one.

    Args:
        starts: where the track begins to be busy.
        ends: where it is free again.
        start: the minute from which on it is busy too.
        end: the minute up to which.

    """
    first = bisect_left(ends, start)
    last = bisect_right(starts, end)
    if first < last:
        start = min(start, starts[first])
        end = max(end, ends[last - 1])
    starts[first:last] = [start]
    ends[first:last] = [end]


def raise_level(times: list[int], levels: list[int], first: int, last: int, amount: int) -> None:
    """Raise the level of a store by an amount from one minute up to another; lower it by a minus.

    Args:
        times: the minutes at which the level changes; the first is earlier than any calendar.
        levels: how much is held from each of these on.
        first: from when on it is held.
        last: from when on it is held no more.
        amount: how much.

    """
    at = bisect_left(times, first)
    if at == len(times) or times[at] != first:
        times.insert(at, first)
        levels.insert(at, levels[at - 1])
    end = bisect_left(times, last, at)
    if end == len(times) or times[end] != last:
        times.insert(end, last)
        levels.insert(end, levels[end - 1])
    for step in range(at, end):
        levels[step] += amount
