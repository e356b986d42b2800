"""What a shop's own scale and measures can read, and the cut that they really give.

A scale that shows whole steps is out by up to half a step. A measure is filled to a mark, and out
by the share that it is trusted to, or by half a mark where that is more. Worst cases are added up:
the range is what cannot be excluded, not what is likely.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.cut import (
    DISSOLVED_G_PER_ML,
    FreshBatch,
    mix_for_flakes,
    mix_for_volume,
)
from finishsched.model.reason import Reason
from finishsched.model.shop import Alcohol, Tools
from finishsched.model.stock import SAME_STRENGTH

USEFUL_SHARE = 0.05
"""A scale is of no use for an amount when half its step is more of it than this: as far out as a
kitchen measure (our assumption)."""

NEAR_ENOUGH = 0.8 * SAME_STRENGTH
"""So far may what is weighed out be off the cut that is wanted: less than a jar of that cut may
be, so that it is one however it is told (our assumption)."""
MOST_STEPS_MORE = 50
"""Of a scale: so much more is tried for that, and no more."""
ROUNDING = 1e-9
"""What sums of floats may miss."""

BLUNT_SHARE = 1 / 3
"""A range wider than this share of the cut does not tell one cut from the next (our assumption)."""


@dataclass(frozen=True, slots=True)
class CutRange:
    """A cut, with the least and the most that it may be; None where there is no upper end."""

    g_per_l: float
    low_g_per_l: float
    high_g_per_l: float | None

    @property
    def in_pounds(self) -> tuple[float, float, float | None]:
        """The cut, its low and its high end in pounds per US gallon of alcohol."""
        high = None if self.high_g_per_l is None else self.high_g_per_l / G_PER_L_IN_A_POUND_CUT
        return (
            self.g_per_l / G_PER_L_IN_A_POUND_CUT,
            self.low_g_per_l / G_PER_L_IN_A_POUND_CUT,
            high,
        )

    @property
    def blunt(self) -> bool:
        """Whether the range is too wide to act on."""
        if self.high_g_per_l is None:
            return True
        return self.high_g_per_l - self.low_g_per_l > BLUNT_SHARE * self.g_per_l


class TooCoarse(NamedTuple):
    """A scale that cannot weigh some flakes usefully, and what would do."""

    scale_g: float
    flakes_g: float
    enough_ml: float
    """So large a batch it can weigh."""
    step_g: float
    """The largest step of a scale that can weigh this one."""


@dataclass(frozen=True, slots=True)
class OnTools:
    """A batch as the shop's tools can read it, by the two ways of getting the alcohol."""

    batch: FreshBatch
    """To the last digit."""
    weigh_flakes_g: float
    measure_alcohol_ml: float
    weigh_alcohol_g: float
    measured: CutRange
    """The cut when the alcohol is measured."""
    weighed: CutRange
    """The cut when the alcohol is weighed."""
    coarse: TooCoarse | None
    """What would do, where the scale cannot weigh so little usefully."""
    reasons: tuple[Reason, ...]

    @property
    def better_to_weigh(self) -> bool:
        """Whether weighing the alcohol leaves the narrower range, each over its own cut."""
        return _width(self.weighed) <= _width(self.measured)

    @property
    def cut(self) -> CutRange:
        """What the readings give by the better way."""
        return self.weighed if self.better_to_weigh else self.measured

    @property
    def makes_ml(self) -> float:
        """How much the readings make by the better way."""
        alcohol_ml = 1000 * self.weigh_flakes_g / self.cut.g_per_l
        return alcohol_ml + self.weigh_flakes_g / DISSOLVED_G_PER_ML

    @property
    def readings(self) -> tuple[float, float, float]:
        """What scale and measure show."""
        return self.weigh_flakes_g, self.weigh_alcohol_g, self.measure_alcohol_ml


def nearest_step(amount: float, step: float) -> float:
    """Return the reading nearest to ``amount`` on a tool of this ``step``: one step at least.

    Source: rounding, by definition.

    Args:
        amount: g or ml, 0 or more.
        step: in the same unit, above 0.

    """
    return round(max(1, math.floor(amount / step + 0.5)) * step, 9)


def weighed_range_g(mass_g: float, tools: Tools) -> tuple[float, float]:
    """Return the least and the most that a reading of ``mass_g`` on the scale may weigh, in g.

    Source: a rounded reading, by definition.

    Args:
        mass_g: g, 0 or more.
        tools: its scale shows whole steps and is out by up to half of one.

    """
    out_g = tools.scale_g / 2
    return max(0.0, mass_g - out_g), mass_g + out_g


def measured_range_ml(volume_ml: float, tools: Tools) -> tuple[float, float]:
    """Return the least and the most that a measured ``volume_ml`` may hold, in ml.

    Source: our assumption; the worst of the two, not their sum.

    Args:
        volume_ml: ml, 0 or more.
        tools: half a mark of its measure, or the share that it is trusted to.

    """
    out_ml = max(tools.measure_ml / 2, volume_ml * tools.measure_error_percent / 100)
    return max(0.0, volume_ml - out_ml), volume_ml + out_ml


