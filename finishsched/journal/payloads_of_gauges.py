"""What can be measured of a piece's film, veneer and inlay, and of the hands that level it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class BottleWeighed:
    """The bottle was weighed before and after the last ``coats`` coats that end with ``step``."""

    kind: ClassVar[str] = "bottle-weighed"
    step: str
    before_g: float
    after_g: float
    coats: int = 1
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class FilmGauged:
    """A film gauge was read over the high spots of a piece, as it is at that time."""

    kind: ClassVar[str] = "film-gauged"
    film_um: float
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class ZoneMeasured:
    """What is left of veneer or inlay in one zone of a piece was measured, as it is then."""

    kind: ClassVar[str] = "zone-measured"
    zone: str
    left_um: float
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class ZoneStands:
    """How far an inlay, a seam or a patch stands above the face was measured, as it is then."""

    kind: ClassVar[str] = "zone-stands"
    zone: str
    stands_um: float
    """Below 0 where it lies lower."""
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class SurfaceRead:
    """Gloss, colour or hardness of one zone of a piece was read, as it is at that time."""

    kind: ClassVar[str] = "surface-read"
    measure: str
    """``gloss``, ``colour``, ``pencil`` or ``thumbnail``."""
    zone: str
    numbers: tuple[float, ...] = ()
    """Gloss in its units; or L*, a* and b*."""
    angle_deg: int | None = None
    grade: str = ""
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class JarTested:
    """A drop of a batch was put on glass, and how long it took to be hard, in seconds."""

    kind: ClassVar[str] = "jar-tested"
    batch: str
    hard_after_s: float | None = None
    """None where it was still soft the next day."""
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class HandTested:
    """So many strokes on a test piece took so much: this hand's rate."""

    kind: ClassVar[str] = "hand-tested"
    on: str
    """``film``, ``wood`` or an inlay's material."""
    grade: str
    strokes: float
    area_mm2: float
    taken_um: float
    wet: bool = False
    species: str = ""
    by: str = ""
    note: str = ""
