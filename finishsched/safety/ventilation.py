"""Vapour of solvents in a room: how much, how concentrated, and the air that keeps it down.

The room is taken as well mixed, and the air that counts is the flow over the mixing factor K, 1 for
perfect mixing to 10 for poor. Gas volumes at 25 degC and one atmosphere, 24.45 L/mol. Dilution
ventilation as in industrial hygiene's formula sheets: C(t) = (G/Q')(1 - exp(-Q' t/V)), purge
t = (V/Q') ln(C1/C2), mixtures by the sum of C/L, explosive limit of a mixture by Le Chatelier.

A room's average is less than the air at the pad and over an open jar. The product's safety data
sheet, local codes and licensed practice come first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, said
from finishsched.model.solvent import LocalLimit
from finishsched.safety.exposure import MOLAR_VOLUME_L, Limit, lowest_limit
from finishsched.safety.solvents import Part, Solvent, limit_reason

AT_THE_PAD = (
    "This is the room's average: at the pad and over an open jar the air is worse. Vapour is "
    "heavier than air."
)
VAPOUR_DEFERRAL = (
    "Planning figures. The product's safety data sheet, local codes and licensed practice come "
    "first."
)

FIRE_SHARE_OF_LEL = 0.10
"""Below a tenth of the lower explosive limit is the usual rule of fire protection."""

POOR_MIXING = 5.0
"""A small room with a window fan has 3 to 5 (from memory): its poor end, where none is given."""


def vapour_m3(part: Part) -> float:
    """Return the volume of gas that ``part`` becomes when all of it has evaporated, in m3.

    Source: molar volume of a gas, 24.45 L/mol at 25 degC, by definition.

    Args:
        part: the liquid, and how much of it, 0 g or more.

    """
    return part.grams * MOLAR_VOLUME_L / part.solvent.molar_mass_g / 1000


def ppm_to_mg_per_m3(ppm: float, solvent: Solvent) -> float:
    """Return a concentration in mg/m3 at 25 degC.

    Source: molar volume of a gas, 24.45 L/mol at 25 degC, by definition.

    Args:
        ppm: ppm by volume, 0 or more.
        solvent: the liquid.

    """
    return ppm * solvent.molar_mass_g / MOLAR_VOLUME_L


def mg_per_m3_to_ppm(mg_per_m3: float, solvent: Solvent) -> float:
    """Return a concentration in ppm by volume at 25 degC.

    Source: molar volume of a gas, 24.45 L/mol at 25 degC, by definition.

    Args:
        mg_per_m3: mg in each m3 of air, 0 or more.
        solvent: the liquid.

    """
    return mg_per_m3 * MOLAR_VOLUME_L / solvent.molar_mass_g


def steady_ppm(gas_m3_per_h: float, effective_flow_m3_per_h: float) -> float:
    """Return what the room comes to in the end, in ppm; infinite without any flow.

    Source: dilution ventilation, industrial hygiene's formula sheets (textbook).

    Args:
        gas_m3_per_h: m3/h of vapour, 0 or more.
        effective_flow_m3_per_h: m3/h, the flow over the mixing factor, 0 or more.

    """
    if effective_flow_m3_per_h <= 0:
        return math.inf if gas_m3_per_h > 0 else 0.0
    return gas_m3_per_h / effective_flow_m3_per_h * 1e6


def build_up_ppm(
    gas_m3_per_h: float, effective_flow_m3_per_h: float, room_m3: float, hours: float
) -> float:
    """Return the concentration after ``hours`` of a steady source in a room that was clean, in ppm.

    Source: dilution ventilation, industrial hygiene's formula sheets (textbook).

    Args:
        gas_m3_per_h: m3/h of vapour, 0 or more.
        effective_flow_m3_per_h: m3/h, the flow over the mixing factor, 0 or more.
        room_m3: m3, above 0.
        hours: h, 0 or more.

    """
    if effective_flow_m3_per_h <= 0:
        return gas_m3_per_h * hours / room_m3 * 1e6
    gone = -math.expm1(-effective_flow_m3_per_h * hours / room_m3)
    return gas_m3_per_h / effective_flow_m3_per_h * gone * 1e6


def purge_h(
    from_ppm: float, to_ppm: float, effective_flow_m3_per_h: float, room_m3: float
) -> float:
    """Return the hours from one concentration down to a lower one; infinite for never.

    Source: dilution ventilation, industrial hygiene's formula sheets (textbook).

    Args:
        from_ppm: ppm or any share of a limit, 0 or more.
        to_ppm: in the same unit, 0 or more.
        effective_flow_m3_per_h: m3/h, the flow over the mixing factor, 0 or more.
        room_m3: m3, above 0.

    """
    if from_ppm <= to_ppm:
        return 0.0
    if effective_flow_m3_per_h <= 0 or to_ppm <= 0:
        return math.inf
    return room_m3 / effective_flow_m3_per_h * math.log(from_ppm / to_ppm)


def air_needed_m3_per_h(gas_m3_per_h: float, ceiling_ppm: float, mixing_factor: float) -> float:
    """Return the flow that keeps a steady source at ``ceiling_ppm`` for ever, in m3/h: K G 1e6/C.

    Source: dilution ventilation, industrial hygiene's formula sheets (textbook).

    Args:
        gas_m3_per_h: m3/h of vapour, 0 or more.
        ceiling_ppm: ppm, above 0.
        mixing_factor: no unit, 1 for perfect mixing to 10 for poor.

    """
    return mixing_factor * gas_m3_per_h * 1e6 / ceiling_ppm


def mixture_index(concentrations: Iterable[tuple[float, float]]) -> float:
    """Return the sum of C/L over pairs of concentration and limit; more than 1 is over.

    Source: 29 CFR 1910.1000(d)(2).

    Args:
        concentrations: pairs of a concentration and its limit, both in ppm, 0 or more, the limit
            above 0.

    """
    return sum(found / limit for found, limit in concentrations)


@dataclass(frozen=True, slots=True)
class RoomAir:
    """A room as its vapour sees it."""

    volume_m3: float
    flow_m3_per_h: float = 0.0
    """Outdoor air through the room; 0 for a room that is shut."""
    mixing_factor: float = POOR_MIXING

    @property
    def effective_m3_per_h(self) -> float:
        """The flow over the mixing factor."""
        return self.flow_m3_per_h / self.mixing_factor


class VentRow(NamedTuple):
    """One liquid in the room."""

    solvent: Solvent
    ml: float
    vapour_m3: float
    peak_ppm: float
    steady_ppm: float
    """Where it would come to if it went on for ever; infinite in a room that is shut."""
    limit: Limit
    """The lowest known, and whose it is."""

    @property
    def limit_ppm(self) -> float:
        """The lowest limit known."""
        return self.limit.ppm

    @property
    def percent_lel(self) -> float:
        """The peak in percent of the lower explosive limit."""
        return 100 * self.peak_ppm / self.solvent.lel_ppm

    @property
    def peak_mg_per_m3(self) -> float:
        """The peak by weight."""
        return ppm_to_mg_per_m3(self.peak_ppm, self.solvent)


@dataclass(frozen=True, slots=True)
class VentAnswer:
    """What an amount of solvent, evaporated evenly over a time, does to a room."""

    room: RoomAir
    over_h: float
    rows: tuple[VentRow, ...]
    index: float
    """Sum of peak over limit; more than 1 passes the limits together."""
    air_for_health_m3_per_h: float
    air_for_fire_m3_per_h: float
    clear_after_h: float
    """From the end of the work until the index is down to 1; infinite in a room that is shut."""
    reasons: tuple[Reason, ...]

    @property
    def vapour_m3(self) -> float:
        """All the vapour."""
        return sum(row.vapour_m3 for row in self.rows)

    @property
    def peak_ppm(self) -> float:
        """All the vapours together at the end of the work."""
        return sum(row.peak_ppm for row in self.rows)

    @property
    def percent_lel(self) -> float:
        """The peak in percent of the mixture's lower explosive limit."""
        return sum(row.percent_lel for row in self.rows)

    @property
    def limit_ppm(self) -> float:
        """The limit of one liquid; of several, the most that this mixture may come to."""
        return self.peak_ppm / self.index

    @property
    def air_needed_m3_per_h(self) -> float:
        """The flow that holds both the limits and a tenth of the explosive limit for ever."""
        return max(self.air_for_health_m3_per_h, self.air_for_fire_m3_per_h)

    @property
    def over_limit(self) -> bool:
        """True when the peak passes the limits."""
        return self.index > 1

    @property
    def over_fire(self) -> bool:
        """True when the peak passes a tenth of the lower explosive limit."""
        return self.percent_lel > 100 * FIRE_SHARE_OF_LEL


