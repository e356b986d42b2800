"""What of an old plan can stay as it is, to the minute and with the same hands.

Work is looked at in its old order: it stays where all that it waits for stays or is done, and where
it still fits. Of what windows tie together all stays, or nothing. Where it is wanted, work stays
too that waits for something which cannot: that may still be done in between, and then nobody
notices. Whether it was is asked afterwards (`in_vain`).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from finishsched.planning.problem import Placed, Plan
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Saved
from finishsched.planning.quick.forward import Kept
from finishsched.planning.quick.inner import LOOSE, NOT, Inner
from finishsched.planning.quick.placing import Placing

Stays: TypeAlias = Callable[[int, int], bool]
"""Whether a block, by its number, that begins at a minute is to stay."""


def kept_of(
    inner: Inner,
    blocks: Blocks,
    old: Plan,
    hands: dict[str, int],
    stays: Stays,
    *,
    before_too: bool = True,
) -> Kept:
    """Return what stays of a plan, of all that is to.

    Args:
        inner: the problem in numbers.
        blocks: what is laid together, and so stays together.
        old: the plan.
        hands: their numbers, by name.
        stays: which of it is to stay, if it can.
        before_too: whether nothing stays that waits for what does not.

    """
    was = _by_number(inner, old)
    placing = Placing(inner, blocks)
    kept: set[int] = set()
    for block in _to_stay(inner, blocks, was, stays):
        may_stay = not before_too or kept.issuperset(blocks.before[block])
        if may_stay and _stays(placing, block, was, hands):
            kept.add(block)
    return Kept(placing, frozenset(kept))


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


def _by_number(inner: Inner, old: Plan) -> dict[int, Placed]:
    """Return where what is still to be done lay in a plan, by its number."""
    found: dict[int, Placed] = {}
    for placed in old.placed:
        if placed.key in inner.index:
            found[inner.index[placed.key]] = placed
    return found


def _to_stay(inner: Inner, blocks: Blocks, was: dict[int, Placed], stays: Stays) -> list[int]:
    """Return the blocks that are to stay and lie ahead as a whole, in their old order.

    Args:
        inner: the problem in numbers.
        blocks: what is laid together.
        was: by activity, where it lay.
        stays: which of it is to stay.

    """
    begun: list[tuple[int, int]] = []
    for block, members in enumerate(blocks.members):
        starts = [was[number].start_min for number in members if number in was]
        is_whole = len(starts) == len(members)
        if not is_whole:
            continue
        begins = min(starts)
        if begins >= inner.now_min and stays(block, begins):
            begun.append((begins, block))
    return [block for _, block in sorted(begun)]


def _stays(placing: Placing, block: int, was: dict[int, Placed], hands: dict[str, int]) -> bool:
    """Lay a block where it was; lay nothing of it, and return False, where some does not fit.

    Args:
        placing: what stays so far.
        block: its number.
        was: by activity, where it lay.
        hands: their numbers, by name.

    """
    members = placing.blocks.members[block]
    if placing.blocks.in_a_row[block]:
        return _stays_in_a_row(placing, members, was, hands)
    saved: list[Saved] = []
    for number in members:
        if len(members) > 1:
            saved.append(placing.board.saved(number))
        if not _stays_one(placing, number, was[number], hands):
            for each in reversed(saved):
                placing.board.restore(each)
            return False
    return True


def _stays_in_a_row(
    placing: Placing,
    members: list[int],
    was: dict[int, Placed],
    hands: dict[str, int],
) -> bool:
    """Do the same for what is in each other's way nowhere: all is found before any is taken."""
    board = placing.board
    for number in members:
        minutes = _minutes_in_place(placing, number, was[number], hands)
        if minutes is None:
            for each in members:
                board.start[each] = board.end[each] = NOT
            return False
        board.start[number] = was[number].start_min
        board.end[number] = was[number].start_min + minutes
    for number in members:
        minutes = board.end[number] - board.start[number]
        board.take_by(_hands_of(was[number], hands), number, board.start[number], minutes)
    return True


def _stays_one(placing: Placing, number: int, was: Placed, hands: dict[str, int]) -> bool:
    """Lay an activity where it was, if it can lie there.

    Args:
        placing: what stays so far.
        number: the activity.
        was: where it lay.
        hands: their numbers, by name.

    """
    board = placing.board
    frees = placing.inner.frees[number]
    if frees:
        board.let_go(number)
    minutes = _minutes_in_place(placing, number, was, hands)
    if minutes is not None:
        board.take_by(_hands_of(was, hands), number, was.start_min, minutes)
    if frees:
        board.hold_on(number)
    return minutes is not None


def _minutes_in_place(
    placing: Placing,
    number: int,
    was: Placed,
    hands: dict[str, int],
) -> int | None:
    """Return how long an activity takes where it was.

    None where it does not fit there, or misses a window that it must keep.

    Args:
        placing: what stays so far.
        number: the activity.
        was: where it lay.
        hands: their numbers, by name.

    """
    start, minutes = placing.fit(number, was.start_min)
    is_in_place = start == was.start_min and not _misses(placing, number, start)
    by = _hands_of(was, hands)
    return minutes if is_in_place and _has_hands(placing, number, by, start, minutes) else None


def _hands_of(was: Placed, hands: dict[str, int]) -> int:
    """Return the number of the hands that had an activity; -1 where there are none of that name."""
    return hands.get(was.by or "", -1)


def _has_hands(placing: Placing, number: int, by: int, start: int, minutes: int) -> bool:
    """Return whether an activity needs no hands, or these hands can do it and are free.

    Args:
        placing: what stays so far.
        number: the activity.
        by: the number of the hands that had it; -1 where there are none of that name.
        start: the minute.
        minutes: how long it takes.

    """
    can = placing.inner.by[number]
    if not can:
        return True
    return by in can and placing.board.hands_free(by, number, start, minutes)


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
