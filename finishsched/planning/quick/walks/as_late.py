"""How late work may begin, within the same hours, with nothing after it having to wait longer.

A coat that dries over a night is as good at the end of an evening as at its beginning, and until
it is laid others can make dust.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import NamedTuple

from finishsched.planning.numbers.inner import NEVER, Inner


class _Next(NamedTuple):
    """Work that waits for an activity, straight or by rests that nobody does."""

    wait_min: int
    """From the end of the activity to the start of it, at the least."""
    by: tuple[int, ...]
    """The numbers of the hands that can do it; none where it is the goal that waits."""


class AsLate:
    """Knows for each activity what waits for it."""

    def __init__(self, inner: Inner) -> None:
        """Follow all waits."""
        self.inner = inner
        self._next = [self._after(number) for number in range(len(inner.keys))]

    def _after(self, number: int) -> list[_Next]:
        """Return the work that waits for an activity; rests between are counted in."""
        inner = self.inner
        found: list[_Next] = []
        open_rests = [(number, 0)]
        seen = {number}
        while open_rests:
            rest, waited_min = open_rests.pop()
            if not inner.after[rest]:
                found.append(_Next(waited_min, ()))
            for other, least in inner.after[rest]:
                wait_min = waited_min + least
                if inner.by[other]:
                    found.append(_Next(wait_min, inner.by[other]))
                elif other not in seen:
                    seen.add(other)
                    open_rests.append((other, wait_min + inner.minutes[other]))
        return found

    def spare_min(self, number: int, hands: int, end: int) -> int:
        """Return how many minutes later an activity could end in the same hours, at no cost.

        What waits for it begins no later by that, as far as hours go; rooms and stores aside.

        Args:
            number: the activity.
            hands: who does it.
            end: when it ends.

        """
        inner = self.inner
        _, closes = inner.windows_of[hands]
        at = bisect_left(closes, end)
        if at == len(closes):
            return 0
        spare = closes[at] - inner.at_end[number] - end
        for following in self._next[number]:
            ready = end + following.wait_min
            spare = min(spare, self._opens(following.by, ready) - ready)
        return max(spare, 0)

    def _opens(self, by: tuple[int, ...], minute: int) -> int:
        """Return the first minute from one on that lies in anybody's hours.

        Args:
            by: their numbers; where there are none, it is the minute itself.
            minute: the one.

        """
        if not by:
            return minute
        found = NEVER
        for hands in by:
            starts, closes = self.inner.windows_of[hands]
            at = bisect_right(closes, minute)
            if at < len(closes):
                found = min(found, max(minute, starts[at]))
        return found
