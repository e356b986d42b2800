"""Placing one activity on the board as early as it fits, after its waits, with all it must mend."""

from __future__ import annotations

from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.quick.board import Board


class PlacingOne:
    """A board, and what has been left off it."""

    __slots__ = ("board", "floor", "inner", "left_out")

    def __init__(self, inner: Inner, board: Board | None = None) -> None:
        """Begin with what is done, or with a board that is half full."""
        self.inner = inner
        self.board = Board(inner) if board is None else board
        self.left_out: set[int] = set()
        self.floor = inner.release
        """By activity, the minute before which it does not begin, whatever it waits for."""

    def earliest(self, number: int) -> int:
        """Return the earliest start that its waits allow."""
        earliest = self.floor[number]
        end = self.board.end
        for other, least in self.inner.before[number]:
            ready = end[other] + least
            if ready > earliest:  # noqa: PLR1730 - quicker than max, and this is where time goes
                earliest = ready
        return earliest

    def one(self, number: int, earliest: int) -> int:
        """Place an activity as early as it fits and return its start, or NEVER.

        Args:
            number: the activity.
            earliest: the minute before which it does not begin, whatever its waits allow.

        """
        board = self.board
        frees = self.inner.frees[number]
        if frees:
            board.let_go(number)
        start, minutes = self.fit(number, earliest)
        if start != NEVER:
            board.take(number, start, minutes)
        if frees:
            board.hold_on(number)
        return start

    def fit(self, number: int, earliest: int) -> tuple[int, int]:
        """Return the start of an activity as early as it fits, or NEVER, and its length.

        Whatever it has to mend makes it longer, and so perhaps later, which may be more to mend.

        Args:
            number: the activity.
            earliest: the minute before which it does not begin, whatever its waits allow.

        """
        inner, board = self.inner, self.board
        minutes = inner.minutes[number]
        if inner.needs_out[number] or (self.left_out and self._hangs(number)):
            return NEVER, minutes
        by_waits = self.earliest(number)
        if earliest < by_waits:  # noqa: PLR1730 - quicker than max, and this is where time goes
            earliest = by_waits
        start = board.fit(number, earliest, minutes)
        if inner.windowed[number]:
            while start != NEVER:
                longer = self.minutes_from(number, start)
                if longer <= minutes:
                    break
                minutes = longer
                # Not from before: what fits only at its end could slip back into its window.
                start = board.fit(number, start, minutes)
        return start, minutes

    def could_begin(self, number: int, time: int) -> tuple[int, int]:
        """Return ``time`` if an activity whose waits are over can begin then, and its length.

        Else a later minute before which it cannot, or NEVER; it need not be the first at which it
        can, so that less has to be looked at.

        Args:
            number: the activity.
            time: the minute.

        """
        inner = self.inner
        minutes = inner.minutes[number]
        if inner.needs_out[number] or (self.left_out and self._hangs(number)):
            return NEVER, minutes
        if inner.windowed[number]:
            minutes += self._remedies(number, time)
        return self.board.could_begin(number, time, minutes), minutes

    def minutes_from(self, number: int, start: int) -> int:
        """Return how long an activity takes that begins then, with all it has to mend."""
        return self.inner.minutes[number] + self._remedies(number, start)

    def _remedies(self, number: int, start: int) -> int:
        """Return the minutes of mending that an activity needs which begins then.

        Args:
            number: the activity.
            start: the minute at which it begins.

        """
        total = 0
        end = self.board.end
        for other, most, remedy in self.inner.windows[number]:
            if remedy > 0 and start > end[other] + most and end[other] != NOT:
                total += remedy
        for latest, remedy in self.inner.deadlines[number]:
            if remedy > 0 and start > latest:
                total += remedy
        return total

    def _hangs(self, number: int) -> bool:
        """Return whether it waits for something that is left out."""
        return any(other in self.left_out for other, _ in self.inner.before[number])

    def store_is_open(self, number: int) -> bool:
        """Return whether a store that it needs is held by something that has no end yet."""
        for use in self.inner.uses[number]:
            times, levels = self.board.levels[use.store]
            # What has no end yet is held up to NEVER, where the level falls for the last time.
            holds_for_good = times[-1] == NEVER and levels[-2] > 0
            if holds_for_good:
                return use.shared <= self.inner.capacity[use.store]
        return False
