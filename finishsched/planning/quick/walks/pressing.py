"""Which goals are worth hurrying, and what could be done sooner for one of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from finishsched.factors import DAY_MIN
from finishsched.planning.numbers.inner import NOT
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.cost import Costing, Last
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.so_far import SoFar

NEAR_END_MIN = DAY_MIN
"""Where nothing is late, the goals that press are those reached within a day of the end."""


class Pressed(NamedTuple):
    """The goals that are worth hurrying."""

    goals: list[int]
    late: bool
    """Whether they are, because they are late; else they are the last."""


class Pulled(NamedTuple):
    """A block that is worth pulling, and one that it may go before."""

    block: int
    before: int


class HeldUp(NamedTuple):
    """An activity that could have begun sooner."""

    number: int
    ready_min: int
    """When all that it waits for was over."""


def pressed_goals(costing: Costing, finishes: list[int], goals: Iterable[int]) -> Pressed:
    """Return the goals that are late, or where none is, those reached last.

    Args:
        costing: knows when goals are due.
        finishes: by goal, the minute at which it is reached.
        goals: those that can be hurried.

    """
    due = costing.inner.due
    late: list[int] = []
    last: list[int] = []
    near_end = max(finishes, default=NOT) - NEAR_END_MIN
    for goal in goals:
        if finishes[goal] > due[goal]:
            late.append(goal)
        if finishes[goal] > near_end:
            last.append(goal)
    return Pressed(late or last, bool(late))


def held_up(costing: Costing, placing: Placing, goal: int) -> list[HeldUp]:
    """Return what a goal hangs on that could have begun sooner.

    From the activity that the goal is reached with the way is followed back, from each to the one
    that it waited for longest. Only what lies on this chain can bring the goal sooner.

    Args:
        costing: knows which activities can be the last of a goal.
        placing: the plan.
        goal: its number, or -1 for what belongs to none.

    """
    board = placing.board
    number = _last_of(costing, placing, goal)
    found: list[HeldUp] = []
    seen: set[int] = set()
    # Waits that go back in time can run in a circle, and would be followed round and round.
    while number >= 0 and number not in seen:
        seen.add(number)
        ready = costing.inner.release[number]
        waited_for = -1
        for other, least in costing.inner.before[number]:
            wait_over = board.end[other] + least
            if wait_over >= ready:
                ready = wait_over
                waited_for = other
        if ready < board.start[number]:
            found.append(HeldUp(number, ready))
        number = waited_for
    return found


def _last_of(costing: Costing, placing: Placing, goal: int) -> int:
    """Return the activity that a goal is reached with; -1 where it has none left to do.

    Args:
        costing: knows which activities can be the last of a goal.
        placing: the plan.
        goal: its number, or -1 for what belongs to none.

    """
    end = placing.board.end
    lasts = costing.last[goal] if goal >= 0 else costing.last_of_all
    if not lasts:
        return -1

    def reached(last: Last) -> int:
        """Return the end of an activity with its tail."""
        number, tail = last
        return end[number] + tail

    number, _ = max(lasts, key=reached)
    return number


def pulled(
    so_far: SoFar,
    placing: Placing,
    goals: Sequence[int],
    starts: Sequence[int],
    blocks: Blocks,
) -> Pulled | None:
    """Return something that one of these goals hangs on, and what was done before it meanwhile.

    Only what lies on the chain that ends last can bring its goal sooner. Whatever began while it
    could have begun stood in its way, or may have. None where there is nothing of the kind.

    Args:
        so_far: draws one of several.
        placing: the plan.
        goals: those that are to be reached sooner.
        starts: by block, when it begins in the plan.
        blocks: what is placed together.

    """
    chance = so_far.chance
    found = held_up(so_far.costing, placing, chance.choice(goals))
    if not found:
        return None
    number, ready = chance.choice(found)
    block = blocks.of[number]
    begun = starts[block]
    in_its_way = [other for other, at in enumerate(starts) if ready <= at < begun]
    if not in_its_way:
        return None
    return Pulled(block, before=chance.choice(in_its_way))
