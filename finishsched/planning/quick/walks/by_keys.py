"""Walking from keys to keys: shake some, place all forward in time again, keep what is no worse.

A plan that is placed forward in time hangs on the keys of its blocks alone. What was placed
before the first changed block was even looked at stays, so that a try costs only what comes after.
"""

from __future__ import annotations

import math
from bisect import bisect_left

from finishsched.planning.numbers.inner import NOT
from finishsched.planning.quick.cost import LATE_WEIGHT
from finishsched.planning.quick.forward import Forward, ForwardRun, Pause
from finishsched.planning.quick.keys import Pressure
from finishsched.planning.quick.so_far import SoFar
from finishsched.planning.quick.walks.pressing import pressed_goals, pulled

WARMTH = 1000 * LATE_WEIGHT
"""A plan that is later by a thousand minutes in all is gone on from in one case of three."""
PAUSES = 16
"""How many boards are kept along a plan to go on from."""
SHIFTS_MIN = (300, 1500, 6000, 20_000)
"""How far keys are put off or pulled forward: one of these, more or less."""
WET_SHIFT_MIN = 10_000
"""The same for wet coats."""
SPANS_MIN = (400, 1500, 5000, 15_000)
"""How long the stretch of time is in which keys are shaken."""
SPREADS_MIN = (60, 400, 2000)
"""How far keys are mixed."""
SHIFTED, EXCHANGED, BLURRED, WETTED = 0.30, 0.55, 0.80, 0.90
"""The moves by shares, one after the other; the rest of the time something late is pulled."""


