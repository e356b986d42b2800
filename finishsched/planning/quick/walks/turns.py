"""The walks of a search, which take turns: goal by goal, forward in time, ahead in time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import count, cycle
from typing import NamedTuple

from finishsched.planning.quick.blocks import Blocks, blocks_of
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.so_far import SoFar
from finishsched.planning.quick.walks.by_goals import GoalClimb
from finishsched.planning.quick.walks.by_keys import ForwardClimb
from finishsched.planning.quick.walks.by_order import Climb

TIRED, FORWARD_TIRED = 150, 40
"""After so many tries without a better plan the search goes on from the best one, or from other
keys, and ties windows in another way; with goals it is another kind's turn."""
FEW_STEPS, AHEAD_SHARE_OF_FEW, AHEAD_SHARE = 500, 0.6, 0.25
"""The share of the tries that place ahead in time, of those that place no goals: more of them with
few steps, where the best plan may leave somebody idle for a while."""
GOALS_SHARE, GOALS_LATER = 0.7, 2.5
"""The share of the tries that place goal by goal, as long as what they come to is not so many times
as late as the best plan."""


class _Kind(NamedTuple):
    """Walks of one kind, one after the other."""

    share: float
    """Which part of the tries is theirs."""
    walks: Iterator[None]
    """Each is one, gone on until no better plan comes."""


class Walks:
    """All walks that are worth it in a problem."""

    def __init__(self, so_far: SoFar, goals: list[GoalClimb], over: Callable[[], bool]) -> None:
        """Begin with what came out so far.

        Args:
            so_far: judges each plan, and keeps the best.
            goals: the walks from order to order of goals, begun.
            over: tells whether to stop at once.

        """
        self.so_far = so_far
        self.goals = goals
        self.over = over

    def go(self) -> None:
        """Take walks in turn until it is over; whoever has had least of its share goes on."""
        kinds = self._kinds()
        spent = [0] * len(kinds)
        while kinds and not self.over():
            turn = min(range(len(kinds)), key=lambda each: spent[each] / kinds[each].share)
            before = self.so_far.tries
            next(kinds[turn].walks, None)
            tried = self.so_far.tries - before
            spent[turn] += tried
            if not tried:
                del kinds[turn], spent[turn]

    def _kinds(self) -> list[_Kind]:
        """Return the kinds of walks with their shares."""
        so_far = self.so_far
        goals, has_forward = self.goals, bool(so_far.keyed) and so_far.in_rooms
        rest = 1 - GOALS_SHARE if goals else 1.0
        # With few steps the best plan may leave somebody idle for a while: forward never does that.
        few = len(so_far.inner.keys) <= FEW_STEPS
        ahead = AHEAD_SHARE_OF_FEW if few else AHEAD_SHARE
        kinds: list[_Kind] = []
        if goals:
            kinds.append(_Kind(GOALS_SHARE, self._by_goals()))
        if has_forward:
            kinds.append(_Kind(rest * (1 - ahead), self._forward()))
        if so_far.begun:
            kinds.append(_Kind(rest * ahead, self._ahead()))
        return kinds

    def _by_goals(self) -> Iterator[None]:
        """Climb from order to order of goals, all walks that promise anything in turn."""
        so_far = self.so_far
        self.goals.sort(key=lambda one: one.guide)
        for climb in cycle(self.goals):
            most_min = GOALS_LATER * so_far.best_cost.late_and_split_min
            if climb.late_min <= most_min:
                _until_tired(climb.step, FORWARD_TIRED, so_far, self.over)
                yield
            elif all(one.late_min > most_min for one in self.goals):
                return

    def _forward(self) -> Iterator[None]:
        """Climb from keys to keys until no better plan comes, then from the next best keys."""
        so_far = self.so_far
        so_far.keyed.sort(key=lambda one: one.guide)
        for _, mode, keys in cycle(so_far.keyed):
            forward, pressure = so_far.ways.forward(mode)
            climb = ForwardClimb(so_far, forward, pressure, keys)
            _until_tired(climb.step, FORWARD_TIRED, so_far, self.over)
            yield

    def _ahead(self) -> Iterator[None]:
        """Climb from order to order until no better plan comes, then from the best one again."""
        so_far = self.so_far
        so_far.begun.sort(key=lambda one: one.guide)
        turns = self._in_rooms() if so_far.in_rooms else self._freely()
        for start, blocks in turns:
            climb = Climb(so_far, start, blocks)
            _until_tired(climb.step, TIRED, so_far, self.over)
            yield

    def _freely(self) -> Iterator[tuple[Placing, Blocks]]:
        """Give where to climb from, and how, where no room has a rule: always the best so far."""
        for way in cycle([self._untied(), *self.so_far.ways.blocks_in_each]):
            yield self.so_far.best_plan(), way

    def _in_rooms(self) -> Iterator[tuple[Placing, Blocks]]:
        """Give the same where rooms have rules: climbing does most."""
        so_far = self.so_far
        ways = [*so_far.ways.blocks_in_each, self._untied()]
        yield so_far.best_plan(), so_far.best_plan().blocks
        for turn in count(1):
            yield so_far.best_plan(), ways[turn % len(ways)]

    def _untied(self) -> Blocks:
        """Return each activity as a block of its own: other work may lie inside any window."""
        return blocks_of(self.so_far.inner, keep_soft=False, shorter_min=0)


def _until_tired(
    step: Callable[[], None],
    patience: int,
    so_far: SoFar,
    over: Callable[[], bool],
) -> None:
    """Take steps until so many, one after the other, have brought no better plan.

    Args:
        step: tries another plan.
        patience: how many steps to take in vain.
        so_far: knows the best plan so far.
        over: tells whether to stop at once.

    """
    tired = 0
    while tired < patience and not over():
        before = so_far.best_cost
        step()
        tired = 0 if so_far.best_cost < before else tired + 1
