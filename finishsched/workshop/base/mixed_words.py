"""What is to be mixed in words: what scale and measure show, and the cut that this really gives."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from finishsched.mixing.cut import mix_for_volume
from finishsched.mixing.measure import CutRange, OnTools, TooCoarse, on_tools
from finishsched.model.shop import Shop
from finishsched.units import CUT, MASS, VOLUME, convert, plain_number, show
from finishsched.workshop.base.shown import (
    MEASURED_DIGITS,
    Shown,
    cut_range_words,
    cut_words,
    marked_in,
    shown_of,
)

if TYPE_CHECKING:
    from finishsched.mixing.into_jar import ToMix

FEWEST_DIGITS = 2
TOLD_LESS = 0.005
"""Nothing is told to hold less than it does by more, lest it looks too little (our assumption)."""
TYPED = 1e-9
"""The share by which a figure of three digits that was typed may be off."""
SPOONS = ("tsp",)
"""What small measures are marked in, whatever else a shop measures in."""


class Readings(NamedTuple):
    """A batch as the shop's tools show it, in words."""

    flakes: str
    weighed: str
    """The alcohol by weight."""
    measured: str
    """The alcohol by volume."""
    better_to_weigh: bool
    spoons: str = ""
    """The alcohol by spoons, where it is measured so."""

    @property
    def measure(self) -> str:
        """How much alcohol is measured, with the spoons that hold it."""
        return f"measure {self.measured}{f', that is {self.spoons}' if self.spoons else ''}"

    @property
    def alcohol(self) -> str:
        """How the alcohol is got, the surer way first."""
        weigh, measure = f"weigh {self.weighed}", self.measure
        first, other = (weigh, measure) if self.better_to_weigh else (measure, weigh)
        return f"{first} (or {other})"


def readings(really: OnTools, shown: Shown) -> Readings:
    """Return what scale and measure are to show: the same words wherever the batch is told."""
    return Readings(
        shown.weighed(really.weigh_flakes_g),
        shown.weighed(really.weigh_alcohol_g),
        shown.measured(really.measure_alcohol_ml),
        really.better_to_weigh,
        shown.spooned(really.measure_alcohol_ml),
    )


def makes_words(jar: ToMix, cut_g_per_l: float | None, shop: Shop) -> str:
    """Return how much a jar holds, in digits enough: asked for just that, the same is weighed out.

    So what a sheet names can be typed into a calculator, which then says the same.
    """
    shown = shown_of(shop)
    if jar.really is None or cut_g_per_l is None:
        return shown.volume(jar.makes_ml)
    units_in_1_ml = convert(1.0, VOLUME, shown.units.volume)
    whole_digits = math.floor(math.log10(jar.makes_ml * units_in_1_ml)) + 1
    for digits in range(FEWEST_DIGITS, MEASURED_DIGITS + 1):
        # The last digit up or down, where the alcohol stands at the very middle of two readings.
        step_ml = 10.0 ** (whole_digits - digits) / units_in_1_ml
        for ml in (jar.makes_ml, jar.makes_ml + step_ml, jar.makes_ml - step_ml):
            told = shown.volume(ml, digits)
            told_ml = float(told.split()[0]) / units_in_1_ml
            if told_ml < jar.makes_ml * (1 - TOLD_LESS):
                continue
            again = on_tools(mix_for_volume(cut_g_per_l, told_ml, shop.alcohol), shop.tools)
            if again.readings == jar.really.readings:
                return told
    return shown.volume(jar.makes_ml, MEASURED_DIGITS)


def gives_words(cut: CutRange, shop: Shop) -> str:
    """Return the cut that readings give, and between which it may be by the shop's tools."""
    between = cut_range_words(cut.low_g_per_l, cut.high_g_per_l, shop.units)
    return f"a {_as_near_as_known(cut, shop)}, {between}"


def mixed_cut_words(cut_g_per_l: float, made_ml: float, shop: Shop) -> str:
    """Return the cut of a jar that was mixed, no finer than the shop's tools tell it.

    One that was typed is as it was typed.
    """
    typed = convert(cut_g_per_l, CUT, shop.units.cut)
    if math.isclose(float(plain_number(typed)), typed, rel_tol=TYPED) or made_ml <= 0:
        return cut_words(cut_g_per_l, shop.units)
    really = on_tools(mix_for_volume(cut_g_per_l, made_ml, shop.alcohol), shop.tools).cut
    return _as_near_as_known(replace(really, g_per_l=cut_g_per_l), shop)


def _as_near_as_known(cut: CutRange, shop: Shop) -> str:
    """Return a cut in steps of half of what it may be out."""
    unit = shop.units.cut
    if cut.high_g_per_l is None:
        return cut_words(cut.g_per_l, shop.units)
    half = convert(cut.high_g_per_l - cut.low_g_per_l, CUT, unit) / 2
    step = _tenth_or_half(half)
    nearest = max(1, round(convert(cut.g_per_l, CUT, unit) / step)) * step
    return cut_words(nearest * cut.g_per_l / convert(cut.g_per_l, CUT, unit), shop.units)


def coarse_words(coarse: TooCoarse | None, shop: Shop) -> Iterator[str]:
    """Say that a scale weighs so little only roughly, and what would do where that matters."""
    if coarse is None:
        return
    flakes = show(coarse.flakes_g, MASS, shop.units.mass, digits=2)
    enough = show(coarse.enough_ml, VOLUME, shop.units.volume, digits=2)
    unit = _scale_unit(coarse.scale_g, shop)
    finer = _tenth_or_half(convert(coarse.step_g, MASS, unit))
    yield (
        f"a scale that reads {show(coarse.scale_g, MASS, unit)} weighs {flakes} of flakes only "
        f"roughly: where the cut matters make {enough} or more, or weigh on one that reads "
        f"{plain_number(finer)} {unit}"
    )


def _tenth_or_half(most: float) -> float:
    """Return the largest step of 1 or 5 in some place that is no more than ``most``, above 0."""
    tenth = 10.0 ** math.floor(math.log10(most))
    return 5 * tenth if most >= 5 * tenth else tenth


def tool_words(shop: Shop) -> str:
    """Return what the shop's scale and measure read, each in the unit that it is marked in."""
    tools = shop.tools
    scale = show(tools.scale_g, MASS, _scale_unit(tools.scale_g, shop))
    marks = marked_in(tools.measure_ml, VOLUME, ("ml", shop.units.volume, *SPOONS))
    measure = show(tools.measure_ml, VOLUME, marks)
    error = f"{tools.measure_error_percent:g} %"
    return f"a scale that reads {scale} and a measure marked every {measure}, good to {error}"


def _scale_unit(scale_g: float, shop: Shop) -> str:
    return marked_in(scale_g, MASS, ("g", shop.units.mass))
