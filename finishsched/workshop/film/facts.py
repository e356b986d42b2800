"""What the journal says about film: amounts laid, bottles weighed, gauges read, what they teach."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from finishsched.film.face import Measured
from finishsched.film.learning import Methods, gauge_sd, methods
from finishsched.film.ledger import SEAL_UM, Gauged, Laid, begin, enter
from finishsched.film.solids import carries_film, density_g_per_ml
from finishsched.film.works import Reckoned, Terms, Used, ground_of, works_of
from finishsched.film.zones import MEASURED_TOLERANCE_UM, around
from finishsched.journal.events import (
    BottleWeighed,
    Event,
    FilmGauged,
    PieceStarted,
    StepDone,
    ZoneMeasured,
)
from finishsched.journal.progress import Book, StepStatus, this_life
from finishsched.journal.shelf import Shelf
from finishsched.mixing.account import account_of
from finishsched.mixing.amount import Range
from finishsched.mixing.learnt_use import ERROR_SD, By, MethodKey, Seen
from finishsched.mixing.need import as_laid
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.standing.standing import Standing


@dataclass(frozen=True, slots=True)
class Reading:
    """A film gauge's reading, and the index of the step after which it was taken."""

    event: Event
    film_um: float
    """Of a thickness measured: what is left of it."""
    after: int
    """-1 before any step was done."""
    zone: str = ""
    """Where veneer or inlay was measured; empty for a film gauge."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line to be: a step, or a reading of the gauge."""

    reckoned: Reckoned | None
    reading: Reading | None = None


def terms_of(
    standing: Standing, book: Book, papers: Papers, known: Methods, things: Shelf
) -> Terms:
    """Return by what a piece is reckoned: products, habits, what was learned, what was used."""
    return Terms(
        products=papers.products,
        alcohol=papers.shop.alcohol,
        bare_grades=papers.shop.film.bare_grades,
        methods=known,
        used=used_of(standing, book, papers, things),
    )


def known_methods(
    standings: Iterable[Standing], book: Book, papers: Papers, things: Shelf
) -> Methods:
    """Return what every weighing, amount and gauge reading of the shop teaches."""
    standings = [standing for standing in standings if standing.progress is not None]
    seen = [one for standing in standings for one in _amounts_seen(standing, book, papers, things)]
    amounts = methods(seen)
    gauged = [
        one
        for standing in standings
        if book.told(standing.ref, FilmGauged)
        for one in _gauges_seen(standing, book, papers, amounts, things)
    ]
    return methods((*seen, *gauged)) if gauged else amounts


def entries_of(standing: Standing, book: Book, terms: Terms) -> list[Entry]:
    """Return the steps of a piece with the readings of its gauge between them, in order."""
    readings = _readings(standing, book)
    entries = [Entry(None, reading) for reading in readings if reading.after < 0]
    for index, reckoned in enumerate(works_of(standing.piece, standing.steps, terms)):
        entries.append(Entry(_as_done(standing, index, reckoned)))
        entries += [Entry(None, reading) for reading in readings if reading.after == index]
    return entries


def film_gauged(reading: Reading, gauge_error_um: float) -> Gauged:
    """Return a film gauge's reading as the ledger takes it."""
    film_um = reading.film_um
    return Gauged(Range(max(0.0, film_um - gauge_error_um), film_um, film_um + gauge_error_um))


def gauged_work(reading: Reading, gauge_error_um: float) -> Gauged | Measured:
    """Return a reading as the ledger takes it, its gauge's error on either side."""
    if reading.zone:
        return Measured(reading.zone, around(reading.film_um, MEASURED_TOLERANCE_UM))
    return film_gauged(reading, gauge_error_um)


def used_of(standing: Standing, book: Book, papers: Papers, things: Shelf) -> Mapping[str, Used]:
    """Return what the journal says of each coat, by the step's key; a weighing goes first."""
    if standing.progress is None:
        return {}
    found = {
        step.key: _used(step, event.what, standing, things, papers)
        for step, event in standing.progress.done
        if isinstance(event.what, StepDone) and step.verb.lays_coats
    }
    for event in this_life(book.told(standing.ref, PieceStarted, BottleWeighed)):
        if isinstance(event.what, BottleWeighed):
            _weigh(event.what, standing, found, papers)
    return found


def coats_before(standing: Standing, key: str, coats: int) -> tuple[Step, ...]:
    """Return the ``coats`` coats laid one after the other that end with the step ``key``.

    Fewer where so many were not laid with the same product in the same way, nothing between.
    """
    if standing.progress is None:
        return ()
    done = [step for step, _ in standing.progress.done]
    keys = [step.key for step in done]
    if key not in keys:
        return ()
    last = done[keys.index(key)]
    found: list[Step] = []
    for step in reversed(done[: keys.index(key) + 1]):
        alike = (step.product, step.verb) == (last.product, last.verb)
        if not alike or not step.verb.lays_coats or len(found) == coats:
            break
        found.append(step)
    return tuple(reversed(found))


