"""What a plan costs, straight from the board: the fields of a score, in their order.

A search looks at thousands of plans a second, so that only what can differ between plans is
looked at: the last activities of each goal, and those that have a window.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from finishsched.planning.numbers.inner import LOOSE, NEVER, NOT, Inner
from finishsched.planning.quick.placing import Placing
from finishsched.planning.score import late_and_split

OUT_WEIGHT, SPOILT_WEIGHT, LATE_WEIGHT, FINISH_WEIGHT = 1e6, 1e4, 1e3, 100
"""What guides a search where a score is flat: one left out weighs a million minutes of what spoils,
one of those ten thousand late ones, and so on down to the ends of goals."""

Last = tuple[int, int]
"""An activity that can be the last of its goal, and its tail in minutes."""


class Cost(NamedTuple):
    """What a plan costs; compared field by field as a score is, and less is better."""

    left_out: int
    """How many activities no calendar has room for."""
    spoilt_min: int
    """Minutes past windows after which something is spoilt."""
    late_and_split_min: int
    """Minutes by which goals are late, together, and what it is worth to split no sitting."""
    latest_min: int
    """The lateness of the latest goal."""
    finish_min: int
    """When the last goal is reached."""
    remedies_min: int
    """Minutes spent on mending missed windows."""
    goals_min: int
    """Finishes of the goals, added up."""


WORST = Cost(NEVER, 0, 0, 0, 0, 0, 0)
"""Worse than any plan."""


@dataclass(slots=True)
class Costing:
    """What to look at to know the cost of a plan."""

    inner: Inner
    """The problem in numbers."""
    last: list[list[Last]]
    """By goal, the activities that can be its last."""
    last_of_all: list[Last]
    """The same for what belongs to no goal."""
    windowed: list[int]
    """The activities that have a window, or a deadline."""

    def finishes(self, placing: Placing) -> list[int]:
        """Return by goal the minute at which it is reached, NOT where nothing of it is."""
        end = placing.board.end
        if placing.left_out:
            return self._finishes_of_what_is_there(placing)
        found = []
        for floor, last in zip(self.inner.goal_floor, self.last, strict=True):
            reached = [end[number] + tail for number, tail in last]
            found.append(max([floor, *reached]))
        return found

    def _finishes_of_what_is_there(self, placing: Placing) -> list[int]:
        """Return the same where something is left out, so that any may be the last of its goal."""
        inner = self.inner
        reached = inner.goal_floor[:]
        for number, end in enumerate(placing.board.end):
            goal = inner.goal[number]
            is_placed = end != NOT
            if is_placed and goal >= 0:
                with_tail = end + inner.tail[number]
                reached[goal] = max(reached[goal], with_tail)
        return reached

    def cost_of(self, placing: Placing) -> Cost:
        """Return the cost of a plan."""
        return self.cost(placing, self.finishes(placing))

    def cost(self, placing: Placing, finishes: list[int]) -> Cost:
        """Return the cost of a plan.

        Args:
            placing: the plan.
            finishes: by goal, the minute at which it is reached.

        """
        late = latest = total = 0
        for reached, due in zip(finishes, self.inner.due, strict=True):
            if reached != NOT:
                total += reached
            if reached > due:
                late += reached - due
                latest = max(latest, reached - due)
        spoilt, split, remedies = self._windows(placing)
        finish = self._finish(placing, finishes)
        return Cost(
            left_out=len(placing.left_out),
            spoilt_min=spoilt,
            late_and_split_min=late_and_split(late, split),
            latest_min=latest,
            finish_min=finish,
            remedies_min=remedies,
            goals_min=total,
        )

    def _finish(self, placing: Placing, finishes: list[int]) -> int:
        """Return when everything is reached: goals, and what belongs to none.

        Args:
            placing: the plan.
            finishes: by goal, the minute at which it is reached.

        """
        inner = self.inner
        end = placing.board.end
        if placing.left_out:
            # Any may be the last then, since what follows it is perhaps not there.
            ends = zip(end, inner.tail, strict=True)
            others = [ended + tail for ended, tail in ends if ended != NOT]
        else:
            others = [end[number] + tail for number, tail in self.last_of_all]
        finish = max([inner.floor_min, *finishes, *others])
        return finish if finish != NOT else inner.now_min

    def _windows(self, placing: Placing) -> tuple[int, int, int]:
        """Return by how much what spoils is late, sittings are split, and the time of remedies."""
        inner, board = self.inner, placing.board
        end = board.end
        spoilt = split = remedies = 0
        for number in self.windowed:
            begun = board.start[number]
            if begun == NOT:
                continue
            # Whatever it takes longer than it has to is the mending of what it missed.
            remedies += end[number] - begun - inner.minutes[number]
            missed = 0
            for other, most, remedy in inner.windows[number]:
                latest = end[other] + most
                if remedy == LOOSE and begun > latest and end[other] != NOT:
                    missed += begun - latest
            for due, remedy in inner.deadlines[number]:
                if remedy == LOOSE and begun > due:
                    missed += begun - due
            if inner.in_one_sitting[number]:
                split += missed
            else:
                spoilt += missed
        return spoilt, split, remedies


def costing_of(inner: Inner) -> Costing:
    """Return what to look at in this problem."""
    last: list[list[Last]] = [[] for _ in inner.due]
    last_of_all: list[Last] = []
    for number, goal in enumerate(inner.goal):
        if not _is_outlasted(inner, number):
            of_goal = last[goal] if goal >= 0 else last_of_all
            of_goal.append((number, inner.tail[number]))
    windowed: list[int] = []
    for number, windows in enumerate(inner.windows):
        if windows or inner.deadlines[number]:
            windowed.append(number)
    return Costing(
        inner=inner,
        last=last,
        last_of_all=last_of_all,
        windowed=windowed,
    )


def _is_outlasted(inner: Inner, number: int) -> bool:
    """Return whether something that follows an activity in its goal is reached no sooner.

    Args:
        inner: the problem in numbers.
        number: the activity.

    """
    goal = inner.goal[number]
    for other, least in inner.after[number]:
        if inner.goal[other] != goal:
            continue
        # Both are counted from the end of the activity.
        other_reached = least + inner.minutes[other] + inner.tail[other]
        if other_reached >= inner.tail[number]:
            return True
    return False


def guide_of(cost: Cost) -> float:
    """Return a figure that falls on the way to a better plan, where a score is flat.

    A step that brings all goals but the last one forward is no better by the score, and yet it
    leads to better plans.
    """
    broken = (cost.left_out * OUT_WEIGHT + cost.spoilt_min) * SPOILT_WEIGHT
    ends = cost.finish_min * FINISH_WEIGHT + cost.goals_min
    late = (broken + cost.late_and_split_min) * LATE_WEIGHT
    return late + cost.latest_min + ends + cost.remedies_min
