"""Placing activities one by one, going back for what a window then asks to be later.

Blocks put what a window ties side by side; here other work may lie between. Where a window turns
out to be missed, all since its first activity is taken off again, and that one waits longer.
"""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.planning.numbers.inner import LOOSE, NEVER, NOT
from finishsched.planning.quick.board import Saved
from finishsched.planning.quick.ordering import PLACED, WAITING, Halt, place_in_order
from finishsched.planning.quick.placing import Placing

PUSHES = 3
"""How often something is put off to save a window, for each activity there is."""


def one_by_one(
    placing: Placing,
    order: Sequence[int],
    begin: Halt | None = None,
    every: int = 0,
) -> list[Halt]:
    """Place blocks of one activity each in this order, as ``place_in_order`` does.

    A halt is made only where no window that must not be missed is open, so that nothing before it
    is ever put off.

    Args:
        placing: takes the activities.
        order: the blocks.
        begin: all before it is taken over.
        every: so many blocks apart, at the least, halts are made; none where it is 0.

    Returns:
        The halts.

    """
    at = 0
    state = bytearray(len(order))
    if begin is not None:
        at = begin.at
        state = begin.state[:]
        placing.board = begin.board.copy()
    walk = _Walk(placing, state, every)
    walk.line_up(order, at)
    if walk.go():
        return walk.halts
    placing.board.clear()
    placing.left_out.clear()
    return place_in_order(placing, order)


class _Walk:
    """A line of activities, and the way back along it."""

    def __init__(self, placing: Placing, state: bytearray, every: int) -> None:
        """Begin with an empty line.

        Args:
            placing: takes the activities.
            state: by block, whether it is placed already.
            every: so many turns apart, at the least, halts are made; none where it is 0.

        """
        self.placing = placing
        self.state = state
        """By block, whether it is placed."""
        self.every = every
        """So many turns apart, at the least, halts are made; none where it is 0."""
        self.halts: list[Halt] = []
        self.line: list[int] = []
        """The activities, each after those that it waits for."""
        self.turns: list[int] = []
        """By place in the line, the turn of the order that brings it."""
        self.places: dict[int, int] = {}
        """By activity, its place in the line."""
        self.floor: dict[int, int] = {}
        """By activity, how late it has to be at least for a window."""
        self._log: list[Saved] = []
        """How to undo what was placed since the first window that is still open."""
        self._next = 0
        """The turn from which on the next halt is made."""

    def line_up(self, order: Sequence[int], at: int) -> None:
        """Put each activity, from a turn of the order on, after those that it waits for.

        Args:
            order: the blocks.
            at: the turn.

        """
        self._next = at + self.every
        state = self.state[:]
        before = self.placing.blocks.before
        members = self.placing.blocks.members
        for turn in range(at, len(order)):
            # Whatever the last of the stack still waits for goes on top, and is lined up first.
            stack = [order[turn]]
            while stack:
                block = stack[-1]
                missing = [other for other in before[block] if not state[other]]
                if missing:
                    stack.extend(missing)
                    continue
                stack.pop()
                if not state[block]:
                    state[block] = PLACED
                    self.line.append(members[block][0])
                    self.turns.append(turn)
        self.places = {number: place for place, number in enumerate(self.line)}

    def go(self) -> bool:
        """Place the line; False where a store that is given back only later is in the way."""
        inner, board = self.placing.inner, self.placing.board
        windows, ties, tied = inner.windows, inner.ties, inner.tied
        pushes = PUSHES * len(self.line)
        open_windows = at = first = 0
        while at < len(self.line):
            number = self.line[at]
            if not open_windows:
                # Nothing before this place is ever put off: here one can go on another time.
                self._halt(at)
                self._log.clear()
                first = at
            # Only what a window may yet push back has to be undone; all else stays for good.
            if open_windows or ties[number]:
                self._log.append(board.saved(number))
            else:
                first += 1
            if not self._place(number):
                return False
            open_windows += len(ties[number]) - tied[number]
            at += 1
            back = self._missed(number) if pushes and windows[number] else -1
            if back >= first:
                pushes -= 1
                for other in self.line[back:at]:
                    open_windows -= len(ties[other]) - tied[other]
                self._take_back(back, at)
                at = back
        return True

    def _place(self, number: int) -> bool:
        """Place an activity, or leave it out; False where a store is in its way until later."""
        placing = self.placing
        if placing.one(number, self.floor.get(number, NOT)) == NEVER:
            if placing.store_is_open(number):
                return False
            placing.left_out.add(number)
        self.state[placing.blocks.of[number]] = PLACED
        return True

    def _take_back(self, back: int, at: int) -> None:
        """Take off what lies in the line from one place up to another, the last first.

        Args:
            back: the one place; what lies there is taken off too.
            at: the other, from which on nothing lies yet.

        """
        placing = self.placing
        for other in reversed(self.line[back:at]):
            placing.board.restore(self._log.pop())
            placing.left_out.discard(other)
            self.state[placing.blocks.of[other]] = WAITING

    def _halt(self, at: int) -> None:
        """Keep the board as it is before a turn, now and then."""
        if not self.every or not at or self.placing.left_out:
            return
        turn = self.turns[at]
        begins_a_turn = turn != self.turns[at - 1]
        if begins_a_turn and turn >= self._next:
            halt = Halt(turn, self.placing.board.copy(), self.state[:])
            self.halts.append(halt)
            self._next = turn + self.every

    def _missed(self, number: int) -> int:
        """Return the place in the line of what has to be later for a window; -1 for none."""
        board = self.placing.board
        start = board.start[number]
        if start == NOT:
            return -1
        for other, most, remedy in self.placing.inner.windows[number]:
            ended = board.end[other]
            if remedy != LOOSE or ended == NOT:
                continue
            late = start - ended - most
            at = self.places.get(other, -1)
            if late > 0 and at >= 0:
                self.floor[other] = board.start[other] + late
                return at
        return -1
