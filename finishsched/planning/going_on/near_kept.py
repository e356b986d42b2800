"""Keeping of the next week what can be kept with nothing getting later for it.

All of it is held where it lay, to the minute, and all else placed around it: forward in time by one
rule or another, or in the order of the least late plan. Where each of these is later, three
quarters of it are held: what moved least, or else three quarters of the pieces. Then that plan is
made to lean towards the old one (`leaning.py`), and blocks are held in its order: what moved least
in it is tried first, in halves down to one block. Around each, in the same way, what lies further
ahead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import chain
from typing import NamedTuple

from finishsched.factors import DAY_MIN
from finishsched.planning.going_on.around import Around, Place
from finishsched.planning.going_on.leaning import Leaning, halves
from finishsched.planning.going_on.steady import NEAR_DAYS, Promise, promise_of
from finishsched.planning.numbers.inner import NEVER, NOT
from finishsched.planning.problem import Plan
from finishsched.planning.quick.placing import Placing

NEAR_STEPS, FAR_STEPS, LEAST_PLACED = 100_000, 20_000, 4
"""How many steps are placed, all tries together, for what is near and what is far, so that nobody
waits long; and how many plans."""
QUARTERS = 4
"""Into so many parts blocks or pieces are parted, to hold all of them but one part."""
LEANING_SHARE = 2 / 3
"""So much of what is left is placed to lean: one plan a try, where holding takes up to seven."""


def near_kept(around: Around, least_late: Plan, aim: Promise, most: Promise) -> Iterator[Plan]:
    """Give plans that keep starts of the old one and are no later: near ones, and far ones too.

    Args:
        around: places what does not stay.
        least_late: what does not stay goes in its order.
        aim: what is as good as the least late plan; nothing better is looked for.
        most: what nobody is put out by.

    """
    until = around.problem.now_min + NEAR_DAYS * DAY_MIN
    # What began before now and is not all done stays too.
    near = around.least_moved(least_late, NOT + 1, until)
    far = around.least_moved(least_late, until, NEVER)
    holding = _Holding(around, least_late, aim, most)
    if holding.holds(near):
        yield from holding.plans(far)
        return
    if holding.holds_three_quarters(near):
        yield from holding.plans(far)
        holding.begins_again()
    leaning = Leaning(around, least_late, most, near)
    tries = int(holding.left * LEANING_SHARE)
    leaning.lean(near, tries)
    holding.left -= tries
    if leaning.best is not None:
        leant = around.plan(leaning.best)
        yield leant
        holding.goes_on_from(leant)
        # There are few tries left, and none is for what has begun.
        near = around.least_moved(leant, around.problem.now_min, until)
    holding.holds_more_of(halves(near))
    yield from holding.plans(far)


def _plans_to_place(around: Around, steps: int) -> int:
    """Return how many plans have so many steps together."""
    in_one = max(1, len(around.inner.keys))
    return max(LEAST_PLACED, steps // in_one)


class _Way(NamedTuple):
    """A plan that was tried, and the way in which it was placed."""

    promise: Promise
    """What the plan leaves out, misses and is late by."""
    placing: Placing
    place: Place


class _Holding:
    """What is held so far, and trying to hold more."""

    def __init__(self, around: Around, least_late: Plan, aim: Promise, most: Promise) -> None:
        """Begin with nothing held.

        Args:
            around: places what is not held.
            least_late: what is not held goes in its order.
            aim: what is as good as the least late plan; nothing better is looked for.
            most: what nobody is put out by.

        """
        self._around = around
        self._aim = aim
        self._most = most
        self.left = _plans_to_place(around, NEAR_STEPS)
        """So many plans may still be placed."""
        self._ways: list[Place] = []
        """How the rest is placed: by each rule, and last in the order of a plan."""
        for keys in around.keys_of_rules():
            self._ways.append(partial(around.placed, keys))
        self._ways.append(partial(around.placed_in_order, around.order_of(least_late)))
        self._held: frozenset[int] = frozenset()
        """The blocks that stay where they lay."""
        self.best: Placing | None = None
        """The plan that holds them."""

    def goes_on_from(self, plan: Plan) -> None:
        """Place what is not held in the order of another plan from now on."""
        order = self._around.order_of(plan)
        self._ways[-1] = partial(self._around.placed_in_order, order)

    def begins_again(self) -> None:
        """Hold nothing again."""
        self._held = frozenset()
        self.best = None

    def holds_more_of(self, groups: list[Sequence[int]]) -> bool:
        """Hold as many of some blocks as leave nothing later; return whether any were.

        Args:
            groups: the blocks, what is to be tried first last.

        """
        before = self._held
        while groups and self.left > 0:
            group = groups.pop()
            if not self.holds(group):
                groups += halves(group)
        return self._held != before

    def plans(self, far: Sequence[int]) -> Iterator[Plan]:
        """Give the plan that holds what is held, and one that holds what can be of the far too."""
        if self.best is not None:
            yield self._around.plan(self.best)
        left, self.left = self.left, _plans_to_place(self._around, FAR_STEPS)
        if self.holds_more_of([far]) and self.best is not None:
            yield self._around.plan(self.best)
        self.left = left

    def holds_three_quarters(self, group: Sequence[int]) -> bool:
        """Hold three quarters of some blocks, and what can be of the last; return whether any were.

        No more than half of what is left is placed for it.

        Args:
            group: the blocks, what moved least first.

        """
        ways, enough = self._ways, self.left // 2
        for quarter in self._quarters(group):
            if self.left <= enough:
                break
            # Another three quarters may do best in a way in which these did not.
            self._ways = ways
            without = set(quarter)
            if self.holds([block for block in group if block not in without]):
                self.holds_more_of([quarter])
                return True
        return False

    def _quarters(self, group: Sequence[int]) -> Iterator[Sequence[int]]:
        """Give the last quarter of a group, then quarters of its pieces, each as large."""
        if len(group) < QUARTERS:
            return
        yield group[len(group) * (QUARTERS - 1) // QUARTERS :]
        around = self._around
        pieces: dict[int, list[int]] = {}
        for block in sorted(group):
            piece = around.inner.goal[around.forward.first[block]]
            pieces.setdefault(piece, []).append(block)
        with_most_first = sorted(pieces.values(), key=len, reverse=True)
        for at in range(QUARTERS):
            yield list(chain.from_iterable(with_most_first[at::QUARTERS]))

    def holds(self, group: Sequence[int]) -> bool:
        """Hold all of a group if nothing gets later for it; go on in the ways that do best."""
        wanted = self._held.union(group)
        found: list[_Way] = []
        placed_before = self._around.placed_count
        for place in self._ways:
            placing = self._around.closely_placed(place, lambda block, _: block in wanted)
            promise = self._promised_by(placing)
            found.append(_Way(promise, placing, place))
            if promise <= self._aim:
                break
        self.left -= self._around.placed_count - placed_before
        best = min(found, key=lambda way: way.promise)
        # In its own order the least late plan comes out no later where little has to stay.
        in_order = self._ways[-1]
        self._ways = [in_order] if best.place is in_order else [best.place, in_order]
        if best.promise > self._most:
            return False
        self._held = wanted
        self.best = best.placing
        return True

    def _promised_by(self, placing: Placing) -> Promise:
        """Return what a plan leaves out, misses and is late by."""
        return promise_of(self._around.search.costing.cost_of(placing))
