"""Walking from order to order: shake one, place everything again, keep what is no worse.

The order is that of the starts that the blocks have in a plan: these starts are its keys, in
minutes, and a move changes some of them. What comes before the first block that changed its turn is
not placed again.
"""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.planning.numbers.inner import NEVER, NOT
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.one_by_one import one_by_one
from finishsched.planning.quick.ordering import Halt, heads_of, place_in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.so_far import SoFar
from finishsched.planning.quick.walks.pressing import pressed_goals, pulled

HALTS = 12
"""How many boards are kept along an order, so that trying another one need not begin anew."""
SPANS_MIN = (200, 900, 2000)
"""How long the stretch of time is in which wet coats wait."""
REACHES_MIN = (300, 1500, 3000)
"""How long the stretch is in which other keys are shaken, and how far ahead stirring is pulled."""
STEPS_MIN = (60, 120, 200)
"""How long wet coats wait."""
SHIFTS_MIN = (60, 300, 600, 1500, 2000)
"""How far a goal, or a block, is put off or pulled forward: one of these, more or less."""
SPREADS_MIN = (30, 120, 600)
"""How far keys are mixed."""
SHARES_IN_ROOMS, SHARES_ELSEWHERE = (0.85, 0.1), (0.0, 0.5)
"""How often a try lets stirring go first, and how often it hurries a goal: where a room has a rule,
and where none has."""
MOVED = 0.1
"""How often it moves one block alone."""
PULLED = 0.15
"""How often something that a pressed goal hangs on is put before what is in its way; where rooms
have rules it gains nothing for goals that are late."""


