"""What could fill an evening in which hands would idle with something ready."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from finishsched.factors import DAY_MIN
from finishsched.planning.going_on.around import Around
from finishsched.planning.going_on.steady import IDLE_MIN
from finishsched.planning.quick.placing import Placing


class _Idle(NamedTuple):
    """Minutes of this evening in which some hands have nothing to do."""

    hands: int
    start_min: int
    end_min: int
    closes_min: int
    """When the hours of this evening are over."""


def ready_for_idle(around: Around, placing: Placing) -> Iterator[int]:
    """Give blocks of later that could be done in idle minutes of this evening, until it is full.

    Args:
        around: knows what goes first.
        placing: where all lies.

    """
    single = around.forward.single
    most_pressing_first = sorted(range(len(single)), key=around.keys.__getitem__)
    for idle in _idle_this_evening(around, placing):
        left_min = idle.end_min - idle.start_min
        for block in most_pressing_first:
            minutes = _minutes_there(around, placing, block, idle) if single[block] else None
            if minutes is not None and minutes <= left_min:
                yield block
                left_min -= minutes
            if left_min < IDLE_MIN:
                break


def _minutes_there(around: Around, placing: Placing, block: int, idle: _Idle) -> int | None:
    """Return how long a block of one takes in idle minutes; None where it cannot be done in them.

    Args:
        around: knows the block.
        placing: where all lies.
        block: its number.
        idle: whose minutes, and which.

    """
    number = around.forward.first[block]
    can = idle.hands in around.inner.by[number]
    is_of_this_evening = placing.board.start[number] < idle.closes_min
    if not can or is_of_this_evening:
        return None
    earliest = max(placing.earliest(number), idle.start_min)
    if earliest >= idle.end_min:
        return None
    start, minutes = placing.fit(number, earliest)
    return minutes if start + minutes <= idle.end_min else None


def _idle_this_evening(around: Around, placing: Placing) -> Iterator[_Idle]:
    """Give where hands idle for long in the hours that are open now, or next within a day."""
    problem = around.problem
    now_min = problem.now_min
    for number, hands in enumerate(problem.hands):
        ahead = [window for window in hands.windows if window.end_min > now_min]
        if not ahead or ahead[0].start_min >= now_min + DAY_MIN:
            continue
        opens, closes = max(now_min, ahead[0].start_min), ahead[0].end_min
        starts, ends, _, _ = placing.board.gaps[number]
        for start, end in zip(starts, ends, strict=True):
            begins, is_over = max(start, opens), min(end, closes)
            if is_over - begins >= IDLE_MIN:
                yield _Idle(number, begins, is_over, closes)
