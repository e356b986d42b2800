"""When hands are free, in numbers: their hours without what is past and what they are busy with."""

from __future__ import annotations

from typing import NamedTuple

from finishsched.planning.numbers.inner import Inner
from finishsched.planning.problem import Activity, Hands, Problem
from finishsched.planning.window import Window


class _Busy(NamedTuple):
    """Work that is done or running, and the number of its kind."""

    start_min: int
    end_min: int
    kind: int


class _Gaps(NamedTuple):
    """What is free of the hours of one pair of hands: where, and between which kinds of work."""

    starts: list[int]
    ends: list[int]
    left: list[int]
    right: list[int]

    def add(self, start: int, end: int, left: int, right: int) -> None:
        """Add a gap from one minute up to another.

        Args:
            start: the one minute.
            end: the other.
            left: the number of the kind of work before it, 0 for none.
            right: the number of the kind of work after it, 0 for none.

        """
        self.starts.append(start)
        self.ends.append(end)
        self.left.append(left)
        self.right.append(right)

    def drop_first(self) -> None:
        """Take out the first gap."""
        for column in self:
            del column[0]


def add_hours(
    inner: Inner,
    problem: Problem,
    activities: dict[str, Activity],
    kinds: dict[str, int],
) -> None:
    """Cut what is past and what is busy out of the windows; the rest is where hands are free.

    Args:
        inner: takes the gaps, in minutes, and knows what it takes to clear up.
        problem: has the hands, their windows, and what is done.
        activities: all of them by key.
        kinds: the number of each kind of work that has a set-up.

    """
    for hands in problem.hands:
        busy = _busy_of(hands, problem, activities, kinds)
        gaps = _gaps_of(inner, hands, busy, problem.now_min)
        _cut_past(inner, problem.now_min, gaps)
        inner.gap_starts.append(gaps.starts)
        inner.gap_ends.append(gaps.ends)
        inner.gap_left.append(gaps.left)
        inner.gap_right.append(gaps.right)
        # Gaps are cut while work is laid; these stay as they are.
        opens, closes = list(gaps.starts), list(gaps.ends)
        inner.windows_of.append((opens, closes))


def _busy_of(
    hands: Hands,
    problem: Problem,
    activities: dict[str, Activity],
    kinds: dict[str, int],
) -> list[_Busy]:
    """Return what a pair of hands has done or is at, in the order of starts.

    Args:
        hands: whose work it is.
        problem: has what is done.
        activities: all of them by key.
        kinds: the number of each kind of work that has a set-up.

    """
    busy: list[_Busy] = []
    for there in problem.done:
        if there.by == hands.name:
            kind = kinds.get(activities[there.key].kind, 0)
            busy.append(_Busy(there.start_min, there.end_min, kind))
    busy.sort()
    return busy


def _gaps_of(inner: Inner, hands: Hands, busy: list[_Busy], now_min: int) -> _Gaps:
    """Return the gaps that work leaves in the windows that are not over.

    Args:
        inner: knows what it takes to clear up.
        hands: whose windows.
        busy: what they have done or are at, in the order of starts.
        now_min: the instant.

    """
    gaps = _Gaps([], [], [], [])
    at = 0
    for window in hands.windows:
        if window.end_min <= now_min:
            continue
        while at < len(busy) and busy[at].end_min <= window.start_min:
            at += 1
        if at < len(busy):
            _add_gaps_in(gaps, inner, window, busy[at:])
        else:
            gaps.add(window.start_min, window.end_min, 0, 0)
    return gaps


def _add_gaps_in(gaps: _Gaps, inner: Inner, window: Window, busy: list[_Busy]) -> None:
    """Add what work leaves free of one window.

    Work that began before the window opened is cleared up after in it, and leaves no kind of work
    behind that the next could go on with.

    Args:
        gaps: takes what is free.
        inner: knows what it takes to clear up.
        window: a stretch of hours.
        busy: work in the order of starts, none of it over before the window opens.

    """
    start = window.start_min
    kind = 0
    for work in busy:
        if work.start_min >= window.end_min:
            break
        if work.start_min > start:
            gaps.add(start, work.start_min, kind, work.kind)
        # What is running on from before is no neighbour to go on with: it is another sitting.
        began_in_it = work.start_min >= window.start_min
        clear_up = 0 if began_in_it else inner.set_up_after[work.kind]
        start = max(start, work.end_min + clear_up)
        kind = work.kind if began_in_it else 0
    if start < window.end_min:
        gaps.add(start, window.end_min, kind, 0)


def _cut_past(inner: Inner, now: int, gaps: _Gaps) -> None:
    """Leave no gap before now; nor can getting ready for another kind of work begin before.

    Args:
        inner: knows what it takes to clear up.
        now: the minute.
        gaps: what is free of the hours of one pair of hands; it is changed.

    """
    while gaps.ends and gaps.ends[0] <= now:
        gaps.drop_first()
    if gaps.starts and gaps.starts[0] < now:
        clear_up = inner.set_up_after[gaps.left[0]]
        cleared_by_now = now - clear_up
        gaps.starts[0] = max(gaps.starts[0], cleared_by_now)
