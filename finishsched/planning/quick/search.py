"""The best plan so far of a problem, and looking for a better one: by rules, then by climbing."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import count, cycle, product

from finishsched.planning.quick.blocks import Blocks, blocks_of
from finishsched.planning.quick.climb import Climb
from finishsched.planning.quick.cost import WORST, Cost, Costing, costing_of
from finishsched.planning.quick.dispatch import RULES, Rule, dispatch
from finishsched.planning.quick.forward import Forward
from finishsched.planning.quick.forward_climb import ForwardClimb
from finishsched.planning.quick.inner import NEVER, Inner
from finishsched.planning.quick.keys import FORWARD_RULES, ORDERLY_RULE, ForwardRule, Pressure
from finishsched.planning.quick.ordering import bare_of, in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.start_bounds import latest_starts

FIRST_RULES, PLAIN_STARTS = 3, 9
"""So many rules forward in time are tried even where somebody waits and something is late; with the
three plain ones, windows tied in two ways, that makes so many plans."""
OUT_WEIGHT, HARD_WEIGHT, LATE_WEIGHT, FINISH_WEIGHT = 1e6, 1e4, 1e3, 100
"""What guides the search where a score is flat: one left out weighs a million minutes of hard
windows, one of those ten thousand late ones, and so on down to the ends of goals."""
SOONER_ENDS, SOONER_BY_MIN = 7, 60
"""How often a sooner common end is aimed at, and from what gain on it is tried."""
WIDE_MIN = 120
"""Windows from this width on can be kept by the order alone: a coat need not follow at once."""
TIRED, FORWARD_TIRED = 150, 40
"""After so many tries without a better plan the search goes on from the best one, or from other
keys, and ties windows in another way."""
RULES_IN_ROOMS = 2
"""How many rules that place ahead in time are begun with where a room has rules: more gave nothing
that could be measured."""
OFTEN = 3
"""Every so many times it begins from the plan of another rule instead."""
AHEAD_STEPS = 1500
"""With more steps nothing is placed ahead in time where a room has rules: it never helps there, and
takes longest."""
FEW_STEPS, AHEAD_SHARE_OF_FEW, AHEAD_SHARE = 500, 0.6, 0.25
"""The share of the tries that place ahead in time: more of them with few steps, where the best plan
may leave somebody idle for a while."""


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
        self._begun: list[tuple[float, Placing, Rule, Blocks]] = []
        self._modes = self._ways_to_tie()
        self._ways: dict[int, tuple[Forward, Pressure]] = {}
        self._keyed: list[tuple[float, int, list[int]]] = []
        self._tried: list[ForwardRule] = []
        self.in_rooms = any(inner.marks)
        self.has_hands = any(inner.by)
        self._ahead_rules = RULES_IN_ROOMS if self.in_rooms and self.has_hands else len(RULES)

    def _ways_to_tie(self) -> list[Blocks]:
        """Return the blocks with windows that can be mended left loose, and tied, where any can.

        Loose ones come first where dust and wet keep apart: there it seldom pays to hurry a coat.
        """
        inner = self.inner
        stirs = any(not track & 1 for marks in inner.marks for track, _ in marks)
        tied_later = stirs and any(self.bare)
        orders = (False, True) if tied_later else (True, False)
        mended = any(remedy >= 0 for windows in inner.windows for _, _, remedy in windows)
        kept = orders if mended else orders[:1]
        return [blocks_of(inner, keep_soft=keep_soft) for keep_soft in kept]

    def _way(self, mode: int) -> tuple[Forward, Pressure]:
        """Return how to place forward in time with windows tied in one way; made when needed."""
        if mode not in self._ways:
            blocks = self._modes[mode]
            self._ways[mode] = Forward(self.inner, blocks), Pressure(self.inner, blocks)
        return self._ways[mode]

    @cached_property
    def _latest(self) -> list[int]:
        """Return the latest starts that the rules of placing ahead go by."""
        return self._latest_starts()

    def _latest_starts(self) -> list[int]:
        """Return latest starts for each goal to be as early as could be, or on time if it can."""
        pressure = self._way(0)[1]
        targets = [
            pressure.longest if due >= NEVER else max(due, reached)
            for due, reached in zip(self.inner.due, pressure.could, strict=True)
        ]
        return latest_starts(self.inner, pressure.line, targets, pressure.longest)

    @property
    def least_late(self) -> int:
        """By how much goals must be late together, by their chains alone."""
        could = self._way(0)[1].could
        pairs = zip(could, self.inner.due, strict=True)
        return sum(max(0, at - due) for at, due in pairs)

    @property
    def is_late(self) -> bool:
        """Whether goals are later than they must be, or something is left out."""
        left_out, hard, late, *_ = self.best_cost
        return left_out > 0 or hard > 0 or late > self.least_late

    # From nothing -----------------------------------------------------------------------------

    def first(self) -> Placing:
        """Return the best of a few plans, for whoever waits: never later than a plain rule's."""
        for _ in self._plain_starts():
            pass
        return self._best()

    def begin(self, rounds: int, stop: Callable[[], bool]) -> None:
        """Try the rules, forward in time and ahead, each with each way to tie windows.

        Those that no plan may be later than are tried however few the rounds.
        """
        for _ in self._plain_starts():
            if stop():
                return
        starts = [self._sooner_ends(), self._forward_starts()] if self.has_hands else []
        if not self.in_rooms or not self.has_hands or len(self.inner.keys) <= AHEAD_STEPS:
            starts.append(self._ahead_starts())
        if self.tries >= rounds:
            return
        for start in starts:
            for _ in start:
                if self.tries >= rounds or stop():
                    return

    def main_forward(self) -> tuple[Forward, Blocks, list[int]]:
        """Return how to place forward in time by the first of its rules, sittings in one go."""
        blocks = blocks_of(self.inner, keep_soft=True, soft_below_min=WIDE_MIN)
        pressure = Pressure(self.inner, blocks)
        return Forward(self.inner, blocks), blocks, pressure.keys(ORDERLY_RULE)

    def _plain_starts(self) -> Iterator[None]:
        if self.has_hands:
            self._by_forward_rule(FORWARD_RULES[0])
            yield
            if self.is_late:
                for rule in FORWARD_RULES[1:FIRST_RULES]:
                    self._by_forward_rule(rule)
                    yield
                yield from self._by_plain_rules()
        if not self.in_rooms or (self.is_late and len(self.inner.keys) <= FEW_STEPS):
            self._ahead(RULES[0], self._modes[0])
            yield

    def _by_plain_rules(self) -> Iterator[None]:
        """Go by the plain rules, also with a coat right after what makes ready for it."""
        for mode in range(len(self._modes)):
            for keys in self._way(mode)[1].plain_keys():
                self.by_keys(mode, keys)
                yield

    def _forward_starts(self) -> Iterator[None]:
        for rule in FORWARD_RULES:
            if rule not in self._tried:
                self._by_forward_rule(rule)
                yield

    def _sooner_ends(self) -> Iterator[None]:
        """Aim at a common end, halfway between what chains need and the best one, again and again.

        Where nothing is late the rules let everything wait for its due date, and the end with it.
        """
        if self.is_late:
            return
        rule, least = FORWARD_RULES[0], self._way(0)[1].longest
        for _ in range(SOONER_ENDS):
            late, finish = self.best_cost[2], self.best_cost[4]
            if finish - least < SOONER_BY_MIN:
                return
            end = (least + finish) // 2
            cost = self.costing.cost_of(self._by_forward_rule(rule, end))
            if cost[2] > late or cost[4] > end:
                least = end
            yield

    def _by_forward_rule(self, rule: ForwardRule, end: int = NEVER) -> Placing:
        ties = [blocks.keep_soft for blocks in self._modes]
        mode = ties.index(rule.ties_soft) if rule.ties_soft in ties else 0
        self._tried.append(rule)
        return self.by_keys(mode, self._way(mode)[1].keys(rule, end=end))

    def _ahead_starts(self) -> Iterator[None]:
        there = [(rule, blocks) for _, _, rule, blocks in self._begun]
        for rule, blocks in product(RULES[: self._ahead_rules], self._modes):
            if all(rule is not r or blocks is not b for r, b in there):
                self._ahead(rule, blocks)
                yield

    def _ahead(self, rule: Rule, blocks: Blocks) -> None:
        placing = self.by_rule(rule, blocks)
        self._begun.append((_guide(self.costing.cost_of(placing)), placing, rule, blocks))

    def by_keys(self, mode: int, keys: list[int]) -> Placing:
        """Place all forward in time by keys."""
        run = self._way(mode)[0].place(keys)
        self._keyed.append((self.judge(run.placing), mode, keys))
        return run.placing

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
        cost = self.costing.cost_of(placing)
        self.tries += 1
        if cost < self.best_cost:
            self.best, self.best_cost = placing, cost
        return _guide(cost)

    # From an order ----------------------------------------------------------------------------

    def improve(self, rounds: int, stop: Callable[[], bool]) -> None:
        """Climb, forward in time and ahead, until the rounds are over or it is told to stop."""
        if self.best is None or len(self.best.blocks.members) < 2:
            return

        def over() -> bool:
            return self.tries >= rounds or stop()

        if over():
            return
        ahead = self._climbing_ahead(over) if self._begun else None
        forward = self._climbing_forward(over) if self._keyed and self.in_rooms else None
        share = AHEAD_SHARE_OF_FEW if len(self.inner.keys) <= FEW_STEPS else AHEAD_SHARE
        spent = {True: 0, False: 0}
        while not over():
            by_now = spent[True] < share * (spent[True] + spent[False])
            is_ahead = forward is None or (ahead is not None and by_now)
            before = self.tries
            next(ahead if is_ahead else forward, None)  # type: ignore[arg-type]
            spent[is_ahead] += self.tries - before
            if self.tries == before:
                return

    def _climbing_forward(self, over: Callable[[], bool]) -> Iterator[None]:
        self._keyed.sort(key=lambda one: one[0])
        for _, mode, keys in cycle(self._keyed):
            climb = ForwardClimb(self, *self._way(mode), keys)
            _until_tired(climb.step, FORWARD_TIRED, self, over)
            yield

    def _climbing_ahead(self, over: Callable[[], bool]) -> Iterator[None]:
        self._begun.sort(key=lambda one: one[0])
        turns = self._in_rooms() if self.in_rooms else self._freely()
        for start, blocks in turns:
            _until_tired(Climb(self, start, blocks).step, TIRED, self, over)
            yield

    def _freely(self) -> Iterator[tuple[Placing, Blocks]]:
        """Give where to climb from, and how, where no room has a rule: always the best so far."""
        for way in cycle([self._untied(), *self._modes]):
            yield self._best(), way

    def _in_rooms(self) -> Iterator[tuple[Placing, Blocks]]:
        """Give the same where rooms have rules: climbing does most."""
        wide = blocks_of(self.inner, keep_soft=False, shorter_min=WIDE_MIN)
        ways = [*self._modes, wide, self._untied()]
        yield self._best(), self._best().blocks
        for turn in count(1):
            way = ways[turn % len(ways)]
            if turn % OFTEN:
                yield self._best(), way
            else:
                yield self._begun[turn // OFTEN % len(self._begun)][1], way

    def _untied(self) -> Blocks:
        return blocks_of(self.inner, keep_soft=False, shorter_min=0)

    def _best(self) -> Placing:
        assert self.best is not None  # noqa: S101  # nothing is climbed from before it begins
        return self.best

    def held_up(self, placing: Placing, goal: int) -> list[tuple[int, int]]:
        """Return what a goal hangs on that could have begun sooner, and how soon."""
        inner, board = self.inner, placing.board
        start, end = board.start, board.end
        lasts = self.costing.last[goal] if goal >= 0 else self.costing.last_of_all
        number = -1
        if lasts:
            number, _ = max(lasts, key=lambda last: end[last[0]] + last[1])
        found = []
        seen: set[int] = set()
        # Waits that go back in time can run in a circle, and would be followed round and round.
        while number >= 0 and number not in seen:
            seen.add(number)
            ready, then = inner.release[number], -1
            for other, least in inner.before[number]:
                if end[other] + least >= ready:
                    ready, then = end[other] + least, other
            if ready < start[number]:
                found.append((number, ready))
            number = then
        return found


def _until_tired(
    step: Callable[[], None], patience: int, search: Search, over: Callable[[], bool]
) -> None:
    tired = 0
    while tired < patience and not over():
        before = search.best_cost
        step()
        tired = 0 if search.best_cost < before else tired + 1


def _guide(cost: Cost) -> float:
    """Return a cost that falls on the way to a better plan, where a score is flat."""
    out, hard, late, latest, finish, remedies, goals = cost
    broken = (out * OUT_WEIGHT + hard) * HARD_WEIGHT
    ends = finish * FINISH_WEIGHT + goals
    return (broken + late) * LATE_WEIGHT + latest + ends + remedies
