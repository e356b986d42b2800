"""Which activities are placed together: those that windows tie to each other."""

from __future__ import annotations

from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from finishsched.planning.quick.inner import LOOSE, NEVER, Inner


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
    knotted: list[bool]
    """By block, whether its waits run in a circle, some of them backwards in time."""
    in_a_row: list[bool]
    """By block, whether its activities follow each other and are in each other's way nowhere."""
    keep_soft: bool


def blocks_of(
    inner: Inner, *, keep_soft: bool, shorter_min: int = NEVER, soft_below_min: int = NEVER
) -> Blocks:
    """Return the blocks; windows that have a remedy tie too where ``keep_soft`` asks for it.

    Windows that are as wide as ``shorter_min`` or wider tie nothing, nor those that have a remedy
    from ``soft_below_min`` on.
    """
    parent = list(range(len(inner.keys)))

    def root(number: int) -> int:
        while parent[number] != number:
            parent[number] = parent[parent[number]]
            number = parent[number]
        return number

    for number, windows in enumerate(inner.windows):
        for other, most, remedy in windows:
            soft = keep_soft and most < soft_below_min
            if most < shorter_min and (soft or remedy == LOOSE):
                parent[root(number)] = root(other)
    roots = [number if number == up else root(number) for number, up in enumerate(parent)]
    before, after = _waits(inner, roots)
    order = _in_order(roots, before, after)
    if order is None:
        roots = _without_circles(roots, before)
        before, after = _waits(inner, roots)
        order = _in_order(roots, before, after) or []
    numbers = [0] * len(roots)
    for number, root_of in enumerate(order):
        numbers[root_of] = number
    of = [numbers[root_of] for root_of in roots]
    members, knotted = _members(inner, of, len(order))
    return Blocks(
        members,
        of,
        [[numbers[other] for other in before[root_of]] for root_of in order],
        [[numbers[other] for other in after[root_of]] for root_of in order],
        knotted,
        [len(inside) > 1 and _in_a_row(inner, inside) for inside in members],
        keep_soft,
    )


def _waits(inner: Inner, roots: list[int]) -> tuple[list[list[int]], list[list[int]]]:
    """Return by root those of the blocks that it waits for, and those that wait for it."""
    before: list[list[int]] = [[] for _ in roots]
    after: list[list[int]] = [[] for _ in roots]
    for number, others in enumerate(inner.before):
        mine = roots[number]
        for other, _ in others:
            theirs = roots[other]
            if theirs != mine and theirs not in before[mine]:
                before[mine].append(theirs)
                after[theirs].append(mine)
    return before, after


def _in_order(
    roots: list[int], before: list[list[int]], after: list[list[int]]
) -> list[int] | None:
    """Return the roots in an order in which no block waits for a later one, or None."""
    blocks = [number for number, its in enumerate(roots) if its == number]
    waits = [len(others) for others in before]
    order = [block for block in blocks if not waits[block]]
    for block in order:
        for later in after[block]:
            waits[later] -= 1
            if not waits[later]:
                order.append(later)
    return order if len(order) == len(blocks) else None


def _without_circles(roots: list[int], graph: list[list[int]]) -> list[int]:
    """Join all blocks that wait for each other in a circle."""
    joined: dict[int, int] = {}
    depth: dict[int, int] = {}
    low: dict[int, int] = {}
    path: list[int] = []
    for first in dict.fromkeys(roots):
        if first in depth:
            continue
        walk = [(first, iter(graph[first]))]
        depth[first] = low[first] = len(depth)
        path.append(first)
        while walk:
            block, others = walk[-1]
            deeper = next((o for o in others if o not in depth or o not in joined), None)
            if deeper is None:
                walk.pop()
                if walk:
                    above = walk[-1][0]
                    low[above] = min(low[above], low[block])
                if low[block] == depth[block]:
                    while block not in joined:
                        joined[path.pop()] = block
            elif deeper not in depth:
                depth[deeper] = low[deeper] = len(depth)
                path.append(deeper)
                walk.append((deeper, iter(graph[deeper])))
            else:
                low[block] = min(low[block], depth[deeper])
    return [joined[root] for root in roots]


def _members(inner: Inner, of: list[int], count: int) -> tuple[list[list[int]], list[bool]]:
    members: list[list[int]] = [[] for _ in range(count)]
    for number in inner.line or range(len(of)):
        members[of[number]].append(number)
    knotted = [False] * count
    if inner.line is None:
        for block, inside in enumerate(members):
            if len(inside) > 1:
                members[block], knotted[block] = _sorted(inner, inside)
    return members, knotted


def _in_a_row(inner: Inner, members: list[int]) -> bool:
    if len(inner.set_up_before) > 1 or inner.line is None:
        return False
    last = -1
    marked: set[int] = set()
    stores: set[int] = set()
    for number in members:
        if last >= 0 and not any(o == last and least >= 0 for o, least in inner.before[number]):
            return False
        if marked and not marked.isdisjoint([track for track, _ in inner.avoids[number]]):
            return False
        touches = inner.touches[number]
        if inner.frees[number] or (touches and not stores.isdisjoint(touches)):
            return False
        marked.update([track for track, _ in inner.marks[number]])
        stores.update(touches)
        last = number
    return True


def _sorted(inner: Inner, inside: list[int]) -> tuple[list[int], bool]:
    """Return the activities of a block in the order of their waits, and whether it is knotted.

    In a circle of waits those that go forward in time rule.
    """
    here = set(inside)
    forward: dict[int, set[int]] = {number: set() for number in inside}
    for number in inside:
        for other, least in inner.before[number]:
            if other in here and other != number and least + inner.minutes[other] >= 0:
                forward[number].add(other)
    try:
        return list(TopologicalSorter(forward).static_order()), True
    except CycleError:
        return inside, True
