"""The finish record of a piece: everything that a restorer would want to know in fifty years."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from statistics import fmean

from finishsched import __version__
from finishsched.drying.course import Course
from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.journal.progress import this_life
from finishsched.journal.shelf import Shelf, shelf
from finishsched.mixing.amount import NOTHING, Range
from finishsched.mixing.let_down import as_laid
from finishsched.model.shop import ShownUnits
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.numerals import counted
from finishsched.units import AREA, CUT, LENGTH, TEMPERATURE, show
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.words import AS_TOLD, entry_words, one_line, used_words
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.film.sentences import spot_sentences
from finishsched.workshop.film.surfaces import (
    OF_A_CONDITION,
    Seen,
    finish_readings,
    sheen_wanted,
    surface_words,
)
from finishsched.workshop.papers.batch_words import batch_words
from finishsched.workshop.papers.care import Keeping, beneath, keeping_of
from finishsched.workshop.papers.material_facts import material_facts
from finishsched.workshop.papers.outcomes import outcomes_of
from finishsched.workshop.papers.picture_entries import PictureRow, picture_rows
from finishsched.workshop.papers.solvents_given_off import solvents_of
from finishsched.workshop.safety.vapour_sources import Sources
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import cure_room, find, named_among

_IN_THE_WORK = (events.PieceStarted, events.StepDone, events.DryReady, events.DryNotYet)
"""Entries that the lines of the work tell."""

MOST_POINTS = 240
"""More than a printed chart can show."""
LEAST_FILM_UM = 1.0
"""Of less no line tells."""


@dataclass(frozen=True, slots=True)
class WorkLine:
    """One step that was done, every text a line without signs that cannot be printed."""

    at: datetime
    place: str
    what: str
    product: str
    """With its strength; empty when nothing was applied."""
    out_of: str
    """Batch and lots; empty when none was named."""
    amount: str
    air: str
    by: str
    outcome: str
    """What the dry checks found, and anything noted."""
    film_um: Range | None


@dataclass(frozen=True, slots=True)
class TalkLine:
    """A note, a defect, a rework, a reading: what happened beside the steps."""

    at: datetime
    words: str
    by: str


@dataclass(frozen=True, slots=True)
class AirPoint:
    """The air over one stretch of the work, averaged."""

    at: datetime
    temperature_c: float
    humidity_percent: float


@dataclass(frozen=True, slots=True)
class Record:
    """One piece's record."""

    ref: str
    title: str
    facts: tuple[tuple[str, str], ...]
    """What the object is: pairs of a name and a text."""
    begun_at: datetime
    finished_at: datetime | None
    """None while there are steps to do."""
    work: tuple[WorkLine, ...]
    talk: tuple[TalkLine, ...]
    film_um: Range
    """Over the high spots, as it now is."""
    film_words: tuple[str, ...]
    air: tuple[AirPoint, ...]
    solvents: tuple[tuple[str, float], ...]
    """What left as vapour: the solvent and the grams of it, the most first."""
    solvent_words: str
    keeping: tuple[Keeping, ...]
    beneath: tuple[str, ...]
    pictures: tuple[PictureRow, ...]
    readings: tuple[Seen, ...]
    sheen_wanted: str
    sources: tuple[str, ...]
    shop: str
    zone: tzinfo
    units: ShownUnits
    made_at: datetime
    program: str = f"finishsched {__version__}"


def record_of(workshop: Workshop, name: str, now: datetime) -> Record:
    """Return the record of one piece as its journal has it at ``now``.

    Raises:
        RefusedError: for an unknown piece, or one that was not begun.

    """
    return _Maker(workshop, find(workshop, name), now).record()


