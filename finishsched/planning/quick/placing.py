"""Placing one block after the other, each as early as it fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Board, Saved
from finishsched.planning.quick.inner import LOOSE, NEVER, NOT, Inner

PUSHES = 60
"""How often something is pushed later to save a window, for each activity of a block."""
WAITING, PLACED, PUT_OFF = 0, 1, 2
NO_WINDOWS, HARD_ONES, SOFT_TOO = 0, 1, 2
"""Which windows are kept."""


@dataclass(frozen=True, slots=True)
class Halt:
    """A board as it was before block number ``at`` of an order."""

    at: int
    board: Board
    state: bytearray


class Placing:
    """A board, and what has been left off it."""

    __slots__ = (
        "blocks",
        "board",
        "floor",
        "inner",
        "keeps_known",
        "known",
        "latest",
        "left_out",
        "not_before",
    )

    def __init__(self, inner: Inner, blocks: Blocks, board: Board | None = None) -> None:
        """Begin with what is done, or with a board that is half full."""
        self.inner = inner
        self.blocks = blocks
        self.board = Board(inner) if board is None else board
        self.left_out: set[int] = set()
        self.floor = inner.release
        self.known: dict[int, dict[int, int]] = {}
        """By block, how late its activities have to be at least for its windows: it never gets
        less while the board fills, unless stores are given back."""
        self.keeps_known = not any(inner.frees)
        self.latest = NEVER
        """A block that has to begin after this is not placed."""
        self.not_before = NOT
        """When such a block can begin at the earliest, as far as it was looked at."""

    def all_in(self, order: Sequence[int], begin: Halt | None = None, every: int = 0) -> list[Halt]:
        """Place blocks in this order, each after those that it waits for.

        What finds a store full for good waits until others have given it back. With ``begin`` all
        before it is taken over; the halts that it makes ``every`` so many blocks are returned.
        """
        state = bytearray(len(self.blocks.members))
        at = 0
        halts: list[Halt] = []
        if begin is not None:
            at, self.board, state = begin.at, begin.board.copy(), begin.state[:]
        put_off: list[int] = []
        before = self.blocks.before
        for number in range(at, len(order)):
            if every and number % every == 0 and number > at and not put_off and not self.left_out:
                halts.append(Halt(number, self.board.copy(), state[:]))
            block = order[number]
            if not state[block]:
                if put_off or not all(state[other] for other in before[block]):
                    self._with_before(block, state, put_off)
                elif self.place(block):
                    state[block] = PLACED
                else:
                    state[block] = PUT_OFF
                    put_off.append(block)
        while put_off:
            again = [block for block in put_off if not self._if_ready(block, state)]
            if len(again) == len(put_off):
                for block in again:
                    self.left_out.update(self.blocks.members[block])
                break
            put_off = again
        return halts

    def _with_before(self, block: int, state: bytearray, put_off: list[int]) -> None:
        stack = [block]
        before = self.blocks.before
        while stack:
            last = stack[-1]
            missing = [other for other in before[last] if not state[other]]
            if missing:
                stack.extend(missing)
                continue
            stack.pop()
            if not state[last]:
                state[last] = PUT_OFF
                if not self._if_ready(last, state):
                    put_off.append(last)

    def _if_ready(self, block: int, state: bytearray) -> bool:
        for other in self.blocks.before[block]:
            if state[other] == PUT_OFF:
                return False
        if self.place(block):
            state[block] = PLACED
            return True
        return False

    def place_by(self, block: int, log: list[Saved], least: int, latest: int) -> bool:
        """Place a block as ``place`` does, unless its windows make it begin after ``latest``.

        Then nothing is placed, and ``not_before`` says when it can be tried again.
        """
        self.latest, self.not_before = latest, NOT
        placed = self.place(block, log, least)
        self.latest = NEVER
        return placed

    def place(self, block: int, log: list[Saved] | None = None, least: int = NOT) -> bool:
        """Place a block, or leave out what no calendar has room for; False to try again later.

        How to undo it is put on the ``log``. Its first activity begins at ``least`` or later.
        """
        members = self.blocks.members[block]
        if len(members) > 1:
            knotted = self.blocks.knotted[block]
            tied = self._in_a_row if self.blocks.in_a_row[block] else self._together
            most = SOFT_TOO if self.blocks.keep_soft else HARD_ONES
            for kept in range(most, NO_WINDOWS, -1):
                if tied(block, log, kept, least) or self.not_before != NOT:
                    return True
            if knotted:
                return self._knot(block, log)
            return self._singly(members, log, least)
        if log is not None:
            log.append(self.board.saved(members[0]))
        number = members[0]
        if self.one(number, least) != NEVER:
            return True
        if self.store_is_open(number):
            return False
        self.left_out.add(number)
        return True

    def _knot(self, block: int, log: list[Saved] | None) -> bool:
        """Place a knotted block with its waits kept and no window, or leave it out."""
        members = self.blocks.members[block]
        if self._together(block, log, NO_WINDOWS, NOT):
            return True
        if any(self.store_is_open(number) for number in members):
            return False
        self.left_out.update(members)
        return True

    def _singly(self, members: list[int], log: list[Saved] | None, least: int) -> bool:
        """Place what cannot keep its windows one by one; each miss is told later."""
        saved: list[Saved] = []
        for number in members:
            saved.append(self.board.saved(number))
            if self.one(number, least) == NEVER:
                if self.store_is_open(number):
                    self._undo(saved, 0)
                    self.left_out.difference_update(members)
                    return False
                self.left_out.add(number)
        if log is not None:
            log.extend(saved)
        return True

    def _together(self, block: int, log: list[Saved] | None, kept: int, least: int) -> bool:
        """Place a block with its windows kept, or nothing of it."""
        board = self.board
        members = self.blocks.members[block]
        knotted = self.blocks.knotted[block]
        lower = self._known(block, kept, least)
        saved: list[Saved] = []
        pushes = PUSHES * len(members)
        while len(saved) < len(members):
            number = members[len(saved)]
            floor = lower.get(number, NOT)
            if knotted and kept:
                floor = max(floor, self._not_before(number, members[: len(saved)]))
            saved.append(board.saved(number))
            if self.one(number, floor) == NEVER:
                self._undo(saved, 0)
                return False
            pushed = self._pushed(number, members[: len(saved)] if knotted else (), kept)
            if pushed is not None:
                first, start = pushed
                lower[first] = start
                if first == members[0] and start > self.latest:
                    self.not_before = start
                    self._undo(saved, 0)
                    return False
                pushes -= 1
                self._undo(saved, members.index(first) if pushes else 0)
                if not pushes:
                    return False
        if log is not None:
            log.extend(saved)
        return True

    def _in_a_row(self, block: int, log: list[Saved] | None, kept: int, least: int) -> bool:
        """Do the same for a block in a row: all is found before any of it is taken."""
        board = self.board
        start, end = board.start, board.end
        members = self.blocks.members[block]
        lower = self._known(block, kept, least)
        pushes = PUSHES * len(members)
        hands: list[int] = []
        while len(hands) < len(members) and pushes:
            number = members[len(hands)]
            begun, minutes = self.fit(number, lower.get(number, NOT))
            if begun == NEVER:
                pushes = 0
                break
            start[number] = begun
            end[number] = begun + minutes
            hands.append(board.found_by)
            pushed = self._pushed(number, (), kept)
            if pushed is not None:
                first, lower[first] = pushed
                if first == members[0] and lower[first] > self.latest:
                    self.not_before = lower[first]
                    pushes = 0
                    break
                pushes -= 1
                del hands[members.index(first) :]
        if not pushes:
            for number in members:
                start[number] = end[number] = NOT
            return False
        for number, by in zip(members, hands, strict=True):
            if log is not None:
                log.append(board.saved(number))
            board.take_by(by, number, start[number], end[number] - start[number])
        return True

    def _known(self, block: int, kept: int, least: int) -> dict[int, int]:
        """Return how late activities of a block have to be at least, as far as it is known."""
        most = SOFT_TOO if self.blocks.keep_soft else HARD_ONES
        lower = self.known.setdefault(block, {}) if self.keeps_known and kept == most else {}
        first = self.blocks.members[block][0]
        if least > lower.get(first, NOT):
            lower[first] = least
        return lower

    def _undo(self, saved: list[Saved], keep: int) -> None:
        while len(saved) > keep:
            self.board.restore(saved.pop())

    def _pushed(self, number: int, placed: Sequence[int], kept: int) -> tuple[int, int] | None:
        """Return what has to be later for all windows so far, and how late; None when they hold."""
        inner, board = self.inner, self.board
        start = board.start[number]
        of = self.blocks.of
        for other, most, remedy in inner.windows[number]:
            late = start - board.end[other] - most
            tied = of[other] == of[number] and (
                kept >= HARD_ONES if remedy == LOOSE else kept == SOFT_TOO
            )
            if late > 0 and tied and board.end[other] != NOT:
                return other, board.start[other] + late
        if placed:
            end = board.end[number]
            for other, least in inner.after[number]:
                if other in placed and other != number and board.start[other] < end + least:
                    return other, end + least
        return None

    def _not_before(self, number: int, placed: list[int]) -> int:
        """Return the earliest start from which the windows of what is already placed are kept."""
        inner, board = self.inner, self.board
        found = NOT
        for later in placed:
            for other, most, _ in inner.windows[later]:
                if other == number:
                    found = max(found, board.start[later] - most - inner.minutes[number])
        return found

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
        """Place an activity as early as it fits and return its start, or NEVER."""
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
        """Return the start of an activity as early as it fits, or NEVER, and its length."""
        inner, board = self.inner, self.board
        minutes = inner.minutes[number]
        if inner.needs_out[number] or (self.left_out and self._hangs(number)):
            return NEVER, minutes
        earliest = max(earliest, self.earliest(number))
        start = board.fit(number, earliest, minutes)
        if inner.windowed[number]:
            while start != NEVER:
                longer = inner.minutes[number] + self._remedies(number, start)
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
        """
        inner = self.inner
        minutes = inner.minutes[number]
        if inner.needs_out[number] or (self.left_out and self._hangs(number)):
            return NEVER, minutes
        if inner.windowed[number]:
            minutes += self._remedies(number, time)
        return self.board.could_begin(number, time, minutes), minutes

    def _remedies(self, number: int, start: int) -> int:
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
        return any(other in self.left_out for other, _ in self.inner.before[number])

    def store_is_open(self, number: int) -> bool:
        """Return whether a store that it needs is held by something that has no end yet."""
        for use in self.inner.uses[number]:
            times, levels = self.board.levels[use.store]
            if times[-1] == NEVER and levels[-2] > 0:
                return use.shared <= self.inner.capacity[use.store]
        return False


def heads_of(inner: Inner, blocks: Blocks) -> list[int]:
    """Return of each block what says where it stands in an order: what lies bare, or the first."""
    bare = [any(track & 1 for track, _ in marks) for marks in inner.marks]
    return [_first_bare(members, bare) for members in blocks.members]


def _first_bare(members: list[int], bare: list[bool]) -> int:
    return next((number for number in members if bare[number]), members[0])


def in_order(inner: Inner, blocks: Blocks, order: Sequence[int]) -> Placing:
    """Place all in an order of activities; what it does not name comes last."""
    last = len(order)
    at = {number: place for place, number in enumerate(order)}
    turns = [at.get(head, last) for head in heads_of(inner, blocks)]
    placing = Placing(inner, blocks)
    placing.all_in(sorted(range(len(turns)), key=turns.__getitem__))
    return placing
