"""Which activities are placed together: those that windows tie to each other.

Activities are joined into blocks first (`_joined_by_windows`); then blocks that wait for each other
in a circle become one (`circles.py`), and all are numbered in the order of their waits.
"""

from __future__ import annotations

from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from finishsched.planning.numbers.inner import LOOSE, NEVER, NOT, Inner
from finishsched.planning.quick.circles import without_circles


@dataclass(slots=True)
class Blocks:
    """Activities in blocks, numbered so that no block waits for one with a higher number."""

    members: list[list[int]]
    """By block, its activities in an order that goes with their waits."""
    of: list[int]
    """By activity, its block."""
    before: list[list[int]]
    """By block, those that it waits for."""
    after: list[list[int]]
    """By block, those that wait for it."""
    knotted: list[bool]
    """By block, whether its waits run in a circle, some of them backwards in time."""
    in_a_row: list[bool]
    """By block, whether its activities follow each other and are in each other's way nowhere."""
    keep_soft: bool
    """Whether windows that have a remedy tie too."""


@dataclass(frozen=True, slots=True)
class _Waits:
    """Which blocks wait for which, by the root of each: one of its activities stands for it."""

    before: list[list[int]]
    """By root, those of the blocks that it waits for."""
    after: list[list[int]]
    """By root, those of the blocks that wait for it."""


def blocks_of(
    inner: Inner,
    *,
    keep_soft: bool,
    shorter_min: int = NEVER,
    soft_below_min: int = NEVER,
) -> Blocks:
    """Return the blocks of a problem.

    Args:
        inner: the problem in numbers.
        keep_soft: whether windows that have a remedy tie too.
        shorter_min: windows of so many minutes, or wider, tie nothing.
        soft_below_min: windows that have a remedy tie nothing from so many minutes on.

    """
    roots = _joined_by_windows(
        inner,
        hard_below_min=shorter_min,
        soft_below_min=min(shorter_min, soft_below_min) if keep_soft else NOT,
    )
    waits = _waits(inner, roots)
    order = _in_order(roots, waits)
    if order is None:
        roots = without_circles(roots, waits.before)
        waits = _waits(inner, roots)
        order = _in_order(roots, waits) or []
    return _numbered(inner, roots, waits, order, keep_soft=keep_soft)


def _joined_by_windows(inner: Inner, *, hard_below_min: int, soft_below_min: int) -> list[int]:
    """Return by activity the root of its block: the same for all that windows tie to each other.

    Every activity begins as its own root. To join two, the root of one is hung below the root of
    the other; to find a root, one goes up as long as there is something above.

    Args:
        inner: the problem in numbers.
        hard_below_min: windows without a remedy tie if they are narrower than so many minutes.
        soft_below_min: the same for windows that have one.

    """
    parent = list(range(len(inner.keys)))

    def root(number: int) -> int:
        """Return what stands at the top of all that an activity hangs below."""
        while parent[number] != number:
            # Hung higher on the way up, so that the next way is shorter.
            parent[number] = parent[parent[number]]
            number = parent[number]
        return number

    for number, windows in enumerate(inner.windows):
        for other, most, remedy in windows:
            below_min = hard_below_min if remedy == LOOSE else soft_below_min
            if most < below_min:
                parent[root(number)] = root(other)
    return [root(number) for number in range(len(parent))]


def _numbered(
    inner: Inner,
    roots: list[int],
    waits: _Waits,
    order: list[int],
    *,
    keep_soft: bool,
) -> Blocks:
    """Return the blocks, numbered in the order of their waits.

    Args:
        inner: the problem in numbers.
        roots: by activity, the one that stands for its block.
        waits: which blocks wait for which.
        order: the roots, none before one that it waits for.
        keep_soft: whether windows that have a remedy tie too.

    """
    numbers = [0] * len(roots)
    for number, root in enumerate(order):
        numbers[root] = number
    of = [numbers[root] for root in roots]
    members, knotted = _members(inner, of, len(order))
    in_a_row = [len(inside) > 1 and _in_a_row(inner, inside) for inside in members]
    before: list[list[int]] = []
    after: list[list[int]] = []
    for root in order:
        before.append([numbers[other] for other in waits.before[root]])
        after.append([numbers[other] for other in waits.after[root]])
    return Blocks(
        members=members,
        of=of,
        before=before,
        after=after,
        knotted=knotted,
        in_a_row=in_a_row,
        keep_soft=keep_soft,
    )


