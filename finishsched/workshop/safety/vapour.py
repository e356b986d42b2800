"""The vapour of the day in each room, out of what was really used, and what a coat would add.

The figures are a room's average: at the pad the air is worse. They are for planning; the products'
safety data sheets, local codes and licensed practice come first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime, time, timedelta, tzinfo
from typing import NamedTuple

from finishsched.journal.shelf import shelf
from finishsched.model.room import Room, room_for
from finishsched.model.said import Teller
from finishsched.model.schedule import Verb
from finishsched.model.step import Step
from finishsched.safety.budget import (
    Budget,
    Peak,
    Release,
)
from finishsched.safety.contents import assumptions_of
from finishsched.safety.exposure import Limit, lowest_limit
from finishsched.safety.solvents import Solvent
from finishsched.safety.ventilation import (
    AT_THE_PAD,
    FIRE_SHARE_OF_LEL,
    POOR_MIXING,
    VAPOUR_DEFERRAL,
    RoomAir,
)
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.base.spans import span, wall
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.safety.vapour_coat import HARDLY_ANY, CoatVapour, judged, share_words
from finishsched.workshop.safety.vapour_sources import (
    JAR_LOSS_SHARE,
    JAR_OPEN_S,
    LOOKS_BACK,
    LUBRICANT_ML_PER_M2,
    SPIRIT_OFF_ML_PER_M2,
    Coat,
    Sources,
    coat_of,
    coats_since,
    mixings_since,
)
from finishsched.workshop.standing.finding import following
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import cure_room, find, standings

LEAKS_PER_H = 0.3
"""Changes of the air in an hour of a room that is shut, by its leaks (our assumption)."""

NO_VOLUME = (
    "the vapour is not followed: no room in shop.yaml has a volume; add for example "
    "rooms: [{room: shop, volume: 40 m3, air_flow: 60 m3/h, mixing: 3}]"
)


class VapourRow(NamedTuple):
    """One liquid in one room's air."""

    solvent: Solvent
    now_ppm: float
    peak_ppm: float
    peak_at: datetime
    limit: Limit
    """The lowest known, and whose it is."""


class RoomVapour(NamedTuple):
    """The air of one room today."""

    name: str
    air: RoomAir
    rows: tuple[VapourRow, ...]
    now: float
    """Share of the limits, all liquids together; more than 1 passes them."""
    peak: float
    """The most of it today, by what is logged."""
    peak_at: datetime
    lel_now: float
    """Share of the lower explosive limit; 1 can burn."""
    lel_peak: float
    clear_at: datetime | None
    """While it is over the limits: when it is below them by itself; None where it is not over."""
    from_what: tuple[str, ...]
    """Whose vapour it is now, the most first."""
    ahead: bool = False
    """True while the limits are not passed yet, and will be by what was laid already."""

    @property
    def over(self) -> bool:
        """True while the limits are passed, or a tenth of the explosive limit is."""
        return self.now > 1 or self.lel_now > FIRE_SHARE_OF_LEL


class VapourAnswer(NamedTuple):
    """The vapour budget of the shop as it stands."""

    now: datetime
    zone: tzinfo
    rooms: tuple[RoomVapour, ...]
    missing: str
    """What is to be entered before the vapour can be followed; empty when nothing is."""
    line: str
    """One quiet line for the bench; empty when there is nothing to say."""
    planned: tuple[str, ...]
    """Of blends whose make-up nobody has entered: how they are planned."""
    assumptions: tuple[str, ...]
    """What else is taken for granted."""
    mind: str = AT_THE_PAD
    deferral: str = VAPOUR_DEFERRAL


class _Found(NamedTuple):
    """The budgets of the rooms that have a volume, and what was taken for granted."""

    budgets: tuple[tuple[Room, Budget], ...]
    sources: Sources

    def of(self, verb: Verb) -> tuple[Room, Budget] | None:
        """Return the room that ``verb`` is done in with its budget, where it has a volume."""
        wanted = room_for(verb, self.sources.papers.shop.rooms)
        return next((pair for pair in self.budgets if pair[0] == wanted), None)