def vent_answer(
    parts: Sequence[Part], over_h: float, room: RoomAir, local: Sequence[LocalLimit] = ()
) -> VentAnswer:
    """Return what ``parts`` do to ``room`` when they evaporate evenly over ``over_h`` hours.

    Source: dilution ventilation, industrial hygiene's formula sheets (textbook); mixtures by 29 CFR
    1910.1000(d)(2).

    Args:
        parts: at least one, of more than 0 g.
        over_h: h, above 0.
        room: its volume, flow and mixing factor; clean at the beginning.
        local: limits of the shop's own.

    """
    rows = tuple(_row(part, over_h, room, local) for part in parts)
    rates = [(row, row.vapour_m3 / over_h) for row in rows]
    index = mixture_index((row.peak_ppm, row.limit_ppm) for row in rows)
    mixing = room.mixing_factor
    return VentAnswer(
        room=room,
        over_h=over_h,
        rows=rows,
        index=index,
        air_for_health_m3_per_h=sum(
            air_needed_m3_per_h(rate, row.limit_ppm, mixing) for row, rate in rates
        ),
        air_for_fire_m3_per_h=sum(
            air_needed_m3_per_h(rate, FIRE_SHARE_OF_LEL * row.solvent.lel_ppm, mixing)
            for row, rate in rates
        ),
        clear_after_h=purge_h(index, 1.0, room.effective_m3_per_h, room.volume_m3),
        reasons=_reasons(parts, over_h, room, local),
    )