def _waits(inner: Inner, roots: list[int]) -> _Waits:
    """Return by root those of the blocks that it waits for, and those that wait for it.

    Args:
        inner: the problem in numbers.
        roots: by activity, the one that stands for its block.

    """
    before: list[list[int]] = [[] for _ in roots]
    after: list[list[int]] = [[] for _ in roots]
    for number, others in enumerate(inner.before):
        mine = roots[number]
        for other, _ in others:
            theirs = roots[other]
            is_known = theirs == mine or theirs in before[mine]
            if not is_known:
                before[mine].append(theirs)
                after[theirs].append(mine)
    return _Waits(before, after)


def _in_order(roots: list[int], waits: _Waits) -> list[int] | None:
    """Return the roots in an order in which no block waits for a later one.

    None where blocks wait for each other in a circle.

    Args:
        roots: by activity, the one that stands for its block.
        waits: which blocks wait for which.

    """
    blocks = [number for number, root in enumerate(roots) if root == number]
    open_waits = [len(others) for others in waits.before]
    order = [block for block in blocks if not open_waits[block]]
    for block in order:
        for later in waits.after[block]:
            open_waits[later] -= 1
            if not open_waits[later]:
                order.append(later)
    return order if len(order) == len(blocks) else None


def _members(inner: Inner, of: list[int], count: int) -> tuple[list[list[int]], list[bool]]:
    """Return the activities of each of ``count`` blocks, and which blocks are knotted.

    Args:
        inner: the problem in numbers.
        of: by activity, its block.
        count: how many blocks there are.

    """
    members: list[list[int]] = [[] for _ in range(count)]
    in_order = inner.line or range(len(of))
    for number in in_order:
        block = of[number]
        members[block].append(number)
    knotted = [False] * count
    if inner.line is None:
        for block, inside in enumerate(members):
            if len(inside) > 1:
                members[block] = _untangled(inner, inside)
                knotted[block] = True
    return members, knotted


def _in_a_row(inner: Inner, members: list[int]) -> bool:
    """Return whether activities follow each other and are in each other's way nowhere.

    Such a block can be looked for as a whole before any of it is laid, which is much quicker.

    Args:
        inner: the problem in numbers.
        members: two activities or more, in an order that goes with their waits.

    """
    has_set_ups = len(inner.set_up_before) > 1
    if has_set_ups or inner.line is None:
        return False
    last = -1
    # The tracks that those before make busy, and the stores of which they may still hold something.
    marked: set[int] = set()
    held: set[int] = set()
    for number in members:
        if last >= 0 and not _follows(inner, number, last):
            return False
        # Two that mind each other's dust, or hold one store, cannot be found one without the other.
        avoided = [track for track, _ in inner.avoids[number]]
        if inner.frees[number] or not marked.isdisjoint(avoided):
            return False
        if last >= 0:
            held.update(_still_held(inner, last, number))
        if not held.isdisjoint(inner.touches[number]):
            return False
        marked.update([track for track, _ in inner.marks[number]])
        last = number
    return True


def _still_held(inner: Inner, number: int, following: int) -> set[int]:
    """Return the stores of which an activity may hold something as the next one takes up its own.

    Args:
        inner: the problem in numbers.
        number: the activity.
        following: the next one, which begins after its end.

    """
    waits = [least for other, least in inner.before[following] if other == number]
    wait_min = max(waits)
    taken_at_start: set[int] = set()
    taken_at_end: set[int] = set()
    for use in inner.uses[following]:
        taken = taken_at_start if use.from_start else taken_at_end
        taken.add(use.store)
    found: set[int] = set()
    for use in inner.uses[number]:
        free_min = wait_min
        if use.store in taken_at_end - taken_at_start:
            free_min += inner.minutes[following]
        has_own_end = use.until < 0 and use.until_min == NOT
        is_over = has_own_end and use.hold_min <= free_min
        if not is_over:
            found.add(use.store)
    return found


def _follows(inner: Inner, number: int, last: int) -> bool:
    """Return whether an activity cannot begin before another one is over.

    Args:
        inner: the problem in numbers.
        number: the activity.
        last: the other one.

    """
    return any(other == last and least >= 0 for other, least in inner.before[number])


def _untangled(inner: Inner, inside: list[int]) -> list[int]:
    """Return the activities of a block whose waits run in a circle, as well in order as can be.

    Of the waits those that go forward in time rule; the others only say how far apart two may lie.

    Args:
        inner: the problem in numbers.
        inside: the activities of the block.

    """
    here = set(inside)
    forward: dict[int, set[int]] = {number: set() for number in inside}
    for number in inside:
        for other, least in inner.before[number]:
            is_another_of_them = other in here and other != number
            # From start to start: a wait below zero by more lets it begin before the other.
            apart = least + inner.minutes[other]
            if is_another_of_them and apart >= 0:
                forward[number].add(other)
    try:
        return list(TopologicalSorter(forward).static_order())
    except CycleError:
        return inside