def vapour_answer(workshop: Workshop, now: datetime) -> VapourAnswer:
    """Return how much vapour is in each room now, how much there was and will be today."""
    shop = workshop.papers.shop
    found = _budgets(workshop, now)
    rooms = tuple(_room(room, budget, now, workshop.zone) for room, budget in found.budgets)
    return VapourAnswer(
        now=now,
        zone=workshop.zone,
        rooms=rooms,
        missing="" if any(room.volume_m3 for room in shop.rooms) else NO_VOLUME,
        line=_line(rooms, now, workshop.zone),
        planned=assumptions_of(found.sources.liquids, shop.alcohol.methanol_percent),
        assumptions=tuple(_assumptions(found, shop.rooms, tell_in(shop.units))) if rooms else (),
    )


def before_coats(workshop: Workshop, names: Iterable[str], now: datetime) -> Iterator[CoatVapour]:
    """Give what the next coat of each piece would do to its room, were it begun at ``now``.

    While a wait runs that is the step after it. Nothing is said of a piece whose coat lets nothing
    evaporate, or whose room has no volume in the shop's document.

    Raises:
        RefusedError: for a piece that there is not.

    """
    pieces = [find(workshop, name) for name in names]
    steps = [(standing, _next_step(standing)) for standing in pieces]
    coats = [(standing, step) for standing, step in steps if step is not None]
    aired = [(standing, step) for standing, step in coats if _has_volume(workshop, step.verb)]
    if not aired:
        return
    found = _budgets(workshop, now)
    for standing, step in aired:
        mine = found.of(step.verb)
        work = timedelta(minutes=step.hands_on.minutes(standing.piece.area_m2))
        coat = found.sources.of_coat(coat_of(standing, step, now + work))
        if mine is None or not coat:
            continue
        room, budget = mine
        flow_unit = workshop.papers.shop.units.air_flow
        fresh = budget.restarted(now.timestamp(), budget.room)
        yield judged(standing.ref, room, fresh, coat, now, flow_unit)


def _next_step(standing: Standing) -> Step | None:
    """Return the step that a piece comes to next: while a wait runs, the one after it."""
    waiting = standing.progress is not None and standing.progress.waiting
    return following(standing.steps, standing.step) if waiting else standing.step


def _has_volume(workshop: Workshop, verb: Verb) -> bool:
    room = room_for(verb, workshop.papers.shop.rooms)
    return room is not None and room.volume_m3 is not None


def _budgets(workshop: Workshop, now: datetime) -> _Found:
    book, shop = workshop.book(), workshop.papers.shop
    sources = Sources(workshop.papers, shelf(book), cure_room(workshop).course)
    released: dict[str, list[Release]] = {room.name: [] for room in shop.rooms}
    if any(room.volume_m3 for room in shop.rooms):
        since = now - LOOKS_BACK
        coats: Iterable[Coat] = coats_since(standings(workshop, book), book, since, now)
        for coat in coats:
            room = room_for(coat.step.verb, shop.rooms)
            if room is not None:
                released[room.name] += sources.of_coat(coat)
        mixing_room = room_for(Verb.REST, shop.rooms)
        for at, mixed in mixings_since(book, since, now):
            if mixing_room is not None:
                released[mixing_room.name] += sources.of_mixing(mixed, at)
    budgets = tuple(
        (room, Budget(tuple(released[room.name]), _room_air(room), shop.limits))
        for room in shop.rooms
        if room.volume_m3
    )
    return _Found(budgets, sources)


def _room_air(room: Room) -> RoomAir:
    """Return a room of the shop's document as its vapour sees it; it must have a volume."""
    volume_m3 = room.volume_m3 or 1.0
    flow = room.air_flow_m3_per_h
    return RoomAir(
        volume_m3,
        LEAKS_PER_H * volume_m3 if flow is None else flow,
        room.mixing_factor or POOR_MIXING,
    )


