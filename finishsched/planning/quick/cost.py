"""What a plan costs, straight from the board: the fields of a score, in their order."""

from __future__ import annotations

from dataclasses import dataclass

from finishsched.planning.quick.inner import LOOSE, NEVER, NOT, Inner
from finishsched.planning.quick.placing import Placing

Cost = tuple[int, int, int, int, int, int, int]
"""As in a score: left out, hard minutes, late, latest, finish, remedies, goals."""


@dataclass(slots=True)
class Costing:
    """What to look at to know the cost of a plan."""

    inner: Inner
    last: list[list[tuple[int, int]]]
    """By goal, the activities that can be its last, with their tails."""
    last_of_all: list[tuple[int, int]]
    """The same for what belongs to no goal."""
    windowed: list[int]

    def finishes(self, placing: Placing) -> list[int]:
        """Return by goal when it is reached, NOT where nothing of it is."""
        end = placing.board.end
        if placing.left_out:
            return self._finishes_of_what_is_there(placing)
        found = []
        for floor, last in zip(self.inner.goal_floor, self.last, strict=True):
            reached = [end[number] + tail for number, tail in last]
            found.append(max([floor, *reached]))
        return found

    def _finishes_of_what_is_there(self, placing: Placing) -> list[int]:
        inner = self.inner
        reached = inner.goal_floor[:]
        for number, end in enumerate(placing.board.end):
            goal = inner.goal[number]
            if end != NOT and goal >= 0:
                reached[goal] = max(reached[goal], end + inner.tail[number])
        return reached

    def cost_of(self, placing: Placing) -> Cost:
        """Return the cost of a plan."""
        return self.cost(placing, self.finishes(placing))

    def cost(self, placing: Placing, finishes: list[int]) -> Cost:
        """Return the cost of a plan whose goals are reached then."""
        inner, end = self.inner, placing.board.end
        late = latest = total = 0
        for reached, due in zip(finishes, inner.due, strict=True):
            if reached != NOT:
                total += reached
            if reached > due:
                late += reached - due
                latest = max(latest, reached - due)
        if placing.left_out:
            ends = zip(end, inner.tail, strict=True)
            others = [ended + tail for ended, tail in ends if ended != NOT]
        else:
            others = [end[number] + tail for number, tail in self.last_of_all]
        finish = max([inner.floor_min, *finishes, *others])
        hard, remedies = self._windows(placing)
        finish = finish if finish != NOT else inner.now_min
        return len(placing.left_out), hard, late, latest, finish, remedies, total

    def _windows(self, placing: Placing) -> tuple[int, int]:
        """Return the minutes by which hard windows are missed, and those of remedies."""
        inner, board = self.inner, placing.board
        end = board.end
        hard = remedies = 0
        for number in self.windowed:
            begun = board.start[number]
            if begun == NOT:
                continue
            remedies += end[number] - begun - inner.minutes[number]
            for other, most, remedy in inner.windows[number]:
                if remedy == LOOSE and begun > end[other] + most and end[other] != NOT:
                    hard += begun - end[other] - most
            for due, remedy in inner.deadlines[number]:
                if remedy == LOOSE and begun > due:
                    hard += begun - due
        return hard, remedies


def costing_of(inner: Inner) -> Costing:
    """Return what to look at in this problem."""
    last: list[list[tuple[int, int]]] = [[] for _ in inner.due]
    of_all = []
    minutes, tail, goal = inner.minutes, inner.tail, inner.goal
    for number, after in enumerate(inner.after):
        mine = goal[number]
        followed = any(
            goal[other] == mine and least + minutes[other] + tail[other] >= tail[number]
            for other, least in after
        )
        if not followed:
            if mine >= 0:
                last[mine].append((number, tail[number]))
            else:
                of_all.append((number, tail[number]))
    windowed = []
    for number, windows in enumerate(inner.windows):
        if windows or inner.deadlines[number]:
            windowed.append(number)
    return Costing(inner, last, of_all, windowed)


WORST: Cost = (NEVER, 0, 0, 0, 0, 0, 0)
"""Worse than any plan."""
