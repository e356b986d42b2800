"""How soon the solvent of a wet film has left it as vapour.

Evaporation from a flat face into moving air: flux = k M p/(R T) with k = 0.664 u Re^-1/2 Sc^-2/3 of
a laminar boundary layer (heat and mass transfer texts), at the temperature of the cooled film.
What a film holds back at the end, bound in the resin, is counted as gone with the rest: the vapour
then comes sooner and stands higher, which is the side to err on.
"""

from __future__ import annotations

import math

from finishsched.drying.evaporation import ETHANOL, Solvent, film_c, vapour_pa
from finishsched.drying.rates import ZERO_C_IN_K

AIR_VISCOSITY_M2_PER_S = 1.55e-5
"""Kinematic, at 25 degC."""
GAS_J_PER_MOL_K = 8.314
STILLEST_M_PER_S = 0.05
"""Even in a still room the vapour itself sinks and draws air along (our assumption)."""
FILM_COOLING = 0.37
"""Of a brushed film, the share of the way to its solvent's own wet bulb (coatings guides)."""
ETHANOL_RATE = 1.4
"""Of 95 % ethanol, by volume, where n-butyl acetate is 1: tables of evaporation rates."""


def flux_g_per_m2_s(
    solvent: Solvent, air_c: float, movement_m_per_s: float, length_m: float
) -> float:
    """Return how fast ``solvent`` leaves a wet face, in g/(m2 s).

    Source: laminar boundary layer of a flat plate, heat and mass transfer texts (from memory).

    Args:
        solvent: the liquid.
        air_c: degC, about 0 to 40, without that vapour in it.
        movement_m_per_s: m/s, 0 to 5; still air counts as the least there is.
        length_m: m of the face along the air's way, above 0.

    """
    speed = max(STILLEST_M_PER_S, movement_m_per_s)
    reynolds = speed * length_m / AIR_VISCOSITY_M2_PER_S
    schmidt = AIR_VISCOSITY_M2_PER_S / solvent.diffusivity_m2_per_s
    transfer_m_per_s = 0.664 * speed / math.sqrt(reynolds) / math.cbrt(schmidt) ** 2
    surface_c = film_c(solvent, air_c, FILM_COOLING)
    above_g_per_m3 = (
        solvent.molar_mass_g
        * vapour_pa(solvent, surface_c)
        / (GAS_J_PER_MOL_K * (surface_c + ZERO_C_IN_K))
    )
    return transfer_m_per_s * above_g_per_m3


def leaves_in_s(
    laid_ml: float, area_m2: float, rate: float, air_c: float, movement_m_per_s: float = 0.1
) -> float:
    """Return the time constant in s by which ``laid_ml`` of a liquid leave a face of ``area_m2``.

    The time after which a constant flux would have taken all of it.

    Source: flux of ethanol by a laminar boundary layer (from memory), scaled by the published rate;
    a film dries as if flat and open (our assumption).

    Args:
        laid_ml: ml, above 0.
        area_m2: m2, above 0.
        rate: evaporation by volume where n-butyl acetate is 1, above 0.
        air_c: degC, about 0 to 40.
        movement_m_per_s: m/s, 0 to 5.

    """
    length_m = math.sqrt(area_m2)
    ethanol = flux_g_per_m2_s(ETHANOL, air_c, movement_m_per_s, length_m)
    ml_per_m2_s = ethanol / ETHANOL.density_g_per_ml * rate / ETHANOL_RATE
    return laid_ml / area_m2 / ml_per_m2_s
