"""How much of a material a coat takes, over what it leaves on the surface."""

from __future__ import annotations

from enum import StrEnum

from finishsched.model.ranges import NOTHING as NOTHING  # noqa: PLC0414  # also asked for here
from finishsched.model.ranges import Range as Range  # noqa: PLC0414  # also asked for here
from finishsched.model.schedule import Verb
from finishsched.model.woods import woods_of


class Pores(StrEnum):
    """How open a wood's grain is."""

    OPEN = "open"
    CLOSED = "closed"
    UNKNOWN = "not known"


BARE_WOOD_TAKES_ML_PER_M2 = {
    Pores.CLOSED: Range(10.0, 20.0, 30.0),
    Pores.OPEN: Range(30.0, 45.0, 60.0),
    Pores.UNKNOWN: Range(10.0, 30.0, 60.0),
}
"""What the first coat loses into bare wood: our assumption."""


def pores_of(species: str) -> Pores:
    """Return how open the grain is of the woods named in ``species``; one open wood is enough."""
    woods = woods_of(species)
    if not woods:
        return Pores.UNKNOWN
    return Pores.OPEN if any(wood.fill for wood in woods) else Pores.CLOSED


def used_amount(laid_per_m2: float, area_m2: float, coats: int, verb: Verb) -> float:
    """Return what is used to lay ``laid_per_m2`` on ``area_m2`` in ``coats`` coats.

    Losses are counted, the pad's own charge is not. Additive over areas and coats.

    Source: coatings texts and our assumption, as the row of the verb says.

    Args:
        laid_per_m2: ml/m2 or g/m2 for one coat, 0 or more; the answer is in ml or g.
        area_m2: m2, 0 or more.
        coats: how many, 0 or more.
        verb: how it is laid; its row says what share is lost.

    """
    return laid_per_m2 * area_m2 * coats / (1 - verb.does.lost_share)


def used_range(laid_per_m2: Range, area_m2: float, verb: Verb) -> Range:
    """Return what one coat uses to lay ``laid_per_m2`` on ``area_m2``, low, likely and high.

    As ``used_amount``, which is its likely value; the low one has the least loss.

    Source: coatings texts and our assumption, as the row of the verb says.

    Args:
        laid_per_m2: ml/m2 or g/m2, 0 or more; the answer is in ml or g.
        area_m2: m2, 0 or more.
        verb: how it is laid; its row says what share is lost.

    """
    likely_share = 1 - verb.does.lost_share
    return Range(
        laid_per_m2.low * area_m2 / (1 - verb.does.least_lost_share),
        laid_per_m2.likely * area_m2 / likely_share,
        laid_per_m2.high * area_m2 / likely_share,
    )


SMALLEST_BATCH_ML = 10.0


def holder(verb: Verb) -> str:
    """Return what holds some of a product as it is laid so: a pad, or a cloth."""
    return "cloth" if verb.does.with_cloths else "pad"


def pad_charge_ml(verb: Verb) -> float:
    """Return what the pad or cloth holds at the end of a sitting, in millilitres."""
    return verb.does.holds_ml
