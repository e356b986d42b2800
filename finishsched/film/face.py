"""The ledger of a whole face: every zone of it through every step, and what may go through where.

The field leads. An edge takes the same strokes under more pressure; an inlay comes down with the
field where it stands above it, and is not touched where it lies below. Colour, seal and filler are
lost where the film over them is cut through; a clear film that more coats follow is not: what shows
through is filled by the next round, and the levelling is a cutting back there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache, partial
from operator import add
from typing import TypeAlias

from finishsched.film.abrading import USUAL, Abrading, Stroke
from finishsched.film.dishing import FLAT_UM
from finishsched.film.ledger import (
    SEAL_UM,
    Course,
    Ground,
    Line,
    State,
    Work,
    begin,
    cut_down,
    enter,
    grown,
)
from finishsched.film.meeting import Met, Part, meet
from finishsched.film.odds import (
    FILLER_SKIN_UM,
    Stake,
    Stakes,
    through_film,
    through_ground,
    together,
)
from finishsched.film.spots import LetIn, OnSpot, Spotted, with_spot, worked_on
from finishsched.film.worlds import Cause, Column, chance, drawn, each, spread
from finishsched.film.zones import STEP_TOLERANCE_UM, Zone, ZoneKind, around
from finishsched.model.ranges import NOTHING, Range

LEAST_UM = 1.5
"""Less film is what an oil leaves in the wood: there is none to level (our assumption)."""

NOT_WORTH_NAMING = 1e-4
"""Odds below this are none."""

OVER = {Stake.COLOUR: 0.0, Stake.SEAL: 0.0, Stake.FILLER: FILLER_SKIN_UM}
"""How deep the ground may be cut, in um, before what lies under the film is lost."""


@dataclass(frozen=True, slots=True)
class FaceState:
    """Where the work stands on a whole face: its field first."""

    parts: tuple[Part, ...]

    def __hash__(self) -> int:
        """Tell apart by the field, which hardly ever is alike where all else is not."""
        return hash(self.parts[0].state.worlds)

    @property
    def field(self) -> State:
        """The field's."""
        return self.parts[0].state

    @property
    def likely(self) -> Course:
        """The field's likely world."""
        return self.field.likely

    @property
    def film_um(self) -> Range:
        """Film over the high spots of the field."""
        return self.field.film_um

    @property
    def relief_um(self) -> Range:
        """What the hollows of the field still want."""
        return self.field.relief_um

    @property
    def wood_um(self) -> Range:
        """What was taken off the field's wood."""
        return self.field.wood_um

    @property
    def veneer_um(self) -> Range | None:
        """Veneer left in the field; None for solid wood."""
        return self.parts[0].left_um

    @property
    def veneer_used_percent(self) -> Range | None:
        """Share of the field's veneer that is gone, 0 to 100; None for solid wood."""
        first = self.parts[0].first
        if first is None:
            return None
        pairs = zip(first, self.field.worlds.wood_um, strict=True)
        return spread(tuple(min(100.0, 100 * gone_um / max(um, 1.0)) for um, gone_um in pairs))

    def steps_um(self) -> Mapping[str, Range]:
        """Return how far what stands by itself is above the zone round it, likely and its ends."""
        known = {part.zone.name: part.state.worlds.film_um for part in self.parts}
        found = {}
        for part in self.parts[1:]:
            if part.zone.stands_by_itself:
                beside = known[part.zone.beside]
                trio = zip(part.stands, known[part.zone.name], beside, strict=True)
                found[part.zone.name] = spread(tuple(up + own - one for up, own, one in trio))
        return found

    def likely_steps_um(self) -> Mapping[str, float]:
        """Return the same in the likely world alone."""
        film_um = {part.zone.name: part.state.worlds.film_um[0] for part in self.parts}
        return {
            part.zone.name: part.stands[0] + film_um[part.zone.name] - film_um[part.zone.beside]
            for part in self.parts[1:]
            if part.zone.stands_by_itself
        }

    @property
    def is_level(self) -> bool:
        """True when no inlay likely stands out or lies low by what shows in a gloss."""
        return all(abs(step_um) <= FLAT_UM for step_um in self.likely_steps_um().values())


@dataclass(frozen=True, slots=True)
class Measured:
    """Somebody measured what is left of veneer or inlay in one zone."""

    zone: str
    left_um: Range


@dataclass(frozen=True, slots=True)
class Stands:
    """Somebody measured how far something stands above the face round it; below 0 for lower."""

    zone: str
    stands_um: float


FaceWork: TypeAlias = Work | Measured | Stands | LetIn | Spotted | OnSpot


@dataclass(frozen=True, slots=True)
class Loss:
    """What may go through at one step, and how likely."""

    stake: Stake
    odds: float
    """Somewhere on the face, 0 to 1."""
    zone: str
    """Where it is likeliest."""
    zone_odds: float
    by_zone: tuple[tuple[str, float], ...] = ()
    """The odds in every zone."""


