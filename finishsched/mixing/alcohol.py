"""Density of ethanol and water, so that weighing and measuring agree.

General formula of OIML R 22 (1975), International alcoholometric tables; the same formula stands in
Council Directive 76/766/EEC, annex. Exact within the tables' own last digit from -20 to 40 degC.
"""

from __future__ import annotations

from functools import lru_cache

COLDEST_C, WARMEST_C = -20.0, 40.0

# fmt: off
_A = (
    9.982012300e2, -1.929769495e2, 3.891238958e2, -1.668103923e3, 1.352215441e4, -8.829278388e4,
    3.062874042e5, -6.138381234e5, 7.470172998e5, -5.478461354e5, 2.234460334e5, -3.903285426e4,
)
_B = (-2.0618513e-1, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.1693540e-9, -9.9739231e-11)
_C = (
    (
        1.693443461530087e-1, -1.046914743455169e1, 7.196353469546523e1, -7.047478054272792e2,
        3.924090430035045e3, -1.210164659068747e4, 2.248646550400788e4, -2.605562982188164e4,
        1.852373922069467e4, -7.420201433430137e3, 1.285617841998974e3,
    ),
    (
        -1.193013005057010e-2, 2.517399633803461e-1, -2.170575700536993, 1.353034988843029e1,
        -5.029988758547014e1, 1.096355666577570e2, -1.422753946421155e2, 1.080435942856230e2,
        -4.414153236817392e1, 7.442971530188783,
    ),
    (
        -6.802995733503803e-4, 1.876837790289664e-2, -2.002561813734156e-1, 1.022992966719220,
        -2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
        -5.411227621436812e-1,
    ),
    (4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6),
    (-2.788074354782409e-8, 1.345612883493354e-8),
)
# fmt: on


def mixture_density_kg_per_m3(mass_fraction: float, at_c: float) -> float:
    """Return the density of ethanol in water, in kg/m3.

    Source: OIML R 22, International alcoholometric tables, 1975, general formula.

    Args:
        mass_fraction: of ethanol in the mixture, a share from 0 to 1.
        at_c: degC, -20 to 40.

    Raises:
        ValueError: outside those ranges, for which the formula was not made.

    """
    if not 0.0 <= mass_fraction <= 1.0:
        raise ValueError(f"a mass fraction of {mass_fraction:g}; it may be 0 to 1")
    if not COLDEST_C <= at_c <= WARMEST_C:
        raise ValueError(
            f"alcohol at {at_c:g} degC; the density formula holds from "
            f"{COLDEST_C:g} to {WARMEST_C:g} degC"
        )
    warmer_k = at_c - 20.0
    density = _power_series(_A, mass_fraction)
    density += _power_series(_B, warmer_k) * warmer_k
    for power, row in enumerate(_C, start=1):
        density += _power_series(row, mass_fraction) * mass_fraction * warmer_k**power
    return density


@lru_cache(maxsize=256)
def mass_fraction_of(strength_percent_vol: float) -> float:
    """Return the mass fraction of ethanol, 0 to 1, in alcohol of a strength at 20 degC.

    Source: OIML R 22, 1975, turned round by halving.

    Args:
        strength_percent_vol: percent by volume at 20 degC, 0 to 100.

    Raises:
        ValueError: outside 0 to 100 %vol.

    """
    if not 0.0 <= strength_percent_vol <= 100.0:
        raise ValueError(f"a strength of {strength_percent_vol:g} %vol; it may be 0 to 100 %vol")
    wanted = strength_percent_vol / 100 * mixture_density_kg_per_m3(1.0, 20.0)
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        if middle * mixture_density_kg_per_m3(middle, 20.0) < wanted:
            low = middle
        else:
            high = middle
    return high if strength_percent_vol == 100.0 else (low + high) / 2


def alcohol_g_per_ml(strength_percent_vol: float, at_c: float) -> float:
    """Return the density of alcohol of this strength at ``at_c``, in g/ml.

    Source: OIML R 22, 1975.

    Args:
        strength_percent_vol: percent by volume at 20 degC, 0 to 100.
        at_c: degC, -20 to 40.

    Raises:
        ValueError: outside those ranges.

    """
    return mixture_density_kg_per_m3(mass_fraction_of(strength_percent_vol), at_c) / 1000


def _power_series(coefficients: tuple[float, ...], x: float) -> float:
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * x + coefficient
    return total