def records_of(workshop: Workshop, name: str, now: datetime) -> tuple[Record, ...]:
    """Return the record of a piece, or those of every piece of several that was begun.

    Raises:
        RefusedError: for a name that is neither, or where nothing was begun.

    """
    # By the pieces, not the documents: a job whose file is gone still has its work.
    # What was worked beside a piece stands in that piece's record.
    known = [s for s in named_among(workshop, name) if not s.of]
    pieces = [s for s in known if s.ref.partition("/")[0] == name]
    if not pieces:
        pieces = list(find_several(workshop, name, finished=True))
    if len(pieces) == 1:
        return (record_of(workshop, pieces[0].ref, now),)
    begun = [standing for standing in pieces if standing.progress is not None]
    if not begun:
        raise RefusedError(f"no piece of {name} was begun", f"finishsched log {name}/PIECE start")
    return tuple(_Maker(workshop, standing, now).record() for standing in begun)


class _Maker:
    """Makes the record of one piece."""

    def __init__(self, workshop: Workshop, standing: Standing, now: datetime) -> None:
        if standing.progress is None:
            raise RefusedError(
                f"{standing.ref} was not begun", f"finishsched log {standing.ref} start"
            )
        self._workshop = workshop
        self._standing = standing
        self._progress = standing.progress
        self._now = now
        self._live = workshop.book().live(standing.ref)
        self._shelf: Shelf = shelf(workshop.book())
        self._course: Course = cure_room(workshop).course
        self._sources_of = Sources(workshop.papers, self._shelf, self._course)
        self._products = workshop.papers.products
        self._units = workshop.papers.shop.units
        self._shown = shown_of(workshop.papers.shop)

    def record(self) -> Record:
        film = film_answer(self._workshop, self._standing.ref, self._now)
        films = {row.step.key: row.film_um for row in film.rows if row.step is not None}
        done = [step for step, _ in self._progress.done]
        begun_at, last_at = _begin_and_end(self._live)
        solvents = self._solvents()
        return Record(
            ref=self._standing.ref,
            title=one_line(self._standing.piece.title),
            facts=tuple((name, one_line(text)) for name, text in self._facts() if text),
            begun_at=begun_at,
            finished_at=last_at if self._progress.finished else None,
            work=tuple(self._work(films)),
            talk=tuple(self._talk()),
            film_um=film.film_um,
            film_words=tuple(map(one_line, (*spot_sentences(film), *film.assumed))),
            air=tuple(_thinned(self._course, begun_at, last_at)),
            solvents=tuple(sorted(solvents.items(), key=lambda pair: -pair[1])),
            solvent_words=self._unmeasured(),
            keeping=keeping_of(done, self._products),
            beneath=tuple(map(one_line, beneath(done, self._products))),
            pictures=tuple(picture_rows(self._pictures(), self._standing.steps)),
            readings=finish_readings(self._standing, self._workshop.book()),
            sheen_wanted=sheen_wanted(self._standing),
            sources=tuple(self._sources(done)),
            shop=one_line(self._workshop.papers.shop.name),
            zone=self._workshop.zone,
            units=self._units,
            made_at=self._now,
        )

    def _pictures(self) -> Iterator[events.PictureAttached]:
        return (e.what for e in self._live if isinstance(e.what, events.PictureAttached))

    def _facts(self) -> Iterator[tuple[str, str]]:
        piece, job = self._standing.piece, self._standing.job
        schedule = self._standing.schedule
        yield "part of", job.title if job else ""
        yield "made for", job.customer if job else ""
        yield "wood", piece.species
        yield from material_facts(piece)
        veneer = piece.veneer_mm
        yield "veneer", show(veneer, LENGTH, self._units.length) if veneer else ""
        yield "finished area", show(piece.area_m2, AREA, self._units.area, digits=3)
        yield "faces", "; ".join(f"{face.name} ({face.count})" for face in piece.faces)
        yield "sheen wanted", piece.sheen
        yield "sheen left by", self._last_touch() if self._progress.finished else ""
        yield from surface_words(self._standing, self._workshop.book())
        yield "schedule", f"{schedule.title} ({schedule.id})" if schedule else ""
        yield "look", schedule.look if schedule else ""
        yield "notes", piece.notes

    def _last_touch(self) -> str:
        """Return what touched the face last, which decides its sheen: paper, powder, or a coat."""
        for step, _ in reversed(self._progress.done):
            if step.verb.lays_coats:
                return f"the last coat ({step.title}), as it was laid"
            if step.verb.rubs_film:
                product = self._products.get(step.product or "")
                return f"{step.title} with {product.title}" if product else step.title
        return ""

    def _work(self, films: Mapping[str, Range]) -> Iterator[WorkLine]:
        outcomes = outcomes_of(self._live, self._workshop.zone)
        for step, event in self._progress.done:
            done = event.what
            assert isinstance(done, events.StepDone)  # noqa: S101
            told = (done.note, self._told_first(event))
            outcome = [*outcomes.get(step.key, ()), *filter(None, told)]
            named = self._shelf.find(done.batch) if done.batch else None
            batch = named if isinstance(named, Batch) else None
            film_um = films.get(step.key, NOTHING)
            yield WorkLine(
                at=event.at,
                place=one_line(step.place),
                what=one_line(step.title),
                product=one_line(self._product(step, batch)),
                out_of=one_line(self._out_of(done, batch)),
                amount=self._amount(done),
                air=self._air(event, done),
                by=one_line(done.by),
                outcome=one_line("; ".join(outcome)),
                film_um=film_um if film_um.high >= LEAST_FILM_UM else None,
            )

    def _told_first(self, event: Event) -> str:
        """Return in words how a coat was told before it was amended; empty where it was not."""
        ref = self._standing.ref
        book = self._workshop.book()
        if event.id not in book.amendments(ref):
            return ""
        written = (e for e in book.filed.get(ref, ()) if e.id == event.id)
        first = self._in_words(next(written, event))
        now = self._in_words(event)
        was = [then for then, since in zip(first, now, strict=True) if then and then != since]
        return f"amended; first told: {', '.join(was) or 'without it'}"

    def _in_words(self, event: Event) -> tuple[str, ...]:
        """Return what may be told otherwise of a coat: when, by whom, out of what, how much."""
        done = event.what
        assert isinstance(done, events.StepDone)  # noqa: S101
        at = event.at.astimezone(self._workshop.zone)
        return f"{at:%Y-%m-%d %H:%M}", done.by, done.batch, self._amount(done)

    def _product(self, step: Step, batch: Batch | None) -> str:
        if step.product is None:
            lubricant = self._products.get(step.lubricant or "")
            wet = lubricant.title if lubricant else step.lubricant or ""
            return f"with {wet}" if wet and wet != "dry" else ""
        product = self._products.get(step.product)
        title = product.title if product else step.product
        cut = as_laid(step, self._standing.steps, batch.cut_g_per_l if batch else None)
        thinned = batch.thinned_percent if batch else step.thinned_percent
        if cut is not None:
            return f"{title}, cut {show(cut, CUT, self._units.cut, digits=2)}"
        return f"{title}, {thinned:g} % thinned" if thinned else title

    def _out_of(self, done: events.StepDone, batch: Batch | None) -> str:
        words = done.batch if batch is None else batch_words(batch, self._products, self._units)
        return f"{words}{AS_TOLD}" if done.jar_told else words

    def _amount(self, done: events.StepDone) -> str:
        return used_words(done, self._shown)

    def _air(self, event: Event, done: events.StepDone) -> str:
        if done.air is not None:
            return _air_words(done.air.temperature_c, done.air.humidity_percent, self._units)
        if self._course.first_s is None:
            return ""
        reading = self._course.at(event.at.timestamp())
        return _air_words(reading.temperature_c, reading.humidity_percent, self._units)

    def _talk(self) -> Iterator[TalkLine]:
        """Give what happened beside the work, and all of what was stripped since."""
        silent: tuple[type, ...] = (events.PictureAttached, events.CautionsRead)
        lives = [(life.entries, life.steps) for life in self._standing.earlier]
        now = this_life(self._live) if lives else self._live
        for number, (entries, steps) in enumerate([*lives, (now, self._standing.steps)]):
            by_key = {step.key: step for step in steps}
            untold = silent if number < len(lives) else (*silent, *_IN_THE_WORK)
            for event in sorted(entries, key=lambda event: event.at):
                if _is_listed(event):
                    continue
                told = _is_anew(event) or isinstance(event.what, events.WentEarly)
                if told or not isinstance(event.what, untold):
                    words = one_line(entry_words(event.what, by_key, self._shown))
                    yield TalkLine(event.at, words, one_line(getattr(event.what, "by", "")))
        for life in self._standing.earlier:
            for ref, steps in life.beside:
                yield from self._beside(ref, steps)
        for line in self._standing.beside:
            yield from self._beside(line.ref, find(self._workshop, line.ref).steps)

    def _beside(self, ref: str, steps: Sequence[Step]) -> Iterator[TalkLine]:
        """Give what was done beside the piece: a spot that was mended, a wait of its own."""
        by_key = {step.key: step for step in steps}
        for event in self._workshop.book().live(ref):
            words = f"{ref}, {entry_words(event.what, by_key, self._shown)}"
            yield TalkLine(event.at, one_line(words), one_line(getattr(event.what, "by", "")))

    def _solvents(self) -> dict[str, float]:
        lines = (find(self._workshop, line.ref) for line in self._standing.beside)
        return solvents_of((self._standing, *lines), self._sources_of)

    def _unmeasured(self) -> str:
        count = self._sources_of.unmeasured
        return (
            f"by the schedule: {counted(count, 'coat')} without a measured amount" if count else ""
        )

    def _sources(self, done: Sequence[Step]) -> Iterator[str]:
        schedule = self._standing.schedule
        if schedule is not None and schedule.source:
            yield f"schedule: {one_line(schedule.source)}"
        used = dict.fromkeys(step.product or "" for step in done)
        for product in filter(None, map(self._products.get, used)):
            told = [f"{key}, {text}" for key, text in product.sources.items()]
            yield one_line(f"{product.title}: {'; '.join(told)}")


