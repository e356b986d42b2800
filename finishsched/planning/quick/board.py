"""Where things lie so far: free gaps of hands, busy tracks of rooms, levels of stores."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from finishsched.planning.quick.inner import NEVER, NOT, Held, Inner

Gaps = tuple[list[int], list[int], list[int], list[int]]
"""Starts and ends of what is free, and the kinds of the work to the left and to the right."""
Lists = tuple[list[int], list[int]]
SavedGaps = list[tuple[int, Gaps]]
SavedLists = list[tuple[int, Lists]]
Saved = tuple[int, SavedGaps, SavedLists, SavedLists]


class Board:
    """A half-made plan, which finds the earliest fit for an activity and takes it."""

    __slots__ = (
        "at_gap",
        "by",
        "end",
        "found_by",
        "gaps",
        "inner",
        "levels",
        "plain",
        "start",
        "tracks",
    )

    def __init__(self, inner: Inner) -> None:
        """Begin with what is done."""
        self.inner = inner
        self.plain = len(inner.set_up_before) == 1
        self.clear()

    def clear(self) -> None:
        """Take everything off again."""
        inner = self.inner
        count = len(inner.keys)
        self.start = [NOT] * count
        self.end = [NOT] * count
        self.by = [-1] * count
        self.found_by = -1
        self.at_gap = -1
        self.gaps: list[Gaps] = [
            (starts[:], ends[:], left[:], right[:])
            for starts, ends, left, right in zip(
                inner.gap_starts,
                inner.gap_ends,
                inner.gap_left,
                inner.gap_right,
                strict=True,
            )
        ]
        self.tracks: list[Lists] = [([], []) for _ in inner.tracks]
        for track, marks in enumerate(inner.tracks):
            for start, end in marks:
                _merge(*self.tracks[track], start, end)
        self.levels: list[Lists] = [([NOT], [0]) for _ in inner.capacity]
        for store, held in enumerate(inner.store_base):
            for start, end, amount in held:
                _raise(*self.levels[store], start, end, amount)
        for _, (store, start, _, amount) in inner.open_base:
            _raise(*self.levels[store], start, NEVER, amount)

    # What fits --------------------------------------------------------------------------------

    def fit(self, number: int, earliest: int, minutes: int) -> int:
        """Return the earliest start from ``earliest`` on that fits, or NEVER."""
        inner = self.inner
        by = inner.by[number]
        avoids = inner.avoids[number]
        uses = inner.uses[number]
        start = earliest
        only = by[0] if len(by) == 1 and self.plain else -1
        while True:
            if only >= 0:
                self.found_by = only
                self.at_gap, start = _in_gap(self.gaps[only], start, minutes)
            elif by:
                start = self._free(by, start, minutes, inner.kind[number])
            asked = start
            for track, longer in avoids:
                start = self._clear(track, start, minutes + longer)
            for use in uses:
                start = self._room_in_store(use, start, minutes)
            if start == asked or start >= NEVER:
                return min(start, NEVER)

    def could_begin(self, number: int, time: int, minutes: int) -> int:
        """Return ``time`` if an activity fits there, else a later minute before which it does not.

        For hands that need not get ready for their kinds of work.
        """
        inner = self.inner
        for track, longer in inner.avoids[number]:
            starts, ends = self.tracks[track]
            at = bisect_right(ends, time)
            if at < len(ends) and starts[at] < time + minutes + longer:
                return ends[at]
        by = inner.by[number]
        if by:
            begun = NEVER
            for hands in by:
                at, start = _in_gap(self.gaps[hands], time, minutes)
                if start < begun:
                    begun, self.found_by, self.at_gap = start, hands, at
                    if start == time:
                        break
            if begun > time:
                return begun
        for use in inner.uses[number]:
            begun = self._room_in_store(use, time, minutes)
            if begun > time:
                return begun
        return time

    def _clear(self, track: int, start: int, minutes: int) -> int:
        """Return the first start from ``start`` on at which a track is free for so long."""
        starts, ends = self.tracks[track]
        at = bisect_right(ends, start)
        while at < len(ends) and starts[at] < start + minutes:
            start = ends[at]
            at += 1
        return start

    def _free(self, by: tuple[int, ...], earliest: int, minutes: int, kind: int) -> int:
        best = NEVER
        for hands in by:
            gaps = self.gaps[hands]
            at, start = (
                _in_gap(gaps, earliest, minutes)
                if self.plain
                else self._in_set_up_gap(gaps, earliest, minutes, kind)
            )
            if start < best:
                best = start
                self.found_by = hands
                self.at_gap = at
        return best

    def _in_set_up_gap(self, gaps: Gaps, earliest: int, minutes: int, kind: int) -> tuple[int, int]:
        """Find a gap that also has room for getting ready and clearing up around the work."""
        starts, ends, left, right = gaps
        before, after = self.inner.set_up_before, self.inner.set_up_after
        for at in range(bisect_right(ends, earliest), len(ends)):
            start = starts[at]
            if left[at] != kind:
                start += after[left[at]] + before[kind]
            start = max(start, earliest)
            spare = 0 if right[at] == kind else after[kind] + before[right[at]]
            if ends[at] - start >= minutes + spare:
                return at, start
        return -1, NEVER

    def hands_free(self, hands: int, number: int, start: int, minutes: int) -> bool:
        """Return whether certain hands are free for an activity at a minute, ready for its kind."""
        gaps = self.gaps[hands]
        if self.plain:
            return _in_gap(gaps, start, minutes)[1] == start
        return self._in_set_up_gap(gaps, start, minutes, self.inner.kind[number])[1] == start

    def _room_in_store(self, use: Held, start: int, minutes: int) -> int:
        """Return the first start from ``start`` on at which the store has enough left."""
        times, levels = self.levels[use.store]
        most = self.inner.capacity[use.store] - use.shared
        if most < 0:
            return NEVER
        until = use.until_min
        if use.until >= 0:
            until = self.start[use.until]
            until = NEVER if until == NOT else until
        while True:
            end = start + minutes
            first = start if use.from_start else end
            last = end + use.hold_min
            last = max(last, until)
            at = bisect_right(times, first) - 1
            while at < len(times) and times[at] < last and levels[at] <= most:
                at += 1
            if at == len(times) or times[at] >= last:
                return start
            while at < len(times) and levels[at] > most:
                at += 1
            if at == len(times):
                return NEVER
            start = times[at] if use.from_start else times[at] - minutes

    # What is taken ----------------------------------------------------------------------------

    def take(self, number: int, start: int, minutes: int) -> None:
        """Lay an activity where ``fit`` has just found room for it."""
        inner = self.inner
        end = start + minutes
        self.start[number] = start
        self.end[number] = end
        if inner.by[number]:
            self.by[number] = self.found_by
            if minutes:
                self._cut(self.found_by, self.at_gap, start, end, inner.kind[number])
        for track, longer in inner.marks[number]:
            starts, ends = self.tracks[track]
            _merge(starts, ends, start, end + longer)
        for use in inner.uses[number]:
            first, last = self._held(use, start, end)
            if last > first:
                _raise(*self.levels[use.store], first, last, use.amount)

    def take_by(self, hands: int, number: int, start: int, minutes: int) -> None:
        """Do the same with hands, and at a time, that were found some while ago."""
        self.found_by = hands
        if self.inner.by[number]:
            self.at_gap = bisect_right(self.gaps[hands][0], start) - 1
        self.take(number, start, minutes)

    def _cut(self, hands: int, at: int, start: int, end: int, kind: int) -> None:
        starts, ends, left, right = self.gaps[hands]
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
        if self.plain:
            return
        if before and after:
            left.insert(at + 1, kind)
            right.insert(at, kind)
        elif before:
            right[at] = kind
        elif after:
            left[at] = kind
        else:
            del left[at], right[at]

    def _held(self, use: Held, start: int, end: int) -> tuple[int, int]:
        first = start if use.from_start else end
        if use.until >= 0:
            until = self.start[use.until]
            return first, NEVER if until == NOT else max(end, until)
        return first, max(end + use.hold_min, use.until_min)

    # What is let go ---------------------------------------------------------------------------

    def let_go(self, number: int) -> None:
        """Give back, as if for good, what is held until this activity starts."""
        for store, first, _, amount in self._open_for(number):
            _raise(*self.levels[store], first, NEVER, -amount)

    def hold_on(self, number: int) -> None:
        """Hold until the start of this activity, or for good where it has none, what was let go."""
        start = self.start[number]
        until = NEVER if start == NOT else start
        for store, first, least, amount in self._open_for(number):
            last = max(until, least)
            if last > first:
                _raise(*self.levels[store], first, last, amount)

    def _open_for(self, number: int) -> list[tuple[int, int, int, int]]:
        inner = self.inner
        found = [hold for until, hold in inner.open_base if until == number]
        for holder, which in inner.ends_uses[number]:
            if self.start[holder] != NOT:
                use = inner.uses[holder][which]
                end = self.end[holder]
                first = self.start[holder] if use.from_start else end
                found.append((use.store, first, end, use.amount))
        return found

    # Back and forth ---------------------------------------------------------------------------

    def saved(self, number: int) -> Saved:
        """Return all that taking an activity can change, as it is now."""
        inner = self.inner
        gaps = []
        for hands in inner.by[number]:
            starts, ends, left, right = self.gaps[hands]
            if not self.plain:
                left, right = left[:], right[:]
            gaps.append((hands, (starts[:], ends[:], left, right)))
        tracks = []
        for track, _ in inner.marks[number]:
            firsts, lasts = self.tracks[track]
            tracks.append((track, (firsts[:], lasts[:])))
        levels = []
        for store in inner.touches[number]:
            times, held = self.levels[store]
            levels.append((store, (times[:], held[:])))
        return number, gaps, tracks, levels

    def restore(self, saved: Saved) -> None:
        """Undo the taking of an activity; the last one taken goes first."""
        number, gaps, tracks, levels = saved
        self.start[number] = self.end[number] = NOT
        self.by[number] = -1
        for hands, gap in gaps:
            self.gaps[hands] = gap
        for track, lists in tracks:
            self.tracks[track] = lists
        for store, lists in levels:
            self.levels[store] = lists

    def forget(self, before: int) -> None:
        """Forget what was free, busy or held before a minute: nothing will be laid there any more.

        A board that is short is quick to copy, and this is where the time of many pieces goes.
        """
        for starts, ends, left, right in self.gaps:
            at = bisect_right(ends, before)
            for column in (starts, ends, left, right):
                del column[:at]
        for firsts, lasts in self.tracks:
            at = bisect_left(lasts, before)
            del firsts[:at], lasts[:at]
        for times, levels in self.levels:
            at = bisect_right(times, before) - 1
            # The first stands for all the time before it; the last before the minute goes on.
            del times[1:at], levels[1:at]

    def copy(self) -> Board:
        """Return a board that holds the same and goes its own way."""
        other = Board.__new__(Board)
        other.inner = self.inner
        other.plain = self.plain
        other.start = self.start[:]
        other.end = self.end[:]
        other.by = self.by[:]
        other.found_by = self.found_by
        other.at_gap = self.at_gap
        other.gaps = [
            (starts[:], ends[:], left[:], right[:]) for starts, ends, left, right in self.gaps
        ]
        other.tracks = [(firsts[:], lasts[:]) for firsts, lasts in self.tracks]
        other.levels = [(times[:], levels[:]) for times, levels in self.levels]
        return other


def _in_gap(gaps: Gaps, earliest: int, minutes: int) -> tuple[int, int]:
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


def _merge(starts: list[int], ends: list[int], start: int, end: int) -> None:
    """Add a stretch to a track of stretches that do not touch."""
    first = bisect_left(ends, start)
    last = bisect_right(starts, end)
    if first < last:
        start = min(start, starts[first])
        end = max(end, ends[last - 1])
    starts[first:last] = [start]
    ends[first:last] = [end]


def _raise(times: list[int], levels: list[int], first: int, last: int, amount: int) -> None:
    """Raise the level of a store by an amount from one time up to another."""
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
