"""Placing a block of what windows tie together, or of one activity, as early as it fits.

A block is placed activity by activity. Where a window turns out to be missed, because what follows
finds no room soon enough, what comes before it in the block is pushed later and all since is placed
again. So windows are kept wherever the calendar lets them.
"""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.planning.numbers.inner import LOOSE, NEVER, NOT, Inner
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Board, Saved
from finishsched.planning.quick.placing_one import PlacingOne

PUSHES = 60
"""How often something is pushed later to save a window, for each activity of a block."""
NO_WINDOWS, HARD_ONES, SOFT_TOO = 0, 1, 2
"""Which windows of a block are kept: none, those without a remedy, or all that tie it."""


class Placing(PlacingOne):
    """A board, what has been left off it, and the blocks that are placed on it."""

    __slots__ = ("blocks", "keeps_known", "known", "latest", "not_before")

    def __init__(self, inner: Inner, blocks: Blocks, board: Board | None = None) -> None:
        """Begin with what is done, or with a board that is half full."""
        super().__init__(inner, board)
        self.blocks = blocks
        self.known: dict[int, dict[int, int]] = {}
        """By block, how late its activities have to be at least for its windows: it never gets
        less while the board fills, unless stores are given back."""
        self.keeps_known = not any(inner.frees)
        self.latest = NEVER
        """A block that has to begin after this is not placed."""
        self.not_before = NOT
        """When such a block can begin at the earliest, as far as it was looked at."""

    def place_by(self, block: int, least: int, latest: int) -> bool:
        """Place a block as ``place`` does, unless it cannot begin by ``latest``.

        Then nothing is placed, and ``not_before`` says from which minute on to try again.

        Args:
            block: its number.
            least: the minute before which its first activity does not begin.
            latest: the minute after which it is of no use now.

        """
        log: list[Saved] = []
        self.latest, self.not_before = latest, NOT
        placed = self.place(block, log, least)
        self.latest = NEVER
        begun = self.board.start[self.blocks.members[block][0]]
        if placed and begun > latest:
            self._undo(log, 0)
            self.not_before = begun
        return placed or self.not_before != NOT

    def place(self, block: int, log: list[Saved] | None = None, least: int = NOT) -> bool:
        """Place a block, or leave out what no calendar has room for.

        Args:
            block: its number.
            log: takes how to undo it, where there is one.
            least: the first of its activities begins no sooner.

        Returns:
            False where a store is full which is given back later: try again then.

        """
        members = self.blocks.members[block]
        if len(members) > 1:
            return self._tied(block, log, least)
        number = members[0]
        if log is not None:
            log.append(self.board.saved(number))
        if self.one(number, least) != NEVER:
            return True
        if self.store_is_open(number):
            return False
        self.left_out.add(number)
        return True

    def _tied(self, block: int, log: list[Saved] | None, least: int) -> bool:
        """Place what windows tie together, with as many of its windows kept as can be."""
        place_tied = self._in_a_row if self.blocks.in_a_row[block] else self._together
        for kept in range(self._most_kept, NO_WINDOWS, -1):
            if place_tied(block, log, kept, least) or self.not_before != NOT:
                return True
        if self.blocks.knotted[block]:
            return self._knot(block, log)
        return self._singly(self.blocks.members[block], log, least)

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
        """Place a block with its windows kept, or nothing of it.

        ``kept`` says which windows. Each time that one is missed, the activity it begins with is
        pushed as much later, and all since is taken back; after very many pushes it is given up.

        Args:
            block: its number.
            log: takes how to undo it, where there is one.
            kept: NO_WINDOWS, HARD_ONES or SOFT_TOO.
            least: the minute before which its first activity does not begin.

        """
        board = self.board
        members = self.blocks.members[block]
        knotted = self.blocks.knotted[block]
        lower = self._known(block, kept, least)
        saved: list[Saved] = []
        pushes = PUSHES * len(members)
        tries = 0
        while len(saved) < len(members):
            tries += 1
            number = members[len(saved)]
            floor = lower.get(number, NOT)
            if knotted and kept:
                floor = max(floor, self._not_before(number, members[: len(saved)]))
            saved.append(board.saved(number))
            if self.one(number, floor) == NEVER:
                return self._give_up(block, saved, tries)
            already = members[: len(saved)] if knotted else ()
            pushed = self._pushed(number, already, kept)
            if pushed is not None:
                first, start = pushed
                lower[first] = start
                if first == members[0] and start > self.latest:
                    self.not_before = start
                    self._undo(saved, 0)
                    return False
                pushes -= 1
                in_vain = knotted and tries >= self.inner.vain_left
                if in_vain or not pushes:
                    return self._give_up(block, saved, tries)
                self._undo(saved, members.index(first))
        if log is not None:
            log.extend(saved)
        return True

    def _give_up(self, block: int, saved: list[Saved], tries: int) -> bool:
        """Take back a block that cannot be placed so; for a knot, so many tries were in vain."""
        self._undo(saved, 0)
        if self.blocks.knotted[block]:
            self.inner.vain_left -= tries
        return False

    def find_row(self, block: int, least: int) -> list[int] | None:
        """Note where each activity of a block in a row fits with all its windows kept.

        Args:
            block: its number.
            least: the minute before which its first activity does not begin.

        Returns:
            The hands of each, for ``take_row``, and None where there is no such place. Nothing is
            taken: `place` finds anew.

        """
        self.known.pop(block, None)
        hands = self._found_in_a_row(block, self._most_kept, least)
        self.known.pop(block, None)
        if hands is None:
            self._unnote(block)
        return hands

    def take_row(self, block: int, hands: list[int]) -> None:
        """Lay a block in a row where it was found last."""
        board = self.board
        for number, by in zip(self.blocks.members[block], hands, strict=True):
            begun = board.start[number]
            board.take_by(by, number, begun, board.end[number] - begun)

    def _unnote(self, block: int) -> None:
        """Forget where activities of a block were found to fit."""
        for number in self.blocks.members[block]:
            self.board.start[number] = self.board.end[number] = NOT

    @property
    def _most_kept(self) -> int:
        """Which windows tie at the most."""
        return SOFT_TOO if self.blocks.keep_soft else HARD_ONES

    def _in_a_row(self, block: int, log: list[Saved] | None, kept: int, least: int) -> bool:
        """Do the same for a block in a row: all is found before any of it is taken.

        Its activities are in each other's way nowhere, so that nothing has to be taken back.
        """
        board = self.board
        start, end = board.start, board.end
        members = self.blocks.members[block]
        hands = self._found_in_a_row(block, kept, least)
        if hands is None:
            self._unnote(block)
            return False
        for number, by in zip(members, hands, strict=True):
            # What had to begin by a minute, and does, is never taken back.
            if log is not None and self.latest == NEVER:
                log.append(board.saved(number))
            board.take_by(by, number, start[number], end[number] - start[number])
        return True

    def _found_in_a_row(self, block: int, kept: int, least: int) -> list[int] | None:
        """Note where each activity of a block in a row fits, and return the hands of each.

        None where its windows cannot be kept.

        Args:
            block: its number.
            kept: HARD_ONES or SOFT_TOO.
            least: the minute before which its first activity does not begin.

        """
        board = self.board
        members = self.blocks.members[block]
        lower = self._known(block, kept, least)
        pushes = PUSHES * len(members)
        hands: list[int] = []
        while len(hands) < len(members):
            number = members[len(hands)]
            begun, minutes = self.fit(number, lower.get(number, NOT))
            if begun == NEVER:
                return None
            board.start[number] = begun
            board.end[number] = begun + minutes
            hands.append(board.found_by)
            pushed = self._pushed(number, (), kept)
            if pushed is None:
                continue
            first, later = pushed
            lower[first] = later
            if first == members[0] and later > self.latest:
                self.not_before = later
                return None
            pushes -= 1
            if not pushes:
                return None
            del hands[members.index(first) :]
        begun = board.start[members[0]]
        if begun > self.latest:
            self.not_before = begun
            return None
        return hands

    def _known(self, block: int, kept: int, least: int) -> dict[int, int]:
        """Return how late activities of a block have to be at least, as far as it is known.

        What was found out when the block was tried before holds on, since a board only fills.

        Args:
            block: its number.
            kept: which windows are to be kept; what was found with fewer of them does not count.
            least: the minute before which its first activity does not begin.

        """
        lower: dict[int, int] = {}
        if self.keeps_known and kept == self._most_kept:
            lower = self.known.setdefault(block, lower)
        first = self.blocks.members[block][0]
        if least > lower.get(first, NOT):
            lower[first] = least
        return lower

    def _undo(self, saved: list[Saved], keep: int) -> None:
        """Take back what was placed last, until so many are kept."""
        while len(saved) > keep:
            self.board.restore(saved.pop())

    def _pushed(self, number: int, placed: Sequence[int], kept: int) -> tuple[int, int] | None:
        """Return what has to be later for all windows so far, and how late; None when they hold.

        Args:
            number: the activity that was placed last.
            placed: those before it of its block, where waits run backwards in time too.
            kept: which windows are to be kept.

        """
        inner, board = self.inner, self.board
        start = board.start[number]
        of = self.blocks.of
        for other, most, remedy in inner.windows[number]:
            # A window between two blocks ties nothing here, nor one that is kept or not looked at.
            late = start - board.end[other] - most
            if late <= 0 or board.end[other] == NOT or of[other] != of[number]:
                continue
            least_kept = HARD_ONES if remedy == LOOSE else SOFT_TOO
            if kept >= least_kept:
                return other, board.start[other] + late
        # In a knot what was placed before may have to wait for this one too.
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
                    least_end = board.start[later] - most
                    found = max(found, least_end - inner.minutes[number])
        return found
