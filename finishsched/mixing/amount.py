"""How much of a material a coat takes, over what it leaves on the surface."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from finishsched.model.schedule import Verb

LOSS_SHARE = {
    Verb.PAD: 0.10,
    Verb.WIPE: 0.10,
    Verb.SPIRIT_OFF: 0.10,
    Verb.BRUSH: 0.15,
    Verb.SPRAY: 0.50,
}
"""Share of what is used that never reaches the surface. Brush 10-15 %, conventional spray up to
50 %: coatings texts. Pad and cloth 5-10 %: our assumption. The upper end is reckoned with, so that
no coat runs short."""

LEAST_LOSS_SHARE = {
    Verb.PAD: 0.05,
    Verb.WIPE: 0.05,
    Verb.SPIRIT_OFF: 0.05,
    Verb.BRUSH: 0.10,
    Verb.SPRAY: 0.30,
}
"""The lower end of the same ranges; spray at low pressure or airless about 30 %."""

PAD_HOLDS_ML = {Verb.PAD: 10.0, Verb.WIPE: 5.0, Verb.SPIRIT_OFF: 5.0}
"""What stays in the pad or cloth at the end: our assumption."""


@dataclass(frozen=True, slots=True)
class Range:
    """What is uncertain: ``low <= likely <= high``."""

    low: float
    likely: float
    high: float

    def __add__(self, other: Range) -> Range:
        return Range(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, factor: float) -> Range:
        """Return the range scaled by ``factor``, zero or more."""
        return Range(self.low * factor, self.likely * factor, self.high * factor)


NOTHING = Range(0.0, 0.0, 0.0)


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

# Pores and the need to fill them, as wood handbooks print them.
_OPEN_PORED = frozenset(
    (
        *("ash", "oak", "elm", "hickory", "chestnut", "locust", "walnut", "butternut"),
        *("mahogany", "sapele", "rosewood", "teak", "wenge", "padauk", "koa"),
    )
)
_CLOSED_PORED = frozenset(
    (
        *("cherry", "maple", "birch", "beech", "alder", "poplar", "sycamore", "basswood"),
        *("ebony", "spruce", "pine", "cedar"),
    )
)


def pores_of(species: str) -> Pores:
    """Return how open the grain is of the woods named in ``species``; one open wood is enough."""
    words = set(re.findall(r"[a-z]+", species.lower()))
    if words & _OPEN_PORED:
        return Pores.OPEN
    return Pores.CLOSED if words & _CLOSED_PORED else Pores.UNKNOWN


def used_amount(laid_per_m2: float, area_m2: float, coats: int, verb: Verb) -> float:
    """Return what is used to lay ``laid_per_m2`` on ``area_m2`` in ``coats`` coats.

    In the unit of ``laid_per_m2`` without its area (ml or g), losses counted, the pad's own
    charge not. Additive over areas and coats.
    """
    return laid_per_m2 * area_m2 * coats / (1 - LOSS_SHARE.get(verb, 0.0))


def used_range(laid_per_m2: Range, area_m2: float, verb: Verb) -> Range:
    """Return what one coat uses to lay ``laid_per_m2`` on ``area_m2``, low, likely and high.

    As ``used_amount``, which is its likely value; the low one has the least loss.
    """
    likely_share = 1 - LOSS_SHARE.get(verb, 0.0)
    return Range(
        laid_per_m2.low * area_m2 / (1 - LEAST_LOSS_SHARE.get(verb, 0.0)),
        laid_per_m2.likely * area_m2 / likely_share,
        laid_per_m2.high * area_m2 / likely_share,
    )


def pad_charge_ml(verb: Verb) -> float:
    """Return what the pad or cloth holds at the end of a sitting, in millilitres."""
    return PAD_HOLDS_ML.get(verb, 0.0)
