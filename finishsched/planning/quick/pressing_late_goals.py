"""Building plan after plan from nothing, with the goals that came last pressing more each time.

One rule for all goals is fair to none: what it keeps waiting shows only once the plan is there.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.dispatch import Rule, dispatch
from finishsched.planning.quick.inner import NEVER

if TYPE_CHECKING:
    from finishsched.planning.quick.placing import Placing
    from finishsched.planning.quick.search import Search

NEAR_MIN = 1440
"""Goals reached so near the end of all press too, where nobody waits for them; and lateness beyond
it presses no more."""
LEAST = 0.5
"""The weight by which goals are hurried at least, where a rule's own is less."""
PATIENCE = 12
"""After so many plans that are no better it ends."""


def press_late_goals(
    search: Search, rule: Rule, blocks: Blocks, stop: Callable[[], bool]
) -> tuple[float, Placing] | None:
    """Return the best plan that a rule comes to when late goals are hurried again and again."""
    chance, goal, due = search.chance, search.inner.goal, search.inner.due
    step = max(rule.weight, LEAST)
    pressing = search.pressing(rule, blocks)
    boost = [0.0] * (len(due) + 1)  # the last for what belongs to no goal
    best: tuple[float, Placing] | None = None
    idle = 0
    while idle < PATIENCE and not stop():
        hurried = [
            press - boost[goal[members[0]]]
            for press, members in zip(pressing, blocks.members, strict=True)
        ]
        placing = dispatch(search.inner, blocks, hurried)
        guide = search.judge(placing)
        idle = idle + 1
        if best is None or guide < best[0]:
            best, idle = (guide, placing), 0
        finishes = search.costing.finishes(placing)
        near = max(finishes, default=0) - NEAR_MIN
        for number, reached in enumerate(finishes):
            over = reached - (near if due[number] >= NEVER else due[number])
            if over > 0:
                boost[number] += chance.random() * step * min(over, NEAR_MIN)
    return best