def on_tools(batch: FreshBatch, tools: Tools) -> OnTools:
    """Return what to weigh and measure for ``batch`` with these tools, and what they really give.

    Every amount is rounded to the nearest reading, one step at least. The density of the alcohol is
    taken as known, so that the range by weight is the scales' alone.
    """
    flakes_g = nearest_step(batch.flakes_g, tools.scale_g)
    alcohol_ml = nearest_step(batch.alcohol_ml, tools.measure_ml)
    alcohol_g = nearest_step(batch.alcohol_g, tools.scale_g)
    density = batch.alcohol_g / batch.alcohol_ml
    flakes = weighed_range_g(flakes_g, tools)
    least_g, most_g = weighed_range_g(alcohol_g, tools)
    return OnTools(
        batch=batch,
        weigh_flakes_g=flakes_g,
        measure_alcohol_ml=alcohol_ml,
        weigh_alcohol_g=alcohol_g,
        measured=_cut_of(flakes_g, flakes, alcohol_ml, measured_range_ml(alcohol_ml, tools)),
        weighed=_cut_of(
            flakes_g, flakes, alcohol_g / density, (least_g / density, most_g / density)
        ),
        coarse=_too_coarse(batch, tools),
        reasons=(_reason(tools),),
    )


def weighable(
    cut_g_per_l: float,
    least_ml: float,
    alcohol: Alcohol,
    tools: Tools,
    most_ml: float | None = None,
) -> OnTools:
    """Return the least batch that is enough, as the tools read it, its flakes whole steps of them.

    It is near enough to its cut, as far as so few steps more can bring that. What cannot be had in
    a jar of ``most_ml`` is as much as goes in: by fewer steps, one at least.

    Source: TT-S-300A, Shellac, Cut, 1977, for the cut; rounding, by definition.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, above 0.
        least_ml: ml of solution that is wanted at the least, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        tools: steps of g and ml, each above 0.
        most_ml: ml that the jar holds, no less than ``least_ml``; None for any.

    Raises:
        ValueError: outside those ranges.

    """
    wanted_g = mix_for_volume(cut_g_per_l, least_ml, alcohol).flakes_g
    fewest = max(1, math.ceil(wanted_g / tools.scale_g - ROUNDING))

    def of(steps: int) -> OnTools:
        flakes_g = round(steps * tools.scale_g, 9)
        return on_tools(mix_for_flakes(cut_g_per_l, flakes_g, alcohol), tools)

    def fits(really: OnTools) -> bool:
        most = max(really.makes_ml, really.batch.makes_ml)
        return most_ml is None or most <= most_ml * (1 + ROUNDING)

    for steps in range(fewest, fewest + MOST_STEPS_MORE):
        really = of(steps)
        is_near = abs(really.cut.g_per_l / cut_g_per_l - 1) <= NEAR_ENOUGH
        if is_near and fits(really) and really.makes_ml >= least_ml * (1 - ROUNDING):
            return really
    fewer = range(fewest, max(0, fewest - MOST_STEPS_MORE), -1)
    return next((really for really in map(of, fewer) if fits(really)), of(fewest))


def _cut_of(
    flakes_g: float, flakes: tuple[float, float], alcohol_ml: float, alcohol: tuple[float, float]
) -> CutRange:
    (few_g, many_g), (little_ml, much_ml) = flakes, alcohol
    high = 1000 * many_g / little_ml if little_ml > 0 else None
    return CutRange(1000 * flakes_g / alcohol_ml, 1000 * few_g / much_ml, high)


def _width(cut: CutRange) -> float:
    """Return how wide a range is over its cut: a coarse tool rounds to another cut altogether."""
    if cut.high_g_per_l is None:
        return math.inf
    return (cut.high_g_per_l - cut.low_g_per_l) / cut.g_per_l


def _too_coarse(batch: FreshBatch, tools: Tools) -> TooCoarse | None:
    least_g = tools.scale_g / 2 / USEFUL_SHARE
    if batch.flakes_g >= least_g:
        return None
    enough_ml = least_g / batch.flakes_g * batch.makes_ml
    return TooCoarse(tools.scale_g, batch.flakes_g, enough_ml, 2 * USEFUL_SHARE * batch.flakes_g)


def _reason(tools: Tools) -> Reason:
    scale, measure = tools.said
    return Reason(
        "really = rounded flakes / rounded alcohol; low and high from the worst cases of both",
        (
            scale,
            "out by half of it",
            measure,
            f"out by {tools.measure_error_percent:g} % or half a mark",
        ),
        "interval arithmetic on the shop's own tools; a kitchen scale and measure unless stated "
        "(our assumption)",
    )
