"""What goes first when several things can be done now: rules that give each block a key.

The least key goes first. The plain rules are what a sensible maker would do; the others look at how
late a block may start at all, through working hours, for its piece to be reached in time.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.numbers.sittings import sittings_of
from finishsched.planning.numbers.start_bounds import (
    NO_SITTINGS,
    earliest_starts,
    latest_starts,
    line_of,
)
from finishsched.planning.quick.blocks import Blocks


@dataclass(frozen=True, slots=True)
class ForwardRule:
    """How pressing a block is: its latest start, and these."""

    from_earliest: bool = False
    """Whether a goal that cannot be reached in time aims at when it can be, not at its due date:
    what is late whatever is done holds up nothing that could be in time."""
    nearly_done: int = 0
    """Minutes later for each minute of hand work that its goal still needs from here: what is
    nearly done goes first, so that fewer pieces are half done, and wet, at once."""
    bare_min: int = 0
    """Minutes later for what must lie bare in the room, so that what stirs it up goes first."""
    ties_soft: bool = False
    """Whether a coat is begun only when the next can follow inside its window, though that could
    be mended: fewer coats to rub dull."""


ORDERLY_RULE = ForwardRule(bare_min=10_000)
"""What a maker would do: what is due first, and wet work last."""
FORWARD_RULES = (
    ForwardRule(from_earliest=True, bare_min=10_000),
    ForwardRule(bare_min=30_000, ties_soft=True),
    ForwardRule(from_earliest=True, ties_soft=True),
    ORDERLY_RULE,
    ForwardRule(from_earliest=True, nearly_done=20, bare_min=10_000, ties_soft=True),
    ForwardRule(from_earliest=True, nearly_done=80),
    ForwardRule(nearly_done=80, bare_min=10_000),
)
"""The first did best alone on two sets of random shops of 8 to 60 pieces, the first two together,
and so on.

