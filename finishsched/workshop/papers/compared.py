"""Pieces side by side: what each way took, what it gave, and what somebody thinks of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from finishsched.journal.events import DefectSeen, StepDone
from finishsched.journal.progress import Book
from finishsched.model.names import in_words
from finishsched.model.ranges import Range
from finishsched.model.readings import Measure
from finishsched.model.shop import ShownUnits
from finishsched.units import CUT, MASS, show
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.shown import film_told
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.surfaces import readings_of
from finishsched.workshop.papers.records import Record, record_of
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.standing import Standing


@dataclass(frozen=True, slots=True)
class Compared:
    """One piece, strip or way, as far as it has come."""

    ref: str
    title: str
    schedules: tuple[str, ...]
    schedule: str
    """Its title, with the cuts of its shellac."""
    state: str
    steps: str
    """``12 of 40``."""
    coats: int
    work_min: float
    """Hands-on, of the steps done, by the schedule."""
    elapsed_s: float | None
    film_um: Range | None
    solvent_g: float
    units: ShownUnits
    """The shop's own, in which both are told."""
    readings: Mapping[str, str]
    """What was read last, by the name of what is read: sheen, colour, smell, judged."""
    points: float | None
    """What it was judged, up to 10."""
    defects: tuple[str, ...]


def boards(workshop: Workshop) -> tuple[str, ...]:
    """Return the sample boards of the shop, by the id of their job."""
    return tuple(job.id for job in workshop.papers.jobs if job.board)


def compared(workshop: Workshop, name: str, now: datetime) -> tuple[Compared, ...]:
    """Return every piece that ``name`` means, side by side, the best judged first.

    Raises:
        RefusedError: for what names no piece, or one alone.

    """
    found = find_several(workshop, name, finished=True)
    if len(found) < 2:
        raise RefusedError(f"{name!r} is one piece", "name several, or the job of a sample board")
    book = workshop.book()
    rows = [_row(workshop, standing, book, now) for standing in found]
    return tuple(sorted(rows, key=lambda row: -(row.points or -1.0)))


def facts(row: Compared) -> Iterator[tuple[str, str]]:
    """Give one piece's column: the name of each fact, and what it says."""
    yield "schedule", row.schedule
    yield "stands", f"{row.state}, {row.steps} steps"
    yield "coats", str(row.coats) if row.coats else ""
    yield "work", span(row.work_min * 60, up=True) if row.work_min else ""
    yield "time", span(row.elapsed_s) if row.elapsed_s else ""
    yield "film", _film(row.film_um, row.units)
    yield "solvent", show(row.solvent_g, MASS, row.units.mass) if row.solvent_g else ""
    yield from row.readings.items()
    yield "defects", ", ".join(row.defects)


def table(rows: Iterable[Compared]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the facts as lines: a name, and what each piece says; lines that nobody has go."""
    columns = [dict(facts(row)) for row in rows]
    names = dict.fromkeys(name for column in columns for name in column)
    lines = ((name, tuple(column.get(name, "") for column in columns)) for name in names)
    return tuple(line for line in lines if any(line[1]))


def _row(workshop: Workshop, standing: Standing, book: Book, now: datetime) -> Compared:
    record = record_of(workshop, standing.ref, now) if standing.progress is not None else None
    done = standing.progress.done if standing.progress else ()
    area_m2 = standing.piece.area_m2
    points = [s for s in readings_of(standing, book) if s.reading.measure is Measure.JUDGED]
    return Compared(
        ref=standing.ref,
        title=standing.piece.title,
        schedules=standing.piece.schedules,
        schedule=_schedule(standing, workshop),
        state=_state(standing),
        steps=f"{standing.progress.steps_passed if standing.progress else 0} of "
        f"{len(standing.steps)}",
        coats=sum(1 for step, event in done
                  if step.verb.lays_coats and isinstance(event.what, StepDone)),
        work_min=sum(step.hands_on.minutes(area_m2) for step, _ in done),
        elapsed_s=_elapsed_s(record, now),
        film_um=record.film_um if record else None,
        solvent_g=sum(grams for _, grams in record.solvents) if record else 0.0,
        units=workshop.papers.shop.units,
        readings=dict(_readings(standing, book)),
        points=points[-1].reading.numbers[0] if points else None,
        defects=tuple(_defects(standing, book)),
    )  # fmt: skip


def _schedule(standing: Standing, workshop: Workshop) -> str:
    title = standing.schedule.title if standing.schedule else standing.piece.schedule
    cuts = dict.fromkeys(step.cut_g_per_l for step in standing.steps if step.cut_g_per_l)
    unit = workshop.papers.shop.units.cut
    shown = [show(cut, CUT, unit, digits=2) for cut in cuts]
    return f"{title} ({in_words(dict.fromkeys(shown))})" if len(shown) < 4 and shown else title


def _state(standing: Standing) -> str:
    if standing.progress is None:
        return "not begun"
    return "finished" if standing.progress.finished else "at work"


def _elapsed_s(record: Record | None, now: datetime) -> float | None:
    if record is None:
        return None
    return ((record.finished_at or now) - record.begun_at).total_seconds()


def _readings(standing: Standing, book: Book) -> Iterator[tuple[str, str]]:
    """Give what was read last of each thing, wherever on the piece."""
    for seen in readings_of(standing, book):
        name = seen.reading.measure.value
        angle = f" at {seen.reading.angle_deg} deg" if seen.reading.angle_deg else ""
        yield f"{name}{angle}", seen.reading.words.partition(" ")[2]


def _defects(standing: Standing, book: Book) -> Iterator[str]:
    for event in book.told(standing.ref, DefectSeen):
        if isinstance(event.what, DefectSeen):
            yield event.what.seen or event.what.text


def _film(film_um: Range | None, units: ShownUnits) -> str:
    return "" if film_um is None or film_um.high < 1 else film_told(film_um, units)
