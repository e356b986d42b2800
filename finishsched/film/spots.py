"""A spot that is mended by itself: what lies there, and what is laid on it and taken off it alone.

From the time when work on it begins it is a zone of the face. Coats and papers of the whole piece
reach it as they reach every zone; what is done on it alone changes nothing else. A small hard block
rides on the face round the spot: it brings down what stands above that, and nothing of what lies
lower (our assumption).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from operator import add

from finishsched.film.abrading import USUAL, Abrading, Stroke
from finishsched.film.ledger import (
    NONE,
    Ground,
    State,
    Work,
    Worlds,
    begin,
    bites_of,
    cut_down,
    enter,
)
from finishsched.film.meeting import Part
from finishsched.film.worlds import column
from finishsched.film.zones import Zone
from finishsched.model.ranges import NOTHING

BARE = Ground(NOTHING, NOTHING)


@dataclass(frozen=True, slots=True)
class Spotted:
    """Work begins on a spot, which is as its place is then."""

    zone: Zone
    through: bool = False
    """True where film, and maybe more, was cut through: nothing lies there."""
    veneer_gone: bool = False
    """True where the veneer was cut through too: there is none left to lose."""


@dataclass(frozen=True, slots=True)
class LetIn:
    """A patch was let in: new wood, reckoned as it lies once flush, and a zone from now on."""

    zone: Zone
    ground: Ground = BARE
    """What new wood is there: its pores, and what it drinks."""


@dataclass(frozen=True, slots=True)
class FilledUp:
    """A hollow was filled to the face round it, with something that does not shrink."""


@dataclass(frozen=True, slots=True)
class OnSpot:
    """Work on one spot alone."""

    zone: str
    work: Work | FilledUp


def with_spot(work: Spotted | LetIn, parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """Return the parts of a face with a spot or a patch among them, in the place of its own."""
    host = _named(work.zone.beside, parts)
    part = _let_in(work, host) if isinstance(work, LetIn) else _spotted(work, host)
    others = (one for one in parts if one.zone.name != work.zone.name)
    return (*others, part)


def worked_on(work: OnSpot, parts: tuple[Part, ...], by: Abrading = USUAL) -> tuple[Part, ...]:
    """Return the parts with work done on one spot alone; as they are where there is none such."""
    part = next((one for one in parts if one.zone.name == work.zone), None)
    if part is None:
        return parts
    host = _named(part.zone.beside, parts).state
    after = replace(part, state=_worked(work.work, part, host, by))
    return tuple(after if one is part else one for one in parts)


def _named(name: str, parts: Sequence[Part]) -> Part:
    return next((one for one in parts if one.zone.name == name), parts[0])


def _spotted(work: Spotted, host: Part) -> Part:
    state = host.state
    if work.through:
        bare = {"film_um": NONE, "in_hollows_um": NONE, "ridges_um": NONE, "loose_um": NONE}
        state = replace(state, worlds=state.worlds._replace(**bare))
    first = None if work.veneer_gone else host.first
    return Part(work.zone, state, column(0.0), first, host.field_wear)


def _let_in(work: LetIn, host: Part) -> Part:
    """Return a patch as thick as the veneer beside it is then: both stand on the same ground."""
    first = host.first
    if first is not None:
        pairs = zip(first, host.state.worlds.wood_um, strict=True)
        first = tuple(max(0.0, um - gone_um) for um, gone_um in pairs)
    state = begin(replace(work.ground, film_um=NOTHING, film_share=work.zone.film))
    return Part(work.zone, state, column(0.0), first, host.field_wear)


def _worked(work: Work | FilledUp, part: Part, host: State, by: Abrading) -> State:
    state = part.state
    if isinstance(work, FilledUp):
        return replace(state, worlds=_filled_up(part, host))
    if not isinstance(work, Stroke):
        return enter(work, state, by).after
    if work.rubs:
        return cut_down(state, bites_of(work, by), scuffs=True)
    if work.scuffs:
        # Its rim is thinned out, or a point comes off: of what lies at the spot, nothing.
        return state
    rows = zip(part.stands, state.worlds.film_um, host.worlds.film_um, strict=True)
    proud = tuple(max(0.0, up + own - one) for up, own, one in rows)
    return cut_down(state, proud, scuffs=False)


def _filled_up(part: Part, host: State) -> Worlds:
    own = part.state.worlds
    rows = zip(own.film_um, host.worlds.film_um, part.stands, strict=True)
    films = tuple(max(film_um, beside_um - stands_um) for film_um, beside_um, stands_um in rows)
    filled = tuple(map(add, films, own.hollow_um))
    return own._replace(film_um=films, in_hollows_um=filled, ridges_um=NONE, loose_um=NONE)