def _as_done(standing: Standing, index: int, reckoned: Reckoned) -> Reckoned:
    """Return a step as it counts: one that was skipped changes nothing."""
    if standing.progress is not None and standing.progress.statuses[index] is StepStatus.SKIPPED:
        return Reckoned(reckoned.step, None)
    return reckoned


def _readings(standing: Standing, book: Book) -> list[Reading]:
    if standing.progress is None:
        return []
    numbers = {step.key: index for index, step in enumerate(standing.steps)}
    done = [(event, numbers[step.key]) for step, event in standing.progress.done]
    readings = []
    for event in this_life(book.told(standing.ref, PieceStarted, FilmGauged, ZoneMeasured)):
        before = [index for one, index in done if one.at <= event.at]
        after = max(before, default=-1)
        if isinstance(event.what, FilmGauged):
            readings.append(Reading(event, event.what.film_um, after))
        elif isinstance(event.what, ZoneMeasured):
            readings.append(Reading(event, event.what.left_um, after, event.what.zone))
    return sorted(readings, key=lambda reading: (reading.after, reading.event.at))


def _used(step: Step, done: StepDone, standing: Standing, things: Shelf, papers: Papers) -> Used:
    steps, area_m2 = standing.steps, standing.piece.area_m2
    thing = things.find(done.batch) if done.batch else None
    batch = thing if isinstance(thing, Batch) else None
    cut = as_laid(step, steps, batch.cut_g_per_l) if batch else None
    thinned = batch.thinned_percent if batch else None
    amount_ml = None if done.reckoned else done.amount_ml
    if amount_ml is None and not done.reckoned and done.amount_g is not None:
        density = _density(step, cut, papers)
        amount_ml = done.amount_g / density if density else None
    if not amount_ml:
        return Used(None, cut_g_per_l=cut, thinned_percent=thinned)
    error = papers.shop.tools.measure_error_percent / 100
    around = Range(amount_ml * max(0.0, 1 - error), amount_ml, amount_ml * (1 + error))
    for_coat = _without_pad(around, step, area_m2, 1)
    return Used(for_coat, cut_g_per_l=cut, thinned_percent=thinned)


def _without_pad(used_ml: Range, step: Step, area_m2: float, coats: int) -> Range:
    """Return what went into so many coats of what was used for them: what the pad keeps is none."""
    spread = step.spread
    if spread is None or not spread.ml_per_m2:
        return used_ml
    scheduled_ml = spread.ml_per_m2 * area_m2 * coats
    low, likely, high = (
        used - account_of(used, scheduled_ml, step.verb).in_pad
        for used in (used_ml.low, used_ml.likely, used_ml.high)
    )
    return Range(low, likely, high)


def _weigh(what: BottleWeighed, standing: Standing, found: dict[str, Used], papers: Papers) -> None:
    """Put a weighing in the place of what was logged, the same for each of its coats."""
    steps = coats_before(standing, what.step, what.coats)
    for step in steps:
        before = found.get(step.key, Used())
        density = _density(step, before.cut_g_per_l, papers)
        if density:
            net_ml = _net_g(what, papers.shop).times(1 / density)
            together_ml = _without_pad(net_ml, step, standing.piece.area_m2, len(steps))
            amount_ml = together_ml.times(1 / len(steps))
            found[step.key] = Used(
                amount_ml, weighed=True, cut_g_per_l=before.cut_g_per_l,
                thinned_percent=before.thinned_percent, shared_by=len(steps),
            )  # fmt: skip


def _net_g(what: BottleWeighed, shop: Shop) -> Range:
    net_g, step_g = what.before_g - what.after_g, shop.tools.scale_g
    return Range(max(0.0, net_g - step_g), net_g, net_g + step_g)


def _density(step: Step, cut_g_per_l: float | None, papers: Papers) -> float | None:
    product = papers.products.get(step.product or "")
    if product is None:
        return None
    return density_g_per_ml(product, cut_g_per_l or step.cut_g_per_l, papers.shop.alcohol)


def _amounts_seen(standing: Standing, book: Book, papers: Papers, things: Shelf) -> Iterator[Seen]:
    """Give each amount laid over what its schedule says; the first coat into wood teaches none."""
    first = next((step for step in standing.steps if step.verb.lays_coats), None)
    used = used_of(standing, book, papers, things)
    for step in standing.steps:
        own = used.get(step.key)
        if own is None or own.amount_ml is None or step == first or step.spread is None:
            continue
        product = papers.products.get(step.product or "")
        if product is None or not carries_film(product.kind) or not step.spread.ml_per_m2:
            continue
        laid = own.amount_ml.likely * (1 - step.verb.does.lost_share) / standing.piece.area_m2
        by = By.WEIGHED if own.weighed else By.LOGGED
        ratio = laid / step.spread.ml_per_m2
        yield Seen((product.id, step.verb), ratio, by, ERROR_SD[by] * math.sqrt(own.shared_by))


def _gauges_seen(
    standing: Standing, book: Book, papers: Papers, amounts: Methods, things: Shelf
) -> Iterator[Seen]:
    """Give each film found over the film reckoned since nothing was taken off it."""
    terms = terms_of(standing, book, papers, amounts, things)
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
            state = enter(film_gauged(entry.reading, error_um), state).after
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
