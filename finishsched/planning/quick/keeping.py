"""What of an old plan can stay as it is, to the minute and with the same hands.

Work is looked at in its old order: it stays where all that it waits for stays or is done, and where
it still fits. Of what windows tie together all stays, or nothing.
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
"""Whether what belongs to a goal, by its number, and begins at a minute is to stay."""


def kept_of(
    inner: Inner,
    blocks: Blocks,
    old: Plan,
    hands: dict[str, int],
    stays: Stays,
) -> Kept:
    """Return what stays of a plan, of all that is to.

    Args:
        inner: the problem in numbers.
        blocks: what is laid together, and so stays together.
        old: the plan.
        hands: their numbers, by name.
        stays: which of it is to stay, if it can.

    """
    was = _by_number(inner, old)
    placing = Placing(inner, blocks)
    kept: set[int] = set()
    for block in _to_stay(inner, blocks, was, stays):
        all_before_stays = kept.issuperset(blocks.before[block])
        if all_before_stays and _stays(placing, block, was, hands):
            kept.add(block)
    return Kept(placing, frozenset(kept))


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
        goal = inner.goal[members[0]]
        if begins >= inner.now_min and stays(goal, begins):
            begun.append((begins, block))
    return [block for _, block in sorted(begun)]


def _stays(placing: Placing, block: int, was: dict[int, Placed], hands: dict[str, int]) -> bool:
    """Lay a block where it was; take all of it back, and return False, where some does not fit.

    Args:
        placing: what stays so far.
        block: its number.
        was: by activity, where it lay.
        hands: their numbers, by name.

    """
    saved: list[Saved] = []
    for number in placing.blocks.members[block]:
        saved.append(placing.board.saved(number))
        if not _stays_one(placing, number, was[number], hands):
            for each in reversed(saved):
                placing.board.restore(each)
            return False
    return True


def _stays_one(placing: Placing, number: int, was: Placed, hands: dict[str, int]) -> bool:
    """Lay an activity where it was, if it fits there and misses no window that it must keep.

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
    by = hands.get(was.by or "", -1)
    start, minutes = placing.fit(number, was.start_min)
    is_in_place = start == was.start_min and not _misses(placing, number, start)
    fits = is_in_place and _has_hands(placing, number, by, start, minutes)
    if fits:
        board.take_by(by, number, start, minutes)
    if frees:
        board.hold_on(number)
    return fits


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
