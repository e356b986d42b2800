"""Keeping of the next week what can be kept with nothing getting later for it.

All else is placed around what stays: forward in time by one rule or another, or in the order of the
least late plan. All of the week is tried at once in each of these ways. Where that makes anything
late, three quarters of the pieces are tried, then a half and the other half, and so on down to one
piece, half of its steps, one step. Then, in the same way, what lies further ahead.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import NamedTuple, TypeAlias

from finishsched.planning.around import Around, Place
from finishsched.planning.problem import Plan
from finishsched.planning.quick.placing import Placing
from finishsched.planning.steady import DAY_MIN, NEAR_DAYS, Promise, promise_of

PLACED_STEPS, LEAST_PLACED = 70_000, 4
"""How many steps are placed, all tries together, so that nobody waits long; and how many plans."""

QUARTERS = 4
"""Into so many parts some pieces are parted, to keep all of them but one part."""

Pieces: TypeAlias = list[list[int]]
"""The blocks of some pieces, a list for each, in the order in which they begin."""


def near_kept(around: Around, least_late: Plan, most: Promise) -> Iterator[Plan]:
    """Give plans that keep starts of the old one and are no later: near ones, and far ones too.

    Args:
        around: places what does not stay.
        least_late: what does not stay goes in its order.
        most: what nobody is put out by.

    """
    trial = _Trial(around, least_late, most)
    until = around.problem.now_min + NEAR_DAYS * DAY_MIN
    near = around.by_goal(lambda begun: begun < until)
    far = around.by_goal(lambda begun: begun >= until)
    for pieces in (near, far):
        if trial.keeps_more_of(pieces) and trial.best is not None:
            yield around.plan(trial.best)


class _Way(NamedTuple):
    """A plan that was tried, and the way in which it was placed."""

    promise: Promise
    """What the plan leaves out, misses and is late by."""
    placing: Placing
    place: Place


class _Trial:
    """What is kept so far, and trying to keep more."""

    def __init__(self, around: Around, least_late: Plan, most: Promise) -> None:
        """Begin with nothing kept.

        Args:
            around: places what does not stay.
            least_late: what does not stay goes in its order.
            most: what nobody is put out by.

        """
        steps = max(1, len(around.inner.keys))
        plans_to_place = max(LEAST_PLACED, PLACED_STEPS // steps)
        self._around = around
        self._most = most
        self._most_placed = around.placed_count + plans_to_place
        self._ways: list[Place] = []
        """How the rest is placed: by each rule, and last in the order of the least late plan."""
        for keys in around.keys_of_rules():
            self._ways.append(partial(around.placed, keys))
        order = around.order_of(least_late)
        self._ways.append(partial(around.placed_in_order, order))
        self._kept: frozenset[int] = frozenset()
        """The blocks that stay where they lay."""
        self.best: Placing | None = None
        """The plan that keeps it."""

    def keeps_more_of(self, pieces: Pieces) -> bool:
        """Keep as many of some pieces' blocks as leave nothing later; return whether any were.

        Args:
            pieces: those that may keep what they had.

        """
        before = self._kept
        groups = [pieces]
        while groups and not self._is_over():
            group = groups.pop()
            if group and not self._keeps(group):
                left_over = self._left_over_of_most(group)
                groups += _halves(group) if left_over is None else [left_over]
        return self._kept != before

    def _is_over(self) -> bool:
        """Tell whether as many plans were placed as there is time for."""
        return self._around.placed_count >= self._most_placed

    def _left_over_of_most(self, group: Pieces) -> Pieces | None:
        """Keep three quarters of a group if nothing gets later for them; return the last quarter.

        None where no three quarters can be kept, or there are too few pieces for that.
        """
        if len(group) < QUARTERS:
            return None
        for at in range(QUARTERS):
            left_over = group[at::QUARTERS]
            most: Pieces = []
            for number, piece in enumerate(group):
                if number % QUARTERS != at:
                    most.append(piece)
            if not self._is_over() and self._keeps(most):
                return left_over
        return None

    def _keeps(self, group: Pieces) -> bool:
        """Keep all of a group if nothing gets later for it; go on in the ways that do best."""
        wanted = self._kept.union(*group)
        found: list[_Way] = []
        for place in self._ways:
            placing = self._around.closely_placed(place, lambda block, _: block in wanted)
            promise = self._promised_by(placing)
            found.append(_Way(promise, placing, place))
            if promise <= self._most:
                break
        best = min(found, key=lambda way: way.promise)
        # In its own order the least late plan comes out no later where little has to stay.
        in_order = self._ways[-1]
        self._ways = [in_order] if best.place is in_order else [best.place, in_order]
        if best.promise > self._most:
            return False
        self._kept = wanted
        self.best = best.placing
        return True

    def _promised_by(self, placing: Placing) -> Promise:
        """Return what a plan leaves out, misses and is late by."""
        return promise_of(self._around.search.costing.cost_of(placing))


def _halves(group: Pieces) -> list[Pieces]:
    """Return some pieces in two groups, the one to be tried first last; of one piece its steps.

    Nothing where there is but one step.
    """
    if len(group) > 1:
        half = len(group) // 2
        return [group[half:], group[:half]]
    blocks = group[0]
    half = len(blocks) // 2
    if not half:
        return []
    sooner, later = blocks[:half], blocks[half:]
    return [[later], [sooner]]