def _row(part: Part, over_h: float, room: RoomAir, local: Sequence[LocalLimit]) -> VentRow:
    gas_m3 = vapour_m3(part)
    flow = room.effective_m3_per_h
    return VentRow(
        solvent=part.solvent,
        ml=part.ml,
        vapour_m3=gas_m3,
        peak_ppm=build_up_ppm(gas_m3 / over_h, flow, room.volume_m3, over_h),
        steady_ppm=steady_ppm(gas_m3 / over_h, flow),
        limit=lowest_limit(part.solvent, local),
    )


def _reasons(
    parts: Sequence[Part], over_h: float, room: RoomAir, local: Sequence[LocalLimit]
) -> tuple[Reason, ...]:
    return (
        Reason(
            "vapour = litres x 24.45 x density / molar mass, at {25 degC}",
            tuple(
                said(
                    "{} {}, {}, {}",
                    part.solvent.title,
                    Quantity(part.ml, "ml", 4),
                    Quantity(part.solvent.density_g_per_ml, "g/ml"),
                    f"{part.solvent.molar_mass_g:g} g/mol",
                )
                for part in parts
            ),
            "molar volume of a gas at {25 degC} and one atmosphere",
        ),
        Reason(
            "C(t) = (G/Q')(1 - exp(-Q' t/V)) with Q' = flow / mixing factor",
            (
                said("room {}", Quantity(room.volume_m3, "m3")),
                said("flow {}", Quantity(room.flow_m3_per_h, "m3/h")),
                f"mixing factor {room.mixing_factor:g}",
                f"over {over_h:g} h",
            ),
            "dilution ventilation, industrial hygiene formula sheets",
        ),
        Reason(
            "air needed = mixing factor x G x 1e6 / limit, summed over the liquids",
            (f"a tenth of the lower explosive limit: {100 * FIRE_SHARE_OF_LEL:g} %",),
            "university ventilation formula sheet; NIOSH for the tenth",
        ),
        *(limit_reason(part.solvent, local) for part in parts),
    )
