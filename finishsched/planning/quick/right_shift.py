"""The same work as late as it can be, hands and waits alone in its way.

What then still has to begin first is what presses, and that no rule knows before there is a plan.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from finishsched.planning.quick.inner import NEVER, NOT, Inner
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.start_bounds import line_of


def right_shifted(inner: Inner, placing: Placing, targets: Sequence[int], common: int) -> list[int]:
    """Return starts with which goals are still reached by ``targets``, all else by ``common``.

    Each activity, the last of the plan first, goes as near to what follows it as its hands are
    free; what is not placed is at NEVER. Rooms, stores and windows are not looked at: this is an
    order, and no plan.
    """
    start, end = placing.board.start, placing.board.end
    free = [
        ([-end for end in reversed(ends)], [-start for start in reversed(starts)])
        for starts, ends in inner.windows_of
    ]
    late = [NEVER] * len(start)
    line = line_of(inner, placing.blocks.members)
    there = [number for number in reversed(line) if start[number] != NOT]
    for number in sorted(there, key=lambda n: (-end[n], -start[n])):
        goal = inner.goal[number]
        limit = (targets[goal] if goal >= 0 else common) - inner.tail[number]
        for other, least in inner.after[number]:
            limit = min(limit, late[other] - least)
        minutes = end[number] - start[number]
        late[number] = _last(free, inner.by[number], limit, minutes)
    return late


def _last(
    free: list[tuple[list[int], list[int]]], by: tuple[int, ...], limit: int, minutes: int
) -> int:
    """Return the latest start that ends by ``limit``, and take the hands for it; time runs back."""
    best, taken, at = NEVER, -1, -1
    for hands in by:
        starts, ends = free[hands]
        for gap in range(bisect_right(ends, -limit), len(ends)):
            begun = max(starts[gap], -limit)
            if ends[gap] - begun >= minutes:
                if begun < best:
                    best, taken, at = begun, hands, gap
                break
    if taken < 0:
        return limit - minutes
    starts, ends = free[taken]
    old_start, old_end = starts[at], ends[at]
    left = [(old_start, best)] if best > old_start else []
    right = [(best + minutes, old_end)] if best + minutes < old_end else []
    starts[at : at + 1] = [start for start, _ in (*left, *right)]
    ends[at : at + 1] = [end for _, end in (*left, *right)]
    return -(best + minutes)
