"""What the journal says about film: amounts laid, bottles weighed, gauges read, what they teach."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from finishsched.film.face import FaceWork, Measured, Stands
from finishsched.film.learning import Methods, gauge_sd, methods
from finishsched.film.ledger import SEAL_UM, Gauged, Laid, begin, enter
from finishsched.film.solids import carries_film
from finishsched.film.works import Reckoned, Terms, ground_of, works_of
from finishsched.film.zones import MEASURED_TOLERANCE_UM, around
from finishsched.journal.events import FilmGauged, PieceStarted, ZoneMeasured, ZoneStands
from finishsched.journal.progress import Book, StepStatus, this_life
from finishsched.mixing.amount import Range
from finishsched.mixing.learnt_use import By, MethodKey, Seen
from finishsched.workshop.amounts.uses import Ledger, logged_uses, used_of
from finishsched.workshop.standing.standing import Standing


@dataclass(frozen=True, slots=True)
class SpotWork:
    """What is done on one spot alone."""

    work: FaceWork
    title: str
    ahead: bool = False
    """True while it is still to be done."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading, or work on one spot, and the index of the piece's step that it comes after."""

    at: datetime
    film_um: float
    """Of a thickness measured, what is left of it; of what stands above the face, how far."""
    after: int
    """-1 before any step was done."""
    zone: str = ""
    """Where veneer or inlay was measured, or which spot was worked at; empty for a film gauge."""
    on_spot: SpotWork | None = None
    stands: bool = False
    """True where it tells how far something stands above the face, and not how thick it is."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line to be: a step, or a reading of the gauge."""

    reckoned: Reckoned | None
    reading: Reading | None = None


def terms_of(standing: Standing, ledger: Ledger, known: Methods) -> Terms:
    """Return by what a piece is reckoned: products, habits, what was learned, what was used."""
    shop = ledger.papers.shop
    return Terms(
        products=ledger.papers.products,
        alcohol=shop.alcohol,
        bare_grades=shop.film.bare_grades,
        methods=known,
        used=used_of(standing, ledger),
    )


def known_methods(standings: Iterable[Standing], ledger: Ledger) -> Methods:
    """Return what every weighing, amount and gauge reading of the shop teaches."""
    standings = [standing for standing in standings if standing.progress is not None]
    seen = tuple(_amounts_seen(standings, ledger))
    amounts = methods(seen)
    gauged = [
        one
        for standing in standings
        if ledger.book.told(standing.ref, FilmGauged)
        for one in _gauges_seen(standing, ledger, amounts)
    ]
    return methods((*seen, *gauged)) if gauged else amounts


def entries_of(
    standing: Standing, book: Book, terms: Terms, spots: Iterable[Reading] = ()
) -> list[Entry]:
    """Return the steps of a piece with what was read and worked on ``spots`` between, in order."""
    readings = sorted((*_readings(standing, book), *spots), key=_order)
    entries = [Entry(None, reading) for reading in readings if reading.after < 0]
    for index, reckoned in enumerate(works_of(standing.piece, standing.steps, terms)):
        entries.append(Entry(_as_done(standing, index, reckoned)))
        entries += [Entry(None, reading) for reading in readings if reading.after == index]
    return entries


def _film_gauged(reading: Reading, gauge_error_um: float) -> Gauged:
    """Return a film gauge's reading as the ledger takes it."""
    film_um = reading.film_um
    return Gauged(Range(max(0.0, film_um - gauge_error_um), film_um, film_um + gauge_error_um))


def gauged_work(reading: Reading, gauge_error_um: float) -> FaceWork:
    """Return a reading as the ledger takes it, its gauge's error on either side; or spot work."""
    if reading.on_spot is not None:
        return reading.on_spot.work
    if reading.stands:
        return Stands(reading.zone, reading.film_um)
    if reading.zone:
        return Measured(reading.zone, around(reading.film_um, MEASURED_TOLERANCE_UM))
    return _film_gauged(reading, gauge_error_um)


def _as_done(standing: Standing, index: int, reckoned: Reckoned) -> Reckoned:
    """Return a step as it counts: one that was skipped changes nothing."""
    if standing.progress is not None and standing.progress.statuses[index] is StepStatus.SKIPPED:
        return Reckoned(reckoned.step, None)
    return reckoned


def _order(reading: Reading) -> tuple[int, bool, datetime]:
    ahead = reading.on_spot is not None and reading.on_spot.ahead
    return reading.after, ahead, reading.at


def done_by(standing: Standing, at: datetime) -> int:
    """Return the index of the last step of a piece that was done by then; -1 for none."""
    if standing.progress is None:
        return -1
    numbers = {step.key: index for index, step in enumerate(standing.steps)}
    done = standing.progress.done
    return max((numbers[step.key] for step, event in done if event.at <= at), default=-1)


def _readings(standing: Standing, book: Book) -> Iterator[Reading]:
    if standing.progress is None:
        return
    told = book.told(standing.ref, PieceStarted, FilmGauged, ZoneMeasured, ZoneStands)
    for event in this_life(told):
        after = done_by(standing, event.at)
        if isinstance(event.what, FilmGauged):
            yield Reading(event.at, event.what.film_um, after)
        elif isinstance(event.what, ZoneMeasured):
            yield Reading(event.at, event.what.left_um, after, event.what.zone)
        elif isinstance(event.what, ZoneStands):
            yield Reading(event.at, event.what.stands_um, after, event.what.zone, stands=True)


def _amounts_seen(standings: Iterable[Standing], ledger: Ledger) -> Iterator[Seen]:
    """Give each amount laid over what its schedule says, of what carries film."""
    for use in logged_uses(standings, ledger):
        product = ledger.papers.products.get(use.product)
        if use.by_mass or product is None or not carries_film(product.kind):
            continue
        if use.seen is not None:
            yield use.seen


def _gauges_seen(standing: Standing, ledger: Ledger, amounts: Methods) -> Iterator[Seen]:
    """Give each film found over the film reckoned since nothing was taken off it."""
    book, papers = ledger.book, ledger.papers
    terms = terms_of(standing, ledger, amounts)
    error_um = papers.shop.film.gauge_error_um
    state = begin(ground_of(standing.piece, standing.steps, papers.products, standing.over))
    since: dict[MethodKey, float] = {}
    base_um: float | None = 0.0
    for entry in entries_of(standing, book, terms):
        if entry.reading is not None and entry.reading.zone:
            continue
        if entry.reading is not None:
            laid_um = sum(since.values())
            if base_um is not None and laid_um >= SEAL_UM and entry.reading.film_um > base_um:
                found_um = entry.reading.film_um - base_um
                method = max(since, key=lambda key: since[key])
                yield Seen(method, found_um / laid_um, By.GAUGED, gauge_sd(found_um, error_um))
            base_um, since = entry.reading.film_um, {}
            state = enter(_film_gauged(entry.reading, error_um), state).after
            continue
        assert entry.reckoned is not None  # noqa: S101
        line = enter(entry.reckoned.work, state)
        step = entry.reckoned.step
        if isinstance(line.work, Laid):
            key = (step.product or "", step.verb)
            since[key] = since.get(key, 0.0) + line.laid_um.likely
        elif line.taken_um.likely > 0 and state.likely.film_um > 0:
            # A scuffed seal is a new start; a film cut down says nothing of how it was laid.
            base_um = line.after.film_um.likely if state.likely.film_um < SEAL_UM else None
            since = {}
        state = line.after
