"""The shop's vapour budget for the command line."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from finishsched.cli.common import answer, shop_named, world
from finishsched.cli.faults import CommandError, Exit
from finishsched.cli.shop_door import open_shop, tell_clock, tell_faults
from finishsched.journal.events import utc_text
from finishsched.model.shop import ShownUnits
from finishsched.units import AIR_FLOW, SPACE, plain_number, show
from finishsched.workshop.base.spans import wall
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.safety.vapour import RoomVapour, VapourAnswer, before_coats, vapour_answer
from finishsched.workshop.safety.vapour_coat import CoatVapour, share_words


def tell_budget(shop: str | None, *, why: bool, as_json: bool) -> Exit:
    """Print the vapour of the day in each room, and what the coats at hand would add.

    The answer is no where a limit is passed, or a coat at hand would pass one.

    Raises:
        CommandError: when there is no shop, and nothing was asked of one amount.

    """
    now = world().now()
    if shop_named(shop) is None:
        raise CommandError(
            "there is no shop here to follow the vapour of; ask of one amount, for example "
            "vent --solvent ethanol --used '60 ml' --over '30 min' --room '30 m3'"
        )
    with open_shop(shop, now) as workshop:
        tell_clock(workshop, now)
        found = vapour_answer(workshop, now)
        coats = _coats(workshop) if found.rooms else ()
        tell_faults(workshop, now)
        units = workshop.papers.shop.units
        answer(as_json, lambda: _data(found, coats), lambda: _lines(found, coats, units, why=why))
    rooms = any(room.over or room.ahead for room in found.rooms)
    over = rooms or any(coat.passes for coat in coats)
    return Exit.NO if over else Exit.DONE


def _coats(workshop: Workshop) -> tuple[CoatVapour, ...]:
    """Return what the next coat of each piece at hand would do, those that pass a limit first."""
    from finishsched.workshop.views.views import due_answer

    now = world().now()
    at_hand = [view.ref for view in due_answer(workshop, now).at_hand]
    return tuple(sorted(before_coats(workshop, at_hand, now), key=lambda coat: -coat.peak))


def _data(found: VapourAnswer, coats: Iterable[CoatVapour]) -> dict[str, Any]:
    return {
        "line": found.line,
        "missing": found.missing or None,
        "rooms": [_room_data(room) for room in found.rooms],
        "coats": [_coat_data(coat) for coat in coats],
        "assumptions": [*found.planned, *found.assumptions],
        "mind": found.mind,
        "deferral": found.deferral,
    }


def _room_data(room: RoomVapour) -> dict[str, Any]:
    return {
        "room": room.name,
        "room_m3": room.air.volume_m3,
        "flow_m3_per_h": room.air.flow_m3_per_h,
        "mixing_factor": room.air.mixing_factor,
        "share_of_limits": room.now,
        "peak_share_of_limits": room.peak,
        "peak_at": utc_text(room.peak_at, "seconds"),
        "percent_lel": 100 * room.lel_now,
        "peak_percent_lel": 100 * room.lel_peak,
        "over_limit": room.over,
        "over_limit_ahead": room.ahead,
        "clear_at": utc_text(room.clear_at, "seconds") if room.clear_at else None,
        "from": list(room.from_what),
        "solvents": [
            {
                "solvent": row.solvent.liquid.value,
                "now_ppm": row.now_ppm,
                "peak_ppm": row.peak_ppm,
                "peak_at": utc_text(row.peak_at, "seconds"),
                "limit_ppm": row.limit.ppm,
                "limit_of": row.limit.whose,
            }
            for row in room.rows
        ],
    }


def _coat_data(coat: CoatVapour) -> dict[str, Any]:
    return {
        "piece": coat.ref,
        "room": coat.room,
        "passes_a_limit": coat.passes,
        "peak_share_of_limits": coat.peak,
        "alone_share_of_limits": coat.alone,
        "peak_percent_lel": 100 * coat.lel_peak,
        "flow_needed_m3_per_h": coat.flow_m3_per_h,
        "wait_minutes": None if coat.wait_s is None else coat.wait_s / 60,
        "helps": list(coat.helps),
        "line": coat.line,
    }


def _lines(
    found: VapourAnswer, coats: Iterable[CoatVapour], units: ShownUnits, *, why: bool
) -> Iterable[str]:
    if found.missing:
        yield found.missing
        return
    for room in found.rooms:
        yield from _room_lines(room, found, units)
    for coat in coats:
        if coat.passes:
            yield f"! {coat.ref}: {coat.line}"
            for way in coat.helps:
                yield f"    {way}"
        else:
            yield f"{coat.ref}: a coat now brings {coat.room} to {share_words(coat.peak)}"
    for planned in (*found.planned, found.mind):
        yield f"  mind: {planned}"
    yield f"  {found.deferral}"
    if why:
        for assumed in found.assumptions:
            yield f"  why  {assumed}"


def _room_lines(room: RoomVapour, found: VapourAnswer, units: ShownUnits) -> Iterable[str]:
    mark = "! " if room.over else ""
    air = (
        f"{show(room.air.volume_m3, SPACE, units.space)}, "
        f"{show(room.air.flow_m3_per_h, AIR_FLOW, units.air_flow, digits=2)} "
        f"over a mixing factor of {room.air.mixing_factor:g}"
    )
    yield f"{mark}{room.name}: {share_words(room.now)} of the vapour limits now  ({air})"
    if not room.rows:
        yield "  nothing that evaporates was used these two days"
        return
    peak_at = wall(room.peak_at, found.now, found.zone)
    yield f"  most today {share_words(room.peak)} at {peak_at}"
    if room.ahead:
        yield "! what was laid brings it past the limits: more air now, and nothing more laid"
    yield (
        f"  {share_words(room.lel_now)} of the lower explosive limit now, "
        f"{share_words(room.lel_peak)} at most; a tenth is the rule"
    )
    if room.clear_at is not None:
        yield f"  below the limits by itself about {wall(room.clear_at, found.now, found.zone)}"
    for row in room.rows:
        yield (
            f"  {row.solvent.title:<18} {plain_number(row.now_ppm, 2)} ppm now, most "
            f"{plain_number(row.peak_ppm, 2)}, limit {plain_number(row.limit.ppm, 3)} "
            f"({row.limit.whose})"
        )
    if room.from_what:
        yield f"  from {', '.join(room.from_what[:6])}"
