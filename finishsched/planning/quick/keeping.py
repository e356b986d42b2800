"""What of an old plan can stay as it is, to the minute and with the same hands.

Work is looked at in its old order: it stays where all that it waits for stays or is done, and where
it still fits. Of what windows tie together all stays, or nothing. Where it is wanted, work stays
too that waits for something which cannot: that may still be done in between, and then nobody
notices. Whether it was is asked afterwards (`in_vain`).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, TypeAlias

from finishsched.planning.numbers.inner import LOOSE, NOT, Inner
from finishsched.planning.problem import Plan
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Saved
from finishsched.planning.quick.forward import Kept
from finishsched.planning.quick.placing import Placing

Stays: TypeAlias = Callable[[int, int], bool]
"""Whether a block, by its number, that begins at a minute is to stay."""


class _Was(NamedTuple):
    """Where an activity lay."""

    start_min: int
    by: int
    """The number of the hands that had it; -1 where there are none of that name."""


class Keeping:
    """Keeps more and less of an old plan; what was found out once is not looked for again."""

    def __init__(self, inner: Inner, blocks: Blocks, old: Plan, hands: dict[str, int]) -> None:
        """Know where everything lay.

        Args:
            inner: the problem in numbers.
            blocks: what is laid together, and so stays together.
            old: the plan.
            hands: their numbers, by name.

        """
        self._inner = inner
        self._blocks = blocks
        self._was = _by_number(inner, old, hands)
        self._begun = _begun(inner, blocks, self._was)
        """The blocks that lie ahead as a whole, each after the minute at which it began."""
        self._asked: tuple[list[int], bool] | None = None
        """What was last to stay."""
        self._answer: Kept | None = None
        """What of that stays, on a board that nobody changes."""
        self._together: frozenset[int] = frozenset()
        """Blocks that were once found to stay together: fewer of them do so too."""
        no_set_ups = len(inner.set_up_before) == 1
        self._fewer_fit_too = no_set_ups and not any(inner.frees)

    def kept(self, stays: Stays, *, before_too: bool = True) -> Kept:
        """Return what stays of the plan, of all that is to.

        Args:
            stays: which of it is to stay, if it can.
            before_too: whether nothing stays that waits for what does not.

        """
        wanted = [block for begins, block in self._begun if stays(block, begins)]
        asked = (wanted, before_too)
        if self._answer is None or asked != self._asked:
            self._asked, self._answer = asked, self._laid(wanted, before_too=before_too)
        board = self._answer.placing.board.copy()
        return Kept(Placing(self._inner, self._blocks, board), self._answer.blocks)

    def _laid(self, wanted: list[int], *, before_too: bool) -> Kept:
        """Lay what can stay of some blocks, in their old order."""
        placing = Placing(self._inner, self._blocks)
        kept: set[int] = set()
        together = self._together
        for block in wanted:
            before = self._blocks.before[block]
            if before_too and not kept.issuperset(before):
                continue
            if block in together and self._as_then(before, kept, together):
                self._take(placing, block)
            elif self._stays(placing, block):
                # Something lies here that did not then, and may be in the way of the others.
                together = frozenset()
            else:
                continue
            kept.add(block)
        if self._fewer_fit_too and len(kept) > len(self._together):
            self._together = frozenset(kept)
        return Kept(placing, frozenset(kept))

    def _as_then(self, before: list[int], kept: set[int], together: frozenset[int]) -> bool:
        """Return whether of what a block waits for the same stays as when it was found to."""
        return all((other in kept) == (other in together) for other in before)

    def _take(self, placing: Placing, block: int) -> None:
        """Lay a block where it was, which is known to fit there."""
        for number in self._blocks.members[block]:
            start, by = self._was[number]
            placing.board.take_by(by, number, start, placing.minutes_from(number, start))

    def _stays(self, placing: Placing, block: int) -> bool:
        """Lay a block where it was; lay nothing of it, and return False, where some does not fit.

        Args:
            placing: what stays so far.
            block: its number.

        """
        members = self._blocks.members[block]
        if self._blocks.in_a_row[block]:
            return self._stays_in_a_row(placing, members)
        saved: list[Saved] = []
        for number in members:
            if len(members) > 1:
                saved.append(placing.board.saved(number))
            if not self._stays_one(placing, number):
                for each in reversed(saved):
                    placing.board.restore(each)
                return False
        return True

    def _stays_in_a_row(self, placing: Placing, members: list[int]) -> bool:
        """Do the same for what is in each other's way nowhere: all is found before any is taken."""
        board = placing.board
        for number in members:
            was = self._was[number]
            minutes = _minutes_in_place(placing, number, was)
            if minutes is None:
                for each in members:
                    board.start[each] = board.end[each] = NOT
                return False
            board.start[number] = was.start_min
            board.end[number] = was.start_min + minutes
        for number in members:
            was = self._was[number]
            minutes = board.end[number] - board.start[number]
            board.take_by(was.by, number, was.start_min, minutes)
        return True

    def _stays_one(self, placing: Placing, number: int) -> bool:
        """Lay an activity where it was, if it can lie there.

        Args:
            placing: what stays so far.
            number: the activity.

        """
        board = placing.board
        was = self._was[number]
        frees = placing.inner.frees[number]
        if frees:
            board.let_go(number)
        minutes = _minutes_in_place(placing, number, was)
        if minutes is not None:
            board.take_by(was.by, number, was.start_min, minutes)
        if frees:
            board.hold_on(number)
        return minutes is not None


