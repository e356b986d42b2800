"""Walking from order to order: shake one, place everything again, keep what is no worse."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from typing import TYPE_CHECKING

from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.inner import NEVER, NOT
from finishsched.planning.quick.one_by_one import one_by_one
from finishsched.planning.quick.ordering import Halt, heads_of, place_in_order
from finishsched.planning.quick.placing import Placing

if TYPE_CHECKING:
    from finishsched.planning.quick.search import Search

NEAR_END_MIN = 1440
"""Where nothing is late, the goals that press are those reached within a day of the end."""
HALTS = 12
"""How many boards are kept along an order, so that trying another one need not begin anew."""
SPANS_MIN = (200, 900, 2000)
REACHES_MIN = (300, 1500, 3000)
STEPS_MIN = (60, 120, 200)
SHIFTS_MIN = (60, 300, 600, 1500, 2000)
CALM = (0.85, 0.1)
"""How often a try lets stirring go first, and how often it hurries a goal, by shares."""
HURRIED = (0.5, 0.15)
"""The same while goals are late."""
NO_ROOMS = 0.5
"""How often a try hurries a goal where no room has a rule."""
PULLED = 0.15
"""How often something that a pressed goal hangs on is put before what is in its way; where rooms
have rules it gains nothing for goals that are late."""


class Climb:
    """One walk from order to order."""

    def __init__(self, search: Search, placing: Placing, blocks: Blocks) -> None:
        self.search = search
        self.blocks = blocks
        inner = search.inner
        self.heads = heads_of(inner, self.blocks)
        self.bare = [
            any(search.bare[number] for number in members) for members in self.blocks.members
        ]
        self.goal = [inner.goal[head] for head in self.heads]
        self.rooms = any(inner.marks)
        self.untied = len(blocks.members) == len(inner.keys)
        self.every = max(1, len(self.heads) // HALTS)
        self.back_to(placing)

    def fill(self, placing: Placing, order: Sequence[int], begin: Halt | None) -> list[Halt]:
        """Place all in an order, from a halt on where there is one."""
        if self.untied:
            return one_by_one(placing, order, begin, self.every)
        return place_in_order(placing, order, begin, self.every)

    def back_to(self, placing: Placing) -> None:
        """Go on from this plan."""
        self.keys = self._keys(placing)
        self.order = sorted(range(len(self.keys)), key=self.keys.__getitem__)
        placing = Placing(self.search.inner, self.blocks)
        self.halts = self.fill(placing, self.order, None)
        self.guide = self.search.judge(placing)
        self._look_at(placing)

    def _keys(self, placing: Placing) -> list[int]:
        start = placing.board.start
        return [start[head] if start[head] != NOT else NEVER for head in self.heads]

    def _look_at(self, placing: Placing) -> None:
        """Know which goals are worth hurrying."""
        search = self.search
        self.placing = placing
        self.finishes = finishes = search.costing.finishes(placing)
        goals = range(len(finishes))
        due, end = search.inner.due, max(finishes, default=NOT)
        late = [goal for goal in goals if finishes[goal] > due[goal]]
        last = [goal for goal in goals if finishes[goal] > end - NEAR_END_MIN]
        self.late = bool(late)
        self.pressed = late or last

    def step(self) -> None:
        """Try one other order, and go on from there if it is no worse."""
        keys = self._shaken()
        order = sorted(range(len(keys)), key=keys.__getitem__)
        same = next(
            (n for n, (a, b) in enumerate(zip(order, self.order, strict=True)) if a != b), -1
        )
        if same < 0:
            self.search.tries += 1
            return
        begin = None
        kept = 0
        for halt in self.halts:
            if halt.at > same:
                break
            begin, kept = halt, kept + 1
        placing = Placing(self.search.inner, self.blocks)
        halts = self.fill(placing, order, begin)
        guide = self.search.judge(placing)
        if guide <= self.guide:
            self.guide = guide
            self.keys = self._keys(placing)
            fresh = sorted(range(len(self.keys)), key=self.keys.__getitem__)
            self.halts = self.halts[:kept] + halts
            same = next((at for at in range(len(order)) if order[at] != fresh[at]), len(order))
            self.halts = [halt for halt in self.halts if halt.at <= same]
            self.order = fresh
            self._look_at(placing)

    def _shaken(self) -> list[int]:
        chance = self.search.chance
        keys = self.keys[:]
        if not (self.rooms and self.late) and chance.random() < PULLED:
            self._pull(keys)
            return keys
        draw = chance.random()
        stir_share, goal_share = (HURRIED if self.late else CALM) if self.rooms else (0.0, NO_ROOMS)
        if draw < stir_share:
            self._stir_first(keys)
        elif draw < stir_share + goal_share:
            self._hurry(keys)
        elif draw < stir_share + goal_share + 0.1:
            block = chance.randrange(len(keys))
            keys[block] += int(chance.gauss(0, 1) * chance.choice(SHIFTS_MIN))
        else:
            self._blur(keys)
        return keys

    def _stir_first(self, keys: list[int]) -> None:
        """Let what lies bare wait a little, and what stirs up go before it.

        A coat that is laid early keeps dusty work out of the room for the rest of an evening.
        """
        chance = self.search.chance
        since = chance.choice(self.keys)
        until = since + chance.choice(SPANS_MIN)
        reach = chance.choice(REACHES_MIN)
        longer = chance.choice(STEPS_MIN)
        for block, key in enumerate(self.keys):
            if self.bare[block]:
                if since <= key < until:
                    keys[block] = key + longer
            elif since <= key < since + reach:
                keys[block] = key - int(chance.random() * reach)

    def _hurry(self, keys: list[int]) -> None:
        """Pull one goal forward from somewhere on, or now and then put one back.

        Pieces contend for hands as wholes: moving one step of a piece alone seldom helps it.
        """
        chance = self.search.chance
        goals = self.pressed if self.pressed and chance.random() < 0.5 else self.goal
        goal = chance.choice(goals)
        since = chance.choice(self.keys)
        way, size = chance.choice((-1, -1, 1)), chance.expovariate(1)
        shift = int(way * size * chance.choice(SHIFTS_MIN))
        for block, key in enumerate(self.keys):
            if self.goal[block] == goal and key >= since:
                keys[block] = key + shift

    def _pull(self, keys: list[int]) -> None:
        """Put something that a pressed goal hangs on before what is in its way.

        Only what lies on the chain that ends last can bring its goal sooner.
        """
        chance = self.search.chance
        found = self.search.held_up(self.placing, chance.choice(self.pressed or self.goal))
        if not found:
            return
        number, ready = chance.choice(found)
        block = self.blocks.of[number]
        first = bisect_left(self.order, ready, key=self.keys.__getitem__)
        last = bisect_left(self.order, self.keys[block], key=self.keys.__getitem__)
        if first < last:
            keys[block] = self.keys[self.order[chance.randrange(first, last)]] - 1

    def _blur(self, keys: list[int]) -> None:
        """Mix what lies near each other: most orders of neighbours are accidents of the rule."""
        chance = self.search.chance
        since = chance.choice(self.keys)
        until = since + chance.choice(REACHES_MIN)
        spread = chance.choice((30, 120, 600))
        for block, key in enumerate(self.keys):
            if since <= key < until:
                keys[block] = key + int(chance.gauss(0, spread))
