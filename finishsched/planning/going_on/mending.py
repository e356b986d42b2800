"""A plan mended: all stays that can, and only the rest is placed anew, around it.

In a large shop that is a hundredth of the work, and takes a tenth of the time. Where something gets
late for it, because what had to move finds no room soon enough, room is made: pieces with time to
spare give up what they had beyond the next week, first a few of those that are in its way.
Whether a plan will do is told by what the old one promised, not by a new one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from finishsched.factors import DAY_MIN
from finishsched.planning.going_on.around import Around, Laid
from finishsched.planning.going_on.idle_evening import ready_for_idle
from finishsched.planning.going_on.steady import NEAR_DAYS, STUBBORN_MIN
from finishsched.planning.numbers.inner import NEVER
from finishsched.planning.quick.forward import Kept
from finishsched.planning.quick.keys import ORDERLY_RULE
from finishsched.planning.quick.placing import Placing

IN_THE_WAY = 0.1
"""Which share of the pieces that are in the way of what gets late gives up its room first: of six
cases of 500 pieces where something got late, four needed no more, and to try it takes a tenth."""
MOST_TO_SPARE, ALL = 0.3, 1.0
"""Which share of all pieces gives up what it had beyond the next week, in turn, where that will not
do."""
PAST_THE_END_MIN = 15 * DAY_MIN
"""Where all is placed anew, what has no due date aims at no more than so long past the old end
(fitted: aiming as late as it could, two shops of 500 pieces ended a hundred hours later)."""


def mended(around: Around) -> Iterator[Laid]:
    """Give the old plan with ever more moved: only what has to; then far ahead, to make room.

    The first also fills this evening, where hands would idle with something ready.

    Args:
        around: places what does not stay of the old plan.

    """
    mending = _Mending(around)
    placing = mending.kept_whole()
    yield around.laid(placing)
    placing = mending.with_room_made(placing, mending.in_the_way(placing), IN_THE_WAY)
    yield around.laid(placing)
    placing = mending.with_room_made(placing, mending.far, MOST_TO_SPARE)
    yield around.laid(placing)
    mending.aims_at_the_old_end()
    placing = mending.with_room_made(placing, mending.far, ALL)
    yield around.laid(placing)


class _Mending:
    """Places plans that keep ever less of the old one."""

    def __init__(self, around: Around) -> None:
        self.around = around
        self._keys = around.keys
        """By block, what presses; the least goes first."""
        inner = around.inner
        self._goal = [inner.goal[number] for number in around.forward.first]
        """By block, its goal."""
        self._until = around.problem.now_min + NEAR_DAYS * DAY_MIN
        self._was_reached = _reached(around)
        spare_min = [due - was for due, was in zip(inner.due, self._was_reached, strict=True)]
        far = [goal for goal, was in enumerate(self._was_reached) if was >= self._until]
        self.far = sorted(far, key=spare_min.__getitem__, reverse=True)
        """The goals with anything beyond the next week, those with most time to spare first."""
        self._gave_up: set[int] = set()
        """Goals that gave up what they had beyond the next week."""

    def kept_whole(self) -> Placing:
        """Return all around whatever can stay, this evening filled."""
        placing = self._by_keys(self.around.kept(lambda *_: True))
        ready = set(ready_for_idle(self.around, placing))
        if not ready:
            return placing
        filled = self.around.closely_placed(self._by_keys, lambda block, _: block not in ready)
        cost_of = self.around.search.costing.cost_of
        return filled if cost_of(filled) <= cost_of(placing) else placing

    def in_the_way(self, placing: Placing) -> list[int]:
        """Return those of the far goals with work up to when the last is due of what gets late."""
        due = self.around.inner.due
        reached = self.around.search.costing.finishes(placing)
        late = [due_min for due_min, now in zip(due, reached, strict=True) if now > due_min]
        before_min = max(late, default=NEVER)
        works_from = _works_from(self.around, self._until)
        return [goal for goal in self.far if works_from[goal] < before_min]

    def with_room_made(self, placing: Placing, goals: Sequence[int], share: float) -> Placing:
        """Return all anew, but for next week, of what was put off in a plan and has time to spare.

        Args:
            placing: the plan.
            goals: those that may give something up, those with most time to spare first.
            share: of these, so many do.

        """
        reached = self.around.search.costing.finishes(placing)
        for goal, (was, now) in enumerate(zip(self._was_reached, reached, strict=True)):
            if now > was + STUBBORN_MIN:
                self._gave_up.add(goal)
        self._gave_up.update(goals[: ceil(share * len(goals))])

        def stays(block: int, begun: int) -> bool:
            """Tell whether a block is of next week, or of a piece that gives nothing up."""
            return begun < self._until or self._goal[block] not in self._gave_up

        return self._by_keys(self.around.kept(stays))

    def aims_at_the_old_end(self) -> None:
        """Have nothing aim at much later than the old plan ended, from now on."""
        end_min = max(self._was_reached, default=NEVER)
        pressure = self.around.pressure
        self._keys = pressure.keys(ORDERLY_RULE, end=end_min + PAST_THE_END_MIN)

    def _by_keys(self, kept: Kept) -> Placing:
        """Return all placed around what is kept, what presses most first."""
        return self.around.placed(self._keys, kept)


def _reached(around: Around) -> list[int]:
    """Return by goal when it was to be reached in the old plan."""
    inner = around.inner
    reached = inner.goal_floor[:]
    for placed in around.old.placed:
        number = inner.index.get(placed.key, -1)
        goal = inner.goal[number] if number >= 0 else -1
        if goal >= 0:
            reached[goal] = max(reached[goal], placed.end_min + inner.tail[number])
    return reached


def _works_from(around: Around, from_min: int) -> list[int]:
    """Return by goal when the first work on it begins from a minute on in the old plan.

    Args:
        around: knows the plan.
        from_min: the minute.

    Returns:
        NEVER where none does.

    """
    inner = around.inner
    begins = [NEVER] * len(inner.due)
    for placed in around.old.placed:
        number = inner.index.get(placed.key, -1)
        goal = inner.goal[number] if number >= 0 and placed.by is not None else -1
        if goal >= 0 and placed.start_min >= from_min:
            begins[goal] = min(begins[goal], placed.start_min)
    return begins
