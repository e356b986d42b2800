"""Which cut a jar holds: from a weighed volume, or from a sample weighed wet and dried.

Both turn the balance of mixing round, so that gauging what was mixed gives the cut that was mixed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.cut import DISSOLVED_G_PER_ML, heavy_warnings
from finishsched.mixing.measure import CutRange
from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, SaidError, said
from finishsched.model.shop import Alcohol, Tools


@dataclass(frozen=True, slots=True)
class Gauged:
    """The cut that a jar holds, as far as the tools can tell."""

    cut: CutRange
    mass_percent: float
    """Dry resin in the solution by mass."""
    density_g_per_ml: float
    warnings: tuple[str, ...]
    reasons: tuple[Reason, ...]


def gauge_by_weight(
    volume_ml: float,
    weighs_g: float,
    alcohol: Alcohol,
    tools: Tools,
    moisture_percent: float = 0.0,
) -> Gauged:
    """Return the cut of a solution of which ``volume_ml`` weighs ``weighs_g`` without its jar.

    Its range holds whatever the tools cannot exclude: a tare and a weight are two readings of the
    scale, and a measure's mark and its trust add up. What reads a little lighter than alcohol, as
    far as the tools can be out, is a cut from 0 on.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        volume_ml: ml, above 0.
        weighs_g: g, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        tools: what the scale and the measure can read.
        moisture_percent: percent of the flakes as weighed that is no resin, 0 to under 100.

    Raises:
        ValueError: for no amount.
        SaidError: when it is surely lighter than the alcohol, or as heavy as the resin.

    """
    _above_zero(volume_ml, weighs_g)
    alcohol_density = alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    light_g, heavy_g = _less_tare_g(weighs_g, tools)
    small_ml, large_ml = _volume_range_ml(volume_ml, tools)
    densest = heavy_g / small_ml if small_ml > 0 else math.inf
    density = weighs_g / volume_ml
    _refuse_density(density, densest, alcohol_density, alcohol)

    def cut(density: float) -> float | None:
        if density >= DISSOLVED_G_PER_ML:
            return None
        added = max(0.0, density - alcohol_density)
        return 1000 * added / (1 - density / DISSOLVED_G_PER_ML)

    found = _range(cut, density, light_g / large_ml, densest)
    remedy = "a weighed volume is too blunt here: weigh a sample wet and dried"
    reason = _weighing_reason(density, alcohol_density, tools)
    return _gauged(found, alcohol_density, moisture_percent, remedy, reason)


@dataclass(frozen=True, slots=True)
class Unstated:
    """What nobody stated of alcohol and flakes: how far each may be from what is reckoned with."""

    strength_percent_vol: tuple[float, float] | None = None
    moisture_percent: tuple[float, float] | None = None


NOT_STATED = Unstated((90.0, 99.8), (0.0, 5.0))
"""Alcohol as sold for shellac, and flakes as they lie in a shop (common practice, no source)."""
ALL_STATED = Unstated()


def gauge_by_drying(
    wet_g: float,
    dry_g: float,
    alcohol: Alcohol,
    tools: Tools,
    moisture_percent: float = 0.0,
    unstated: Unstated = ALL_STATED,
) -> Gauged:
    """Return the cut of a solution of which a sample of ``wet_g`` dries to ``dry_g``.

    The cut counts flakes as weighed.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        wet_g: g of the sample as taken, above 0.
        dry_g: g of it dried, above 0 and less than ``wet_g``.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        tools: what the scale can read.
        moisture_percent: percent of the flakes as weighed that is no resin, 0 to under 100, so not
            in the dried sample.
        unstated: what nobody stated, which widens the range.

    Raises:
        SaidError: when the sample does not lose weight.
        ValueError: when it is drier than flakes are.

    """
    _above_zero(wet_g, dry_g)
    _refuse_sample(wet_g, dry_g, moisture_percent)
    alcohol_density = alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    strong = unstated.strength_percent_vol or (alcohol.strength_percent_vol,) * 2
    moist = unstated.moisture_percent or (moisture_percent,) * 2

    def cut(dry_share: float, strength_percent_vol: float, moist_percent: float) -> float | None:
        resin = 1 - moist_percent / 100
        if dry_share >= resin:
            return None
        density = alcohol_g_per_ml(strength_percent_vol, alcohol.at_c)
        return 1000 * dry_share * density / (resin - dry_share)

    wet_low_g, wet_high_g = _less_tare_g(wet_g, tools)
    dry_low_g, dry_high_g = _less_tare_g(dry_g, tools)
    driest = dry_high_g / wet_low_g if wet_low_g > 0 else math.inf
    found = CutRange(
        cut(dry_g / wet_g, alcohol.strength_percent_vol, moisture_percent) or 0.0,
        # Stronger alcohol is lighter, and so is a litre of it with the same share of resin.
        cut(dry_low_g / wet_high_g, strong[1], moist[0]) or 0.0,
        cut(driest, strong[0], moist[1]),
    )
    remedy = "the sample is too small for this scale: dry more of it, or use a finer scale"
    reason = _drying_reason(dry_g / wet_g, moisture_percent, alcohol_density, tools)
    return _gauged(found, alcohol_density, moisture_percent, remedy, reason)


def _less_tare_g(mass_g: float, tools: Tools) -> tuple[float, float]:
    """Return the least and the most of a mass less its vessel: two readings, half a step each."""
    return max(0.0, mass_g - tools.scale_g), mass_g + tools.scale_g


def _volume_range_ml(volume_ml: float, tools: Tools) -> tuple[float, float]:
    out_ml = tools.measure_ml / 2 + volume_ml * tools.measure_error_percent / 100
    return max(0.0, volume_ml - out_ml), volume_ml + out_ml


def _refuse_density(
    density: float, densest: float, alcohol_density: float, alcohol: Alcohol
) -> None:
    if densest < alcohol_density * (1 - 1e-9):
        raise SaidError(
            said(
                "{} is lighter than the alcohol itself, {} at {} %vol and {}; weigh the contents "
                "without the jar, measure again, or state the strength and the temperature",
                Quantity(density, "g/ml"),
                Quantity(alcohol_density, "g/ml"),
                f"{alcohol.strength_percent_vol:g}",
                Quantity(alcohol.at_c, "degC"),
            )
        )
    if density >= DISSOLVED_G_PER_ML:
        raise SaidError(
            said(
                "{} is as heavy as the resin itself; weigh the contents without the jar, or "
                "measure again",
                Quantity(density, "g/ml"),
            )
        )


def _refuse_sample(wet_g: float, dry_g: float, moisture_percent: float) -> None:
    if dry_g >= wet_g:
        raise SaidError(
            said(
                "a dry sample of {} is no lighter than the wet one of {}; the wet weight is before "
                "drying, both are without the dish",
                Quantity(dry_g, "g"),
                Quantity(wet_g, "g"),
            )
        )
    if dry_g / wet_g >= 1 - moisture_percent / 100:
        raise ValueError(
            f"{100 * dry_g / wet_g:.3g} % stays when dried, but flakes with {moisture_percent:g} % "
            "moisture leave less even without alcohol; dry it longer, or state the moisture"
        )


def _range(
    cut: Callable[[float], float | None], read: float, lowest: float, highest: float
) -> CutRange:
    """Return the cut at what was read and at its worst cases; a cut grows with either reading."""
    return CutRange(cut(read) or 0.0, cut(lowest) or 0.0, cut(highest))


def _gauged(
    found: CutRange, alcohol_density: float, moisture_percent: float, remedy: str, reason: Reason
) -> Gauged:
    per_ml = found.g_per_l / 1000
    blunt = (f"the range is wider than a third of the cut; {remedy}",) if found.blunt else ()
    whole_g = per_ml + alcohol_density
    return Gauged(
        cut=found,
        mass_percent=100 * per_ml * (1 - moisture_percent / 100) / whole_g,
        density_g_per_ml=whole_g / (1 + per_ml / DISSOLVED_G_PER_ML),
        warnings=(*blunt, *heavy_warnings(found.g_per_l)),
        reasons=(reason,),
    )


def _above_zero(*amounts: float) -> None:
    for amount in amounts:
        if not (math.isfinite(amount) and amount > 0):
            raise ValueError(f"an amount of {amount:g}; it must be more than zero")


def _weighing_reason(density: float, alcohol_density: float, tools: Tools) -> Reason:
    return Reason(
        "cut = (density - alcohol's density) / (1 - density / dissolved density)",
        (
            said("density {}", Quantity(density, "g/ml", 4)),
            said("alcohol {}", Quantity(alcohol_density, "g/ml", 4)),
            said("dissolved density {}", Quantity(DISSOLVED_G_PER_ML, "g/ml")),
            *tools.said,
            f"measure good to {tools.measure_error_percent:g} %",
        ),
        "balance of mixing turned round; alcohol by OIML R 22:1975; range from the worst cases",
    )


def _drying_reason(
    dry_share: float, moisture_percent: float, alcohol_density: float, tools: Tools
) -> Reason:
    return Reason(
        "cut = dry share x alcohol's density / (resin in the flakes - dry share)",
        (
            f"dry share {100 * dry_share:.2f} %",
            f"moisture and insolubles {moisture_percent:g} %",
            said("alcohol {}", Quantity(alcohol_density, "g/ml", 4)),
            tools.said[0],
        ),
        "mass balance; agrees with ASTM D360-89, 6.1; range from the scale's worst cases",
    )
