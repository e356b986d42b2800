"""Where things lie so far: free gaps of hands, busy tracks of rooms, levels of stores.

Times are whole minutes since 1970, lengths are minutes, and everything is known by its number.

To lay a coat is to cut its minutes out of an evening, to keep dust out of the room until it is dry
to the touch, and to take a place on the rack until it may be moved. To find where it fits is to ask
these three in turn, each of which may say: not before then.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from finishsched.planning.numbers.inner import NEVER, NOT, Held, Inner, OpenHold
from finishsched.planning.quick.beginning import free_hours, past_levels, past_tracks
from finishsched.planning.quick.columns import (
    Gaps,
    Lists,
    add_stretch,
    cut_gap,
    cut_kinds,
    first_clear,
    first_gap,
    first_gap_beside_set_ups,
    first_gap_in_time,
    raise_level,
)

SavedGaps = list[tuple[int, Gaps]]
"""The gaps of some hands, by their numbers."""
SavedLists = list[tuple[int, Lists]]
"""Some tracks, or the levels of some stores, by their numbers."""
Saved = tuple[int, SavedGaps, SavedLists, SavedLists]
"""An activity, and all that taking it can change: gaps, tracks, levels."""


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
        no_set_ups = len(inner.set_up_before) == 1
        self.plain = no_set_ups
        self.clear()

    def clear(self) -> None:
        """Take everything off again but what is done."""
        count = len(self.inner.keys)
        self.start = [NOT] * count
        self.end = [NOT] * count
        self.by = [-1] * count
        self.found_by = -1
        """The hands that were last found free, and at which of their gaps."""
        self.at_gap = -1
        self.gaps: list[Gaps] = free_hours(self.inner)
        self.tracks: list[Lists] = past_tracks(self.inner)
        self.levels: list[Lists] = past_levels(self.inner)

    # What fits --------------------------------------------------------------------------------

    def fit(self, number: int, earliest: int, minutes: int) -> int:
        """Return the earliest start from ``earliest`` on that fits, or NEVER.

        Hands, rooms and stores each ask for a later start in turn, until none of them does. Whose
        hands were found is kept, for ``take``.

        Args:
            number: the activity.
            earliest: the minute from which on to look.
            minutes: how long it takes, with whatever it has to mend first.

        """
        inner = self.inner
        by = inner.by[number]
        avoids = inner.avoids[number]
        uses = inner.uses[number]
        start = earliest
        # Most work has one pair of hands and no set-up, and is looked for without a further call.
        only = by[0] if len(by) == 1 and self.plain and not inner.at_end[number] else -1
        while True:
            if only >= 0:
                self.found_by = only
                self.at_gap, start = first_gap(self.gaps[only], start, minutes)
            elif by:
                start = self._free(by, start, minutes, number)
            asked = start
            for track, longer in avoids:
                start = first_clear(self.tracks[track], start, minutes + longer)
            for use in uses:
                start = self._room_in_store(use, start, minutes)
            if start >= NEVER:
                return NEVER
            if start == asked:
                return start

    def could_begin(self, number: int, time: int, minutes: int) -> int:
        """Return ``time`` if an activity fits there, else a later minute before which it does not.

        The later minute need not fit either, so that less is looked at than ``fit`` does.

        Args:
            number: the activity.
            time: the minute.
            minutes: how long it takes, with whatever it has to mend first.

        """
        inner = self.inner
        for track, longer in inner.avoids[number]:
            starts, ends = self.tracks[track]
            at = bisect_right(ends, time)
            if at < len(ends) and starts[at] < time + minutes + longer:
                return ends[at]
        by = inner.by[number]
        if by:
            begun = self._free(by, time, minutes, number)
            if begun > time:
                return begun
        for use in inner.uses[number]:
            begun = self._room_in_store(use, time, minutes)
            if begun > time:
                return begun
        return time

    def stands(self, hands: int, number: int, start: int, minutes: int) -> bool:
        """Return whether an activity fits at a minute with certain hands, ready for its kind.

        Args:
            hands: their number; -1 where there are none, which will do where none are needed.
            number: the activity.
            start: the minute.
            minutes: how long it takes, with whatever it has to mend first.

        """
        inner = self.inner
        can = inner.by[number]
        if can and (hands not in can or self._first_gap(hands, number, start, minutes)[1] != start):
            return False
        for track, longer in inner.avoids[number]:
            if first_clear(self.tracks[track], start, minutes + longer) != start:
                return False
        found = [self._room_in_store(use, start, minutes) for use in inner.uses[number]]
        return all(begun == start for begun in found)

    def _free(self, by: tuple[int, ...], earliest: int, minutes: int, number: int) -> int:
        """Return when the first of several hands is free, and keep which and where.

        Args:
            by: the numbers of the hands.
            earliest: the minute from which on to look.
            minutes: how long the work takes.
            number: the activity.

        Returns:
            The minute, or NEVER.

        """
        best = NEVER
        inner = self.inner
        at_end = inner.at_end[number]
        for hands in by:
            # Without a further call where nothing stands beside work: here is where time goes.
            if not self.plain:
                at, start = self._first_gap(hands, number, earliest, minutes)
            elif at_end:
                closes = inner.windows_of[hands][1]
                at, start = first_gap_in_time(self.gaps[hands], earliest, minutes, at_end, closes)
            else:
                at, start = first_gap(self.gaps[hands], earliest, minutes)
            if start < best:
                best = start
                self.found_by = hands
                self.at_gap = at
                if start == earliest:
                    break
        return best

    def _first_gap(self, hands: int, number: int, earliest: int, minutes: int) -> tuple[int, int]:
        """Return the place of the first gap of some hands for an activity, and the start in it."""
        inner, gaps = self.inner, self.gaps[hands]
        at_end = inner.at_end[number]
        if self.plain and not at_end:
            return first_gap(gaps, earliest, minutes)
        closes = inner.windows_of[hands][1]
        if self.plain:
            return first_gap_in_time(gaps, earliest, minutes, at_end, closes)
        kind = inner.kind[number]
        return first_gap_beside_set_ups(inner, gaps, earliest, minutes, kind, at_end, closes)

    def _room_in_store(self, use: Held, start: int, minutes: int) -> int:
        """Return the first start from ``start`` on at which the store has enough left.

        NEVER where it never has. What is held until another activity starts, which has no place
        yet, has to find room for good.

        Args:
            use: what an activity takes of it, and for how long.
            start: the minute at which the activity would start.
            minutes: how long it takes.

        """
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
            if last < until:  # noqa: PLR1730 - quicker than max, and this is where time goes
                last = until
            at = bisect_right(times, first) - 1
            until_at = bisect_left(times, last, at)
            # Most are found to have room, all levels in one go.
            if at >= until_at or max(levels[at:until_at]) <= most:
                return start
            while levels[at] <= most:
                at += 1
            while at < len(times) and levels[at] > most:
                at += 1
            if at == len(times):
                return NEVER
            start = times[at] if use.from_start else times[at] - minutes

    # What is taken ----------------------------------------------------------------------------

    def take(self, number: int, start: int, minutes: int) -> None:
        """Lay an activity where ``fit`` has just found room for it.

        Args:
            number: the activity.
            start: the minute that was found.
            minutes: how long it takes, with whatever it has to mend first.

        """
        inner = self.inner
        end = start + minutes
        self.start[number] = start
        self.end[number] = end
        if inner.by[number]:
            self.by[number] = self.found_by
            if minutes:
                gaps = self.gaps[self.found_by]
                before, after = cut_gap(gaps, self.at_gap, start, end)
                if not self.plain:
                    kind = inner.kind[number]
                    cut_kinds(gaps, self.at_gap, kind, before=before, after=after)
        for track, longer in inner.marks[number]:
            starts, ends = self.tracks[track]
            add_stretch(starts, ends, start, end + longer)
        for use in inner.uses[number]:
            first, last = self._held(use, start, end)
            if last > first:
                raise_level(*self.levels[use.store], first, last, use.amount)

    def take_by(self, hands: int, number: int, start: int, minutes: int) -> None:
        """Do the same with hands, and at a time, that were found some while ago.

        Args:
            hands: their number.
            number: the activity.
            start: the minute.
            minutes: how long it takes, with whatever it has to mend first.

        """
        self.found_by = hands
        if self.inner.by[number]:
            self.at_gap = bisect_right(self.gaps[hands][0], start) - 1
        self.take(number, start, minutes)

    def _held(self, use: Held, start: int, end: int) -> tuple[int, int]:
        """Return from when up to when an activity from ``start`` to ``end`` holds something."""
        first = start if use.from_start else end
        if use.until < 0:
            return first, max(end + use.hold_min, use.until_min)
        until = self.start[use.until]
        if until == NOT:
            return first, NEVER
        return first, max(end, until)

    # What is let go ---------------------------------------------------------------------------

    def let_go(self, number: int) -> None:
        """Give back, as if for good, what is held until this activity starts."""
        for store, first, _, amount in self._open_for(number):
            times, levels = self.levels[store]
            raise_level(times, levels, first, NEVER, -amount)

    def hold_on(self, number: int) -> None:
        """Hold until the start of this activity, or for good where it has none, what was let go."""
        start = self.start[number]
        until = NEVER if start == NOT else start
        for store, first, least, amount in self._open_for(number):
            last = max(until, least)
            if last > first:
                times, levels = self.levels[store]
                raise_level(times, levels, first, last, amount)

    def _open_for(self, number: int) -> list[OpenHold]:
        """Return what is held until an activity starts, by what is done and what is laid."""
        inner = self.inner
        found = [hold for until, hold in inner.open_base if until == number]
        for holder, which in inner.ends_uses[number]:
            start = self.start[holder]
            if start == NOT:
                continue
            use = inner.uses[holder][which]
            end = self.end[holder]
            first = start if use.from_start else end
            found.append((use.store, first, end, use.amount))
        return found

    # Back and forth ---------------------------------------------------------------------------

    def saved(self, number: int) -> Saved:
        """Return all that taking an activity can change, as it is now.

        To keep only that is quicker than to keep the whole board.
        """
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
        # Written out: this is where time goes.
        other.gaps = [
            (starts[:], ends[:], left[:], right[:]) for starts, ends, left, right in self.gaps
        ]
        other.tracks = [(firsts[:], lasts[:]) for firsts, lasts in self.tracks]
        other.levels = [(times[:], levels[:]) for times, levels in self.levels]
        return other
