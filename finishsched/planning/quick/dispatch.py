"""Building a plan from nothing: always the block that is most pressing and can go soonest.

It may leave hands idle for what presses, as going forward in time never does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from finishsched.planning.numbers.inner import NOT, Inner
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Saved
from finishsched.planning.quick.ordering import place_in_order
from finishsched.planning.quick.placing import Placing


@dataclass(frozen=True, slots=True)
class Rule:
    """How pressing a block is: its earliest start, and these."""

    weight: float
    """Times its latest start: the less that weighs, the more what can begin soonest goes first."""
    bare_min: int
    """Minutes later for what must lie bare in the room, so that what stirs it up goes first."""


RULES = (
    Rule(weight=1.0, bare_min=60),
    Rule(weight=0.25, bare_min=60),
    Rule(weight=1.0, bare_min=150),
    Rule(weight=0.25, bare_min=150),
    Rule(weight=3.0, bare_min=60),
    Rule(weight=0.25, bare_min=0),
    Rule(weight=3.0, bare_min=150),
    Rule(weight=1.0, bare_min=0),
)
"""The first is used alone where one plan has to do."""


def dispatch(inner: Inner, blocks: Blocks, pressing: Sequence[float]) -> Placing:
    """Return all blocks placed, the most pressing of those that may go always next.

    Args:
        inner: the problem in numbers.
        blocks: what is placed together.
        pressing: by block, minutes that are added to its earliest start; the least sum goes.

    """
    going = _Dispatch(Placing(inner, blocks), pressing)
    going.go()
    if len(going.order) == len(blocks.members):
        return going.placing
    there = set(going.order)
    rest = [block for block in range(len(blocks.members)) if block not in there]
    placing = Placing(inner, blocks)
    place_in_order(placing, going.order + rest)
    return placing


class _Dispatch:
    """The blocks that may go next, by how pressing they were when last looked at.

    To know exactly when a block can start takes long. So each is lined up by what its waits allow,
    which is never too late, and looked at closely only when its turn has come.
    """

    def __init__(self, placing: Placing, pressing: Sequence[float]) -> None:
        """Line up what waits for nothing.

        Args:
            placing: takes the blocks.
            pressing: by block, minutes that are added to its earliest start; the least sum goes.

        """
        self.placing = placing
        self.blocks = placing.blocks
        self.pressing = pressing
        self.order: list[int] = []
        """The blocks, as they were placed."""
        self.put_off: list[int] = []
        """Those that found a store full which is given back later."""
        self.least: dict[int, int] = {}
        """By block, the start that its windows asked for when it was tried in vain."""
        self.waits = [len(before) for before in self.blocks.before]
        """By block, how many of those that it waits for are not placed."""
        self.heap: list[tuple[float, int]] = []
        for block, waits in enumerate(self.waits):
            if not waits:
                self._ready(block)

    def _ready(self, block: int) -> None:
        """Line up a block by its waits alone; it is looked at more closely when its turn comes."""
        soonest = self.placing.earliest(self.blocks.members[block][0])
        heappush(self.heap, (soonest + self.pressing[block], block))

    def go(self) -> None:
        """Place blocks until none is left that can be."""
        heap, placing = self.heap, self.placing
        while heap:
            key, block = heappop(heap)
            if heap and self._can_wait(key, block):
                continue
            can_be_taken_back = heap and len(self.blocks.members[block]) > 1
            log: list[Saved] | None = [] if can_be_taken_back else None
            if not placing.place(block, log):
                self.put_off.append(block)
            elif not (log and self._taken_back(key, block, log)):
                self._placed(block)

    def _can_wait(self, key: float, block: int) -> bool:
        """Return whether something else is more pressing once its start is known better.

        Args:
            key: how pressing it was when it was lined up.
            block: its number.

        """
        first = self.blocks.members[block][0]
        by_waits = self.placing.earliest(first)
        by_windows = self.least.get(block, NOT)
        earliest = max(by_waits, by_windows)
        minutes = self.placing.inner.minutes[first]
        begun = self.placing.board.fit(first, earliest, minutes)
        return self._put_back(key, block, begun)

    def _put_back(self, key: float, block: int, begun: int) -> bool:
        """Line a block up again if, beginning then, it is not the most pressing any more.

        Args:
            key: how pressing it was when it was lined up.
            block: its number.
            begun: the minute at which it can begin, as is known now.

        """
        pressing = begun + self.pressing[block]
        next_key = self.heap[0][0]
        if pressing > max(key, next_key):
            heappush(self.heap, (pressing, block))
            return True
        return False

    def _taken_back(self, key: float, block: int, log: list[Saved]) -> bool:
        """Undo a block that its windows pushed too far for its turn.

        Args:
            key: how pressing it was when it was lined up.
            block: its number.
            log: how to undo it.

        Returns:
            Whether it was taken back, and lined up again.

        """
        first = self.blocks.members[block][0]
        begun = self.placing.board.start[first]
        if begun == NOT or not self._put_back(key, block, begun):
            return False
        for saved in reversed(log):
            self.placing.board.restore(saved)
        self.least[block] = begun
        return True

    def _placed(self, block: int) -> None:
        """Note that a block lies, and line up what waited for it, or for a store."""
        self.order.append(block)
        for later in self.blocks.after[block]:
            self.waits[later] -= 1
            if not self.waits[later]:
                self._ready(later)
        again = self.put_off
        self.put_off = []
        for waiting in again:
            self._ready(waiting)
