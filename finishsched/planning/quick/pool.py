"""Blocks that may be able to begin now, the most pressing first, told apart by what keeps them out.

All that makes dust waits while anything is wet, and nothing wet is laid while dust hangs: then none
of them is worth looking at, however many there are. So each lies with those that need the same
tracks of rooms to be free, and all of these are passed over together while one of them is busy.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from heapq import heapify, heappop, heappush
from typing import TypeAlias

from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Board

Tracks: TypeAlias = tuple[int, ...]
"""The tracks that must be free, by their numbers."""


class Sorts:
    """Which blocks of a problem need the same tracks to be free as they begin."""

    def __init__(self, inner: Inner, blocks: Blocks, ahead_min: int) -> None:
        """Tell them apart.

        Args:
            inner: the problem in numbers.
            blocks: what is placed together.
            ahead_min: how far ahead a block may be placed, so that a track which is busy for less
                does not keep it out.

        """
        self.ahead_min = ahead_min
        numbers: dict[Tracks, int] = {(): 0}
        self.of: list[int] = []
        """By block, the number of its sort."""
        for members in blocks.members:
            tracks = _needed_at_once(inner, members[0])
            self.of.append(numbers.setdefault(tracks, len(numbers)))
        self.tracks: list[Tracks] = list(numbers)
        """By sort."""


def _needed_at_once(inner: Inner, number: int) -> Tracks:
    """Return the tracks that must be free at the minute at which an activity begins."""
    minutes = inner.minutes[number]
    needed: list[int] = []
    for track, longer in inner.avoids[number]:
        takes_time = minutes + longer > 0
        if takes_time:
            needed.append(track)
    return tuple(needed)


class Pool:
    """Some blocks, by sort and then by key."""

    __slots__ = ("_heaps", "_open", "_opens", "_sorts")

    def __init__(self, sorts: Sorts) -> None:
        """Begin with none."""
        self._sorts = sorts
        self._heaps: list[list[tuple[int, int]]] = [[] for _ in sorts.tracks]
        self._open = self._heaps
        """Those that are not kept out, as it was last looked at."""
        self._opens = [NOT] * len(sorts.tracks)
        """By sort, the minute before which none of it can begin."""

    def fill(self, blocks: Sequence[int], keys: Sequence[int]) -> None:
        """Take many blocks, into a pool that has none.

        Args:
            blocks: their numbers.
            keys: by block, how pressing it is; the least goes first.

        """
        for block in blocks:
            sort = self._sorts.of[block]
            self._heaps[sort].append((keys[block], block))
        for heap in self._heaps:
            heapify(heap)

    def add(self, key: int, block: int) -> None:
        """Take one block more."""
        sort = self._sorts.of[block]
        heappush(self._heaps[sort], (key, block))

    def look(self, board: Board, time: int) -> None:
        """Find out which sorts are kept out at a minute, and until when.

        Args:
            board: knows when tracks are busy.
            time: the minute.

        """
        self._open = []
        latest = time + self._sorts.ahead_min
        for sort, heap in enumerate(self._heaps):
            if not heap:
                continue
            opens = NOT
            for track in self._sorts.tracks[sort]:
                starts, ends = board.tracks[track]
                at = bisect_right(ends, latest)
                if at < len(ends) and starts[at] <= time:
                    opens = max(opens, ends[at])
            self._opens[sort] = opens
            if opens == NOT:
                self._open.append(heap)

    def has_any(self) -> bool:
        """Return whether any block can be taken that is not kept out."""
        return any(self._open)

    def take(self) -> int:
        """Return the most pressing block that is not kept out, and have it no more."""
        best = min([heap for heap in self._open if heap])
        _, block = heappop(best)
        return block

    def next_after(self, time: int) -> int:
        """Return the first minute after one at which a block of it may be able to begin."""
        found = NEVER
        for heap, opens in zip(self._heaps, self._opens, strict=True):
            if heap:
                found = min(found, max(opens, time + 1))
        return found

    def blocks(self) -> Iterator[int]:
        """Give all blocks."""
        for heap in self._heaps:
            for _, block in heap:
                yield block