class Climb:
    """One walk from order to order."""

    def __init__(self, so_far: SoFar, placing: Placing, blocks: Blocks) -> None:
        """Begin with a plan.

        Args:
            so_far: judges each plan, and keeps the best.
            placing: the plan to begin with.
            blocks: what is placed together from here on.

        """
        self.so_far = so_far
        self.blocks = blocks
        inner = so_far.inner
        self.heads = heads_of(inner, self.blocks)
        """By block, the activity whose start says where it stands in the order."""
        self.bare = [self._lies_bare(members) for members in self.blocks.members]
        """By block, whether something in its room would spoil any of it."""
        self.goal = [inner.goal[head] for head in self.heads]
        """By block, its goal."""
        self.rooms = any(inner.marks)
        """Whether any room has a rule."""
        self.untied = len(blocks.members) == len(inner.keys)
        """Whether each activity is a block of its own."""
        self.every = max(1, len(self.heads) // HALTS)
        """So many blocks apart halts are made."""
        self.back_to(placing)

    def _lies_bare(self, members: list[int]) -> bool:
        """Return whether something in its room would spoil any of a block."""
        return any(self.so_far.bare[number] for number in members)

    def fill(self, placing: Placing, order: Sequence[int], begin: Halt | None) -> list[Halt]:
        """Place all in an order, from a halt on where there is one.

        Args:
            placing: takes the blocks.
            order: the blocks.
            begin: the halt; all before it is taken over.

        Returns:
            Halts to go on from another time.

        """
        if self.untied:
            return one_by_one(placing, order, begin, self.every)
        return place_in_order(placing, order, begin, self.every)

    def back_to(self, placing: Placing) -> None:
        """Go on from this plan: from what comes out when its blocks are placed in its order."""
        self.keys = self._keys(placing)
        self.order = _by_key(self.keys)
        placed_again = Placing(self.so_far.inner, self.blocks)
        self.halts = self.fill(placed_again, self.order, None)
        self.guide = self.so_far.judge(placed_again)
        self._look_at(placed_again)

    def _keys(self, placing: Placing) -> list[int]:
        """Return by block the start that it has in a plan; NEVER for what is left out."""
        starts = [placing.board.start[head] for head in self.heads]
        return [start if start != NOT else NEVER for start in starts]

    def _look_at(self, placing: Placing) -> None:
        """Know which goals are worth hurrying."""
        costing = self.so_far.costing
        self.placing = placing
        finishes = costing.finishes(placing)
        pressed = pressed_goals(costing, finishes, range(len(finishes)))
        self.pressed = pressed.goals
        self.late = pressed.late

    def step(self) -> None:
        """Try one other order, and go on from there if it is no worse.

        An order that is as good is gone on from too: so a walk comes across ground that is level.
        """
        keys = self._shaken()
        order = _by_key(keys)
        same = _alike(order, self.order)
        if same == len(order):
            self.so_far.tries += 1
            return
        # As far as the orders are alike the board is alike too.
        halts_before = [halt for halt in self.halts if halt.at <= same]
        begin = halts_before[-1] if halts_before else None
        placing = Placing(self.so_far.inner, self.blocks)
        halts = self.fill(placing, order, begin)
        guide = self.so_far.judge(placing)
        if guide <= self.guide:
            self.guide = guide
            self.keys = self._keys(placing)
            self._take(order, halts_before + halts)
            self._look_at(placing)

    def _take(self, order: list[int], halts: list[Halt]) -> None:
        """Go on from the order of the starts, which may differ from the order that led to them.

        Halts are kept as far as the two are alike.

        Args:
            order: the one that the blocks were placed in.
            halts: boards along it.

        """
        self.order = _by_key(self.keys)
        same = _alike(order, self.order)
        self.halts = [halt for halt in halts if halt.at <= same]

    # Moves --------------------------------------------------------------------------------------

    def _shaken(self) -> list[int]:
        """Return the keys, some of them changed by one of the moves."""
        chance = self.so_far.chance
        keys = self.keys[:]
        late_in_rooms = self.rooms and self.late
        if not late_in_rooms and chance.random() < PULLED:
            self._pull(keys)
            return keys
        draw = chance.random()
        stir_share, goal_share = SHARES_IN_ROOMS if self.rooms else SHARES_ELSEWHERE
        if draw < stir_share:
            self._stir_first(keys)
        elif draw < stir_share + goal_share:
            self._hurry(keys)
        elif draw < stir_share + goal_share + MOVED:
            self._move_one(keys)
        else:
            self._blur(keys)
        return keys

    def _stir_first(self, keys: list[int]) -> None:
        """Let what lies bare wait a little, and what stirs up go before it.

        A coat that is laid early keeps dusty work out of the room for the rest of an evening.
        """
        chance = self.so_far.chance
        since = chance.choice(self.keys)
        until = since + chance.choice(SPANS_MIN)
        reach = chance.choice(REACHES_MIN)
        longer = chance.choice(STEPS_MIN)
        for block, key in enumerate(self.keys):
            if self.bare[block]:
                if since <= key < until:
                    keys[block] = key + longer
            elif since <= key < since + reach:
                sooner = int(chance.random() * reach)
                keys[block] = key - sooner

    def _hurry(self, keys: list[int]) -> None:
        """Pull one goal forward from somewhere on, or now and then put one back.

        Pieces contend for hands as wholes: moving one step of a piece alone seldom helps it.
        """
        chance = self.so_far.chance
        goals = self.goal
        if self.pressed and chance.random() < 0.5:
            goals = self.pressed
        goal = chance.choice(goals)
        since = chance.choice(self.keys)
        way = chance.choice((-1, -1, 1))
        size = chance.expovariate(1)
        shift = int(way * size * chance.choice(SHIFTS_MIN))
        for block, key in enumerate(self.keys):
            if self.goal[block] == goal and key >= since:
                keys[block] = key + shift

    def _move_one(self, keys: list[int]) -> None:
        """Move one block alone, sooner or later.

        The other moves change much at once, and would pass over what lacks only this.
        """
        chance = self.so_far.chance
        block = chance.randrange(len(keys))
        size = chance.gauss(0, 1)
        keys[block] += int(size * chance.choice(SHIFTS_MIN))

    def _pull(self, keys: list[int]) -> None:
        """Put something that a pressed goal hangs on before what is in its way.

        It helps where the end of one piece hangs on a single step that has to wait its turn.
        """
        found = pulled(
            self.so_far,
            self.placing,
            goals=self.pressed or self.goal,
            starts=self.keys,
            blocks=self.blocks,
        )
        if found is not None:
            just_before = keys[found.before] - 1
            keys[found.block] = just_before

    def _blur(self, keys: list[int]) -> None:
        """Mix what lies near each other in a stretch of time.

        Most orders of neighbours are accidents of the rule, and another is often as good or better.
        """
        chance = self.so_far.chance
        since = chance.choice(self.keys)
        until = since + chance.choice(REACHES_MIN)
        spread = chance.choice(SPREADS_MIN)
        for block, key in enumerate(self.keys):
            if since <= key < until:
                shift = int(chance.gauss(0, spread))
                keys[block] = key + shift


def _by_key(keys: Sequence[int]) -> list[int]:
    """Return the blocks in the order of their keys, the least first."""
    return sorted(range(len(keys)), key=keys.__getitem__)


def _alike(one: Sequence[int], other: Sequence[int]) -> int:
    """Return for how many turns two orders of the same blocks are alike."""
    for at, (mine, theirs) in enumerate(zip(one, other, strict=True)):
        if mine != theirs:
            return at
    return len(one)
