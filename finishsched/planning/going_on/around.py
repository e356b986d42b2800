"""Plans placed around what stays of an old one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from finishsched.planning.numbers.inner import NEVER, NOT
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.cost import Cost
from finishsched.planning.quick.forward import Kept
from finishsched.planning.quick.keeping import Keeping, Stays, in_vain
from finishsched.planning.quick.keys import FORWARD_RULES
from finishsched.planning.quick.ordering import PLACED, Halt, heads_of, place_in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.search import Search
from finishsched.planning.quick.ways import orderly

LET_GO = 6
"""How often what was kept in vain is let go, and the rest placed again."""


Place: TypeAlias = Callable[[Kept], Placing]
"""Places all around what is kept."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A plan as it lies on the board, and what it costs: to write it out takes longer."""

    around: Around
    placing: Placing
    cost: Cost

    def plan(self) -> Plan:
        """Return it as a plan that others can read."""
        return self.around.plan(self.placing)


class Around:
    """Places plans around more and less of what stays."""

    def __init__(self, problem: Problem, old: Plan) -> None:
        """Know the problem in numbers, and what goes first where nothing stays.

        Args:
            problem: what is to do now.
            old: the plan up to now.

        """
        self.problem = problem
        self.old = old
        self.inner = inner_of(problem)
        self.forward, self.pressure, self.keys = orderly(self.inner)
        self.search = Search(self.inner, 0)
        self.placed_count = 0
        """How many plans were placed."""
        hands = {each.name: number for number, each in enumerate(problem.hands)}
        self._keeping = Keeping(self.inner, self.forward.blocks, old, hands)

    def plan(self, placing: Placing) -> Plan:
        """Return what is placed as a plan that others can read; what held it back is left open."""
        return plan_of(self.problem, placing, reasons=False)

    def laid(self, placing: Placing) -> Laid:
        """Return what is placed with its cost."""
        return Laid(self, placing, self.search.costing.cost_of(placing))

    def kept(self, stays: Stays, *, before_too: bool = True) -> Kept:
        """Return what stays of the old plan, of all that is to.

        Args:
            stays: which of it is to stay, if it can.
            before_too: whether nothing stays that waits for what does not.

        """
        return self._keeping.kept(stays, before_too=before_too)

    def placed(self, keys: Sequence[int], kept: Kept) -> Placing:
        """Return all placed by keys around what is kept."""
        self.placed_count += 1
        return self.forward.place_around(keys, kept).placing

    def placed_in_order(self, order: Sequence[int], kept: Kept) -> Placing:
        """Return all placed in an order of blocks, each as early as it fits around what is kept."""
        self.placed_count += 1
        state = bytearray(len(self.forward.blocks.members))
        for block in kept.blocks:
            state[block] = PLACED
        placing = Placing(self.inner, self.forward.blocks)
        place_in_order(placing, order, Halt(0, kept.placing.board, state))
        return placing

    def placed_not_before(self, order: Sequence[int], not_before: Mapping[int, int]) -> Placing:
        """Return all placed in an order of blocks, each as early as it fits.

        Args:
            order: the blocks.
            not_before: by activity, the minute before which it does not begin, for some of them.

        """
        self.placed_count += 1
        placing = Placing(self.inner, self.forward.blocks)
        placing.floor = self.inner.release[:]
        for number, minute in not_before.items():
            placing.floor[number] = max(placing.floor[number], minute)
        place_in_order(placing, order)
        return placing

    def closely_placed(self, place: Place, stays: Stays) -> Placing:
        """Return a plan around all that is to stay, though what is before some of it does not.

        What was kept in vain is let go, and the rest placed again; where that comes to no end,
        nothing stays that waits for what does not.

        Args:
            place: places the rest.
            stays: which of the old plan is to stay, if it can.

        """
        let_go: set[int] = set()

        def stays_yet(block: int, begun: int) -> bool:
            """Tell whether a block is to stay, and was not kept in vain."""
            return block not in let_go and stays(block, begun)

        for _ in range(LET_GO):
            kept = self.kept(stays_yet, before_too=False)
            placing = place(kept)
            vain = in_vain(placing, kept.blocks)
            if not vain:
                return placing
            let_go |= vain
        return place(self.kept(stays_yet))

    def keys_of_rules(self) -> list[list[int]]:
        """Return the keys by which the rules forward in time would place all, each rule's once."""
        rules = {replace(rule, ties_soft=False): None for rule in FORWARD_RULES}
        return [self.pressure.keys(rule) for rule in rules]

    def least_moved(self, plan: Plan, from_min: int, to_min: int) -> list[int]:
        """Return the blocks that began between two minutes in the old plan, what moved least first.

        Args:
            plan: where they lie now.
            from_min: the one minute, which counts.
            to_min: the other, which does not.

        """
        was, now = starts_of(self.old), starts_of(plan)
        found: list[tuple[int, int]] = []
        for block, number in enumerate(self.forward.first):
            key = self.inner.keys[number]
            begun = was.get(key, NOT)
            if from_min <= begun < to_min:
                moved_min = abs(now.get(key, NEVER) - begun)
                found.append((moved_min, block))
        return [block for _, block in sorted(found)]

    def order_of(self, plan: Plan) -> list[int]:
        """Return the blocks in the order in which they begin in a plan, what it has not last."""
        was = starts_of(plan)
        heads = heads_of(self.inner, self.forward.blocks)
        turns = [was.get(self.inner.keys[head], NEVER) for head in heads]
        return sorted(range(len(turns)), key=turns.__getitem__)

    def in_order_of(self, plan: Plan) -> list[int]:
        """Return keys by which what begins first in a plan goes first."""
        was = starts_of(plan)
        last = max(was.values(), default=0)
        return [was.get(self.inner.keys[number], last) for number in self.forward.first]


def starts_of(plan: Plan) -> dict[str, int]:
    """Return by key the minute at which each begins."""
    return {placed.key: placed.start_min for placed in plan.placed}
