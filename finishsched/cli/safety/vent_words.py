"""The air of a room in words, for people and as JSON values."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from finishsched.cli.common import why_data, why_lines
from finishsched.model.shop import ShownUnits
from finishsched.safety.ventilation import AT_THE_PAD, VAPOUR_DEFERRAL, VentAnswer
from finishsched.units import AIR_FLOW, SPACE, VOLUME, plain_number, show
from finishsched.workshop.base.spans import span


def _finite(value: float) -> float | None:
    """Return a figure for JSON, which knows no infinity."""
    return value if value < float("inf") else None


def vent_data(found: VentAnswer, said: Sequence[str], units: ShownUnits) -> dict[str, Any]:
    """Return what a solvent does to a room as JSON values."""
    return {
        "vapour_m3": found.vapour_m3,
        "peak_ppm": found.peak_ppm,
        "percent_lel": found.percent_lel,
        "limit_ppm": found.limit_ppm,
        "air_needed_m3_per_h": found.air_needed_m3_per_h,
        "air_for_health_m3_per_h": found.air_for_health_m3_per_h,
        "air_for_fire_m3_per_h": found.air_for_fire_m3_per_h,
        "share_of_limits": found.index,
        "over_limit": found.over_limit,
        "over_a_tenth_of_lel": found.over_fire,
        "clear_after_h": _finite(found.clear_after_h),
        "room_m3": found.room.volume_m3,
        "flow_m3_per_h": found.room.flow_m3_per_h,
        "mixing_factor": found.room.mixing_factor,
        "over_h": found.over_h,
        "solvents": [
            {
                "solvent": row.solvent.liquid.value,
                "used_ml": row.ml,
                "vapour_m3": row.vapour_m3,
                "peak_ppm": row.peak_ppm,
                "peak_mg_per_m3": row.peak_mg_per_m3,
                "steady_ppm": _finite(row.steady_ppm),
                "percent_lel": row.percent_lel,
                "limit_ppm": row.limit_ppm,
                "limit_of": row.limit.whose,
            }
            for row in found.rows
        ],
        "assumptions": list(said),
        "mind": AT_THE_PAD,
        "deferral": VAPOUR_DEFERRAL,
        "why": why_data(found.reasons, units),
    }


def vent_lines(
    found: VentAnswer, said: Sequence[str], units: ShownUnits, *, why: bool
) -> Iterable[str]:
    """Say what a solvent does to a room, in the units that the shop prefers."""
    for row in found.rows:
        yield (
            f"{show(row.ml, VOLUME, units.volume)} of {row.solvent.title}: "
            f"{show(row.vapour_m3, SPACE, units.space)} of vapour"
        )
        yield (
            f"  peak {plain_number(row.peak_ppm)} ppm, limit {plain_number(row.limit_ppm)} ppm "
            f"({row.limit.whose}), {plain_number(row.percent_lel, 2)} % of the lower explosive "
            "limit"
        )
    if len(found.rows) > 1:
        yield (
            f"together {plain_number(found.index, 2)} of the limits, "
            f"{plain_number(found.percent_lel, 2)} % of the lower explosive limit"
        )
    needed = show(found.air_needed_m3_per_h, AIR_FLOW, units.air_flow)
    yield f"air needed {needed} if it went on for hours"
    yield from _verdict(found)
    for line in (*said, AT_THE_PAD):
        yield f"  mind: {line}"
    yield f"  {VAPOUR_DEFERRAL}"
    if why:
        yield from why_lines(found.reasons, units)


def _verdict(found: VentAnswer) -> Iterable[str]:
    if found.over_fire:
        yield "! it passes a tenth of the lower explosive limit: no flame or spark, and open up"
    if not found.over_limit:
        yield "it stays below the limits"
        return
    after = _finite(found.clear_after_h)
    when = (
        "shut as it is, it never clears"
        if after is None
        else (f"below them again {span(after * 3600, up=True)} after the work")
    )
    yield f"! it passes the limits: more air, less at once, or a bigger room; {when}"
