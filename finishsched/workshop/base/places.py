"""Where on a piece a defect lies, from the words in which somebody says so."""

from __future__ import annotations

from dataclasses import dataclass

from finishsched.film.zones import PLACE_MM, zone_named, zones_of
from finishsched.model.job import Piece
from finishsched.workshop.base.place_reading import where_in

USUAL_SPOT_M2 = PLACE_MM**2 * 1e-6
"""Of a spot whose size nobody said: one place of a face (our assumption)."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place on a piece."""

    where: str
    """In the words of whoever saw it."""
    zone: str
    """The zone of the face, such as ``edges``."""
    at_edge: bool
    area_m2: float
    measured: bool = False
    """True where somebody said how large it is."""
    read: bool = False
    """True where it was read in what was said of the defect, and named nowhere else."""


def place_named(
    where: str, piece: Piece, area_m2: float | None = None, text: str = ""
) -> Place | None:
    """Return the place that words mean on a piece, else what ``text`` says; None for neither."""
    named = where.strip()
    said = named or where_in(text, piece)
    if not said and area_m2 is None:
        return None
    zone = zone_named(said, zones_of(piece))
    large_m2 = _within(piece, area_m2 or USUAL_SPOT_M2)
    return Place(said, zone.name, zone.is_edge, large_m2, area_m2 is not None, not named)


def _within(piece: Piece, area_m2: float) -> float:
    """Return the area of a spot, no larger than the piece."""
    return min(area_m2, piece.area_m2) if piece.area_m2 else area_m2