def _room(room: Room, budget: Budget, now: datetime, zone: tzinfo) -> RoomVapour:
    now_s = now.timestamp()
    begins_s, ends_s = (_midnight(now, zone, days).timestamp() for days in (0, 1))
    today = budget.restarted(begins_s, budget.room)
    weights = [today.of_limits, today.of_lel, *(today.ppm(s.liquid) for s in budget.solvents)]
    peak, lel, *peaks = today.peaks(weights, begins_s, ends_s)
    now_share = budget.at(budget.of_limits, now_s)
    clear_s = budget.below_from(budget.of_limits, 1.0, now_s) if now_share > 1 else None
    shares = budget.shares(budget.of_limits, now_s)
    return RoomVapour(
        name=one_line(room.name),
        air=budget.room,
        rows=tuple(
            _row(solvent, budget, now_s, most)
            for solvent, most in zip(budget.solvents, peaks, strict=True)
        ),
        now=now_share,
        peak=peak.value,
        peak_at=_instant(peak.at_s),
        lel_now=budget.at(budget.of_lel, now_s),
        lel_peak=lel.value,
        clear_at=None if clear_s is None else _instant(clear_s),
        from_what=tuple(what for what, share in shares if share > HARDLY_ANY / 10),
        ahead=peak.value > 1 >= now_share and peak.at_s > now_s,
    )


def _row(solvent: Solvent, budget: Budget, now_s: float, peak: Peak) -> VapourRow:
    return VapourRow(
        solvent=solvent,
        now_ppm=budget.at(budget.ppm(solvent.liquid), now_s),
        peak_ppm=peak.value,
        peak_at=_instant(peak.at_s),
        limit=lowest_limit(solvent, budget.local),
    )


def _midnight(now: datetime, zone: tzinfo, days: int) -> datetime:
    """Return the midnight so many days after the one before ``now``, by the clock on the wall."""
    day = now.astimezone(zone).date() + timedelta(days=days)
    return datetime.combine(day, time(), zone)


def _instant(at_s: float) -> datetime:
    return datetime.fromtimestamp(at_s, UTC)


def _line(rooms: Sequence[RoomVapour], now: datetime, zone: tzinfo) -> str:
    """Return the one line of the room that stands worst."""
    worst = max(rooms, key=lambda room: (room.over, room.ahead, room.now), default=None)
    if worst is None or (worst.now < HARDLY_ANY and worst.peak < HARDLY_ANY):
        return ""
    where = f" in {worst.name}" if len(rooms) > 1 else ""
    if worst.over:
        until = (
            ""
            if worst.clear_at is None
            else f", below them about {wall(worst.clear_at, now, zone)}"
        )
        return f"! vapour{where} {share_words(worst.now)} of the limits: open up{until}"
    if worst.ahead:
        at = wall(worst.peak_at, now, zone)
        share = share_words(worst.peak)
        return f"! vapour{where} will be {share} of the limits at {at}: open up now"
    most = f"most today {share_words(worst.peak)} at {wall(worst.peak_at, now, zone)}"
    return f"vapour{where} {share_words(worst.now)} of the limits, {most}"


def _assumptions(found: _Found, rooms: Iterable[Room], tell: Teller) -> Iterator[str]:
    sources = found.sources
    if sources.presumed:
        yield (
            f"no solvents are entered, so the worst of its kind is counted: "
            f"{', '.join(sorted(sources.presumed))}"
        )
    if sources.unmeasured:
        yield (
            f"{sources.unmeasured} of the coats have no amount in the journal: the schedule's, or "
            f"{tell(SPIRIT_OFF_ML_PER_M2, 'ml/m2', 2)} to spirit off and "
            f"{tell(LUBRICANT_ML_PER_M2, 'ml/m2', 2)} of a wet lubricant (our assumptions)"
        )
    for room in rooms:
        if room.volume_m3 is not None:
            yield from _room_assumptions(room)
    yield (
        "all the solvent of a coat evaporates, evenly while it is laid and dying away after, by "
        "the flux from a flat face; the wood keeps none (our assumption, on the side of more)"
    )
    yield (
        f"mixing a jar loses {100 * JAR_LOSS_SHARE:g} % of its solvent in "
        f"{span(JAR_OPEN_S)} (our assumption)"
    )


def _room_assumptions(room: Room) -> Iterator[str]:
    if room.air_flow_m3_per_h is None:
        yield (
            f"{one_line(room.name)}: no air flow is entered, so only its leaks change the air, "
            f"{LEAKS_PER_H:g} times an hour (our assumption)"
        )
    if room.mixing_factor is None:
        yield (
            f"{one_line(room.name)}: no mixing factor is entered, so {POOR_MIXING:g} is taken, "
            "the poor end for a small room (from memory)"
        )
