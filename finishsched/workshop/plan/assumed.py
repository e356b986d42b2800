"""What the plan of a shop assumes where nobody says: minutes of mending, hours, rooms."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from finishsched.model.job import Piece
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.planning.problem import Problem
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.sitting import goes_on
from finishsched.workshop.standing.standing import Standing

SCUFF_FIXED_MIN, SCUFF_MIN_PER_M2 = 3.0, 12.0
"""Rubbing a film dull and wiping it clean before a late coat (our assumption: what the shipped
schedules give for levelling with a fine paper)."""
SITTING_SLACK_MIN = 45
"""So much longer than its wait may be between two coats of a sitting: others are gone round
meanwhile (our assumption)."""
BEGIN_AGAIN_MIN = 10
"""What beginning again in the middle of a sitting takes: the pad is charged anew, and what has been
laid is looked over (our assumption)."""


def scuff_min(pieces: Iterable[Piece]) -> int:
    """Return the minutes that rubbing pieces dull takes before a coat that comes too late."""
    areas = (piece.area_m2 for piece in pieces)
    return sum(math.ceil(SCUFF_FIXED_MIN + SCUFF_MIN_PER_M2 * area_m2) for area_m2 in areas)


def in_its_window(room: CureRoom, standing: Standing, step: Step, now: datetime) -> bool:
    """Tell whether a step can be begun before the window to it closes, so that nothing is mended.

    A plan that has it later may have to mend what waited until then.
    """
    laid = standing.laid or standing.before
    if laid is None:
        return False
    closes_at = room.closes_at(laid)
    if closes_at is None and goes_on(laid.step, step):
        closes_at = room.clock(laid, now).likely_at + timedelta(minutes=SITTING_SLACK_MIN)
    return closes_at is not None and now <= closes_at


def assumed(shop: Shop, problem: Problem) -> Iterator[str]:
    """Give in words what a plan of a shop assumes."""
    if not problem.activities:
        return
    own = {person.name for person in shop.persons if person.hours}
    if not shop.hours and not (shop.people and own.issuperset(shop.people)):
        yield (
            "no hours are written: every day from 8:00 to 22:00 is assumed; write 'hours:' in "
            "shop.yaml"
        )
    if not shop.rooms:
        yield (
            "no rooms are written: one room is assumed, in which no dust is made while a coat is "
            "wet, and dust settles for 15 min"
        )
    if any(lag.remedy_min and not lag.in_one_sitting for lag in problem.lags):
        for_area = tell_in(shop.units)(SCUFF_MIN_PER_M2, "min/m2", 2)
        yield (
            "a coat after its window: rub the film dull first, "
            f"{SCUFF_FIXED_MIN:g} min and {for_area} (our assumption)"
        )
