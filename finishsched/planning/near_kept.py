"""Keeping of the next week what can be kept with nothing getting later for it.

All of it is held where it lay, to the minute, and all else placed around it: forward in time by one
rule or another, or in the order of the least late plan. Where each of these is later, that plan is
first made to lean towards the old one (`leaning.py`), and blocks are held in its order: what moved
least in it is tried first, in halves down to one block. Then, in the same way, what lies further
ahead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import NamedTuple

from finishsched.planning.around import Around, Place
from finishsched.planning.leaning import Leaning, halves
from finishsched.planning.problem import Plan
from finishsched.planning.quick.inner import NEVER
from finishsched.planning.quick.placing import Placing
from finishsched.planning.steady import DAY_MIN, NEAR_DAYS, Promise, promise_of

LEANING_STEPS, HELD_STEPS, LEAST_PLACED = 60_000, 50_000, 4
"""How many steps are placed to lean, and how many around what is held, so that nobody waits long;
and how many plans."""


def near_kept(around: Around, least_late: Plan, most: Promise) -> Iterator[Plan]:
    """Give plans that keep starts of the old one and are no later: near ones, and far ones too.

    Args:
        around: places what does not stay.
        least_late: what does not stay goes in its order.
        most: what nobody is put out by.

    """
    now = around.problem.now_min
    until = now + NEAR_DAYS * DAY_MIN
    near = around.least_moved(least_late, now, until)
    holding = _Holding(around, least_late, most)
    if not holding.holds(near):
        leaning = Leaning(around, least_late, most, near)
        leaning.lean(near, _plans_to_place(around, LEANING_STEPS))
        if leaning.best is not None:
            leant = around.plan(leaning.best)
            yield leant
            holding.goes_on_from(leant)
            near = around.least_moved(leant, now, until)
        holding.holds_more_of(halves(near))
    if holding.best is not None:
        yield around.plan(holding.best)
    far = around.least_moved(least_late, until, NEVER)
    if holding.holds_more_of([far]) and holding.best is not None:
        yield around.plan(holding.best)


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

    def __init__(self, around: Around, least_late: Plan, most: Promise) -> None:
        """Begin with nothing held.

        Args:
            around: places what is not held.
            least_late: what is not held goes in its order.
            most: what nobody is put out by.

        """
        self._around = around
        self._most = most
        self._left = _plans_to_place(around, HELD_STEPS)
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

    def holds_more_of(self, groups: list[Sequence[int]]) -> bool:
        """Hold as many of some blocks as leave nothing later; return whether any were.

        Args:
            groups: the blocks, what is to be tried first last.

        """
        before = self._held
        while groups and self._left > 0:
            group = groups.pop()
            if not self.holds(group):
                groups += halves(group)
        return self._held != before

    def holds(self, group: Sequence[int]) -> bool:
        """Hold all of a group if nothing gets later for it; go on in the ways that do best."""
        wanted = self._held.union(group)
        found: list[_Way] = []
        placed_before = self._around.placed_count
        for place in self._ways:
            placing = self._around.closely_placed(place, lambda block, _: block in wanted)
            promise = self._promised_by(placing)
            found.append(_Way(promise, placing, place))
            if promise <= self._most:
                break
        self._left -= self._around.placed_count - placed_before
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
