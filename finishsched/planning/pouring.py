"""How early the work of some hands can be over, if it could be cut into minutes.

No activity starts before its waits and hours let it, nor ends later than its goal lets it. Within
these the minutes of all are poured into the hours, the most pressing first: where that does not
come out, no plan does.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from heapq import heappop, heappush
from typing import TypeAlias

from finishsched.planning.numbers.inner import NEVER, Inner
from finishsched.planning.numbers.sittings import Sitting
from finishsched.planning.numbers.start_bounds import latest_starts

FIRST_STEP_MIN = 120
"""How far a finish is put off first, where work cannot be poured in."""
SPECK_MIN = 1e-6
"""What is less than this is nothing: shares of minutes are not exact."""

Stretch: TypeAlias = tuple[int, int, int]
"""From one minute up to another, and how many hands are there."""
_Open: TypeAlias = tuple[int, float]
"""Work that may be done now: by when it must be over, and the minutes of it that are left."""


def earliest_by_work(
    inner: Inner,
    starts: list[int],
    group: tuple[int, ...],
    least: int,
    sittings: Mapping[int, Sitting],
) -> int:
    """Return the earliest finish at which a group's work can be poured into its hours.

    Args:
        inner: the problem in numbers.
        starts: by activity, its earliest start.
        group: the numbers of the hands.
        least: no earlier finish is looked at.
        sittings: what must lie inside one stretch of hours, by the activity that it begins with.

    Returns:
        The minute.

    """
    mine = _work_of(inner, starts, group)
    hours = _hours_of(inner, group)
    if not mine or not hours:
        return least
    order = sorted(mine, key=starts.__getitem__)

    def fits(finish: int) -> bool:
        """Tell whether all can be reached by a minute."""
        ends = _latest_ends(inner, mine, finish, sittings)
        return _pours(inner, order, starts, ends, hours)

    if fits(least):
        return least
    work = sum([inner.minutes[number] for number in mine])
    shortest_tail = min([inner.tail[number] for number in mine])
    low = max(least, _all_poured(hours, work) + shortest_tail)
    if low > least and fits(low):
        return low
    _, last_close, _ = hours[-1]
    most = last_close + max(inner.tail) + 1
    return _first_that_fits(fits, low, most)


def _work_of(inner: Inner, starts: list[int], group: tuple[int, ...]) -> list[int]:
    """Return the activities that only these hands can do, and that any calendar has room for.

    Args:
        inner: the problem in numbers.
        starts: by activity, its earliest start.
        group: the numbers of the hands.

    """
    here = set(group)
    found = []
    for number, by in enumerate(inner.by):
        has_room = starts[number] < NEVER >> 1
        if by and inner.minutes[number] and has_room and here.issuperset(by):
            found.append(number)
    return found


def _latest_ends(
    inner: Inner,
    mine: list[int],
    finish: int,
    sittings: Mapping[int, Sitting],
) -> dict[int, int]:
    """Return by when each activity must be over for all to be reached by ``finish``.

    Where waits run in circles only its own tail is looked at, which makes the bound weaker.

    Args:
        inner: the problem in numbers.
        mine: the activities.
        finish: the minute.
        sittings: what must lie inside one stretch of hours, by the activity that it begins with.

    """
    if inner.line is None:
        return {number: finish - inner.tail[number] for number in mine}
    targets = [finish] * len(inner.due)
    latest = latest_starts(inner, inner.line, targets, finish, sittings)
    ends: dict[int, int] = {}
    for number in mine:
        ends[number] = latest[number] + inner.minutes[number]
    return ends


def _first_that_fits(fits: Callable[[int], bool], low: int, most: int) -> int:
    """Return the first minute that fits, after one that does not.

    Longer and longer steps find one that does; then what lies between is halved.

    Args:
        fits: tells whether a minute fits; once one does, all later ones do.
        low: one that does not.
        most: from here on one is tried and no more; ``low`` is returned where that does not fit.

    """
    step = FIRST_STEP_MIN
    while low + step < most and not fits(low + step):
        low += step
        step *= 2
    high = low + step
    if not fits(high):
        return low
    while high - low > 1:
        middle = (low + high) // 2
        if fits(middle):
            high = middle
        else:
            low = middle
    return high


def _hours_of(inner: Inner, group: tuple[int, ...]) -> list[Stretch]:
    """Return the hours of a group: stretches with how many of its hands are there.

    Args:
        inner: knows the windows.
        group: the numbers of the hands.

    """
    # By minute, how many more hands are there from then on, or fewer.
    changes: dict[int, int] = {}

    for hands in group:
        starts, ends = inner.windows_of[hands]
        for start in starts:
            changes[start] = changes.get(start, 0) + 1
        for end in ends:
            changes[end] = changes.get(end, 0) - 1
    stretches: list[Stretch] = []
    there = since = 0
    for time in sorted(changes):
        if there:
            stretches.append((since, time, there))
        there += changes[time]
        since = time
    return stretches


def _all_poured(hours: list[Stretch], work: int) -> int:
    """Return the minute by which so much work is over if it could all be begun at once.

    Args:
        hours: when hands are there, and how many.
        work: minutes of it.

    Returns:
        The end of all hours, where they are too few.

    """
    for first, last, there in hours:
        poured = (last - first) * there
        if poured >= work:
            return first - (-work // there)
        work -= poured
    return hours[-1][1]


def _pours(
    inner: Inner,
    order: list[int],
    starts: list[int],
    ends: dict[int, int],
    hours: list[Stretch],
) -> bool:
    """Return whether all work can be poured into the hours, the most pressing always first.

    All hands may be at the same work at once, which no plan can do, and each minute goes to what
    has to be over soonest: where that leaves anything undone, so does every other way.

    Args:
        inner: knows how many minutes each activity takes.
        order: the activities, in the order of their starts.
        starts: by activity, when it may be begun.
        ends: by activity, when it must be over.
        hours: when hands are there, and how many.

    """
    at = 0
    open_work: list[_Open] = []
    for first, last, there in hours:
        time = float(first)
        while time < last:
            while at < len(order) and starts[order[at]] <= time:
                number = order[at]
                heappush(open_work, (ends[number], inner.minutes[number]))
                at += 1
            until = last
            if at < len(order):
                next_begins = starts[order[at]]
                until = min(last, next_begins)
            if not open_work:
                if at == len(order):
                    return True
                time = until
                continue
            # The most pressing has all hands until it is over, or something else may begin.
            due, work = heappop(open_work)
            poured = min(until, time + work / there)
            left = work - (poured - time) * there
            if left > SPECK_MIN:
                heappush(open_work, (due, left))
                if poured >= due:
                    return False
            elif poured > due + SPECK_MIN:
                return False
            time = poured
    return not open_work and at == len(order)
