"""How much longer, or shorter, a film takes in this air than in the air its time was stated for.

A law belongs to a mechanism and to a phase: what has to be reached. It has a share that leaves at
the surface, by evaporating, and a share that goes on through the film, by diffusion or reaction.
The surface share goes with the film's weight, with vapour pressure (solvents) or with how far water
cools when it evaporates (water), and with the square root of the air's movement, as over a plate in
laminar flow. The other share goes with the film's weight to a power and with Arrhenius' law.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Protocol

from finishsched.drying.evaporation import ETHANOL, film_c, vapour_pa, water_depression_k
from finishsched.drying.figures import (
    SURFACE_PHASES,
    Figures,
    Phase,
    figures_of,
    mechanism_of,
    product_figures,
)
from finishsched.drying.rates import time_factor
from finishsched.model.product import Mechanism, Product
from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, Teller, said, told_marks
from finishsched.model.shop import Air

HUMIDITY_CAVEAT = (
    "How humidity changes drying is worked out from evaporation or assumed: no published table of "
    "drying times at several humidities was found to check it by."
)
SCHEDULE_AIR = Air(20.0, 50.0, 0.1)
"""The usual room in which the waits of a schedule hold (our assumption)."""
PRODUCT_AIR = Air(23.0, 50.0, 0.1)
"""The air of most published drying times."""

COALESCES_ABOVE_C = 10.0
OXIDISES_DAMP_ABOVE_C = 10.0
OXIDISES_SLOWER_ABOVE_PERCENT = 70.0
"""Published limits (data sheets); that it takes twice as long at 100 % is our assumption."""
WATER_DRIES_ABOVE_C = 5.0
"""Glue and filler; our assumption, data sheets go before it."""
LEAST_DEPRESSION_K = 0.1
"""Air in which water cools by less takes up no water worth counting (our assumption)."""
LEAST_MOVEMENT_M_PER_S = 0.05
"""Air is never quite still: warmth moves it (our assumption)."""

FIRST_ON_WOOD_SURFACE = 0.7
FIRST_ON_WOOD_THROUGH = 1.5
"""The first coat's solvent goes into the wood: sooner dry to the touch, later hard (published);
by how much is our assumption."""
NORMAL_DRY_FILM_UM = 15.0
REDISSOLVED_SHARE = 0.5
MOST_REDISSOLVED_FILMS = 2.0
"""Of a film beneath that is made of normal coats of 15 um, half softens again, of two coats at
most: so the third heavy coat takes near four times as long as the first, as published."""

ENERGY_DOUBT_KJ_PER_MOL = {Mechanism.SOLVENT: 15.0}
USUAL_ENERGY_DOUBT_KJ_PER_MOL = 6.0
"""How far an activation energy may be out. For films from which only solvent leaves the published
figures run from 12 kJ/mol (a table of three rows) to what doubles the time in 10 degC (a rule); the
others' come from tables (our assumption)."""
HUMIDITY_DOUBT = {Mechanism.SOLVENT: 0.05}
USUAL_HUMIDITY_DOUBT = 0.03
"""How far a time may be out for each 10 % of humidity off, as a log: the laws of films from which
only solvent leaves know no humidity, since no source was found (our assumption)."""

FILM_COOLING = {Mechanism.SOLVENT: 0.37}
"""Share of the way to ethanol's wet bulb that the film cools, as under a brush; other solvents
evaporate too slowly to cool it."""


class AirState(Protocol):
    """Air as a law needs it: what the shop's air, a reading and a forecast have in common."""

    @property
    def temperature_c(self) -> float:
        """In degC, about -20 to 60."""

    @property
    def humidity_percent(self) -> float:
        """Relative humidity, 0 to 100."""

    @property
    def movement_m_per_s(self) -> float:
        """Of the air over the work: 0.1 still room, 0.3 ordinary, 0.5 to 1 with a fan."""


class Stop(StrEnum):
    """Why a film does not dry in this air at all."""

    TOO_COLD_TO_COALESCE = "too cold: below about {10 degC} it does not coalesce"
    COLD_AND_DAMP = "cold and damp: below about {10 degC} in damp air it does not harden"
    TOO_COLD_FOR_WATER = "too cold: near freezing its water does not leave"
    TOO_HUMID = "too humid: the air takes up no more water"

    def told(self, tell: Teller) -> str:
        """Return it in words, its temperature told."""
        return told_marks(self.value, tell)


