"""Placing work forward in time: whoever is free does the first of what can begin at that minute.

A room in which no dust may be made beside wet coats is why: work that is placed ahead in time, into
an evening that is still empty, keeps all dusty work out of that evening. Here no evening is begun
before the one before it is full.

It is how a maker works through an evening: what is ready, and can be done at once, what presses
most first; and when nothing can, on to the next minute at which anything could be otherwise.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from finishsched.factors import DAY_MIN
from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.numbers.sittings import sittings_of
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.board import Board
from finishsched.planning.quick.ordering import place_in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.pool import Pool, Sorts

FORGET_EVERY_MIN = 2 * DAY_MIN
"""How often what lies behind is forgotten."""


@dataclass(frozen=True, slots=True)
class Pause:
    """A half-made plan, to go on from: all but what was decided before it may be decided anew."""

    count: int
    """How many blocks were placed."""
    time: int
    """The minute it had come to."""
    board: Board
    waits: list[int]
    """By block, how many of those that it waits for were not placed."""
    ready: list[tuple[int, int]]
    """The minutes at which blocks are to be looked at, and these."""
    pool: list[int]
    """Blocks that may be able to begin now."""
    put_off: list[int]
    """Blocks that found a store full which is given back later."""


class Forward:
    """One plan placed forward in time by keys, the least first, and what it takes to try others."""

    def __init__(self, inner: Inner, blocks: Blocks) -> None:
        """Know what all plans of a problem share."""
        self.inner = inner
        self.blocks = blocks
        self.first = [members[0] for members in blocks.members]
        """By block, the activity that it begins with."""
        self.idle = [self._is_idle(members) for members in blocks.members]
        self.single = [self._is_single(members) for members in blocks.members]
        self.getting_ready = max(inner.set_up_before) + max(inner.set_up_after)
        """Minutes; a block that begins within so many is begun now, with its set-up before it."""
        self.sittings = sittings_of(inner)
        """By the activity that a block begins with, the run that must lie inside some hours."""
        self.sorts = Sorts(inner, blocks, self.getting_ready)

    def _is_idle(self, members: list[int]) -> bool:
        """Return whether a block keeps nobody busy: it only lies there and dries."""
        inner = self.inner
        return all(not inner.by[number] or not inner.minutes[number] for number in members)

    def _is_single(self, members: list[int]) -> bool:
        """Return whether a block is one activity that gives nothing back when it starts."""
        return len(members) == 1 and not self.inner.frees[members[0]]

    def place(
        self,
        keys: Sequence[int],
        pause: Pause | None = None,
        every: int = 0,
    ) -> ForwardRun:
        """Place all blocks.

        Args:
            keys: by block; of those that can begin the least goes first.
            pause: all before it is taken over.
            every: so many blocks apart a pause is made; none where it is 0.

        Returns:
            How it went, with the plan.

        """
        run = ForwardRun(self, keys)
        if pause is None:
            run.begin(Placing(self.inner, self.blocks), frozenset())
        else:
            run.resume(pause)
        return self._whole(run, every)

    def place_around(self, keys: Sequence[int], kept: Kept) -> ForwardRun:
        """Place all blocks but those that stay where they are, around these, by keys."""
        run = ForwardRun(self, keys)
        run.begin(kept.placing, kept.blocks)
        return self._whole(run, 0)

    def _whole(self, run: ForwardRun, every: int) -> ForwardRun:
        """Go along time, and place what found a store held for good as early as it fits, last."""
        run.go(every)
        if run.count < len(self.first):
            there = set(run.order)
            rest = [block for block in range(len(self.first)) if block not in there]
            placing = Placing(self.inner, self.blocks)
            place_in_order(placing, [*run.order, *rest])
            run.placing = placing
        return run


@dataclass(frozen=True, slots=True)
class Kept:
    """What stays where it was, on a board that holds nothing else."""

    placing: Placing
    blocks: frozenset[int]


class ForwardRun:
    """One go along time."""

    def __init__(self, forward: Forward, keys: Sequence[int]) -> None:
        """Know what goes first; `begin` or `resume` says from where."""
        self.forward = forward
        self.keys = keys
        self.placing: Placing
        self.kept: frozenset[int] = frozenset()
        """Blocks that stay where they are."""
        self.count = 0
        """How many blocks lie."""
        self.begun = 0
        """How many lay when it began."""
        self.time = NOT
        """The minute it has come to."""
        self.waits: list[int] = []
        """By block, how many of those that it waits for do not lie yet."""
        self.pauses: list[Pause] = []
        self.entered: dict[int, int] = {}
        """By block, how many were placed when it was first looked at."""
        self.order: list[int] = []
        """The blocks, as they were placed."""
        self.ready: list[tuple[int, int]] = []
        """Blocks whose waits are over at a later minute, or that can begin no sooner."""
        self.pool = Pool(forward.sorts)
        """Blocks that may be able to begin now."""
        self.put_off: list[int] = []
        """Blocks that found a store full which is given back later."""
        self.forget_at = NOT

    def begin(self, placing: Placing, kept: frozenset[int]) -> None:
        """Begin now, around what is kept."""
        blocks = self.forward.blocks
        self.placing = placing
        self.kept = kept
        # Around what is kept there is little to place, and what is behind may be looked at again.
        self.forget_at = NEVER if kept else NOT
        self.count = self.begun = len(kept)
        self.time = self.forward.inner.now_min
        self.waits = [len(before) for before in blocks.before]
        for block in kept:
            for later in blocks.after[block]:
                self.waits[later] -= 1
        wait_for_nothing = [block for block, waits in enumerate(self.waits) if not waits]
        for block in wait_for_nothing:
            if block not in kept:
                self._open(block)

    def resume(self, pause: Pause) -> None:
        """Go on from a pause."""
        self.placing = Placing(self.forward.inner, self.forward.blocks, pause.board.copy())
        self.count = self.begun = pause.count
        self.time = pause.time
        self.waits = pause.waits[:]
        self.ready = pause.ready[:]
        self.pool.fill(pause.pool, self.keys)
        self.put_off = pause.put_off[:]

    def go(self, every: int) -> None:
        """Go along time until nothing is left that can be placed."""
        ready, pool = self.ready, self.pool
        # The pool is what may be able to begin at this minute; what is ready only later waits.
        pause_at = self.count + every
        while True:
            while ready and ready[0][0] <= self.time:
                self._look_at(heappop(ready)[1])
            # As long as something is placed another of the pool may go with it, by other hands.
            placed = -1
            pool.look(self.placing.board, self.time)
            while pool.has_any() and (self.count == placed or self._somebody_is_free()):
                if every and self.count >= pause_at and not self.placing.left_out:
                    self.pauses.append(self._pause())
                    pause_at = self.count + every
                placed = self.count
                self._try(pool.take())
                if self.count > placed:
                    pool.look(self.placing.board, self.time)
            after = pool.next_after(self.time)
            if ready:
                after = min(after, ready[0][0])
            # What is left in the pool was in nobody's reach now, and may be in the next minute.
            self.time = self._next_free(after)
            if self.time >= NEVER:
                return
            self._forget_now_and_then()

    def _forget_now_and_then(self) -> None:
        """Forget what lies behind, where that is much: a short board is quicker to search."""
        if self.time >= self.forget_at:
            self.placing.board.forget(self.time)
            self.forget_at = self.time + FORGET_EVERY_MIN

    def _look_at(self, block: int) -> None:
        """Put a block among those that may be able to begin now."""
        self.entered.setdefault(block, self.count)
        self.pool.add(self.keys[block], block)

    def _try(self, block: int) -> None:
        """Place a block if it can begin at this minute; else come back to it when it could."""
        if self.forward.single[block]:
            begun = self._place_one(block)
        else:
            begun = self._place_together(block)
        if begun is None:
            self.put_off.append(block)
        elif begun > self.time + self.forward.getting_ready:
            heappush(self.ready, (begun, block))
        else:
            self._placed(block)

    def _place_one(self, block: int) -> int | None:
        """Place a block of one if it can begin now, and return when it can begin, perhaps later.

        None where a store is full which is given back later.
        """
        placing, time = self.placing, self.time
        number = self.forward.first[block]
        latest = time + self.forward.getting_ready
        begun, minutes = placing.could_begin(number, time)
        if time < begun <= latest:
            begun, minutes = placing.fit(number, begun)
        if begun == NEVER:
            if placing.store_is_open(number):
                return None
            placing.left_out.add(number)
            return time
        if begun <= latest:
            placing.board.take(number, begun, minutes)
        return begun

    def _place_together(self, block: int) -> int | None:
        """Do the same for what windows tie: all of it is placed, or nothing.

        It is not where its windows push it off its time.
        """
        placing = self.placing
        first = self.forward.first[block]
        latest = self.time + self.forward.getting_ready
        # Most blocks that come too soon are known by their first activity alone.
        begun, _ = placing.could_begin(first, self.time)
        if latest < begun < NEVER:
            return begun
        sitting = self.forward.sittings.get(first)
        if sitting is not None:
            begun = sitting.first_from(self.time)
            if latest < begun < NEVER:
                return begun
        if not placing.place_by(block, self.time, latest):
            return None
        if placing.not_before != NOT:
            return placing.not_before
        begun = placing.board.start[first]
        return self.time if begun == NOT else begun

    def _open(self, block: int) -> None:
        """Line up a block; what nobody does begins by itself as soon as it may."""
        if self.forward.idle[block] and self.placing.place(block):
            self._placed(block)
        else:
            self._line_up(block)

    def _placed(self, block: int) -> None:
        """Note that a block lies, and open what waited for it."""
        self.order.append(block)
        self.count += 1
        for later in self.forward.blocks.after[block]:
            self.waits[later] -= 1
            if not self.waits[later] and later not in self.kept:
                self._open(later)
        again = self.put_off
        self.put_off = []
        for waiting in again:
            self._line_up(waiting)

    def _line_up(self, block: int) -> None:
        """Have a block looked at when its waits are over."""
        earliest = self.placing.earliest(self.forward.first[block])
        if earliest <= self.time:
            self._look_at(block)
        elif earliest < NEVER:
            heappush(self.ready, (earliest, block))

    def _somebody_is_free(self) -> bool:
        """Return whether any hands are free at this minute, or no work needs any."""
        time = self.time
        for starts, ends, _, _ in self.placing.board.gaps:
            at = bisect_right(ends, time)
            if at < len(ends) and starts[at] <= time:
                return True
        return not self.placing.board.gaps

    def _next_free(self, time: int) -> int:
        """Return the first minute from ``time`` on at which anybody is free."""
        best = NEVER
        for starts, ends, _, _ in self.placing.board.gaps:
            at = bisect_right(ends, time)
            if at < len(ends):
                best = min(best, max(time, starts[at]))
        return best

    def _pause(self) -> Pause:
        """Return all that is needed to go on from here another time."""
        return Pause(
            count=self.count,
            time=self.time,
            board=self.placing.board.copy(),
            waits=self.waits[:],
            ready=self.ready[:],
            pool=list(self.pool.blocks()),
            put_off=self.put_off[:],
        )
