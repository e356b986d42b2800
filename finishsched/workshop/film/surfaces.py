"""What was read of a piece's surface: gloss, colour, hardness; the sheen beside the one wanted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo

from finishsched.journal.events import PieceStarted, SurfaceRead
from finishsched.journal.progress import Book, this_life
from finishsched.model.readings import LOOKS, Measure, Reading, colour_apart, sheen_of
from finishsched.workshop.standing.standing import Standing


@dataclass(frozen=True, slots=True)
class Seen:
    """One reading as it stands in the journal."""

    at: datetime
    zone: str
    reading: Reading
    by: str


@dataclass(frozen=True, slots=True)
class SheenRead:
    """The sheen as last read at 60 degrees on the field, beside the one that is wanted."""

    gloss: float
    read: str
    wanted: str
    """Empty where nobody said."""

    @property
    def words(self) -> str:
        """Return both in words, and which way it misses."""
        found = f"{self.read}, {self.gloss:g} units of gloss at 60 degrees"
        if not self.wanted:
            return found
        if self.wanted == self.read:
            return f"{found}, as wanted"
        brighter = LOOKS.index(self.read) > LOOKS.index(self.wanted)
        return (
            f"{found}: {'brighter' if brighter else 'duller'} than {self.wanted}, which is wanted"
        )


def readings_of(standing: Standing, book: Book) -> tuple[Seen, ...]:
    """Return every reading of a piece in its present life, in the order of their times."""
    told = this_life(book.told(standing.ref, PieceStarted, SurfaceRead))
    found = [
        Seen(event.at, event.what.zone, reading_of(event.what), event.what.by)
        for event in told
        if isinstance(event.what, SurfaceRead)
    ]
    return tuple(sorted(found, key=lambda seen: seen.at))


def finish_readings(standing: Standing, book: Book) -> tuple[Seen, ...]:
    """Return the readings of a piece's finish, without what was written of an old one's state."""
    seen = readings_of(standing, book)
    return tuple(one for one in seen if one.reading.measure not in OF_A_CONDITION)


def reading_of(what: SurfaceRead) -> Reading:
    """Return an entry as the reading that it tells."""
    return Reading(Measure(what.measure), what.numbers, what.angle_deg, what.grade)


def _sheen_read(standing: Standing, book: Book) -> SheenRead | None:
    """Return the sheen as last read; None where gloss was never read at 60 degrees."""
    glosses = [
        seen
        for seen in readings_of(standing, book)
        if seen.reading.angle_deg == 60 and seen.zone == FIELD
    ]
    if not glosses:
        return None
    gloss = glosses[-1].reading.numbers[0]
    return SheenRead(gloss, sheen_of(gloss), sheen_wanted(standing))


def sheen_wanted(standing: Standing) -> str:
    """Return the sheen that a piece is to have: its own, else the look of its schedule."""
    return standing.piece.sheen or (standing.schedule.look if standing.schedule else "")


def surface_words(standing: Standing, book: Book) -> Iterator[tuple[str, str]]:
    """Give what was read last of each zone, each with its name: for papers and tables."""
    sheen = _sheen_read(standing, book)
    if sheen is not None:
        yield "sheen read", sheen.words
    newest: dict[tuple[str, Measure, int | None], Seen] = {}
    for seen in readings_of(standing, book):
        if seen.reading.measure in OF_A_CONDITION:
            continue  # a paper of its own
        newest[seen.zone, seen.reading.measure, seen.reading.angle_deg] = seen
    for (zone, measure, angle), seen in newest.items():
        if (zone, measure, angle) != (FIELD, Measure.GLOSS, 60):
            found = f"{seen.reading.found}{_change(seen, standing, book)}"
            yield f"{seen.reading.name} of the {zone}", found


def told_lines(standing: Standing, book: Book, zone: tzinfo) -> Iterator[str]:
    """Give the sheen beside the one wanted, then every reading with its day, the newest first."""
    sheen = _sheen_read(standing, book)
    if sheen is not None:
        yield f"sheen read: {sheen.words}"
    for seen in reversed(readings_of(standing, book)):
        place = "" if seen.zone == FIELD else f", {seen.zone}"
        by = f", {seen.by}" if seen.by else ""
        yield f"  {seen.at.astimezone(zone):%Y-%m-%d %H:%M}: {seen.reading.words}{place}{by}"


def _change(seen: Seen, standing: Standing, book: Book) -> str:
    """Say how far a colour has gone from the first reading of its zone."""
    colours = [
        one
        for one in readings_of(standing, book)
        if one.zone == seen.zone and one.reading.measure is Measure.COLOUR
    ]
    if seen.reading.measure is not Measure.COLOUR or len(colours) < 2:
        return ""
    apart = colour_apart(colours[0].reading.numbers, seen.reading.numbers)
    return f", {apart:.1f} from the first reading (CIE 1976)"


FIELD = "field"
"""The zone that a reading is of where nobody says which."""
OF_A_CONDITION = (Measure.FOUND, Measure.SWAB, Measure.LEAVE)
"""What an old piece shows before it is worked; ``papers/conditions.py`` writes it down."""