@dataclass(frozen=True, slots=True)
class Law:
    """A mechanism, a phase, the air that the stated time holds in, and the film that was laid.

    ``film_ratio`` is wet film over the normal wet film. ``film_below_um`` is the dry film beneath
    and ``first_on_wood`` is for a first coat on bare wood: give them with a product's time, not
    with a schedule's wait, which already knows which coat it follows.

    Raises:
        ValueError: when the film is no positive number, or less than none lies beneath.

    """

    mechanism: Mechanism
    phase: Phase
    figures: Figures
    reference: Air = PRODUCT_AIR
    film_ratio: float = 1.0
    first_on_wood: bool = False
    film_below_um: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.film_ratio < math.inf:
            raise ValueError(f"a film of {self.film_ratio:g} normal ones; above 0")
        if not 0 <= self.film_below_um < math.inf:
            raise ValueError(f"a film of {self.film_below_um:g} um beneath; from 0")

    def laid(
        self, film_ratio: float = 1.0, *, first_on_wood: bool = False, film_below_um: float = 0.0
    ) -> Law:
        """Return this law for a film that is not the normal one."""
        return replace(
            self,
            film_ratio=film_ratio,
            first_on_wood=first_on_wood,
            film_below_um=film_below_um,
        )

    @property
    def reason(self) -> Reason:
        """Rule, figures and what they rest on."""
        figures, air = self.figures, self.reference
        return Reason(
            rule=f"{self.mechanism.value}, {self.phase.value}: a share by evaporation, the rest "
            "through the film by Arrhenius' law",
            inputs=(
                said(
                    "stated for {}, {} %",
                    Quantity(air.temperature_c, "degC"),
                    f"{air.humidity_percent:g}",
                ),
                f"share by evaporation {figures.surface_share:g}",
                f"activation energy {figures.energy_kj_per_mol:g} kJ/mol",
                f"film {self.film_ratio:g} of the normal one",
            ),
            source=figures.basis,
        )


def law_for(mechanism: Mechanism, phase: Phase, reference: Air = PRODUCT_AIR) -> Law:
    """Return the law with its usual figures, for a time that holds in ``reference`` air."""
    return Law(mechanism, phase, figures_of(mechanism, phase), reference)


def law_of(product: Product, phase: Phase, reference: Air = PRODUCT_AIR) -> Law | None:
    """Return the law that a product dries by, for a time that holds in ``reference`` air."""
    mechanism = mechanism_of(product)
    if mechanism is None:
        return None
    return Law(mechanism, phase, product_figures(product, phase), reference)


def product_law(product: Product, phase: Phase) -> Law | None:
    """Return the law for the product's own published times, in the air that they hold for."""
    if product.dries is None:
        return law_of(product, phase)
    return law_of(product, phase, Air(product.dries.at_c, product.dries.at_humidity_percent))


def air_doubt(law: Law, air: AirState) -> float:
    """Return how far a time in this air may be out, as one standard deviation of its log.

    None in the air that the time was stated for; more, the further this air is from it.
    """
    unsure = ENERGY_DOUBT_KJ_PER_MOL.get(law.mechanism, USUAL_ENERGY_DOUBT_KJ_PER_MOL)
    warmth = math.log(time_factor(air.temperature_c, law.reference.temperature_c, unsure))
    off_percent = air.humidity_percent - law.reference.humidity_percent
    damp = HUMIDITY_DOUBT.get(law.mechanism, USUAL_HUMIDITY_DOUBT) * off_percent / 10
    return math.hypot(warmth, damp)


def speed(law: Law, air: AirState) -> float:
    """Return the pace of drying over the pace in the law's reference air; 0 when it stops."""
    return 1 / interval_factor(law, air)


