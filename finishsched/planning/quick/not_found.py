"""What the rules have found no place for, though a calendar may have room for it.

Windows can tie activities to each other in a circle: each must come soon after another, and that
soon after the first. The rules push one after the other later until all fit, and give up after a
while. That proves nothing: the exact planner may find a plan, or prove that there is none.
"""

from __future__ import annotations

from finishsched.planning.numbers.inner import Inner
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.blocks import Blocks, blocks_of


def not_found(problem: Problem, plan: Plan) -> tuple[str, ...]:
    """Return what a plan leaves out because rules found no place for it, and what follows that.

    Args:
        problem: what was planned, without faults.
        plan: of the quick planner.

    Returns:
        Keys, in the order in which the plan leaves them out. What else it leaves out no calendar
        has room for.

    """
    if not plan.left_out:
        return ()
    inner = inner_of(problem)
    if inner.line is not None:
        return ()
    blocks = blocks_of(inner, keep_soft=False)
    hopeless = _hopeless(inner, blocks, set(plan.left_out))
    found: list[str] = []
    for key in plan.left_out:
        number = inner.index[key]
        if blocks.of[number] in hopeless:
            found.append(key)
    return tuple(found)


def _hopeless(inner: Inner, blocks: Blocks, left_out: set[str]) -> set[int]:
    """Return the blocks whose circle was given up, and all that wait for one of these.

    Args:
        inner: the problem in numbers.
        blocks: what is placed together, in the order of waits.
        left_out: keys of activities.

    """
    found: set[int] = set()
    for block, members in enumerate(blocks.members):
        keys = [inner.keys[number] for number in members]
        is_out = not left_out.isdisjoint(keys)
        waits_for_one = not found.isdisjoint(blocks.before[block])
        if is_out and (blocks.knotted[block] or waits_for_one):
            found.add(block)
    return found