@dataclass(frozen=True, slots=True)
class FaceLine:
    """One step in the ledger of a face."""

    work: FaceWork
    before: FaceState
    after: FaceState
    field: Line
    losses: tuple[Loss, ...]
    """Of all that lies there, the likeliest first."""
    stakes: Stakes

    @property
    def laid_um(self) -> Range:
        """Film that it added in the field."""
        return self.field.laid_um

    @property
    def taken_um(self) -> Range:
        """What it took off the field, film and wood together."""
        return self.field.taken_um

    @property
    def wood_um(self) -> Range:
        """Of that, what came off the field's wood."""
        return self.field.wood_um

    @property
    def odds(self) -> float | None:
        """How likely it cuts through the film somewhere; None where there is no film to cut."""
        return next((loss.odds for loss in self.losses if loss.stake is Stake.FILM), None)

    @property
    def lost(self) -> tuple[Loss, ...]:
        """What counts as a loss here, the likeliest first."""
        return tuple(loss for loss in self.losses if loss.stake in self.stakes.lost)

    @property
    def worst(self) -> Loss | None:
        """The likeliest of them; None where nothing is to be lost."""
        return next(iter(self.lost), None)


NO_STAKES = Stakes()


def begin_face(zones: Iterable[Zone], ground: Ground) -> FaceState:
    """Return the state before any work, on zones whose field is first."""
    zones = tuple(zones)
    field = zones[0]
    thick = None if field.thick_um is None else drawn(field.thick_um, Cause.GIVEN)
    parts = []
    for zone in zones:
        here = replace(ground, film_share=zone.film)
        if not zone.is_wood:
            # Shell and metal have no pores, and drink nothing.
            here = replace(here, hollow_um=NOTHING, thirst_um=NOTHING)
        state = begin(here)
        stands = each(
            lambda proud, low: proud - low,
            drawn(zone.proud_um, Cause.GIVEN),
            drawn(zone.low_um, Cause.GIVEN),
        )
        first = thick
        if zone.stands_by_itself and zone.thick_um is not None:
            first = drawn(zone.thick_um, Cause.GIVEN)
        wear = field.material.wear_mm3_per_nm
        parts.append(Part(zone, state, stands, first, wear))
    return FaceState(tuple(parts))


def run_face(
    works: Iterable[FaceWork],
    face: FaceState,
    stakes: Iterable[Stakes],
    by: Abrading = USUAL,
) -> tuple[FaceLine, ...]:
    """Return the ledger of ``works``, one line each; ``stakes`` say what may be lost at each."""
    lines = []
    for work, here in zip(works, stakes, strict=True):
        line = enter_face(work, face, here, by)
        face = line.after
        lines.append(line)
    return tuple(lines)


@lru_cache(maxsize=512)  # a repair is judged beside the same work without it, again and again
def enter_face(
    work: FaceWork, face: FaceState, stakes: Stakes = NO_STAKES, by: Abrading = USUAL
) -> FaceLine:
    """Return one line: ``work`` done at ``face``; ``stakes`` say what may be lost there."""
    if isinstance(work, Measured):
        return _beside_the_field(work, face, _measured(work, face.parts), stakes)
    if isinstance(work, Stands):
        return _beside_the_field(work, face, _standing(work, face.parts), stakes)
    if isinstance(work, LetIn | Spotted):
        return _beside_the_field(work, face, with_spot(work, face.parts), stakes)
    if isinstance(work, OnSpot):
        return _beside_the_field(work, face, worked_on(work, face.parts, by), stakes)
    field = enter(work, face.field, by)
    if not isinstance(work, Stroke):
        states = [field.after, *(enter(work, part.state, by).after for part in face.parts[1:])]
        pairs = zip(face.parts, states, strict=True)
        after = FaceState(tuple(replace(part, state=state) for part, state in pairs))
        return FaceLine(work, face, after, field, (), stakes)
    met, parts = _abraded(work, face.parts, field, by)
    losses = _losses_of(work, met, stakes.under, by)
    return FaceLine(work, face, FaceState(parts), field, losses, stakes)


def taken_in(name: str, line: FaceLine) -> Range:
    """Return what an abrading took off one zone, film and ground together, in um."""
    pairs = zip(line.before.parts, line.after.parts, strict=False)
    for before, after in pairs:
        if before.zone.name == name:
            one, two = before.state.worlds, after.state.worlds
            rows = zip(one.film_um, two.film_um, two.wood_um, one.wood_um, strict=True)
            return spread(tuple(film - left + gone - was for film, left, gone, was in rows))
    return NOTHING


