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


def kept_of(inner: Inner, blocks: Blocks, old: Plan, hands: dict[str, int], stays: Stays) -> Kept:
    """Return what stays of a plan, of all that is to; ``hands`` are their numbers."""
    was: dict[int, Placed] = {}
    for placed in old.placed:
        if placed.key in inner.index:
            was[inner.index[placed.key]] = placed
    begun: list[tuple[int, int]] = []
    for block, members in enumerate(blocks.members):
        starts = [was[number].start_min for number in members if number in was]
        if len(starts) < len(members) or min(starts) < inner.now_min:
            continue
        if stays(inner.goal[members[0]], min(starts)):
            begun.append((min(starts), block))
    placing = Placing(inner, blocks)
    kept: set[int] = set()
    for _, block in sorted(begun):
        if kept.issuperset(blocks.before[block]) and _stays(placing, block, was, hands):
            kept.add(block)
    return Kept(placing, frozenset(kept))


def _stays(placing: Placing, block: int, was: dict[int, Placed], hands: dict[str, int]) -> bool:
    saved: list[Saved] = []
    for number in placing.blocks.members[block]:
        saved.append(placing.board.saved(number))
        if not _stays_one(placing, number, was[number], hands):
            for each in reversed(saved):
                placing.board.restore(each)
            return False
    return True


def _stays_one(placing: Placing, number: int, was: Placed, hands: dict[str, int]) -> bool:
    """Lay an activity where it was, if it fits there and misses no window that it must keep."""
    inner, board = placing.inner, placing.board
    frees = inner.frees[number]
    if frees:
        board.let_go(number)
    start, minutes = placing.fit(number, was.start_min)
    by = hands.get(was.by or "", -1)
    fits = start == was.start_min and not _misses(placing, number, start)
    if fits and inner.by[number]:
        fits = by in inner.by[number] and board.hands_free(by, number, start, minutes)
    if fits:
        board.take_by(by, number, start, minutes)
    if frees:
        board.hold_on(number)
    return fits


def _misses(placing: Placing, number: int, start: int) -> bool:
    inner, end = placing.inner, placing.board.end
    windows = any(
        remedy == LOOSE and end[other] != NOT and start > end[other] + most
        for other, most, remedy in inner.windows[number]
    )
    return windows or any(
        remedy == LOOSE and start > latest for latest, remedy in inner.deadlines[number]
    )