def interval_factor(law: Law, air: AirState) -> float:
    """Return the time that it takes in this air over the stated time; infinite when it stops.

    Valid for air of about -20 to 60 degC. Warmer air at the same humidity never takes longer, a
    thicker film never less. See ``HUMIDITY_CAVEAT`` for what the humidity rests on.
    """
    if stop_reason(law, air) is not None:
        return math.inf
    share = law.figures.surface_share
    slow = _through(law) * time_factor(
        air.temperature_c, law.reference.temperature_c, law.figures.energy_kj_per_mol
    )
    quick = _surface(law, air) if share else 0.0
    factor = share * quick + (1 - share) * slow
    return factor * _damp(law, air.humidity_percent) * _wood(law)


def stop_reason(law: Law, air: AirState) -> Stop | None:
    """Return why a film does not dry in this air; None when it does.

    A time that its maker states for colder air moves the limit down to there.
    """
    damp = air.humidity_percent > OXIDISES_SLOWER_ABOVE_PERCENT
    if law.mechanism is Mechanism.COALESCING and _colder(law, air, COALESCES_ABOVE_C):
        return Stop.TOO_COLD_TO_COALESCE
    if law.mechanism is Mechanism.OXIDISING and damp and _colder(law, air, OXIDISES_DAMP_ABOVE_C):
        return Stop.COLD_AND_DAMP
    if law.mechanism is Mechanism.WATER and _colder(law, air, WATER_DRIES_ABOVE_C):
        return Stop.TOO_COLD_FOR_WATER
    if law.figures.surface_share and _dries_by_water(law) and _depression_k(air) == 0:
        return Stop.TOO_HUMID
    return None


def _colder(law: Law, air: AirState, limit_c: float) -> bool:
    return air.temperature_c < min(limit_c, law.reference.temperature_c)


def _surface(law: Law, air: AirState) -> float:
    """Return the relative time of the share that evaporates."""
    movement = math.sqrt(_movement(law.reference) / _movement(air))
    if _dries_by_water(law):
        drive = max(LEAST_DEPRESSION_K, _depression_k(law.reference)) / _depression_k(air)
    else:
        drive = _solvent_pa(law, law.reference) / _solvent_pa(law, air)
    return law.film_ratio * drive * movement


def _through(law: Law) -> float:
    """Return the relative time of the share that goes through the film, by its thickness."""
    film = law.film_ratio
    if law.mechanism is Mechanism.SOLVENT:
        beneath = law.film_below_um / NORMAL_DRY_FILM_UM
        film += REDISSOLVED_SHARE * min(beneath, MOST_REDISSOLVED_FILMS)
    figures = law.figures
    return float(film ** (figures.thick_power if film > 1 else figures.thin_power))


def _damp(law: Law, humidity_percent: float) -> float:
    """Return by how much damp air holds an oil back."""
    if law.mechanism is not Mechanism.OXIDISING:
        return 1.0
    return _damp_slows(humidity_percent) / _damp_slows(law.reference.humidity_percent)


def _damp_slows(humidity_percent: float) -> float:
    limit = OXIDISES_SLOWER_ABOVE_PERCENT
    return 1 + max(0.0, humidity_percent - limit) / (100 - limit)


def _wood(law: Law) -> float:
    """Return what bare wood does to the time of a first coat; reaction and glue are as they are."""
    if not law.first_on_wood or law.mechanism in {Mechanism.WATER, Mechanism.TWO_PART}:
        return 1.0
    return FIRST_ON_WOOD_SURFACE if law.phase in SURFACE_PHASES else FIRST_ON_WOOD_THROUGH


def _dries_by_water(law: Law) -> bool:
    return law.mechanism.is_by_water


def _depression_k(air: AirState) -> float:
    """Return how far water cools in this air; 0 in air too damp to count."""
    cools_k = water_depression_k(air.temperature_c, air.humidity_percent)
    return cools_k if cools_k >= LEAST_DEPRESSION_K else 0.0


def _solvent_pa(law: Law, air: AirState) -> float:
    """Return the vapour pressure of the cooled film; other solvents change with warmth alike."""
    cooling = FILM_COOLING.get(law.mechanism, 0.0)
    return vapour_pa(ETHANOL, film_c(ETHANOL, air.temperature_c, cooling))


def _movement(air: AirState) -> float:
    return max(LEAST_MOVEMENT_M_PER_S, air.movement_m_per_s)