def in_vain(placing: Placing, kept: frozenset[int]) -> set[int]:
    """Return what was kept in vain: what it waits for lies too late for it, or otherwise.

    What waits for such work in its turn was kept in vain too, where that cannot be done in time.

    Args:
        placing: all that is placed, around what was kept.
        kept: that, by its blocks.

    """
    blocks = placing.blocks
    vain: set[int] = set()
    later_end: dict[int, int] = {}
    """By activity that was kept in vain, when it is over at the earliest."""
    # No block waits for one with a higher number.
    for block in sorted(kept):
        before = blocks.before[block]
        if kept.issuperset(before) and vain.isdisjoint(before):
            continue
        late_min = max([_late_min(placing, number, later_end) for number in blocks.members[block]])
        if late_min > 0 or _takes_otherwise(placing, block):
            vain.add(block)
            for number in blocks.members[block]:
                later_end[number] = placing.board.end[number] + max(0, late_min)
    return vain


def _late_min(placing: Placing, number: int, later_end: dict[int, int]) -> int:
    """Return by how many minutes an activity begins before its waits are over.

    Args:
        placing: where it lies.
        number: the activity.
        later_end: the ends of some that cannot be over where they lie.

    """
    board = placing.board
    earliest = placing.floor[number]
    for other, least in placing.inner.before[number]:
        end = later_end.get(other, board.end[other])
        earliest = max(earliest, end + least)
    return earliest - board.start[number]


def _takes_otherwise(placing: Placing, block: int) -> bool:
    """Return whether a block has more to mend, or less, than when it was laid."""
    board = placing.board
    for number in placing.blocks.members[block]:
        start, end = board.start[number], board.end[number]
        if end - start != placing.minutes_from(number, start):
            return True
    return False


def _by_number(inner: Inner, old: Plan, hands: dict[str, int]) -> dict[int, _Was]:
    """Return where what is still to be done lay in a plan, by its number.

    Args:
        inner: the problem in numbers.
        old: the plan.
        hands: their numbers, by name.

    """
    found: dict[int, _Was] = {}
    for placed in old.placed:
        number = inner.index.get(placed.key)
        if number is not None:
            found[number] = _Was(placed.start_min, hands.get(placed.by or "", -1))
    return found


def _begun(inner: Inner, blocks: Blocks, was: dict[int, _Was]) -> list[tuple[int, int]]:
    """Return when each block began that lies ahead as a whole, and the block, in their old order.

    Args:
        inner: the problem in numbers.
        blocks: what is laid together.
        was: by activity, where it lay.

    """
    begun: list[tuple[int, int]] = []
    for block, members in enumerate(blocks.members):
        starts = [was[number].start_min for number in members if number in was]
        is_whole = len(starts) == len(members)
        if is_whole and min(starts) >= inner.now_min:
            begun.append((min(starts), block))
    return sorted(begun)


def _minutes_in_place(placing: Placing, number: int, was: _Was) -> int | None:
    """Return how long an activity takes where it was.

    None where it does not fit there, or misses a window that it must keep.

    Args:
        placing: what stays so far.
        number: the activity.
        was: where it lay.

    """
    inner, board = placing.inner, placing.board
    start, by = was
    minutes = inner.minutes[number]
    if inner.needs_out[number] or placing.earliest(number) > start:
        return None
    if not board.stands(by, number, start, minutes):
        return None
    if inner.windowed[number]:
        longer = placing.minutes_from(number, start)
        # What it has to mend makes it longer, and then it may not fit.
        if longer > minutes and not board.stands(by, number, start, longer):
            return None
        minutes = longer
        if _misses(placing, number, start):
            return None
    return minutes


def _misses(placing: Placing, number: int, start: int) -> bool:
    """Return whether an activity that begins then misses a window or deadline without a remedy."""
    inner, end = placing.inner, placing.board.end
    for other, most, remedy in inner.windows[number]:
        if remedy != LOOSE or end[other] == NOT:
            continue
        closes = end[other] + most
        if start > closes:
            return True
    deadlines = [latest for latest, remedy in inner.deadlines[number] if remedy == LOOSE]
    return any(start > latest for latest in deadlines)
