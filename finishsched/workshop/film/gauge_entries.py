"""Entries about film and face: gauges, bottles weighed, gloss and colour; and their refusals."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, TypeAlias

from finishsched.film.zones import Zone, zone_named, zones_of
from finishsched.journal.events import (
    BottleWeighed,
    Event,
    FilmGauged,
    NewEvent,
    SurfaceRead,
    ZoneMeasured,
    ZoneStands,
)
from finishsched.model.inlays import inlays_in
from finishsched.model.readings import Measure, Reading
from finishsched.model.said import Teller
from finishsched.model.step import Step
from finishsched.model.woods import woods_of
from finishsched.numerals import counted
from finishsched.units import FILM, UnitFaultError, read
from finishsched.workshop.amounts.uses import coats_before
from finishsched.workshop.base.entries import AHEAD, RefusedError
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.base.words import one_line
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find

if TYPE_CHECKING:
    from finishsched.journal.progress import Book
    from finishsched.workshop.base.workshop import Workshop

THICKNESS = r"[0-9][0-9./ ]*\s*(?:mm|um|µm|μm|mils?|thou|in|inch|inches|\")(?![a-z])"
MOST_OVER_STATED = 1.5
"""A veneer found so many times as thick as stated is another one, or a slip."""
BEFORE_WORK = (Measure.FOUND, Measure.SWAB, Measure.LEAVE, Measure.GLOSS, Measure.COLOUR)
"""What may be read of a piece that is not begun."""
MOST_STEP_UM = 3000.0
"""No inlay stands further above a face that is worked with paper (our assumption)."""
THICKEST_READ_UM = 2000.0
"""No finish of wood is thicker; a reading above it was of something else."""


_Payload: TypeAlias = FilmGauged | BottleWeighed | ZoneMeasured | ZoneStands | SurfaceRead


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


@dataclass(frozen=True, slots=True)
class Stood:
    """Somebody measured how far an inlay, a seam or a patch stands above the face."""

    stands_um: float
    """Below 0 where it lies lower."""
    where: str = ""


FilmEntry: TypeAlias = Read | Weighed | Left | Stood | Reading


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
    shop = workshop.papers.shop
    who, tell = shop.hands_named(one_line(by)), tell_in(shop.units)

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
            what: _Payload = _gauged(entry, who, tell)
        elif isinstance(entry, Stood):
            what = _stood(entry, standing, who, tell)
        elif isinstance(entry, Left):
            what = _measured(entry, standing, who, tell)
        elif isinstance(entry, Reading):
            what = _surface(entry, standing, who)
        else:
            what = _weighed(entry, standing, who, tell)
        return NewEvent(at=at or now, piece=standing.ref, what=what)

    return workshop.append(build, now)


def _gauged(entry: Read, by: str, tell: Teller) -> FilmGauged:
    if not 0 < entry.film_um <= THICKEST_READ_UM:
        raise RefusedError(
            f"a film of {tell(entry.film_um, 'um')}",
            f"a gauge on wood reads more than 0 up to {tell(THICKEST_READ_UM, 'um')}",
        )
    return FilmGauged(film_um=entry.film_um, by=by)


def left_of(text: str) -> Left | Stood:
    """Return what ``veneer 0.42 mm at the top edge`` tells: a thickness, and where.

    ``holly 0.2 mm proud`` tells how far it stands.

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
    where = f"{text[: found.start()]} {text[found.end() :]}".split()
    how = next((word.lower() for word in where if word.lower() in _HOW), "")
    named = " ".join(word for word in where if word.lower() != how)
    return Stood(_HOW[how] * left_um, named) if how else Left(left_um, named)


_HOW = {"proud": 1.0, "low": -1.0}


def _surface(entry: Reading, standing: Standing, by: str) -> SurfaceRead:
    zone = zone_named(entry.where, zones_of(standing.piece))
    return SurfaceRead(
        entry.measure.value, zone.name, entry.numbers, entry.angle_deg, entry.grade, by, entry.where
    )


def _zone_meant(where: str, standing: Standing) -> Zone:
    """Return the zone that words mean; one of a material that is not on the piece is refused."""
    piece, zones = standing.piece, zones_of(standing.piece)
    zone = zone_named(where, zones)
    strange = [one.name for one in inlays_in(f"{where} inlay")]
    strange += [wood.name for wood in woods_of(where) if wood not in woods_of(piece.made_of)]
    if strange and not zone.stands_by_itself:
        raise RefusedError(
            f"there is no {strange[0]} on {piece.title}",
            f"there are {', '.join(one.name for one in zones)}; what is let in stands in its job",
        )
    return zone


def _stood(entry: Stood, standing: Standing, by: str, tell: Teller) -> ZoneStands:
    zone = _zone_meant(entry.where, standing)
    if not zone.stands_by_itself:
        raise RefusedError(
            f"the {zone.name} of {standing.piece.title} stands above nothing",
            "name what does: 'holly 0.2 mm proud', 'shell 0.05 mm low'",
        )
    if abs(entry.stands_um) > MOST_STEP_UM:
        raise RefusedError(
            f"a step of {tell(entry.stands_um / 1000, 'mm')}",
            f"measure again: up to {tell(MOST_STEP_UM / 1000, 'mm')} is taken",
        )
    return ZoneStands(zone.name, entry.stands_um, by)


def _measured(entry: Left, standing: Standing, by: str, tell: Teller) -> ZoneMeasured:
    zone = _zone_meant(entry.where, standing)
    thick_um = zone.thick_um
    if thick_um is None:
        raise RefusedError(
            f"{standing.piece.title} has no veneer that could be measured",
            "write 'veneer:' in its job, with its thickness when it was laid",
        )
    if entry.left_um > MOST_OVER_STATED * thick_um.high:
        raise RefusedError(
            f"{tell(entry.left_um / 1000, 'mm')} left at the {zone.name}, of "
            f"{tell(thick_um.likely / 1000, 'mm')} when it was laid",
            "measure again, or correct the thickness in the job",
        )
    return ZoneMeasured(zone.name, entry.left_um, by)


def _weighed(entry: Weighed, standing: Standing, by: str, tell: Teller) -> BottleWeighed:
    if entry.after_g >= entry.before_g:
        before, after = (tell(grams, "g", 4) for grams in (entry.before_g, entry.after_g))
        raise RefusedError(
            f"a bottle of {before} before and {after} after laid nothing",
            "give the weight before, then the weight after, which is less",
        )
    step = _coat(entry.step, standing)
    found = coats_before(standing, step.key, entry.coats)
    if entry.coats < 1 or len(found) < entry.coats:
        raise RefusedError(
            f"{counted(entry.coats, 'coat')} of {step.product} not laid up to step {step.number}",
            f"it may be up to {counted(len(found), 'coat')}",
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
