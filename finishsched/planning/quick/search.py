"""Looking for a better order: shake it, place everything again, keep what is no worse."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from itertools import product

from finishsched.planning.quick.blocks import Blocks, blocks_of
from finishsched.planning.quick.cost import WORST, Cost, Costing, costing_of
from finishsched.planning.quick.dispatch import RULES, Rule, bare_of, dispatch
from finishsched.planning.quick.inner import NEVER, NOT, Inner
from finishsched.planning.quick.latest import earliest_starts, latest_starts, line_of
from finishsched.planning.quick.placing import Placing, heads_of, in_order

HALTS = 12
"""How many boards are kept along an order, so that trying another one need not begin anew."""
SPANS_MIN = (200, 900, 2000)
REACHES_MIN = (300, 1500, 3000)
STEPS_MIN = (60, 120, 200)
SHIFTS_MIN = (60, 300, 600, 1500, 2000)
CALM = (0.6, 0.15)
"""How often a try lets stirring go first, and how often it hurries a goal, by shares."""
HURRIED = (0.5, 0.15)
"""The same while goals are late."""
NO_ROOMS = 0.5
"""How often a try hurries a goal where no room has a rule."""
WIDE_MIN = 120
"""Windows from this width on can be kept by the order alone: a coat need not follow at once."""
TIRED = 150
"""After so many tries without a better plan the search goes on from the best one, and ties windows
in another way."""
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
        self._begun: list[tuple[float, Placing]] = []
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
            self._begun.append((_guide(self.costing.cost_of(placing)), placing))
            if self.tries >= rounds or stop():
                return

    def by_rule(self, rule: Rule = RULES[0], blocks: Blocks | None = None) -> Placing:
        """Place all by a rule of dispatching."""
        blocks = blocks or self._modes[0]
        pressing = [
            rule.weight * min(self._latest[number] for number in members)
            + (rule.bare_min if any(self.bare[number] for number in members) else 0)
            for members in blocks.members
        ]
        placing = dispatch(self.inner, blocks, pressing)
        self.judge(placing)
        return placing

    def by_order(self, order: Sequence[int]) -> None:
        """Place all in an order of activities."""
        loose = min(self._modes, key=lambda blocks: blocks.keep_soft)
        self.judge(in_order(self.inner, loose, order))

    def judge(self, placing: Placing) -> float:
        """Keep a plan if it is the best; return what guides the search."""
        cost = self.costing.cost_of(placing)
        guide = _guide(cost)
        self.tries += 1
        if cost < self.best_cost:
            self.best, self.best_cost = placing, cost
        return guide

    # From an order ----------------------------------------------------------------------------

    def improve(self, rounds: int, stop: Callable[[], bool]) -> None:
        """Shake the order of the best plan until the rounds are over or it is told to stop."""
        if self.best is None or len(self.best.blocks.members) < 2:
            return
        ways = [*self._modes, blocks_of(self.inner, keep_soft=False, shorter_min=WIDE_MIN)]
        from_rules = [placing for _, placing in sorted(self._begun, key=lambda one: one[0])]
        climb = _Climb(self, self.best, self.best.blocks)
        turn = tired = 0
        while self.tries < rounds and not stop():
            before = self.best_cost
            climb.step()
            tired = 0 if self.best_cost < before else tired + 1
            if tired >= TIRED:
                turn, tired = turn + 1, 0
                start = self.best
                if from_rules and turn % OFTEN == 0:
                    start = from_rules[turn // OFTEN % len(from_rules)]
                climb = _Climb(self, start, ways[turn % len(ways)])


class _Climb:
    """One walk from order to order."""

    def __init__(self, search: Search, placing: Placing, blocks: Blocks) -> None:
        self.search = search
        self.blocks = blocks
        inner = search.inner
        self.heads = heads_of(inner, self.blocks)
        self.bare = [any(search.bare[n] for n in members) for members in self.blocks.members]
        self.goal = [inner.goal[head] for head in self.heads]
        self.rooms = any(inner.marks)
        self.every = max(1, len(self.heads) // HALTS)
        self.back_to(placing)

    def back_to(self, placing: Placing) -> None:
        """Go on from this plan."""
        self.keys = self._keys(placing)
        self.order = sorted(range(len(self.keys)), key=self.keys.__getitem__)
        placing = Placing(self.search.inner, self.blocks)
        self.halts = placing.all_in(self.order, None, self.every)
        self.guide = self.search.judge(placing)
        self._finishes(placing)

    def _keys(self, placing: Placing) -> list[int]:
        start = placing.board.start
        return [start[head] if start[head] != NOT else NEVER for head in self.heads]

    def _finishes(self, placing: Placing) -> None:
        """Know which goals are worth hurrying."""
        search = self.search
        finishes = search.costing.finishes(placing)
        late = [g for g, due in enumerate(search.inner.due) if finishes[g] > due]
        end = max(finishes, default=NOT)
        self.late = bool(late)
        self.pressed = late or [g for g, at in enumerate(finishes) if at > end - 1440]

    def step(self) -> None:
        """Try one other order, and go on from there if it is no worse."""
        keys = self._shaken()
        order = sorted(range(len(keys)), key=keys.__getitem__)
        same = next(
            (n for n, (a, b) in enumerate(zip(order, self.order, strict=True)) if a != b), -1
        )
        if same < 0:
            self.search.tries += 1
            return
        begin = None
        kept = 0
        for halt in self.halts:
            if halt.at > same:
                break
            begin, kept = halt, kept + 1
        placing = Placing(self.search.inner, self.blocks)
        halts = placing.all_in(order, begin, self.every)
        guide = self.search.judge(placing)
        if guide <= self.guide:
            self.guide = guide
            self.keys = self._keys(placing)
            fresh = sorted(range(len(self.keys)), key=self.keys.__getitem__)
            self.halts = self.halts[:kept] + halts
            self.halts = [halt for halt in self.halts if order[: halt.at] == fresh[: halt.at]]
            self.order = fresh
            self._finishes(placing)

    def _shaken(self) -> list[int]:
        chance = self.search.chance
        draw = chance.random()
        keys = self.keys[:]
        stir, hurry = (HURRIED if self.late else CALM) if self.rooms else (0.0, NO_ROOMS)
        if draw < stir:
            self._stir_first(keys)
        elif draw < stir + hurry:
            self._hurry(keys)
        elif draw < stir + hurry + 0.1:
            block = chance.randrange(len(keys))
            keys[block] += int(chance.gauss(0, 1) * chance.choice(SHIFTS_MIN))
        else:
            self._blur(keys)
        return keys

    def _stir_first(self, keys: list[int]) -> None:
        """Let what lies bare wait a little, and what stirs up go before it."""
        chance = self.search.chance
        since = chance.choice(self.keys)
        until = since + chance.choice(SPANS_MIN)
        reach = chance.choice(REACHES_MIN)
        longer = chance.choice(STEPS_MIN)
        for block, key in enumerate(self.keys):
            if self.bare[block]:
                if since <= key < until:
                    keys[block] = key + longer
            elif since <= key < since + reach:
                keys[block] = key - int(chance.random() * reach)

    def _hurry(self, keys: list[int]) -> None:
        """Pull one goal forward from somewhere on, or now and then put one back."""
        chance = self.search.chance
        goals = self.pressed if self.pressed and chance.random() < 0.5 else self.goal
        goal = chance.choice(goals)
        since = chance.choice(self.keys)
        shift = int(chance.choice((-1, -1, 1)) * chance.expovariate(1) * chance.choice(SHIFTS_MIN))
        for block, key in enumerate(self.keys):
            if self.goal[block] == goal and key >= since:
                keys[block] = key + shift

    def _blur(self, keys: list[int]) -> None:
        """Mix what lies near each other."""
        chance = self.search.chance
        since = chance.choice(self.keys)
        until = since + chance.choice(REACHES_MIN)
        spread = chance.choice((30, 120, 600))
        for block, key in enumerate(self.keys):
            if since <= key < until:
                keys[block] = key + int(chance.gauss(0, spread))


def _guide(cost: Cost) -> float:
    """Return a cost that falls on the way to a better plan, where a score is flat."""
    out, hard, late, latest, finish, remedies, goals = cost
    return ((out * 1e6 + hard) * 1e4 + late) * 1e3 + latest + finish * 100 + remedies + goals
