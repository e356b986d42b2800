"""Placing all from the end back, and then forth again: for work that takes no hands and no hours.

What is placed as early as it fits leaves gaps before what comes late. Placed once more from the end
backwards, each as late as it fits, what hung on nothing moves out of the way; placed forth again in
the order of that, all is often done sooner. Between two such passes an order is mixed a little.

Source: K. Y. Li, R. J. Willis, European Journal of Operational Research 56, 1992, on placing forth
and back; V. Valls, F. Ballestin, S. Quintanilla, in 165 of the same, 2005 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain
from typing import NamedTuple

from finishsched.planning.numbers.inner import NOT, Held, Inner
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.cost import Cost
from finishsched.planning.quick.ordering import in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.so_far import SoFar

GOOD_ONES = 5
"""So many plans are kept to mix the order of."""
SPREADS = (0.15, 0.25)
"""How far starts are mixed, as shares of the length of the plan."""


class _Good(NamedTuple):
    """A plan, and what it costs."""

    cost: Cost
    placing: Placing


def goes_both_ways(inner: Inner) -> bool:
    """Tell whether time can run backwards in a problem: no hours, no rooms, nothing but waits."""
    runs_in_a_circle = inner.line is None
    takes_hands = any(inner.by) or any(inner.needs_out)
    has_rooms = any(inner.marks)
    has_windows = any(inner.windowed)
    holds_until_a_start = any(inner.frees)
    has_past = any(inner.store_base)
    if runs_in_a_circle or takes_hands or has_rooms:
        return False
    if has_windows or holds_until_a_start or has_past:
        return False
    begins_later = any(release != inner.now_min for release in inner.release)
    uses = chain.from_iterable(inner.uses)
    holds_on = any(_outlasts(inner, use) for use in uses)
    return not begins_later and not holds_on


def _outlasts(inner: Inner, use: Held) -> bool:
    """Tell whether something is held but for the activity itself, or is more than there is."""
    has_other_end = use.until >= 0 or use.until_min != NOT
    ends_with_it = use.from_start and not use.hold_min and not has_other_end
    is_too_much = use.shared > inner.capacity[use.store]
    return is_too_much or not ends_with_it


class BackAndForth:
    """Makes plans shorter by placing them from the end back, and forth again."""

    def __init__(self, so_far: SoFar) -> None:
        """Know the problem, and the same with time running backwards."""
        inner = so_far.inner
        self._so_far = so_far
        self._backwards = replace(
            inner,
            before=inner.after,
            after=inner.before,
            line=list(reversed(inner.line or ())),
        )
        self._blocks = blocks_of(inner, keep_soft=False, shorter_min=0)
        self._blocks_backwards = blocks_of(self._backwards, keep_soft=False, shorter_min=0)
        self._good: list[_Good] = []

    def climb(self, starts: Iterable[Placing]) -> Iterator[None]:
        """Place each of some plans back and forth, then mixtures of the good ones, for ever."""
        chance = self._so_far.chance
        for start in starts:
            self._both_ways(start)
            yield
        while self._good:
            chosen = self._good[0]
            if chance.random() < 0.5:
                chosen = chance.choice(self._good)
            mixed = self._mixed(chosen.placing)
            self._both_ways(mixed)
            yield

    def _both_ways(self, placing: Placing) -> None:
        """Place a plan from its end back and then forth again, and keep it among the good ones."""
        so_far = self._so_far
        last_first = _from_the_end(placing)
        back = in_order(self._backwards, self._blocks_backwards, last_first)
        # In time that runs backwards, what ends last is what has to go first.
        soonest_first = _from_the_end(back)
        forth = in_order(so_far.inner, self._blocks, soonest_first)
        so_far.judge(forth)
        cost = so_far.costing.cost_of(forth)
        self._good.append(_Good(cost, forth))
        self._good.sort(key=lambda good: good.cost)
        del self._good[GOOD_ONES:]

    def _mixed(self, placing: Placing) -> Placing:
        """Return a plan in the order of another, with what lies near each other mixed."""
        chance = self._so_far.chance
        board = placing.board
        length = max(board.end) - min(board.start)
        reach = chance.choice(SPREADS) * length
        keys: list[float] = []
        for start in board.start:
            shift = chance.uniform(-reach, reach)
            keys.append(start + shift)
        order = sorted(range(len(keys)), key=keys.__getitem__)
        return in_order(self._so_far.inner, self._blocks, order)


def _from_the_end(placing: Placing) -> list[int]:
    """Return the activities of a plan in the order of their ends, the last first."""
    end = placing.board.end
    return sorted(range(len(end)), key=lambda number: -end[number])
