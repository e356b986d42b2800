"""The best plan so far, and looking for a better one: by rules, by hurrying, by climbing."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from itertools import count, cycle, islice, product

from finishsched.planning.quick.blocks import Blocks, blocks_of
from finishsched.planning.quick.climb import Climb
from finishsched.planning.quick.cost import WORST, Cost, Costing, costing_of
from finishsched.planning.quick.dispatch import RULES, Rule, bare_of, dispatch
from finishsched.planning.quick.hurry import NEAR_MIN, hurry
from finishsched.planning.quick.inner import NEVER, Inner
from finishsched.planning.quick.latest import earliest_starts, latest_starts, line_of
from finishsched.planning.quick.placing import Placing, in_order

LAST_WEIGHT = 20
"""What a minute counts, on the way to a better plan, by which a goal is reached near the end of the
first plan: all of those have to come sooner for the end to."""
WIDE_MIN = 120
"""Windows from this width on can be kept by the order alone: a coat need not follow at once."""
TIRED = 150
"""After so many tries without a better plan the search goes on from the best one, and ties windows
in another way."""
HURRIED_RULES = 4
"""How many of the rules that did best are taken to hurry by, before each climb."""
OFTEN = 3
"""Every so many times it begins from the plan of another rule instead."""


class Search:
    """The best plan so far of a problem, and the means to find a better one."""

    def __init__(self, inner: Inner, seed: int) -> None:
        """Work out what all tries share."""
        self.inner = inner
        self.chance = random.Random(seed)  # noqa: S311 - it shuffles an order
        self.costing: Costing = costing_of(inner)
        self.bare = bare_of(inner)
        self.best: Placing | None = None
        self.best_cost: Cost = WORST
        self.tries = 0
        self._near = NEVER
        self._begun: list[tuple[float, Placing, Rule, Blocks]] = []
        stirred = any(track & 1 == 0 for marks in inner.marks for track, _ in marks)
        modes = (False, True) if stirred and any(self.bare) else (True, False)
        soft = any(remedy >= 0 for windows in inner.windows for _, _, remedy in windows)
        self._modes = [blocks_of(inner, keep_soft=keep) for keep in modes[: 1 + soft]]
        self._line = line_of(inner, self._modes[0].members)
        self._latest = self._latest_starts()

    def _latest_starts(self) -> list[int]:
        """Return latest starts for each goal to be as early as could be, or on time if it can."""
        inner = self.inner
        common = inner.now_min
        could = [inner.now_min] * len(inner.due)
        starts = earliest_starts(inner, self._line)
        for number, start in enumerate(starts):
            if start < NEVER >> 1:
                end = start + inner.minutes[number] + inner.tail[number]
                common = max(common, end)
                goal = inner.goal[number]
                if goal >= 0:
                    could[goal] = max(could[goal], end)
        targets = [
            common if due >= NEVER else max(due, reached)
            for due, reached in zip(inner.due, could, strict=True)
        ]
        return latest_starts(inner, self._line, targets, common)

    # From nothing -----------------------------------------------------------------------------

    def begin(self, rounds: int, stop: Callable[[], bool]) -> None:
        """Try the rules of dispatching, each with each way to tie windows."""
        for rule, blocks in product(RULES, self._modes):
            placing = self.by_rule(rule, blocks)
            self._begun.append((_guide(self.costing.cost_of(placing)), placing, rule, blocks))
            if self.tries >= rounds or stop():
                return

    def by_rule(self, rule: Rule = RULES[0], blocks: Blocks | None = None) -> Placing:
        """Place all by a rule of dispatching."""
        blocks = blocks or self._modes[0]
        placing = dispatch(self.inner, blocks, self.pressing(rule, blocks))
        self.judge(placing)
        return placing

    def pressing(self, rule: Rule, blocks: Blocks) -> list[float]:
        """Return what a rule adds to the earliest start of each block."""
        return [
            rule.weight * min([self._latest[number] for number in members])
            + (rule.bare_min if any(self.bare[number] for number in members) else 0)
            for members in blocks.members
        ]

    def by_order(self, order: Sequence[int]) -> None:
        """Place all in an order of activities."""
        loose = min(self._modes, key=lambda blocks: blocks.keep_soft)
        self.judge(in_order(self.inner, loose, order))

    def judge(self, placing: Placing) -> float:
        """Keep a plan if it is the best; return what guides the search."""
        finishes = self.costing.finishes(placing)
        cost = self.costing.cost(placing, finishes)
        self.tries += 1
        if cost < self.best_cost:
            self.best, self.best_cost = placing, cost
        last = sum([at - self._near for at in finishes if at > self._near])
        return _guide(cost) + LAST_WEIGHT * last

    # From an order ----------------------------------------------------------------------------

    def improve(self, rounds: int, stop: Callable[[], bool]) -> None:
        """Hurry and climb by turns until the rounds are over or it is told to stop."""
        if self.best is None or len(self.best.blocks.members) < 2:
            return

        def over() -> bool:
            return self.tries >= rounds or stop()

        self._begun.sort(key=lambda one: one[0])
        turns = self._in_rooms() if any(self.inner.marks) else self._freely(over)
        for start, blocks in turns:
            self._climb(start, blocks, over)
            if over():
                return

    def _freely(self, over: Callable[[], bool]) -> Iterator[tuple[Placing, Blocks]]:
        """Give where to climb from, and how, where no room has a rule: hurrying does most."""
        self._near = self.best_cost[4] - NEAR_MIN
        ways = [self._singly(), *self._modes]
        rules = cycle(self._begun[:HURRIED_RULES])
        for way in cycle(ways):
            for _, _, rule, blocks in islice(rules, HURRIED_RULES):
                hurry(self, rule, blocks, over)
            yield self._best(), way

    def _in_rooms(self) -> Iterator[tuple[Placing, Blocks]]:
        """Give the same where rooms have rules: climbing does most."""
        wide = blocks_of(self.inner, keep_soft=False, shorter_min=WIDE_MIN)
        ways = [*self._modes, wide, self._singly()]
        yield self._best(), self._best().blocks
        for turn in count(1):
            start = self._begun[turn // OFTEN % len(self._begun)][1]
            yield start if turn % OFTEN == 0 else self._best(), ways[turn % len(ways)]

    def _singly(self) -> Blocks:
        return blocks_of(self.inner, keep_soft=False, shorter_min=0)

    def _best(self) -> Placing:
        assert self.best is not None  # noqa: S101  # nothing is climbed from before it begins
        return self.best

    def _climb(self, start: Placing, blocks: Blocks, over: Callable[[], bool]) -> None:
        climb = Climb(self, start, blocks)
        tired = 0
        while tired < TIRED and not over():
            before = self.best_cost
            climb.step()
            tired = 0 if self.best_cost < before else tired + 1


def _guide(cost: Cost) -> float:
    """Return a cost that falls on the way to a better plan, where a score is flat."""
    out, hard, late, latest, finish, remedies, goals = cost
    return ((out * 1e6 + hard) * 1e4 + late) * 1e3 + latest + finish * 100 + remedies + goals
