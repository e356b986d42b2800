"""Placing all blocks in an order: each in its turn, after all that it waits for.

It is such an order that the climb ahead in time (`walks/by_order.py`) shakes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finishsched.planning.numbers.inner import Inner
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Board
from finishsched.planning.quick.placing import Placing

WAITING, PLACED, PUT_OFF = 0, 1, 2
"""What has become of a block; one is put off that finds a store full which is given back later."""


@dataclass(frozen=True, slots=True)
class Halt:
    """A board as it was before block number ``at`` of an order."""

    at: int
    board: Board
    """As it was then."""
    state: bytearray
    """By block, what had become of it."""


def place_in_order(
    placing: Placing,
    order: Sequence[int],
    begin: Halt | None = None,
    every: int = 0,
) -> list[Halt]:
    """Place blocks in this order, each after those that it waits for.

    What finds a store full for good waits until others have given it back.

    Args:
        placing: takes the blocks.
        order: the blocks.
        begin: all before it is taken over, so that an order which begins alike need not be
            placed from the beginning.
        every: so many blocks apart halts are made; none where it is 0.

    Returns:
        The halts.

    """
    at = 0
    state = bytearray(len(placing.blocks.members))
    if begin is not None:
        at = begin.at
        state = begin.state[:]
        placing.board = begin.board.copy()
    turns = _Turns(placing, state)
    halts: list[Halt] = []
    for number in range(at, len(order)):
        is_due = every and number % every == 0 and number > at
        if is_due and not turns.put_off and not placing.left_out:
            halts.append(Halt(number, placing.board.copy(), state[:]))
        turns.take(order[number])
    turns.take_what_was_put_off()
    return halts


class _Turns:
    """What has become of each block, and what has been put off."""

    __slots__ = ("before", "placing", "put_off", "state")

    def __init__(self, placing: Placing, state: bytearray) -> None:
        """Begin with nothing put off.

        Args:
            placing: takes the blocks.
            state: by block, what has become of it.

        """
        self.placing = placing
        self.before = placing.blocks.before
        self.state = state
        self.put_off: list[int] = []

    def take(self, block: int) -> None:
        """Place a block whose turn it is, unless it was placed before its turn."""
        state = self.state
        if state[block]:
            return
        must_wait = self.put_off or not all(state[other] for other in self.before[block])
        if must_wait:
            self._take_with_those_before(block)
        elif self.placing.place(block):
            state[block] = PLACED
        else:
            state[block] = PUT_OFF
            self.put_off.append(block)

    def take_what_was_put_off(self) -> None:
        """Try again what was put off, as long as that helps; leave out the rest."""
        while self.put_off:
            again = [block for block in self.put_off if not self._place_if_ready(block)]
            if len(again) == len(self.put_off):
                for block in again:
                    self.placing.left_out.update(self.placing.blocks.members[block])
                return
            self.put_off = again

    def _take_with_those_before(self, block: int) -> None:
        """Place a block after all that it waits for, whoever's turn it is."""
        state = self.state
        stack = [block]
        while stack:
            last = stack[-1]
            missing = [other for other in self.before[last] if not state[other]]
            if missing:
                stack.extend(missing)
                continue
            stack.pop()
            if not state[last]:
                state[last] = PUT_OFF
                if not self._place_if_ready(last):
                    self.put_off.append(last)

    def _place_if_ready(self, block: int) -> bool:
        """Place a block, unless it waits for one that is put off or has to be put off itself."""
        state = self.state
        for other in self.before[block]:
            if state[other] == PUT_OFF:
                return False
        if self.placing.place(block):
            state[block] = PLACED
            return True
        return False


def heads_of(inner: Inner, blocks: Blocks) -> list[int]:
    """Return of each block what says where it stands in an order: what lies bare, or the first.

    A coat and the tacking off before it go together, and it is the coat that others wait for.
    """
    bare = bare_of(inner)
    return [_first_bare(members, bare) for members in blocks.members]


def bare_of(inner: Inner) -> list[bool]:
    """Return by activity whether something in its room would spoil it."""
    return [any(track & 1 for track, _ in marks) for marks in inner.marks]


def _first_bare(members: list[int], bare: list[bool]) -> int:
    """Return the first member that lies bare, or else the first."""
    for number in members:
        if bare[number]:
            return number
    return members[0]


def in_order(inner: Inner, blocks: Blocks, order: Sequence[int]) -> Placing:
    """Return all placed in an order of activities; what it does not name comes last.

    Args:
        inner: the problem in numbers.
        blocks: what is placed together, at the turn of what lies bare in it, or of the first.
        order: numbers of activities.

    """
    last = len(order)
    places = {number: place for place, number in enumerate(order)}
    turns = [places.get(head, last) for head in heads_of(inner, blocks)]
    by_turn = sorted(range(len(turns)), key=turns.__getitem__)
    placing = Placing(inner, blocks)
    place_in_order(placing, by_turn)
    return placing
