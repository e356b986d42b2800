"""Leaning a plan towards the old one, where nothing gets later for it.

All is placed again in the order of the least late plan, but some blocks at their turn of the old
plan, and no sooner than they began in it. They need not lie there to the minute: what slips by half
an hour in its evening is not noticed, and leaves the others room. What moved least is tried first,
all at once, then in halves down to one block.
"""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.planning.going_on.around import Around, starts_of
from finishsched.planning.going_on.steady import Noticing, Promise, promise_of
from finishsched.planning.numbers.inner import NEVER
from finishsched.planning.problem import Plan
from finishsched.planning.quick.ordering import heads_of
from finishsched.planning.quick.placing import Placing


class Leaning:
    """What leans so far, and trying to have more lean."""

    def __init__(self, around: Around, least_late: Plan, most: Promise, blocks: list[int]) -> None:
        """Begin with nothing that leans.

        Args:
            around: places all.
            least_late: the rest goes in its order.
            most: what nobody is put out by.
            blocks: those that may lean.

        """
        self._around = around
        self._most = most
        inner = around.inner
        was, now = starts_of(around.old), starts_of(least_late)
        heads = [inner.keys[head] for head in heads_of(inner, around.forward.blocks)]
        firsts = [inner.keys[first] for first in around.forward.first]
        self._turn = [now.get(key, NEVER) for key in heads]
        """By block, its turn in the least late plan."""
        self._old_turn = [was.get(key, NEVER) for key in heads]
        """By block, its turn in the old plan."""
        self._begun = [was.get(key, NEVER) for key in firsts]
        """By block, when it began in the old plan; it begins no sooner, so as not to be early."""
        self._noticing = Noticing(around.problem)
        self._was: list[tuple[int, int]] = []
        """The works of what may lean, and when each began."""
        for block in blocks:
            for number in around.forward.blocks.members[block]:
                if inner.by[number]:
                    self._was.append((number, was[inner.keys[number]]))
        self._leans: frozenset[int] = frozenset()
        self._unmoved = 0
        """How many of those works nobody notices to have moved."""
        self.best: Placing | None = None
        """The plan with most of them; None as long as nothing leans."""

    def lean(self, blocks: Sequence[int], tries: int) -> None:
        """Have as many blocks lean as leave nothing later.

        All at once first, then halves: each try takes a whole plan, and what leans well, leans
        together.

        Args:
            blocks: those that may lean, what is most likely to first.
            tries: so many plans are placed at the most.

        """
        self._unmoved = self._count(self._placed(self._leans))
        groups = [blocks]
        while groups and tries > 0:
            group = groups.pop()
            tries -= 1
            if not self._leans_too(group):
                groups += halves(group)

    def _leans_too(self, group: Sequence[int]) -> bool:
        """Have a group lean if nothing gets later for it, and no more is noticed to have moved."""
        leans = self._leans.union(group)
        placing = self._placed(leans)
        promised = promise_of(self._around.search.costing.cost_of(placing))
        unmoved = self._count(placing)
        if promised > self._most or unmoved < self._unmoved:
            return False
        self._leans = leans
        self._unmoved = unmoved
        self.best = placing
        return True

    def _placed(self, leans: frozenset[int]) -> Placing:
        """Return all placed, some blocks leaning."""
        turns = self._turn[:]
        not_before: dict[int, int] = {}
        for block in leans:
            turns[block] = self._old_turn[block]
            not_before[self._around.forward.first[block]] = self._begun[block]
        order = sorted(range(len(turns)), key=turns.__getitem__)
        return self._around.placed_not_before(order, not_before)

    def _count(self, placing: Placing) -> int:
        """Return how many works nobody notices to have moved in a plan."""
        start = placing.board.start
        moved = [self._noticing.is_noticed(was, start[number]) for number, was in self._was]
        return moved.count(False)


def halves(group: Sequence[int]) -> list[Sequence[int]]:
    """Return a group in two, the one to be tried first last; nothing of one that is one alone."""
    half = len(group) // 2
    return [group[half:], group[:half]] if half else []
