"""What all tries of a search share: the problem, the best plan so far, and what to go on from."""

from __future__ import annotations

import random
from typing import NamedTuple

from finishsched.planning.numbers.inner import Inner
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.cost import WORST, Cost, Costing, costing_of, guide_of
from finishsched.planning.quick.dispatch import Rule
from finishsched.planning.quick.ordering import bare_of
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.ways import WaysToTie


class Begun(NamedTuple):
    """A plan of a rule that places ahead in time, to climb from."""

    guide: float
    placing: Placing
    rule: Rule
    blocks: Blocks


class Keyed(NamedTuple):
    """Keys whose plan was placed forward in time, to climb from."""

    guide: float
    mode: int
    """The way in which windows tie, by its number."""
    keys: list[int]


class SoFar:
    """The best plan so far of a problem, and all that other plans were tried from and judged by."""

    def __init__(self, inner: Inner, seed: int) -> None:
        """Begin with nothing.

        Args:
            inner: the problem in numbers.
            seed: for all that is left to chance.

        """
        self.inner = inner
        self.chance = random.Random(seed)  # noqa: S311 - it shuffles an order
        self.costing: Costing = costing_of(inner)
        self.bare = bare_of(inner)
        """By activity, whether something in its room would spoil it."""
        self.best: Placing | None = None
        self.best_cost: Cost = WORST
        self.tries = 0
        """How many plans were judged."""
        self.in_rooms = any(inner.marks)
        """Whether any room has a rule."""
        self.has_hands = any(inner.by)
        self.ways = WaysToTie(inner)
        self.begun: list[Begun] = []
        """The plans of rules that place ahead in time."""
        self.keyed: list[Keyed] = []
        """The keys that were tried forward in time."""

    def judge(self, placing: Placing) -> float:
        """Keep a plan if it is the best; return what guides the search."""
        cost = self.costing.cost_of(placing)
        self.tries += 1
        if cost < self.best_cost:
            self.best = placing
            self.best_cost = cost
        return guide_of(cost)

    def best_plan(self) -> Placing:
        """Return the best plan so far; there is one as soon as anything has been begun with."""
        assert self.best is not None  # noqa: S101  # nothing is climbed from before it begins
        return self.best

    @property
    def least_late(self) -> int:
        """By how many minutes goals must be late together, by their chains alone."""
        _, pressure = self.ways.forward(0)
        return pressure.least_late

    @property
    def is_late(self) -> bool:
        """Whether goals are later than they must be, or something is left out."""
        cost = self.best_cost
        is_broken = cost.left_out > 0 or cost.spoilt_min > 0
        return is_broken or cost.late_and_split_min > self.least_late

    @property
    def given_up(self) -> bool:
        """Whether the rules find no plan: windows tie activities in a circle, and all was in vain.

        To try on would only take time; another planner may find one, or prove that there is none.
        """
        return self.inner.vain_left <= 0 and self.best_cost.left_out > 0