class ForwardClimb:
    """One walk from keys to keys."""

    def __init__(
        self,
        so_far: SoFar,
        forward: Forward,
        pressure: Pressure,
        keys: list[int],
    ) -> None:
        """Begin with the plan of some keys.

        Args:
            so_far: judges each plan, and keeps the best.
            forward: places blocks by keys.
            pressure: knows the goal of each block, and which lie bare.
            keys: by block, in minutes; the least goes first.

        """
        self.so_far = so_far
        self.forward = forward
        self.pressure = pressure
        self.goal = pressure.goal
        """By block, its goal."""
        self.by_goal: dict[int, list[int]] = {}
        """By goal, its blocks."""
        for block, goal in enumerate(self.goal):
            self.by_goal.setdefault(goal, []).append(block)
        self.every = max(1, len(keys) // PAUSES)
        """So many blocks apart pauses are made."""
        self.keys = keys
        run = forward.place(keys, None, self.every)
        self.pauses = run.pauses
        """Boards along the plan to go on from."""
        self.entered = run.entered
        """By block, how many were placed when it was first looked at."""
        self.guide = so_far.judge(run.placing)
        self._look_at(run)

    def _look_at(self, run: ForwardRun) -> None:
        """Know when each block lies, and which goals are worth hurrying."""
        costing = self.so_far.costing
        self.placing = run.placing
        start = run.placing.board.start
        self.start = [start[number] for number in self.forward.first]
        finishes = costing.finishes(run.placing)
        # A piece of which only a wait is left has nothing that could be moved.
        movable = [goal for goal in range(len(finishes)) if goal in self.by_goal]
        pressed = pressed_goals(costing, finishes, movable)
        self.pressed = pressed.goals
        self.late = pressed.late

    def step(self) -> None:
        """Try other keys, and go on from there if the plan is no worse."""
        keys = self.keys[:]
        self._shake(keys)
        changed = [block for block, key in enumerate(keys) if key != self.keys[block]]
        if not changed:
            self.so_far.tries += 1
            return
        # Up to where the first of the changed blocks was looked at, nothing comes out otherwise.
        first = min([self.entered.get(block, 0) for block in changed])
        pause, kept = self._pause_before(first)
        run = self.forward.place(keys, pause, self.every)
        guide = self.so_far.judge(run.placing)
        if self._goes_on_by(guide):
            self.guide = guide
            self.keys = keys
            self._take(run, kept)

    def _take(self, run: ForwardRun, kept: int) -> None:
        """Go on from a plan: pauses and entries from before it was begun hold on.

        Args:
            run: the plan, and the pauses and entries along it.
            kept: so many pauses lie before it was begun.

        """
        self.pauses = self.pauses[:kept] + run.pauses
        before = {block: at for block, at in self.entered.items() if at <= run.begun}
        self.entered = run.entered | before
        self._look_at(run)

    def _goes_on_by(self, guide: float) -> bool:
        """Tell whether to go on from a plan: one that is no worse, or now and then a little worse.

        While something is late, what only ever goes up soon stands on a hill of its own.
        """
        worse = guide - self.guide
        if worse <= 0 or not self.late:
            return worse <= 0
        likelihood = math.exp(-worse / WARMTH)
        return self.so_far.chance.random() < likelihood

    def _pause_before(self, count: int) -> tuple[Pause | None, int]:
        """Return the last pause with no more than so many blocks placed, and how many come by it.

        None where there is no such pause: then all is placed from the beginning.
        """
        at = bisect_left(self.pauses, count + 1, key=lambda pause: pause.count)
        if not at:
            return None, 0
        return self.pauses[at - 1], at

    # Moves --------------------------------------------------------------------------------------

    def _shake(self, keys: list[int]) -> None:
        """Change some keys by one of the moves."""
        draw = self.so_far.chance.random()
        if draw < SHIFTED:
            self._shift_goal(keys)
        elif draw < EXCHANGED:
            self._exchange(keys)
        elif draw < BLURRED:
            self._blur(keys)
        elif draw < WETTED:
            self._shift_wet(keys)
        else:
            self._pull(keys)

    def _some_goal(self) -> int:
        """Return one of the goals that press, half of the time; else that of any block."""
        chance = self.so_far.chance
        if self.pressed and chance.random() < 0.5:
            return chance.choice(self.pressed)
        return chance.choice(self.goal)

    def _shift_goal(self, keys: list[int]) -> None:
        """Put all of a piece sooner or later from a time on.

        Pieces contend for hands as wholes: to move one step of a piece alone seldom helps it.
        """
        chance = self.so_far.chance
        goal = self._some_goal()
        mine = self.by_goal[goal]
        since = NOT
        if chance.random() < 0.5:
            since = self.start[chance.choice(mine)]
        size = int(chance.expovariate(1) * chance.choice(SHIFTS_MIN))
        way = chance.choice((-1, -1, 1))
        for block in mine:
            if self.start[block] >= since:
                keys[block] += way * size

    def _exchange(self, keys: list[int]) -> None:
        """Let two pieces change places from a time on.

        A swap leaves the rest in peace: what the one gives up, the other takes.
        """
        chance = self.so_far.chance
        one = self._some_goal()
        other = chance.choice(self.goal)
        if one == other:
            return
        since = self.start[chance.choice(self.by_goal[one])]
        mine = self._blocks_since(one, since)
        theirs = self._blocks_since(other, since)
        if not theirs:
            return
        my_first = min([keys[block] for block in mine])
        their_first = min([keys[block] for block in theirs])
        apart = my_first - their_first
        for block in mine:
            keys[block] -= apart
        for block in theirs:
            keys[block] += apart

    def _blocks_since(self, goal: int, since: int) -> list[int]:
        """Return the blocks of a goal that begin at a minute or later."""
        return [block for block in self.by_goal[goal] if self.start[block] >= since]

    def _blur(self, keys: list[int]) -> None:
        """Mix what lies near each other in a stretch of time.

        Most orders of neighbours are accidents of the rule, and another is often as good or better.
        """
        chance = self.so_far.chance
        since = chance.choice(self.start)
        until = since + chance.choice(SPANS_MIN)
        spread = chance.choice(SPREADS_MIN)
        for block, begun in enumerate(self.start):
            if since <= begun < until:
                shift = int(chance.gauss(0, spread))
                keys[block] += shift

    def _shift_wet(self, keys: list[int]) -> None:
        """Put wet coats of a stretch of time later or sooner.

        What is wet keeps dusty work out of the room: it matters when all of it is laid.
        """
        chance = self.so_far.chance
        since = chance.choice(self.start)
        until = since + chance.choice(SPANS_MIN)
        way = chance.choice((-1, 1))
        size = int(chance.expovariate(1) * WET_SHIFT_MIN)
        bare = self.pressure.bare
        for block, begun in enumerate(self.start):
            if bare[block] and since <= begun < until:
                keys[block] += way * size

    def _pull(self, keys: list[int]) -> None:
        """Put something that a late piece hangs on before some of what it was held up by.

        It helps where the end of one piece hangs on a single step that has to wait its turn.
        """
        found = pulled(
            self.so_far,
            self.placing,
            goals=self.pressed or self.goal,
            starts=self.start,
            blocks=self.forward.blocks,
        )
        if found is not None:
            sooner_of_both = min(keys[found.block], keys[found.before])
            keys[found.block] = sooner_of_both - 1
