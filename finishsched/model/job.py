"""Jobs, pieces and faces: what is due to somebody."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
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


OF_THE_VENEER = ("patch", "seam")
"""What is of the face's own wood and yet wears by itself: a patch let in, a seam that swelled."""


@dataclass(frozen=True, slots=True)
class Inlay:
    """One material let into a face: how thick it is, and how it stands."""

    material: str
    """``shell``, ``brass``, ``plastic`` or a wood, such as ``holly``."""
    thickness_mm: float
    in_mm: float | None = None
    """How thick the veneer is that it was laid beside, both glued to one ground: an inlay thicker
    than it stands proud, a thinner one lies low."""
    stated_proud_mm: float | None = None
    stated_low_mm: float | None = None
    area_m2: float | None = None
    width_mm: float | None = None
    """How wide its parts are: a stringing 1 mm, a shell 20 mm."""
    hardness_n: float | None = None
    """Side hardness (Janka) of a wood that is let in, in N, as its maker knows it."""
    described: str = ""
    """A wood of the shop's own with what the shop says of it; no document holds it."""

    @property
    def made_of(self) -> str:
        """Its material as rules and calculators read it: a wood of the shop's own described."""
        return self.described or self.material

    @property
    def name(self) -> str:
        """What people call it: ``shell inlay``, ``patch``."""
        return self.material if self.material in OF_THE_VENEER else f"{self.material} inlay"

    @property
    def proud_um(self) -> float:
        """How far it stands above the face around it, at first."""
        return 1000 * max(0.0, self._above_mm)

    @property
    def low_um(self) -> float:
        """How far it lies below the face around it, at first."""
        return 1000 * max(0.0, -self._above_mm)

    @property
    def _above_mm(self) -> float:
        if self.stated_proud_mm is not None or self.stated_low_mm is not None:
            return (self.stated_proud_mm or 0.0) - (self.stated_low_mm or 0.0)
        return 0.0 if self.in_mm is None else self.thickness_mm - self.in_mm


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
    then: tuple[str, ...] = ()
    """The schedules that follow ``schedule``, one after the other, in the same life."""
    count: int = 1
    """How many alike one entry of the job's document stands for; of each of these, 1."""
    alike: str = ""
    """For one of several alike: the id that they have together."""
    inlays: tuple[Inlay, ...] = ()
    hardness_n: float | None = None
    """Side hardness (Janka) of its wood, in N, as its maker knows it; None for the table's."""
    described: str = ""
    """Its woods with what the shop says of those that are its own; no document holds it."""

    @property
    def made_of(self) -> str:
        """Its woods as rules and calculators read them: those of the shop's own described."""
        return self.described or self.species

    @property
    def shows(self) -> str:
        """All that shows on it, as rules read it: its woods, and what is let into them."""
        let_in = (one.made_of for one in self.inlays if one.material not in OF_THE_VENEER)
        return ", ".join(filter(None, (self.made_of, *(f"{one} inlay" for one in let_in))))

    @property
    def area_m2(self) -> float:
        """The area of all faces together, in square metres; of one, where there are several."""
        return sum(face.area_m2 for face in self.faces)

    @property
    def schedules(self) -> tuple[str, ...]:
        """Every schedule of its life, the first one first."""
        return (self.schedule, *self.then)

    def each(self) -> Iterator[Piece]:
        """Give each of the pieces that are alike by its own name, or the one piece itself."""
        if self.count == 1:
            yield self
            return
        for number in range(1, self.count + 1):
            yield replace(
                self,
                id=f"{self.id}-{number}",
                title=f"{self.title} {number}",
                count=1,
                alike=self.id,
            )


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
    board: bool = False
    """True for a sample board: its pieces are strips on which ways are tried side by side."""

    def each_piece(self) -> Iterator[Piece]:
        """Give every piece that is worked by itself, those that are alike one by one."""
        for piece in self.pieces:
            yield from piece.each()
