"""How long the waits ahead will be, for the plan: by the cure clock, over the air to come."""

from __future__ import annotations

import math
from datetime import datetime, timedelta
from typing import NamedTuple, TypeAlias

from finishsched.drying.clock import STEADY, Need, Pace, cure_clock
from finishsched.drying.course import Course, Readings
from finishsched.drying.figures import Phase, mechanism_of
from finishsched.drying.integral import DryingSums
from finishsched.drying.laws import PRODUCT_AIR, Law, law_for
from finishsched.journal import events
from finishsched.model.job import Piece
from finishsched.model.product import Product
from finishsched.model.schedule import Wait
from finishsched.model.shop import Air
from finishsched.model.step import Step
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.pace_over_air import OverAir
from finishsched.workshop.standing.waits import Laid
from finishsched.workshop.standing.windows import pot_law

SOME_TIME_AHEAD = timedelta(days=2, hours=18)
"""When a wait that is yet to begin is taken to begin, from the midnight before now: past what the
last reading tells of, and the same all day, so that no plan moves because a minute went by."""

_Alike: TypeAlias = tuple[int, int, tuple[float, str] | None]
"""The steps of a piece, as where they lie in memory, the number of one, and what veneer it has."""


class WaitRange(NamedTuple):
    """A wait in whole minutes from the end of the work, and the window after it."""

    earliest_min: int
    likely_min: int
    latest_min: int
    next_by_min: int | None = None

    @property
    def slow_ratio(self) -> float:
        """The slow end over the likely time."""
        return self.latest_min / self.likely_min if self.likely_min else 1.0


class WaitsAhead:
    """Knows how long each wait will be, and how long each coat will catch dust."""

    def __init__(self, room: CureRoom, now: datetime, air: Air | None = None) -> None:
        """Reckon over the shop's air as ``room`` foresees it, or as if it were ``air`` from now."""
        self._room = room
        self._now = now
        self._ahead = now.replace(hour=0, minute=0, second=0, microsecond=0) + SOME_TIME_AHEAD
        self._air = air
        sums = room.course if air is None else Course(Readings(), air, lambda _: 0.0)
        self._sums = DryingSums(sums)
        self._known: dict[tuple[Law | None, Wait, Need], WaitRange] = {}
        self._alike: dict[_Alike, tuple[tuple[Step, ...], WaitRange | None]] = {}
        """Pieces by one schedule share its steps, and ask for the same waits over and over; the
        steps are kept, so that no others take their place in memory."""
        self._touch: dict[str, int] = {}

    def running(self, laid: Laid) -> WaitRange:
        """Return the range of a wait that runs, from when it began."""
        clock = self._room.clock(laid, self._now)
        if self._air is None:
            return _range(
                laid.at, clock.earliest_at, clock.likely_at, clock.latest_at, clock.next_by_at
            )
        share = self._slower(laid)
        moved = [
            at if at <= self._now else self._now + (at - self._now) * share
            for at in (clock.earliest_at, clock.likely_at, clock.latest_at)
        ]
        closes = clock.next_by_at
        if closes is not None and closes > self._now:
            closes = self._now + (closes - self._now) * share
        return _range(laid.at, moved[0], moved[1], moved[2], closes)

    def ahead(self, piece: Piece, step: Step, steps: tuple[Step, ...]) -> WaitRange | None:
        """Return the range of a wait that is yet to begin; None for a step without one."""
        wetted = None if piece.veneer_mm is None else (piece.veneer_mm, piece.made_of)
        alike = id(steps), step.number, wetted
        if alike not in self._alike:
            self._alike[alike] = steps, self._range_ahead(piece, step, steps)
        _, found = self._alike[alike]
        return found

    def _range_ahead(self, piece: Piece, step: Step, steps: tuple[Step, ...]) -> WaitRange | None:
        laid = Laid(piece, step, steps, events.StepDone(step.key), self._ahead)
        wait = self._room.wait(laid)
        if wait is None:
            return None
        law, need = self._room.law(laid), self._room.need(laid, wait)
        key = (law, wait, need)
        if key not in self._known:
            self._known[key] = self._reckoned(laid, law, wait, need)
        return self._known[key]

    def _reckoned(self, laid: Laid, law: Law | None, wait: Wait, need: Need) -> WaitRange:
        at = laid.at
        if self._air is None:
            clock = self._room.clock(laid, at)  # which remembers its sums from plan to plan
        else:
            pace: Pace = OverAir(self._sums, law) if law is not None else STEADY
            clock = cure_clock(wait, at, (), at, pace=pace, need=need)
        closes = clock.next_by_at
        return _range(at, clock.earliest_at, clock.likely_at, clock.latest_at, closes)

    def dust_free_min(self, product: Product | None, wait: WaitRange | None) -> int:
        """Return how long after a coat dust still sticks to it.

        The product's own time to the touch, in the air to come; where it states none, the
        earliest end of the wait. Never longer than the wait is likely to be.
        """
        if wait is None:
            return 0
        touch_s = product.dries.touch_s if product is not None and product.dries else None
        mechanism = mechanism_of(product) if product is not None else None
        if product is None or touch_s is None or mechanism is None:
            return min(wait.earliest_min, wait.likely_min)
        if product.id not in self._touch:
            law = law_for(mechanism, Phase.TOUCH, PRODUCT_AIR)
            dry = OverAir(self._sums, law).when(self._ahead, touch_s)
            self._touch[product.id] = _up(dry - self._ahead)
        return min(self._touch[product.id], wait.likely_min)

    def pot_life_min(self, product: Product) -> int | None:
        """Return for how many whole minutes a mix of a product is good in the air to come."""
        if product.pot_life_s is None:
            return None
        sets = OverAir(self._sums, pot_law(product)).when(self._ahead, product.pot_life_s)
        return int((sets - self._ahead).total_seconds() // 60)

    def _slower(self, laid: Laid) -> float:
        """Return how much longer drying takes in the air asked about than in the air foreseen."""
        law = self._room.law(laid)
        if law is None:
            return 1.0
        hour = timedelta(hours=1)
        asked = OverAir(self._sums, law).when(self._now, hour.total_seconds()) - self._now
        foreseen = (
            OverAir(DryingSums(self._room.course), law).when(self._now, hour.total_seconds())
            - self._now
        )
        return asked / foreseen


def _range(
    laid_at: datetime,
    earliest_at: datetime,
    likely_at: datetime,
    latest_at: datetime,
    closes_at: datetime | None,
) -> WaitRange:
    likely = _up(likely_at - laid_at)
    closes = None
    if closes_at is not None:
        # A film that is slow to dry keeps its window until it is dry.
        closes = max(int((closes_at - laid_at).total_seconds() // 60), likely)
    latest = max(likely, _up(latest_at - laid_at))
    return WaitRange(min(likely, _up(earliest_at - laid_at)), likely, latest, closes)


def _up(span: timedelta) -> int:
    return max(0, math.ceil(span.total_seconds() / 60 - 1e-9))