def _is_anew(event: Event) -> bool:
    return isinstance(event.what, events.PieceStarted) and event.what.anew


def _begin_and_end(live: tuple[Event, ...]) -> tuple[datetime, datetime]:
    """Return when the work began, and when the last was done to it or found ready.

    A note or a picture of later, or a note from before the start, is no work.
    """
    work = [event.at for event in this_life(live) if isinstance(event.what, _IN_THE_WORK)]
    return work[0], max(work)


def _air_words(temperature_c: float, humidity_percent: float, units: ShownUnits) -> str:
    degrees = show(temperature_c, TEMPERATURE, units.temperature, digits=3)
    return f"{degrees}, {humidity_percent:.0f} %"


def _is_listed(event: Event) -> bool:
    """Tell whether the record has an entry in its table of readings already."""
    what = event.what
    return isinstance(what, events.SurfaceRead) and what.measure not in OF_A_CONDITION


def _thinned(course: Course, begin: datetime, end: datetime) -> Iterator[AirPoint]:
    """Give the air between two instants, averaged so that a chart can show it."""
    begin_s, end_s = begin.timestamp(), end.timestamp()
    readings = [r for r in course.readings if begin_s <= r.at_s <= end_s]
    size = -(-len(readings) // MOST_POINTS) or 1
    for index in range(0, len(readings), size):
        some = readings[index : index + size]
        since_begin_s = fmean(reading.at_s for reading in some) - begin_s
        yield AirPoint(
            begin + timedelta(seconds=since_begin_s),
            fmean(reading.temperature_c for reading in some),
            fmean(reading.humidity_percent for reading in some),
        )
