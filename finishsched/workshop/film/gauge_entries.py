"""Entries about film and face: gauges, bottles weighed, gloss and colour; and their refusals."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, TypeAlias

from finishsched.film.zones import zone_named, zones_of
from finishsched.journal.events import (
    BottleWeighed,
    Event,
    FilmGauged,
    NewEvent,
    SurfaceRead,
    ZoneMeasured,
)
from finishsched.model.readings import Measure, Reading
from finishsched.model.step import Step
from finishsched.units import FILM, UnitFaultError, read
from finishsched.workshop.base.entries import AHEAD, RefusedError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.uses import coats_before
from finishsched.workshop.standing.where import find

if TYPE_CHECKING:
    from finishsched.journal.progress import Book
    from finishsched.workshop.base.workshop import Workshop

THICKNESS = r"[0-9][0-9./ ]*\s*(?:mm|um|µm|μm|mils?|thou|in|inch|inches|\")(?![a-z])"
MOST_OVER_STATED = 1.5
"""A veneer found so many times as thick as stated is another one, or a slip."""
BEFORE_WORK = (Measure.FOUND, Measure.SWAB, Measure.LEAVE, Measure.GLOSS, Measure.COLOUR)
"""What may be read of a piece that is not begun."""
THICKEST_READ_UM = 2000.0
"""No finish of wood is thicker; a reading above it was of something else."""


@dataclass(frozen=True, slots=True)
class Read:
    """Somebody read a film gauge over the high spots."""

    film_um: float


@dataclass(frozen=True, slots=True)
class Weighed:
    """Somebody weighed the bottle before and after some coats."""

    before_g: float
    after_g: float
    step: str | None = None
    """The last of those coats, by number or key; None for the coat laid last."""
    coats: int = 1


@dataclass(frozen=True, slots=True)
class Left:
    """Somebody measured what is left of veneer or inlay."""

    left_um: float
    where: str = ""
    """In the maker's words: ``the top edge``, ``a corner``, ``the shell``; empty for the field."""


FilmEntry: TypeAlias = Read | Weighed | Left | Reading


def log_film(
    workshop: Workshop,
    piece: str,
    entry: FilmEntry,
    now: datetime,
    *,
    at: datetime | None = None,
    by: str = "",
) -> Event:
    """Take an entry about the film of ``piece``, and return it once it is safe on the disk.

    Raises:
        RefusedError: when it cannot be true; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    people = workshop.papers.shop.people
    who = one_line(by) or (people[0] if people else "")

    def build(book: Book) -> NewEvent:
        standing = find(workshop, piece, book)
        # What an old piece shows is written down before it is begun.
        early = isinstance(entry, Reading) and entry.measure in BEFORE_WORK
        if standing.progress is None and not early:
            raise RefusedError(
                f"{standing.ref} is not begun", f"finishsched log {standing.ref} start"
            )
        if at is not None and at > now + AHEAD:
            raise RefusedError("an entry from the time to come", "leave the time out")
        if isinstance(entry, Read):
            what: FilmGauged | BottleWeighed | ZoneMeasured | SurfaceRead = _gauged(entry, who)
        elif isinstance(entry, Left):
            what = _measured(entry, standing, who)
        elif isinstance(entry, Reading):
            what = _surface(entry, standing, who)
        else:
            what = _weighed(entry, standing, who)
        return NewEvent(at=at or now, piece=standing.ref, what=what)

    return workshop.append(build, now)


def _gauged(entry: Read, by: str) -> FilmGauged:
    if not 0 < entry.film_um <= THICKEST_READ_UM:
        raise RefusedError(
            f"a film of {entry.film_um:g} um",
            f"a gauge on wood reads more than 0 up to {THICKEST_READ_UM:g} um",
        )
    return FilmGauged(film_um=entry.film_um, by=by)


def left_of(text: str) -> Left:
    """Return what ``veneer 0.42 mm at the top edge`` tells: a thickness, and where.

    Raises:
        RefusedError: where it holds no thickness.

    """
    found = re.search(THICKNESS, text)
    if found is None:
        raise RefusedError(
            f"{text!r} holds no thickness", "write for example 'veneer 0.42 mm at the top edge'"
        )
    try:
        left_um = read(found[0].strip(), FILM)
    except UnitFaultError as fault:
        raise RefusedError(fault.message, fault.remedy) from None
    return Left(left_um, " ".join((text[: found.start()] + text[found.end() :]).split()))


def _surface(entry: Reading, standing: Standing, by: str) -> SurfaceRead:
    zone = zone_named(entry.where, zones_of(standing.piece))
    return SurfaceRead(
        entry.measure.value, zone.name, entry.numbers, entry.angle_deg, entry.grade, by, entry.where
    )


def _measured(entry: Left, standing: Standing, by: str) -> ZoneMeasured:
    zones = zones_of(standing.piece)
    zone = zone_named(entry.where, zones)
    thick_um = zone.thick_um
    if thick_um is None:
        raise RefusedError(
            f"{standing.piece.title} has no veneer that could be measured",
            "write 'veneer:' in its job, with its thickness when it was laid",
        )
    if entry.left_um > MOST_OVER_STATED * thick_um.high:
        raise RefusedError(
            f"{entry.left_um / 1000:.3g} mm left at the {zone.name}, of "
            f"{thick_um.likely / 1000:.3g} mm when it was laid",
            "measure again, or correct the thickness in the job",
        )
    return ZoneMeasured(zone.name, entry.left_um, by)


def _weighed(entry: Weighed, standing: Standing, by: str) -> BottleWeighed:
    if entry.after_g >= entry.before_g:
        raise RefusedError(
            f"a bottle of {entry.before_g:g} g before and {entry.after_g:g} g after laid nothing",
            "give the weight before, then the weight after, which is less",
        )
    step = _coat(entry.step, standing)
    found = coats_before(standing, step.key, entry.coats)
    if entry.coats < 1 or len(found) < entry.coats:
        laid = f"{len(found)} coat" + ("s" if len(found) != 1 else "")
        raise RefusedError(
            f"{entry.coats} coats were not laid of {step.product} up to step {step.number}",
            f"it may be up to {laid}",
        )
    return BottleWeighed(step.key, entry.before_g, entry.after_g, entry.coats, by)


def _coat(name: str | None, standing: Standing) -> Step:
    """Return the coat that is meant, which must be done."""
    assert standing.progress is not None  # noqa: S101
    done = [step for step, _ in standing.progress.done if step.verb.lays_coats and step.product]
    if not done:
        raise RefusedError(f"{standing.ref} has no coat yet", "log a coat done first")
    if name is None:
        return done[-1]
    for step in done:
        if name in (str(step.number), step.key):
            return step
    raise RefusedError(
        f"step {name!r} of {standing.ref} is no coat that was laid",
        f"the last one is step {done[-1].number}",
    )
