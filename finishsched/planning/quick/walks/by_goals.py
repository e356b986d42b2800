"""Walking from order to order of goals: change one, place goal by goal, keep what is no worse.

How many goals are placed one by one, before the rest is placed around them, is walked on too.

What comes before the first goal that changed its turn is not placed again, and a plan that is known
to be later than is of use is not placed to its end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from finishsched.planning.numbers.inner import NEVER
from finishsched.planning.quick.cost import LATE_WEIGHT
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.so_far import SoFar
from finishsched.planning.quick.walks.goal_by_goal import GoalByGoal, Stage

WARM_MIN = 1000
"""A plan that is later by so many minutes in all is gone on from in one case of three."""
AIMED = 0.5
"""How often a move is about a goal that is later than it has to be."""
AIMED_SOONER, AIMED_EXCHANGED = 0.5, 0.75
"""Such a goal comes sooner, or changes places; the rest of the time one before it comes later."""
MOVED, EXCHANGED = 0.6, 0.9
"""The other moves by shares, one after the other; else some neighbours are mixed."""
MIXED = (2, 3, 4, 5)
"""How many neighbours are mixed."""
HEADS = (2, 4, 8, 16)
"""How many goals are placed one by one to begin with, in a walk beside that which places all."""
HEAD_MOVED, HEAD_BY = 0.1, (-3, -2, -1, 1, 2, 3)
"""How often that is changed, and by how many."""


class GoalClimb:
    """One walk from order to order of goals."""

    def __init__(self, so_far: SoFar, by_goal: GoalByGoal, heads: Sequence[int]) -> None:
        """Begin with the order in which the goals press.

        Args:
            so_far: judges each plan, and keeps the best.
            by_goal: places goals in an order.
            heads: how many of them to place one by one; it begins with the best of these.

        """
        self.so_far = so_far
        self.by_goal = by_goal
        self.order = by_goal.goals
        self.guide = math.inf
        self.head = 0
        """How many goals are placed one by one."""
        self.stages: list[Stage] = []
        """Boards along the plan to go on from."""
        for head in heads:
            stages: list[Stage] = []
            placing = by_goal.place(self.order, head, stages, NEVER)
            assert placing is not None  # noqa: S101  # nothing is later than that
            guide = so_far.judge(placing)
            if guide < self.guide:
                self.head, self.stages = head, stages
                self._go_on_from(placing, guide)

    def _go_on_from(self, placing: Placing, guide: float) -> None:
        """Know what a plan comes to, and which of its goals are later than they have to be."""
        self.guide = guide
        costing = self.so_far.costing
        finishes = costing.finishes(placing)
        self.late_min = costing.cost(placing, finishes).late_and_split_min
        due, least_late = self.by_goal.inner.due, self.by_goal.least_late
        self.late = [
            goal for goal in self.by_goal.goals if finishes[goal] - due[goal] > least_late[goal]
        ]

    def step(self) -> None:
        """Try another order, and go on from there if it is no worse, or only a little."""
        so_far = self.so_far
        so_far.tries += 1
        head, order = self.head, self.order
        if so_far.chance.random() < HEAD_MOVED:
            head = min(max(head + so_far.chance.choice(HEAD_BY), 1), len(order))
        else:
            order = self._another_order()
        same = 0
        while same < min(head, self.head) and order[same] == self.order[same]:
            same += 1
        if same == head == self.head:
            return
        worse_min = -WARM_MIN * math.log(1.0 - so_far.chance.random())
        stages = self.stages[: same + 1]
        placing = self.by_goal.place(order, head, stages, self.late_min + int(worse_min))
        if placing is None:
            return
        so_far.tries -= 1
        guide = so_far.judge(placing)
        if guide <= self.guide + worse_min * LATE_WEIGHT:
            self.order, self.head, self.stages = order, head, stages
            self._go_on_from(placing, guide)

    # Moves --------------------------------------------------------------------------------------

    def _another_order(self) -> list[int]:
        """Return the order, changed by one of the moves."""
        order = self.order[:]
        chance = self.so_far.chance
        if self.late and chance.random() < AIMED:
            self._aim(order)
            return order
        draw = chance.random()
        if draw < MOVED:
            goal = order.pop(chance.randrange(len(order)))
            order.insert(chance.randrange(self.head + 1), goal)
        elif draw < EXCHANGED:
            _exchange(order, chance.randrange(self.head), chance.randrange(len(order)))
        else:
            self._mix(order)
        return order

    def _aim(self, order: list[int]) -> None:
        """Have a late goal come sooner, or one that comes before it later."""
        chance = self.so_far.chance
        at = order.index(chance.choice(self.late))
        if not at:
            return
        other = chance.randrange(min(at, self.head))
        draw = chance.random()
        if draw < AIMED_SOONER:
            order.insert(other, order.pop(at))
        elif draw < AIMED_EXCHANGED:
            _exchange(order, at, other)
        else:
            order.insert(chance.randrange(at, len(order)), order.pop(other))

    def _mix(self, order: list[int]) -> None:
        """Mix some neighbours."""
        chance = self.so_far.chance
        first = chance.randrange(self.head)
        some = order[first : first + chance.choice(MIXED)]
        chance.shuffle(some)
        order[first : first + len(some)] = some


def _exchange(order: list[int], one: int, other: int) -> None:
    """Let two goals change places."""
    order[one], order[other] = order[other], order[one]