def _beside_the_field(
    work: FaceWork, face: FaceState, parts: tuple[Part, ...], stakes: Stakes
) -> FaceLine:
    """Return the line of what leaves the field as it is."""
    return FaceLine(work, face, FaceState(parts), enter(None, face.field), (), stakes)


def _abraded(
    stroke: Stroke, parts: tuple[Part, ...], field: Line, by: Abrading
) -> tuple[tuple[Met, ...], tuple[Part, ...]]:
    """Return how an abrading meets every zone, and what it leaves; each beside its own."""
    lines = {parts[0].zone.name: field}
    found, left = [], []
    for part in parts:
        beside = lines.get(part.zone.beside, field)
        met = meet(stroke, part, beside, by)
        after = _after(stroke, part, met, beside)
        if not part.zone.stands_by_itself:
            lines.setdefault(part.zone.name, Line(stroke, part.state, after.state, met.cut))
        found.append(met)
        left.append(after)
    return tuple(found), tuple(left)


def _measured(work: Measured, parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """Return the parts with one zone's thickness as found.

    The field's stands for edges and corners too, as long as nobody measured those themselves.
    """
    found = next((part for part in parts if part.zone.name == work.zone), None)
    if found is None:
        return parts
    left = drawn(work.left_um, Cause.GAUGE)
    first = tuple(map(add, left, found.state.worlds.wood_um))
    return tuple(
        replace(part, first=first)
        if part is found or (found is parts[0] and part.first is found.first)
        else part
        for part in parts
    )


def _standing(work: Stands, parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """Return the parts with one that stands, face over face, as it was found."""
    films = {part.zone.name: part.state.worlds.film_um for part in parts}
    found = drawn(around(abs(work.stands_um), STEP_TOLERANCE_UM), Cause.GAUGE)
    sign = 1.0 if work.stands_um > 0 else -1.0

    def ground(um: float, own_um: float, beside_um: float) -> float:
        return sign * um - own_um + beside_um

    def stood(part: Part) -> Part:
        own, beside = part.state.worlds.film_um, films[part.zone.beside]
        return replace(part, stands=each(ground, found, own, beside))

    return tuple(stood(part) if part.zone.name == work.zone else part for part in parts)


def _losses_of(
    stroke: Stroke, met: tuple[Met, ...], under: frozenset[Stake], by: Abrading = USUAL
) -> tuple[Loss, ...]:
    """Return what an abrading may go through on a face, each by name, the likeliest first."""
    odds: dict[Stake, list[tuple[str, Column]]] = {}
    for one in met:
        for stake, own in _odds_in(stroke, one, under, by):
            odds.setdefault(stake, []).append((one.zone.name, own))
    found = []
    for stake, zones in odds.items():
        each_zone = tuple((name, chance(own)) for name, own in zones)
        name, there = max(each_zone, key=lambda zone: zone[1])
        anywhere = together([own for _, own in zones])
        if stake is Stake.FILM or anywhere > NOT_WORTH_NAMING:
            found.append(Loss(stake, anywhere, name, there, each_zone))
    return tuple(sorted(found, key=lambda loss: -loss.odds))


def _odds_in(
    stroke: Stroke, met: Met, under: frozenset[Stake], by: Abrading
) -> Iterator[tuple[Stake, Column]]:
    """Give what may be lost in one zone.

    A film likely thinner than a seal is none to cut through, unless somebody sets out to level it.
    """
    film_um = met.state.likely.film_um
    levels = stroke.reach is not None and not stroke.scuffs
    is_film = film_um >= LEAST_UM if levels else film_um >= SEAL_UM and stroke.scuffs
    # Colour and seal lie right under the film: what goes through that goes through them.
    through = cache(partial(through_film, stroke, met, by))
    if is_film:
        yield Stake.FILM, through(below_um=0.0)
    for stake, below_um in OVER.items():
        # Shell takes no stain, and has no pores that were filled.
        bears = met.zone.kind is not ZoneKind.INLAY or (stake is Stake.COLOUR and met.zone.is_wood)
        if bears and stake in under and (is_film or stroke.reach is None):
            yield stake, through(below_um=below_um)
    if met.part.first is not None:
        stake = Stake.INLAY if met.zone.kind is ZoneKind.INLAY else Stake.VENEER
        yield stake, through_ground(stroke, met, met.part.first, by)


def _after(stroke: Stroke, part: Part, met: Met, field: Line) -> Part:
    state = cut_down(part.state, met.cut, scuffs=stroke.scuffs)
    if not part.zone.stands_by_itself:
        return replace(part, state=state)
    stands = part.stands
    for sign, before, after in ((-1.0, part.state, state), (1.0, field.before, field.after)):
        lost = (sign * um for um in grown(before.worlds.wood_um, after.worlds.wood_um))
        stands = tuple(up + um for up, um in zip(stands, lost, strict=True))
    return replace(part, state=state, stands=stands)
