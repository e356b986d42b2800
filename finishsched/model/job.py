"""Jobs, pieces and faces: what is due to somebody."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from finishsched.model.accepted import Accepted


@dataclass(frozen=True, slots=True)
class Face:
    """One surface of a piece that gets the finish, by its sides or by its area."""

    name: str
    length_mm: float | None = None
    width_mm: float | None = None
    stated_area_m2: float | None = None
    count: int = 1

    @property
    def area_m2(self) -> float:
        """The area of all faces of this name together, in square metres."""
        if self.stated_area_m2 is not None:
            return self.stated_area_m2 * self.count
        return (self.length_mm or 0.0) * (self.width_mm or 0.0) * 1e-6 * self.count


@dataclass(frozen=True, slots=True)
class Piece:
    """One part that is finished as a whole: a lid, a case, a panel."""

    id: str
    title: str
    schedule: str
    faces: tuple[Face, ...]
    species: str = ""
    veneer_mm: float | None = None
    sheen: str = ""
    due: date | None = None
    notes: str = ""
    relief_um: float | None = None
    """How deep the hollows are that the finish has to fill, after any filler."""

    @property
    def area_m2(self) -> float:
        """The area of all faces together, in square metres."""
        return sum(face.area_m2 for face in self.faces)


@dataclass(frozen=True, slots=True)
class Job:
    """What is due to somebody: one or more pieces and a date."""

    id: str
    title: str
    pieces: tuple[Piece, ...]
    customer: str = ""
    due: date | None = None
    notes: str = ""
    accepted: tuple[Accepted, ...] = ()
    """Rules of the checker that are silent here."""
