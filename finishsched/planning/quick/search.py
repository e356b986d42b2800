"""The best plan so far of a problem, and looking for a better one: by rules, then by climbing.

The rules are here; what climbs, and whose turn it is, in `walks/`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import product

from finishsched.planning.numbers.inner import NEVER, Inner
from finishsched.planning.numbers.start_bounds import latest_starts
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.dispatch import RULES, Rule, dispatch
from finishsched.planning.quick.keys import FORWARD_RULES, ForwardRule
from finishsched.planning.quick.ordering import in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.so_far import Begun, Keyed, SoFar
from finishsched.planning.quick.walks.back_and_forth import BackAndForth, goes_both_ways
from finishsched.planning.quick.walks.by_goals import HEADS, GoalClimb
from finishsched.planning.quick.walks.goal_by_goal import GoalByGoal, goes_by_goals
from finishsched.planning.quick.walks.turns import FEW_STEPS, Walks

FIRST_RULES, PLAIN_STARTS = 3, 14
"""So many rules forward in time are tried even where somebody waits and something is late; with the
three plain ones, windows tied in two ways, that makes so many plans."""
SOONER_ENDS, SOONER_BY_MIN = 7, 60
"""How often a sooner common end is aimed at, and from what gain on it is tried."""
RULES_IN_ROOMS = 2
"""How many rules that place ahead in time are begun with where a room has rules: more gave nothing
that could be measured."""
RULES_BOTH_WAYS = 5
"""The same where time can run backwards: there placing back and forth does most."""
AHEAD_STEPS = 1500
"""With more steps nothing is placed ahead in time where a room has rules: it never helps there, and
takes longest."""
ALL_GOALS_STEPS, GOALS_STEPS = 1500, 4000
"""With more steps not all goals are placed one by one, for there hands are short too; and with many
more none, since it would take too long."""


class Search(SoFar):
    """The best plan so far of a problem, and the means to find a better one."""

    def __init__(self, inner: Inner, seed: int) -> None:
        """Know which rules are worth a try in this problem.

        Args:
            inner: the problem in numbers.
            seed: for all that is left to chance.

        """
        super().__init__(inner, seed)
        self.goals: list[GoalClimb] = []
        """The walks from order to order of goals, where they are placed one by one."""
        self._tried: list[ForwardRule] = []
        self._plain = self._plain_starts()
        """The plain starts that are not tried yet."""
        self._first: Placing | None = None
        """The best plan of the plain starts, once all are tried."""
        self._both_ways = goes_both_ways(inner)
        few_rules = self.in_rooms and self.has_hands
        self._ahead_rules = RULES[:RULES_IN_ROOMS] if few_rules else RULES
        if self._both_ways:
            self._ahead_rules = RULES[:RULES_BOTH_WAYS]

    @cached_property
    def _latest(self) -> list[int]:
        """Return the latest starts that the rules of placing ahead go by.

        With these each goal is on time if it can be, and else as early as could be.
        """
        _, pressure = self.ways.forward(0)
        targets = []
        for due, could in zip(self.inner.due, pressure.could, strict=True):
            targets.append(pressure.longest if due >= NEVER else max(due, could))
        return latest_starts(self.inner, pressure.line, targets, pressure.longest)

    # From nothing -----------------------------------------------------------------------------

    def first(self) -> Placing:
        """Return the best of a few plans, for whoever waits: never later than a plain rule's."""
        for _ in self._plain:
            pass
        self._first = self._first or self.best_plan()
        return self._first

    def begin(self, rounds: int, stop: Callable[[], bool]) -> None:
        """Try the rules, forward in time and ahead, each with each way to tie windows.

        Args:
            rounds: after so many plans it ends; those that no plan may be later than are tried
                however few they are.
            stop: asked after each plan; True ends it.

        """
        for _ in self._plain:
            if self.given_up or stop():
                return
        self._first = self._first or self.best
        if self.tries >= rounds:
            return
        for _ in self._further_starts():
            if self.tries >= rounds or self.given_up or stop():
                return

    def _further_starts(self) -> Iterator[None]:
        """Try whatever is worth it in this problem beyond the plain starts, a plan at a time."""
        if self.has_hands:
            yield from self._sooner_ends()
            yield from self._forward_starts()
        steps = len(self.inner.keys)
        if not self.in_rooms or not self.has_hands or steps <= AHEAD_STEPS:
            yield from self._ahead_starts()

    def _plain_starts(self) -> Iterator[None]:
        """Try what whoever waits gets at once: as little as will do, if nothing is late.

        The plain rules are among it wherever something is, so that no plan is later than theirs.
        """
        if self.has_hands:
            self._by_forward_rule(FORWARD_RULES[0])
            yield
            if self.is_late:
                yield from self._goal_starts()
                for rule in FORWARD_RULES[1:FIRST_RULES]:
                    self._by_forward_rule(rule)
                    yield
                yield from self._by_plain_rules()
        if not self.in_rooms or (self.is_late and len(self.inner.keys) <= FEW_STEPS):
            self._ahead(RULES[0], self.ways.blocks(0))
            yield

    def _goal_starts(self) -> Iterator[None]:
        """Place goal by goal, what presses most first."""
        forward, pressure = self.ways.forward(0)
        steps = len(self.inner.keys)
        if steps <= GOALS_STEPS and self.in_rooms and goes_by_goals(self.inner, pressure):
            by_goal = GoalByGoal(forward, pressure, self.costing)
            many = len(by_goal.goals)
            heads = [head for head in HEADS if head < many]
            ways = [[many], heads] if steps <= ALL_GOALS_STEPS else [heads]
            for way in filter(None, ways):
                self.goals.append(GoalClimb(self, by_goal, way))
                yield

    def _by_plain_rules(self) -> Iterator[None]:
        """Go by the plain rules, also with a coat right after what makes ready for it.

        They are what anybody would do: a plan that is worse has no excuse.
        """
        for mode in range(len(self.ways.ties)):
            _, pressure = self.ways.forward(mode)
            for keys in pressure.plain_keys():
                self.by_keys(mode, keys)
                yield

    def _forward_starts(self) -> Iterator[None]:
        """Go by the other rules that place forward in time.

        None of them is the best in every shop; together they give the climb good places to begin.
        """
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
        _, pressure = self.ways.forward(0)
        least = pressure.longest
        for _ in range(SOONER_ENDS):
            best = self.best_cost
            if best.finish_min - least < SOONER_BY_MIN:
                return
            # Halved each time: an end that came out is the best now, one that did not is too soon.
            end = (least + best.finish_min) // 2
            cost = self.costing.cost_of(self._by_forward_rule(FORWARD_RULES[0], end))
            if cost.late_and_split_min > best.late_and_split_min or cost.finish_min > end:
                least = end
            yield

    def _by_forward_rule(self, rule: ForwardRule, end: int = NEVER) -> Placing:
        """Place all forward in time by a rule, with windows tied as it asks where they can be."""
        mode = self.ways.ties.index(rule.ties_soft) if rule.ties_soft in self.ways.ties else 0
        _, pressure = self.ways.forward(mode)
        self._tried.append(rule)
        return self.by_keys(mode, pressure.keys(rule, end=end))

    def _ahead_starts(self) -> Iterator[None]:
        """Go by the rules that place ahead in time, each with each way to tie windows.

        They may leave hands idle for what presses, which forward in time is never done.
        """
        begun = [(id(one.rule), id(one.blocks)) for one in self.begun]
        for rule, blocks in product(self._ahead_rules, self.ways.blocks_in_each):
            if (id(rule), id(blocks)) not in begun:
                self._ahead(rule, blocks)
                yield

    def _ahead(self, rule: Rule, blocks: Blocks) -> None:
        """Place all ahead in time by a rule, and keep the plan to climb from."""
        placing = dispatch(self.inner, blocks, self._pressing(rule, blocks))
        self.begun.append(Begun(self.judge(placing), placing, rule, blocks))

    def by_keys(self, mode: int, keys: list[int]) -> Placing:
        """Place all forward in time by keys, and keep these to climb from."""
        forward, _ = self.ways.forward(mode)
        placing = forward.place(keys).placing
        self.keyed.append(Keyed(self.judge(placing), mode, keys))
        return placing

    def _pressing(self, rule: Rule, blocks: Blocks) -> list[float]:
        """Return the minutes that a rule adds to the earliest start of each block."""
        pressing = []
        for members in blocks.members:
            latest = min([self._latest[number] for number in members])
            minutes = rule.weight * latest
            if any(self.bare[number] for number in members):
                minutes += rule.bare_min
            pressing.append(minutes)
        return pressing

    def by_order(self, order: Sequence[int]) -> None:
        """Place all in an order of activities."""
        loose = min(self.ways.blocks_in_each, key=lambda blocks: blocks.keep_soft)
        self.judge(in_order(self.inner, loose, order))

    # From an order ----------------------------------------------------------------------------

    def improve(self, rounds: int, stop: Callable[[], bool]) -> None:
        """Climb from what it began with, until the rounds are over or it is told to stop.

        All kinds of walks take turns, so that each has its share of the tries.

        Args:
            rounds: after so many plans it ends, those that it began with counted.
            stop: asked after each plan; True ends it.

        """
        if self.best is None or len(self.best.blocks.members) < 2:
            return

        def over() -> bool:
            """Tell whether all rounds are over, or somebody says stop."""
            return self.tries >= rounds or self.given_up or stop()

        if self._both_ways:
            self.begun.sort(key=lambda one: one.guide)
            climb = BackAndForth(self).climb([one.placing for one in self.begun])
            while not over() and next(climb, self) is None:
                pass
            return
        if over():
            return
        Walks(self, self.goals, over).go()
