"""What an old piece shows before anybody works on it: found, tried on a spot, not to be touched.

In the words of conservators, and deferring to them: a report describes, it does not decide.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo

from finishsched.journal.events import Event, PictureAttached, SurfaceRead
from finishsched.model.readings import Measure
from finishsched.units import AREA, LENGTH, show
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.surfaces import OF_A_CONDITION, reading_of
from finishsched.workshop.papers.material_facts import material_facts
from finishsched.workshop.papers.picture_entries import PictureRow
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find

DEFERS = (
    "A description by eye, for the one who decides. On a piece of value, on gilding, paint, "
    "labels, signatures and old colour, a conservator decides and works; tests on a spot stay on "
    "spots."
)
NOT_TOUCHED = "Not to be cleaned, coated or sanded until a conservator has looked at it."


@dataclass(frozen=True, slots=True)
class Line:
    """One thing found, tried or left alone."""

    at: datetime
    what: str
    where: str
    by: str


@dataclass(frozen=True, slots=True)
class Condition:
    """The report of one piece."""

    ref: str
    title: str
    facts: tuple[tuple[str, str], ...]
    found: tuple[Line, ...]
    tried: tuple[Line, ...]
    """Solvents on a swab, from mild to strong as they were tried."""
    leave: tuple[Line, ...]
    read: tuple[Line, ...]
    """Gloss, colour and hardness as they were read."""
    pictures: tuple[PictureRow, ...]
    shop: str
    zone: tzinfo
    made_at: datetime


def condition_of(workshop: Workshop, name: str, now: datetime) -> Condition:
    """Return the condition report of a piece, begun or not.

    Raises:
        RefusedError: for an unknown piece, or one of which nothing was written down.

    """
    book = workshop.book()
    standing = find(workshop, name, book)
    told = [e for e in book.told(standing.ref, SurfaceRead) if isinstance(e.what, SurfaceRead)]
    if not any(_measure(event) in OF_A_CONDITION for event in told):
        raise RefusedError(
            f"nothing is written down of the condition of {standing.ref}",
            f"write for example finishsched log {standing.ref} --reading 'found bloom at an edge'",
        )
    pictures = tuple(
        e.what for e in book.told(standing.ref, PictureAttached)
        if isinstance(e.what, PictureAttached) and not e.what.step
    )  # fmt: skip
    others = [m for m in Measure if m not in (*OF_A_CONDITION, Measure.JUDGED)]
    return Condition(
        ref=standing.ref,
        title=one_line(standing.piece.title),
        facts=tuple((key, one_line(text)) for key, text in _facts(workshop, standing) if text),
        found=tuple(_lines(told, (Measure.FOUND,))),
        tried=tuple(_lines(told, (Measure.SWAB,))),
        leave=tuple(_lines(told, (Measure.LEAVE,))),
        read=tuple(_lines(told, others)),
        pictures=(PictureRow("", pictures),) if pictures else (),
        shop=one_line(workshop.papers.shop.name),
        zone=workshop.zone,
        made_at=now,
    )


def text_lines(report: Condition) -> Iterator[str]:
    """Give the report as plain lines."""
    yield f"{report.ref}: {report.title}"
    yield from (f"  {name}: {said}" for name, said in report.facts)
    for head, lines in sections(report):
        yield head
        yield from (f"  {_said(line)}" for line in lines)
    if report.leave:
        yield f"  {NOT_TOUCHED}"
    yield DEFERS


def sections(report: Condition) -> Iterator[tuple[str, tuple[Line, ...]]]:
    """Give each part that holds something, with its heading."""
    heads = {
        "found": report.found,
        "tried on a spot": report.tried,
        "left alone": report.leave,
        "read": report.read,
    }
    yield from ((head, lines) for head, lines in heads.items() if lines)


def _said(line: Line) -> str:
    """Return what was found, and where if that is known."""
    return f"{line.what}, {line.where}" if line.where else line.what


def _measure(event: Event) -> Measure | None:
    """Return what an entry has read of a surface; None for any other entry."""
    return Measure(event.what.measure) if isinstance(event.what, SurfaceRead) else None


def _lines(told: Iterable[Event], measures: Iterable[Measure]) -> Iterator[Line]:
    """Give a line for each reading of some measures, the first one first."""
    wanted = tuple(measures)
    for event in sorted(told, key=lambda event: event.at):
        if isinstance(event.what, SurfaceRead) and _measure(event) in wanted:
            yield _line(event, event.what)


def _line(event: Event, read: SurfaceRead) -> Line:
    """Return what was read of a surface, where, and by whom; the field is not named."""
    reading = reading_of(read)
    words = reading.grade if _measure(event) in OF_A_CONDITION else reading.words
    zone = "" if read.zone == "field" else read.zone
    return Line(
        event.at,
        one_line(words),
        one_line(read.note or zone),
        one_line(read.by),
    )


def _facts(workshop: Workshop, standing: Standing) -> Iterator[tuple[str, str]]:
    piece, job, units = standing.piece, standing.job, workshop.papers.shop.units
    yield "part of", job.title if job else ""
    yield "belongs to", job.customer if job else ""
    yield "wood", piece.species
    yield from material_facts(piece)
    yield "veneer", show(piece.veneer_mm, LENGTH, units.length) if piece.veneer_mm else ""
    yield "faces", "; ".join(f"{face.name} ({face.count})" for face in piece.faces)
    yield "area", show(piece.area_m2, AREA, units.area, digits=3)
    over = standing.over
    yield "finish that is there", f"taken for {over.value}" if over else ""
    yield "notes", piece.notes
