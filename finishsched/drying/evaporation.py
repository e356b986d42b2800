"""How fast solvents and water leave a film: vapour pressure, film cooling, relative rates.

Vapour pressures by the Antoine equation, log10 p = A - B/(T + C) with p in pascal and T in kelvin,
constants of Poling, Prausnitz and O'Connell, The Properties of Gases and Liquids, 5th edition, as
kept in public data libraries. Diffusivities in air at 25 degC and heats of evaporation are values
from memory.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from finishsched.drying.rates import ZERO_C_IN_K

PRESSURE_PA = 101_325.0
AIR_KG_PER_KMOL = 28.96
AIR_KJ_PER_KG_K = 1.006
AIR_DIFFUSIVITY_M2_PER_S = 2.15e-5
"""Of heat in air, at 25 degC."""

PSYCHROMETER_PER_K = 0.000662
"""Pressure per kelvin and per pascal of air pressure, for a ventilated wet bulb."""

EVAPORIMETER_COOLING = 0.7
"""Share of the way to its own wet bulb that the film of a rate test cools (fitted)."""


class Solvent(NamedTuple):
    """A liquid that leaves a film by evaporating."""

    name: str
    antoine_a: float
    antoine_b_k: float
    antoine_c_k: float
    molar_mass_g: float
    density_g_per_ml: float
    diffusivity_m2_per_s: float
    """Of its vapour in air, at 25 degC."""
    heat_kj_per_kg: float
    """Of evaporation."""


ETHANOL = Solvent("ethanol", 10.33675, 1648.22, -42.232, 46.07, 0.789, 1.32e-5, 920)
ISOPROPANOL = Solvent("isopropanol", 10.24268, 1580.92, -53.54, 60.10, 0.786, 1.0e-5, 755)
WATER = Solvent("water", 10.11564, 1687.537, -42.98, 18.015, 0.998, 2.5e-5, 2440)
BUTYL_ACETATE = Solvent("n-butyl acetate", 9.5, 1596.7, -43.85, 116.16, 0.882, 0.72e-5, 370)
"""The solvent whose rate is 1 in the trade's tables."""


def vapour_pa(solvent: Solvent, temperature_c: float) -> float:
    """Return the vapour pressure of ``solvent``, in Pa.

    Source: Antoine's equation; Poling, Prausnitz and O'Connell, The Properties of Gases and
    Liquids, 5th edition.

    Args:
        solvent: with the constants of its Antoine equation.
        temperature_c: degC, about -20 to 80.

    """
    kelvin = temperature_c + ZERO_C_IN_K
    return float(10 ** (solvent.antoine_a - solvent.antoine_b_k / (kelvin + solvent.antoine_c_k)))


@lru_cache(maxsize=4096)
def _solvent_wet_bulb_c(solvent: Solvent, air_c: float) -> float:
    """Return the temperature in degC that a wet film of ``solvent`` comes to in clean air.

    Heat gained from the air equals heat lost by evaporating: the psychrometer equation with the
    solvent's own Lewis number. Valid for air of about -20 to 60 degC.
    """
    lewis = AIR_DIFFUSIVITY_M2_PER_S / solvent.diffusivity_m2_per_s
    moles = solvent.molar_mass_g / AIR_KG_PER_KMOL
    pa_per_k = PRESSURE_PA * AIR_KJ_PER_KG_K * lewis ** (2 / 3) / (moles * solvent.heat_kj_per_kg)
    film_c = air_c
    for _ in range(20):  # Newton from above on a rising, convex curve: it cannot overshoot
        kelvin = film_c + ZERO_C_IN_K + solvent.antoine_c_k
        pressure = vapour_pa(solvent, film_c)
        slope = pressure * math.log(10) * solvent.antoine_b_k / kelvin**2 + pa_per_k
        step_k = (pressure - pa_per_k * (air_c - film_c)) / slope
        film_c -= step_k
        if step_k < 1e-9:
            break
    return film_c


def film_c(solvent: Solvent, air_c: float, cooling: float) -> float:
    """Return the temperature of a wet film, in degC.

    Source: psychrometer equation with the Lewis number of the solvent, textbook (from memory).

    Args:
        solvent: what it is wet with.
        air_c: degC, about -20 to 60.
        cooling: share of the way from the air, 0, to the solvent's own wet bulb, 1.

    """
    return air_c - cooling * (air_c - _solvent_wet_bulb_c(solvent, air_c)) if cooling else air_c


def relative_rate(solvent: Solvent, air_c: float = 25.0) -> float:
    """Return the volume of ``solvent`` that evaporates in the time of 1 of n-butyl acetate.

    Source: rate by M p D^0.5 / density of the cooled film (our assumption; published rates within
    20 %, methanol a third too low).

    Args:
        solvent: the liquid.
        air_c: degC, about 0 to 40; rates are published at 25.

    """
    return _volume_rate(solvent, air_c) / _volume_rate(BUTYL_ACETATE, air_c)


def _volume_rate(solvent: Solvent, air_c: float) -> float:
    surface_c = film_c(solvent, air_c, EVAPORIMETER_COOLING)
    vapour = solvent.molar_mass_g * vapour_pa(solvent, surface_c)
    return vapour * math.sqrt(solvent.diffusivity_m2_per_s) / solvent.density_g_per_ml


@lru_cache(maxsize=65_536)
def water_depression_k(temperature_c: float, humidity_percent: float) -> float:
    """Return how far a ventilated film of water cools below the air, in K; 0 when saturated.

    Always over liquid water, so that it has no step at 0 degC; agrees with the thermodynamic wet
    bulb to 0.3 K from 5 to 40 degC.

    Source: psychrometer equation with es by Magnus as Alduchov and Eskridge fit it, 1996.

    Args:
        temperature_c: degC, about -20 to 60.
        humidity_percent: percent, 0 to 100.

    """
    vapour = magnus_pa(temperature_c) * humidity_percent / 100
    pa_per_k = PSYCHROMETER_PER_K * PRESSURE_PA
    wet_c = temperature_c
    for _ in range(20):  # Newton from above on a rising, convex curve: it cannot overshoot
        pressure = magnus_pa(wet_c)
        slope = pressure * 17.625 * 243.04 / (wet_c + 243.04) ** 2 + pa_per_k
        step_k = (pressure - vapour - pa_per_k * (temperature_c - wet_c)) / slope
        wet_c -= step_k
        if step_k < 1e-9:
            break
    return max(0.0, temperature_c - wet_c)


def magnus_pa(temperature_c: float) -> float:
    """Return water's saturation pressure over liquid, in Pa, within 0.4 %.

    Source: Alduchov and Eskridge, 1996.

    Args:
        temperature_c: degC, -40 to 50.

    """
    return 610.94 * math.exp(17.625 * temperature_c / (temperature_c + 243.04))
