"""How warmth changes the pace of a reaction, by Arrhenius' law."""

from __future__ import annotations

import math

from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, said

GAS_CONSTANT_J_PER_MOL_K = 8.314462618
"""Exact since the SI of 2019."""

ZERO_C_IN_K = 273.15

POT_LIFE_KJ_PER_MOL = 50.0
"""Two-part mixes: pot life about halves for each 10 degC more and doubles for each 10 degC less
(UFGS 09971), which is 50 kJ/mol near room temperature."""


def time_factor(at_c: float, reference_c: float, activation_kj_per_mol: float) -> float:
    """Return by how much longer a reaction takes at ``at_c`` than at ``reference_c``, no unit.

    1 where both are equal, less than 1 where it is warmer. Exact for one reaction of one activation
    energy; a finish is several, so far from ``reference_c`` it is a guide.

    Source: Arrhenius' law, textbook: exp[E/R (1/T - 1/Tref)]; R is exact by definition since 2019.

    Args:
        at_c: degC, above -273.15.
        reference_c: degC, above -273.15.
        activation_kj_per_mol: kJ/mol, 0 or more.

    """
    at_k, reference_k = at_c + ZERO_C_IN_K, reference_c + ZERO_C_IN_K
    activation_k = 1000 * activation_kj_per_mol / GAS_CONSTANT_J_PER_MOL_K
    return math.exp(activation_k * (1 / at_k - 1 / reference_k))


def pot_life_s(published_s: float, published_c: float, at_c: float) -> float:
    """Return how long a two-part mix stays workable at ``at_c``, in s.

    More of it in a deep pot warms itself and goes sooner.

    Source: half for each 10 degC more, UFGS 09971.

    Args:
        published_s: s, the data sheet's pot life for its own quantity, above 0.
        published_c: degC that it holds for, above -273.15.
        at_c: degC of the mix, above -273.15.

    """
    return published_s * time_factor(at_c, published_c, POT_LIFE_KJ_PER_MOL)


def pot_life_reason(published_s: float, published_c: float, at_c: float) -> Reason:
    """Return why a pot life is what it is."""
    return Reason(
        "pot life = the data sheet's x exp[E/R (1/T - 1/Tref)]",
        (
            said("{} min at {}", f"{published_s / 60:g}", Quantity(published_c, "degC")),
            said("room {}", Quantity(at_c, "degC")),
            f"E {POT_LIFE_KJ_PER_MOL:g} kJ/mol",
        ),
        "Arrhenius; halves for each {10 K} more: UFGS 09971",
    )
