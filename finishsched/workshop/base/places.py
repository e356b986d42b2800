"""Where on a piece a defect lies, from the words in which somebody says so."""

from __future__ import annotations

import re
from dataclasses import dataclass

from finishsched.film.zones import PLACE_MM, zone_named, zones_of
from finishsched.model.job import Piece

USUAL_SPOT_M2 = PLACE_MM**2 * 1e-6
"""Of a spot whose size nobody said: one place of a face (our assumption)."""

_AT = re.compile(
    r"\b(?:at|on|along|near)\s+(?:the\s+)?(?!it\b|them\b|once\b|and\b)(?P<where>[^,;.]+)",
    re.IGNORECASE,
)
"""``on it, now there is a ring`` names no place, and a place ends with the clause."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place on a piece."""

    where: str
    """In the words of whoever saw it."""
    zone: str
    """The zone of the face, such as ``edges``."""
    at_edge: bool
    area_m2: float


def place_named(where: str, piece: Piece, area_m2: float | None = None) -> Place | None:
    """Return the place that words mean on a piece; None where they say nothing."""
    said = where.strip()
    if not said and area_m2 is None:
        return None
    zone = zone_named(said, zones_of(piece))
    at_edge = zone.is_edge
    return Place(said, zone.name, at_edge, _within(piece, area_m2 or USUAL_SPOT_M2))


def where_in(text: str) -> str:
    """Return the words after ``at``, ``along`` or ``on`` in what somebody wrote of a defect."""
    found = _AT.search(text)
    return found["where"].strip() if found else ""


def _within(piece: Piece, area_m2: float) -> float:
    """Return the area of a spot, no larger than the piece."""
    return min(area_m2, piece.area_m2) if piece.area_m2 else area_m2
