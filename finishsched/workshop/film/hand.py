"""A hand's own rate: strokes on a test piece, what they took, and what that teaches.

Ten strokes on a piece of known area, weighed before and after: a milligram of shellac over 10 cm2
is 0.8 um. What was found over what the model says goes before the model for that material.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from finishsched.film.materials import FILM, Material, material_of
from finishsched.film.strokes import depth_um
from finishsched.journal.events import Event, HandTested, NewEvent
from finishsched.mixing.cut import DISSOLVED_G_PER_ML
from finishsched.model.grades import Grade, grade_of
from finishsched.model.said import Teller
from finishsched.model.woods import woods_of
from finishsched.numerals import counted
from finishsched.units import LENGTH, MASS, ForeignUnitError, read
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.base.words import one_line
from finishsched.workshop.standing.where import find

if TYPE_CHECKING:
    from finishsched.journal.progress import Book
    from finishsched.workshop.base.workshop import Workshop

MOST_STROKES = 5000
MOST_UM = 500.0
USUAL_WOOD_G_PER_ML = 0.65
"""Of a wood that nobody named (our assumption)."""


@dataclass(frozen=True, slots=True)
class HandTest:
    """Strokes on a test piece, in the maker's words: ``10 strokes: 12 mg``."""

    words: str
    area_mm2: float
    grade: Grade
    wet: bool = False
    on: str = "film"
    """``film``, ``wood`` for the piece's own, or an inlay's material."""


def log_hand_test(
    workshop: Workshop, piece: str, test: HandTest, now: datetime, *, by: str = ""
) -> Event:
    """Take a test of this hand's rate.

    Raises:
        RefusedError: when it cannot be true or cannot be read; the journal is as it was.

    """
    who = workshop.papers.shop.hands_named(one_line(by))

    def build(book: Book) -> NewEvent:
        standing = find(workshop, piece, book)
        strokes, taken_um = _read(test, standing.piece.made_of, tell_in(workshop.papers.shop.units))
        what = HandTested(
            test.on, test.grade.name, strokes, test.area_mm2, taken_um, test.wet,
            standing.piece.made_of if test.on == "wood" else "", who,
        )  # fmt: skip
        return NewEvent(at=now, piece=None, what=what)

    return workshop.append(build, now)


def hands_of(book: Book) -> Mapping[str, tuple[float, ...]]:
    """Return, by material, every test's depth found over the depth that the model says."""
    found: dict[str, tuple[float, ...]] = {}
    for event in book.told(None, HandTested):
        what = event.what
        if not isinstance(what, HandTested):
            continue
        material = _material(what.on, what.species)
        grade = grade_of(what.grade)
        reckoned = depth_um(material, grade, what.strokes, what.area_mm2, wet=what.wet)
        found[material.name] = (*found.get(material.name, ()), what.taken_um / reckoned)
    return found


def _material(on: str, species: str) -> Material:
    if on == "film":
        return FILM
    return material_of(species or "wood") if on == "wood" else material_of(on)


def _read(test: HandTest, species: str, tell: Teller) -> tuple[float, float]:
    """Return the strokes, and how deep they went in um."""
    found = re.fullmatch(r"\s*(\d{1,4})\s*strokes?\s*:\s*(.+)", test.words)
    if found is None:
        raise RefusedError(
            f"{test.words!r} is no test", "write for example '10 strokes: 12 mg' or '...: 2 um'"
        )
    strokes = int(found[1])
    taken_um = _depth_um(found[2], test, species)
    if not 1 <= strokes <= MOST_STROKES or not 0 < taken_um <= MOST_UM:
        raise RefusedError(
            f"{counted(strokes, 'stroke')} that took {tell(taken_um, 'um')}",
            f"1 to {MOST_STROKES} strokes take more than 0 and up to {tell(MOST_UM, 'um')}",
        )
    return float(strokes), taken_um


def _depth_um(text: str, test: HandTest, species: str) -> float:
    try:
        grams = read(text, MASS)
    except ForeignUnitError:
        return 1000 * read(text, LENGTH)
    if test.on not in ("film", "wood"):
        raise RefusedError(
            f"{text} off {test.on}, whose density is not known",
            "give the depth: '10 strokes: 2 um'",
        )
    density = DISSOLVED_G_PER_ML
    if test.on == "wood":
        known = [wood.kg_per_m3 for wood in woods_of(species) if wood.kg_per_m3]
        density = min(known) / 1000 if known else USUAL_WOOD_G_PER_ML
    return grams / density * 1000 / test.area_mm2 * 1000