Keys are whole minutes, so that nothing hangs on where in time a problem lies."""


APART_MIN = 60
"""How far apart the keys of neighbours lie where a rule gives no more than their order."""


class Pressure:
    """What the rules look at, worked out once for a problem."""

    def __init__(self, inner: Inner, blocks: Blocks) -> None:
        """Work it out.

        Args:
            inner: the problem in numbers.
            blocks: what is placed together.

        """
        self.inner = inner
        self.blocks = blocks
        self.line = line_of(inner, blocks.members)
        self.bare = [self._lies_bare(members) for members in blocks.members]
        """By block, whether something in its room would spoil any of it."""
        self.first = [members[0] for members in blocks.members]
        """By block, the activity that it begins with."""
        self.goal = [inner.goal[number] for number in self.first]
        """By block, the goal of that."""
        self.anything_due = any(due < NEVER for due in inner.due)

    def _lies_bare(self, members: list[int]) -> bool:
        """Return whether something in its room would spoil any of a block."""
        for number in members:
            for track, _ in self.inner.marks[number]:
                # The odd one of each rule is for what lies bare.
                if track & 1:
                    return True
        return False

    @cached_property
    def could(self) -> list[int]:
        """By goal, when it could be reached if nothing else were in its way."""
        could, _ = self._reached
        return could

    @property
    def least_late(self) -> int:
        """By how many minutes goals must be late together, by their chains alone."""
        pairs = zip(self.could, self.inner.due, strict=True)
        return sum(max(0, could - due) for could, due in pairs)

    @cached_property
    def longest(self) -> int:
        """When all could be reached if nothing were in anything's way."""
        _, longest = self._reached
        return longest

    @cached_property
    def _reached(self) -> tuple[list[int], int]:
        """By goal, when it could be reached if nothing else were in its way; and the last."""
        inner = self.inner
        could = [inner.now_min] * len(inner.due)
        longest = inner.now_min
        for number, start in enumerate(earliest_starts(inner, self.line)):
            has_no_room = start >= NEVER >> 1
            if has_no_room:
                continue
            end = start + inner.minutes[number]
            reached = end + inner.tail[number]
            longest = max(longest, reached)
            goal = inner.goal[number]
            if goal >= 0:
                could[goal] = max(could[goal], reached)
        return could, longest

    @cached_property
    def common(self) -> int:
        """By when all could be reached: what has no due date aims at that."""
        inner = self.inner
        due_dates = [due for due in inner.due if due < NEVER]
        last_due = max(due_dates, default=NOT)
        work_min = 0
        for minutes, by in zip(inner.minutes, inner.by, strict=True):
            if by:
                work_min += minutes
        work_is_over = _all_poured(inner, work_min)
        return max(self.longest, last_due, work_is_over)

    @cached_property
    def work_left(self) -> list[int]:
        """By activity, the minutes of hand work from its start to its goal's end."""
        inner = self.inner
        work = [0] * len(inner.keys)
        for number in reversed(self.line):
            most_after = 0
            for after, _ in inner.after[number]:
                most_after = max(most_after, work[after])
            own = inner.minutes[number] if inner.by[number] else 0
            work[number] = own + most_after
        return work

    @cached_property
    def chain_left(self) -> list[int]:
        """By activity, the minutes from its start to its goal's end, with all its waits."""
        inner = self.inner
        chain = [0] * len(inner.keys)
        for number in reversed(self.line):
            longest_rest = inner.tail[number]
            for after, least in inner.after[number]:
                longest_rest = max(longest_rest, least + chain[after])
            chain[number] = inner.minutes[number] + longest_rest
        return chain

    def targets(self, *, from_earliest: bool = False, end: int = NEVER) -> list[int]:
        """Return by goal the minute that it aims at.

        Args:
            from_earliest: what cannot be reached by its due date aims at when it can be.
            end: nothing else aims at anything later.

        """
        aims: list[int] = []
        for goal, due in enumerate(self.inner.due):
            aim = self.common if due >= NEVER else due
            aim = min(aim, end)
            if from_earliest:
                aim = max(aim, self.could[goal])
            aims.append(aim)
        return aims

    def keys(self, rule: ForwardRule, *, end: int = NEVER) -> list[int]:
        """Return by block the key that a rule gives, in minutes; the least goes first.

        Args:
            rule: how pressing a block is.
            end: everything is to be reached by then, though it be due later.

        """
        targets = self.targets(from_earliest=rule.from_earliest, end=end)
        common = min(self.common, end)
        sittings = NO_SITTINGS if self.anything_due else sittings_of(self.inner)
        latest = latest_starts(self.inner, self.line, targets, common, sittings)
        keys: list[int] = []
        for members, bare in zip(self.blocks.members, self.bare, strict=True):
            latest_starts_inside = [latest[number] for number in members]
            key = min(latest_starts_inside)
            if rule.nearly_done:
                key += rule.nearly_done * self.work_left[members[0]]
            if bare:
                key += rule.bare_min
            keys.append(key)
        return keys

    def plain_keys(self) -> list[list[int]]:
        """Return the keys of the plain rules: due date, slack, longest remaining.

        They are what anybody would go by, and no plan may be worse than theirs.
        """
        by_due: list[_Rank] = []
        by_slack: list[_Rank] = []
        by_remaining: list[_Rank] = []
        for number, goal in zip(self.first, self.goal, strict=True):
            due = self.inner.due[goal] if goal >= 0 else NEVER
            left = self.chain_left[number]
            slack = due - left
            # Of two that are due alike, what has the longer way to go is first.
            by_due.append(_Rank(due, -left, number))
            by_slack.append(_Rank(slack, 0, number))
            by_remaining.append(_Rank(-left, 0, number))
        return [
            _ranked(by_due),
            _ranked(by_slack),
            _ranked(by_remaining),
        ]


class _Rank(NamedTuple):
    """What the blocks are ordered by; the least goes first."""

    first: int
    """What is compared first."""
    then: int
    """What is compared where that is alike."""
    number: int
    """The activity that the block begins with, so that no two are alike."""


def _ranked(values: list[_Rank]) -> list[int]:
    """Return the place of each value among them all, the least first, far enough apart to shake."""
    in_order = sorted(values)
    places = {value: place for place, value in enumerate(in_order)}
    return [APART_MIN * places[value] for value in values]


def _all_poured(inner: Inner, work: int) -> int:
    """Return when so many minutes of work are over if every hand works whenever it can.

    Args:
        inner: knows the hours.
        work: minutes of it.

    Returns:
        The end of the stretch of hours in which that is; the end of all hours where they are too
        few.

    """
    stretches: list[tuple[int, int]] = []
    for starts, ends in inner.windows_of:
        stretches.extend(zip(starts, ends, strict=True))
    stretches.sort()
    for start, end in stretches:
        begins = max(start, inner.now_min)
        work -= end - begins
        if work <= 0:
            return end
    if not stretches:
        return inner.now_min
    _, last_end = stretches[-1]
    return last_end
