"""Placing goal by goal: all of one piece, then all of the next around what lies already.

Where dust and wet keep apart it is evenings that are short, and seldom hands: the piece that is
late whatever is done must not lose one to another piece. So it is placed as if it were alone, and
what is wet as late in its evening as costs nothing, so that those who come later can make their
dust before it. No rule forward in time sees so far ahead.

Where hands are short too, only the first few are placed so, and all others around them forward in
time, where no evening is begun before the one before it is full.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Board
from finishsched.planning.quick.cost import Costing
from finishsched.planning.quick.forward import Forward, Kept
from finishsched.planning.quick.keys import FORWARD_RULES, Pressure
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.walks.as_late import AsLate

ONES_LATER = (1.0, 0.875, 0.75, 0.5, 0.25)
"""By which shares of its spare minutes a coat is tried to be laid later, the most first."""
ROWS_LATER = (1.0, 0.75, 0.5, 0.25)
"""The same for a sitting of coats."""


@dataclass(frozen=True, slots=True)
class Stage:
    """A board as it was before a goal was placed, or all that are placed forward in time."""

    board: Board
    late_min: int
    """By how much the goals before it are late, together."""


def goes_by_goals(inner: Inner, pressure: Pressure) -> bool:
    """Return whether goals can be placed one after the other: several, and none waits for another.

    Args:
        inner: the problem in numbers.
        pressure: knows the goal of each block.

    """
    goal = pressure.goal
    for block, before in enumerate(pressure.blocks.before):
        if any(goal[other] != goal[block] for other in before):
            return False
    # What holds a store until something else begins may have to be put off.
    return len(set(goal)) > 1 and min(goal) >= 0 and not any(inner.frees)


class GoalByGoal:
    """What all plans of a problem that are placed goal by goal share."""

    def __init__(self, forward: Forward, pressure: Pressure, costing: Costing) -> None:
        """Tell the blocks of each goal.

        Args:
            forward: places the rest, and knows what is placed together.
            pressure: knows which blocks lie bare, and when goals could be reached.
            costing: knows what a goal is reached with.

        """
        self.forward = forward
        self.inner = inner = forward.inner
        self.blocks: Blocks = forward.blocks
        self.rest_keys = pressure.keys(FORWARD_RULES[0])
        self.costing = costing
        self.bare = pressure.bare
        """By block, whether something in its room would spoil any of it."""
        self.of_goal: list[list[int]] = [[] for _ in inner.due]
        """By goal, its blocks, each after those that it waits for."""
        for block, goal in enumerate(pressure.goal):
            self.of_goal[goal].append(block)
        pairs = zip(pressure.could, inner.due, strict=True)
        self.least_late = [max(0, could - due) for could, due in pairs]
        """By goal, the minutes by which it is late whatever is done."""
        self.goals = self._most_pressing_first(pressure.could)
        """Those of which anything is to be placed."""
        self.as_late = AsLate(inner)

    def _most_pressing_first(self, could: list[int]) -> list[int]:
        """Return the goals by how much later they could be reached at best; undated ones last.

        Args:
            could: by goal, when it could be reached if nothing were in its way.

        """
        due = self.inner.due

        def pressing(goal: int) -> tuple[bool, int]:
            """Return what the goals are ordered by."""
            undated = due[goal] >= NEVER
            return undated, could[goal] if undated else due[goal] - could[goal]

        return sorted([goal for goal, own in enumerate(self.of_goal) if own], key=pressing)

    def place(
        self,
        goals: Sequence[int],
        head: int,
        stages: list[Stage],
        late_at_most: int,
    ) -> Placing | None:
        """Place all goals in an order; None as soon as it is known to be later than is of use.

        Args:
            goals: those that are not placed yet come after those that are.
            head: so many of them are placed one by one, the rest forward in time around them.
            stages: one before each goal that is placed already, and the one from which to go on;
                those that follow are added. None where nothing is placed.
            late_at_most: minutes by which goals may be late, together.

        """
        placing = Placing(self.inner, self.blocks)
        late_min = 0
        if stages:
            last = stages.pop()
            placing.board = last.board.copy()
            late_min = last.late_min
        least_rest = sum([self.least_late[goal] for goal in goals[len(stages) :]])
        for goal in goals[len(stages) : head]:
            stages.append(Stage(placing.board.copy(), late_min))
            for block in self.of_goal[goal]:
                self._place(placing, block)
            least_rest -= self.least_late[goal]
            late_min += self._late_min(placing, goal)
            if late_min + least_rest > late_at_most:
                return None
        stages.append(Stage(placing.board.copy(), late_min))
        return self._rest(placing, goals[:head]) if head < len(goals) else placing

    def _rest(self, placing: Placing, placed: Sequence[int]) -> Placing:
        """Place what is left forward in time.

        Args:
            placing: takes it.
            placed: the goals that it holds already.

        """
        kept: set[int] = set()
        for goal in placed:
            kept.update(self.of_goal[goal])
        run = self.forward.place_around(self.rest_keys, Kept(placing, frozenset(kept)))
        return run.placing

    def _late_min(self, placing: Placing, goal: int) -> int:
        """Return by how many minutes a goal is late that is placed."""
        reached = NOT
        for number, tail in self.costing.last[goal]:
            reached = max(reached, placing.board.end[number] + tail)
        return max(0, reached - self.inner.due[goal])

    def _place(self, placing: Placing, block: int) -> None:
        """Place a block as early as it fits, and what lies bare later where that costs nothing."""
        members = self.blocks.members[block]
        if self.bare[block] and len(members) == 1:
            self._place_coat(placing, block)
        elif self.bare[block] and self.blocks.in_a_row[block]:
            self._place_sitting(placing, block)
        else:
            placing.place(block)

    def _place_coat(self, placing: Placing, block: int) -> None:
        """Place a coat in the first hours that it fits in, as late in them as costs nothing."""
        number = self.blocks.members[block][0]
        begun, minutes = placing.fit(number, NOT)
        mends = minutes > self.inner.minutes[number]
        if begun == NEVER or mends or not self.inner.by[number]:
            placing.place(block)
            return
        board = placing.board
        spare = self.as_late.spare_min(number, board.found_by, begun + minutes)
        for later in _later(spare, ONES_LATER):
            found, needed = placing.fit(number, begun + later)
            if found <= begun + spare and needed == minutes:
                board.take(number, found, minutes)
                return
        placing.place(block)

    def _place_sitting(self, placing: Placing, block: int) -> None:
        """Do the same with a sitting of coats."""
        members = self.blocks.members[block]
        first, last = members[0], members[-1]
        hands = placing.find_row(block, NOT)
        if hands is None or not self.inner.by[last]:
            placing.place(block)
            return
        begun, end = placing.board.start[first], placing.board.end[last]
        spare = self.as_late.spare_min(last, hands[-1], end)
        for later in _later(spare, ROWS_LATER):
            hands = placing.find_row(block, begun + later)
            if hands is not None and placing.board.end[last] <= end + spare:
                placing.take_row(block, hands)
                return
        placing.place(block)


def _later(spare_min: int, shares: Sequence[float]) -> Iterator[int]:
    """Give by how many minutes later to try, the most first.

    Args:
        spare_min: how many there are.
        shares: parts of them.

    """
    for share in shares:
        later = int(spare_min * share)
        if later:
            yield later
