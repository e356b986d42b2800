"""Placing activities one by one, going back for what a window then asks to be later.

Blocks put what a window ties side by side; here other work may lie between. Where a window turns
out to be missed, all since its first activity is taken off again, and that one waits longer.
"""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.planning.quick.board import Saved
from finishsched.planning.quick.inner import LOOSE, NEVER, NOT
from finishsched.planning.quick.placing import PLACED, Halt, Placing

PUSHES = 3
"""How often something is put off to save a window, for each activity there is."""


def one_by_one(
    placing: Placing, order: Sequence[int], begin: Halt | None = None, every: int = 0
) -> list[Halt]:
    """Place blocks of one activity each in this order, as ``Placing.all_in`` does.

    A halt is made only where no window that must not be missed is open, so that nothing before it
    is ever put off.
    """
    at, state = 0, bytearray(len(order))
    if begin is not None:
        at, placing.board, state = begin.at, begin.board.copy(), begin.state[:]
    walk = _Walk(placing, state)
    walk.line_up(order, at, every)
    if walk.go(every):
        return walk.halts
    placing.board.clear()
    placing.left_out.clear()
    return placing.all_in(order)


class _Walk:
    """A line of activities, and the way back along it."""

    def __init__(self, placing: Placing, state: bytearray) -> None:
        self.placing = placing
        self.state = state
        self.halts: list[Halt] = []
        self.line: list[int] = []
        self.turns: list[int] = []
        """By place in the line, the turn of the order that brings it."""
        self.floor: dict[int, int] = {}
        self._next = 0

    def line_up(self, order: Sequence[int], at: int, every: int) -> None:
        """Put each activity after those that it waits for."""
        self._next = at + every
        state = self.state[:]
        before, members = self.placing.blocks.before, self.placing.blocks.members
        for turn in range(at, len(order)):
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

    def go(self, every: int) -> bool:
        """Place the line; False where a store that is given back only later is in the way."""
        placing, line, state = self.placing, self.line, self.state
        inner, board, of = placing.inner, placing.board, placing.blocks.of
        windows, ties, tied = inner.windows, inner.ties, inner.tied
        places = {number: at for at, number in enumerate(line)}
        log: list[Saved] = []
        pushes = PUSHES * len(line)
        loose_ends = at = first = 0
        while at < len(line):
            number = line[at]
            if not loose_ends:
                if every:
                    self._halt(at, every)
                log.clear()
                first = at
            if loose_ends or ties[number]:
                log.append(board.saved(number))
            else:
                first += 1
            if placing.one(number, self.floor.get(number, NOT)) == NEVER:
                if placing.store_is_open(number):
                    return False
                placing.left_out.add(number)
            state[of[number]] = PLACED
            loose_ends += len(ties[number]) - tied[number]
            at += 1
            back = self._missed(number, places) if pushes and windows[number] else -1
            if back >= first:
                pushes -= 1
                while at > back:
                    at -= 1
                    other = line[at]
                    board.restore(log.pop())
                    state[of[other]] = 0
                    placing.left_out.discard(other)
                    loose_ends -= len(ties[other]) - tied[other]
        return True

    def _halt(self, at: int, every: int) -> None:
        """Keep the board as it is before a turn, now and then."""
        turn = self.turns[at]
        if at and turn >= self._next and turn != self.turns[at - 1] and not self.placing.left_out:
            self.halts.append(Halt(turn, self.placing.board.copy(), self.state[:]))
            self._next = turn + every

    def _missed(self, number: int, places: dict[int, int]) -> int:
        """Return the place in the line of what has to be later for a window; -1 for none."""
        board = self.placing.board
        start = board.start[number]
        for other, most, remedy in self.placing.inner.windows[number]:
            late = start - board.end[other] - most
            if late > 0 and remedy == LOOSE and board.end[other] != NOT and start != NOT:
                at = places.get(other, -1)
                if at >= 0:
                    self.floor[other] = board.start[other] + late
                    return at
        return -1
