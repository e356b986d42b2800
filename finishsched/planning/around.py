"""Plans placed around what stays of an old one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeAlias

from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.forward import Kept
from finishsched.planning.quick.inner import NEVER
from finishsched.planning.quick.keeping import Stays, in_vain, kept_of
from finishsched.planning.quick.keys import FORWARD_RULES
from finishsched.planning.quick.numbering import inner_of
from finishsched.planning.quick.ordering import PLACED, Halt, heads_of, place_in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.search import Search
from finishsched.planning.quick.ways import orderly

LET_GO = 6
"""How often what was kept in vain is let go, and the rest placed again."""


Place: TypeAlias = Callable[[Kept], Placing]
"""Places all around what is kept."""


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
        self._hands = {each.name: number for number, each in enumerate(problem.hands)}

    def plan(self, placing: Placing) -> Plan:
        """Return what is placed as a plan that others can read; what held it back is left open."""
        return plan_of(self.problem, placing, reasons=False)

    def kept(self, stays: Stays, *, before_too: bool = True) -> Kept:
        """Return what stays of the old plan, of all that is to.

        Args:
            stays: which of it is to stay, if it can.
            before_too: whether nothing stays that waits for what does not.

        """
        blocks = self.forward.blocks
        return kept_of(self.inner, blocks, self.old, self._hands, stays, before_too=before_too)

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

    def by_goal(self, wanted: Callable[[int], bool]) -> list[list[int]]:
        """Return by goal the blocks that are wanted by when they begin in the old plan.

        Those of a goal are in the order in which they begin; the goal with the most comes first.
        """
        was = _starts(self.old)
        found: dict[int, list[tuple[int, int]]] = {}
        for block, number in enumerate(self.forward.first):
            begun = was.get(self.inner.keys[number])
            if begun is not None and wanted(begun):
                found.setdefault(self.inner.goal[number], []).append((begun, block))
        with_most_first = sorted(found.values(), key=len, reverse=True)
        return [[block for _, block in sorted(goal)] for goal in with_most_first]

    def order_of(self, plan: Plan) -> list[int]:
        """Return the blocks in the order in which they begin in a plan, what it has not last."""
        was = _starts(plan)
        heads = heads_of(self.inner, self.forward.blocks)
        turns = [was.get(self.inner.keys[head], NEVER) for head in heads]
        return sorted(range(len(turns)), key=turns.__getitem__)

    def in_order_of(self, plan: Plan) -> list[int]:
        """Return keys by which what begins first in a plan goes first."""
        was = _starts(plan)
        last = max(was.values(), default=0)
        return [was.get(self.inner.keys[number], last) for number in self.forward.first]


def _starts(plan: Plan) -> dict[str, int]:
    """Return by key the minute at which each begins."""
    return {placed.key: placed.start_min for placed in plan.placed}
