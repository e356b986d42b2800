"""Amounts as a shop's people read them: in its units, and no finer than its scale reads."""

from __future__ import annotations

import math
from typing import NamedTuple

from finishsched.mixing.measure import nearest_step
from finishsched.model.ranges import Range
from finishsched.model.said import Kept, Teller
from finishsched.model.shop import Shop, ShownUnits
from finishsched.numerals import counted
from finishsched.units import (
    AIR_FLOW,
    AREA,
    CUT,
    DENSITY,
    FILM,
    LENGTH,
    MASS,
    PACE,
    SPACE,
    SPEED,
    SPREAD,
    SPREAD_MASS,
    TEMPERATURE,
    VOLUME,
    Measure,
    convert,
    plain_number,
    show,
)
from finishsched.workshop.base.spoons import SPOONED_UNITS, spoons

TWO_DROPS_ML = 0.1
"""Finer no volume is told (a drop of alcohol is about 0.03 ml, common practice)."""
HELD_DIGITS = 3
"""So that what is left is what there was, less what was taken of it."""
MEASURED_DIGITS, WEIGHED_DIGITS = 4, 5
"""No measure and no scale of a workshop shows more."""
NO_MATTER = 0.005
"""A share by which no measure tells two volumes apart (our assumption)."""
ROUNDING = 1e-6
"""What sums of floats may miss."""
KELVIN_IN_DEGF = 1.8
MIL_PLACES = 2
LEAST_TOLD_UM = 0.5
MEASURES: dict[Kept, Measure] = {
    "ml": VOLUME,
    "g": MASS,
    "g/l": CUT,
    "degC": TEMPERATURE,
    "mm": LENGTH,
    "m2": AREA,
    "um": FILM,
    "ml/m2": SPREAD,
    "g/m2": SPREAD_MASS,
    "min/m2": PACE,
    "g/ml": DENSITY,
    "m/s": SPEED,
    "m3": SPACE,
    "m3/h": AIR_FLOW,
}
"""By the unit that it is kept in, what is measured; tape by the metre, and differences of warmth,
have no measure of their own."""


class Shown(NamedTuple):
    """By which units and which scale amounts are told."""

    units: ShownUnits = ShownUnits()
    scale_g: float = 0.0
    """The smallest step that the scale shows; 0 where it is not known."""
    trust: float = 0.0
    """The share that a full measure may be out; 0 where it is not known."""

    def volume(self, ml: float, digits: int = 2) -> str:
        """Return a volume in words, to so many significant digits, and no finer than two drops."""
        shown = convert(ml, VOLUME, self.units.volume)
        drops = convert(TWO_DROPS_ML, VOLUME, self.units.volume)
        if 0 < shown < drops / 2:
            return f"under {show(TWO_DROPS_ML, VOLUME, self.units.volume, digits=1)}"
        return f"{_no_finer(shown, drops, digits)} {self.units.volume}"

    def spooned(self, ml: float) -> str:
        """Return a volume by spoons and cups, where the shop measures by ounces; else empty.

        ``2 tsp``, and ``about 2 tsp`` for what is as near as a full measure is trusted to.
        """
        if self.units.volume not in SPOONED_UNITS or ml <= 0:
            return ""
        exact, near = spoons(ml, NO_MATTER), spoons(ml, self.trust)
        return exact or (f"about {near}" if near else "")

    def is_told(self, ml: float) -> bool:
        """Tell whether a volume is no less than can be told: two drops."""
        return ml >= TWO_DROPS_ML

    def held(self, ml: float) -> str:
        """Return how much a jar or a tin holds: alike wherever it is told, finer than a coat."""
        return self.volume(ml, HELD_DIGITS)

    def measured(self, ml: float) -> str:
        """Return a volume in words as a measure is filled to it, no finer than two drops."""
        return self.volume(ml, MEASURED_DIGITS)

    def weighed(self, g: float) -> str:
        """Return a mass in words as the scale shows it, to its last digit."""
        return self.mass(g, WEIGHED_DIGITS)

    def measured_up(self, ml: float, digits: int = 2) -> float:
        """Return the least volume that is told in so many digits and is no less than ``ml``."""
        shown = convert(ml, VOLUME, self.units.volume)
        if shown <= 0:
            return ml
        finest = math.floor(math.log10(convert(TWO_DROPS_ML, VOLUME, self.units.volume)))
        step = 10.0 ** min(0, max(finest, math.floor(math.log10(shown)) + 1 - digits))
        return ml * (math.ceil(shown / step - ROUNDING) * step) / shown

    def mass(self, g: float, digits: int = 2) -> str:
        """Return a mass in words, to so many significant digits, and none that no scale shows.

        In the unit that the scale is marked in, it is what the scale would read. What is less than
        half of the scale's step is told as such.
        """
        if not self.scale_g > 0 or g <= 0:
            return show(g, MASS, self.units.mass, digits=digits)
        if g < self.scale_g / 2:
            return f"under {show(self.scale_g, MASS, self.units.mass, digits=1)}"
        if marked_in(self.scale_g, MASS, ("g", self.units.mass)) == self.units.mass:
            g = nearest_step(g, self.scale_g)
        shown, step = (convert(one, MASS, self.units.mass) for one in (g, self.scale_g))
        return f"{_no_finer(shown, step, digits)} {self.units.mass}"

    def weight(self, g: float, digits: int = 2) -> str:
        """Return a mass in words, an ounce as one by weight: it could be read as a volume."""
        by_weight = " by weight" if self.units.mass == "oz" else ""
        return f"{self.mass(g, digits)}{by_weight}"

    def length(self, mm: float) -> str:
        """Return a length in words."""
        return show(mm, LENGTH, self.units.length)

    def sides(self, *sides_mm: float) -> str:
        """Return sides in words, in whole units or finer: ``230 x 280 mm``, ``9 x 11 in``."""
        numbers = (plain_number(convert(mm, LENGTH, self.units.length), 1) for mm in sides_mm)
        return f"{' x '.join(numbers)} {self.units.length}"

    def degrees(self, celsius: float) -> str:
        """Return a temperature in words."""
        return show(celsius, TEMPERATURE, self.units.temperature)

    def supply(self, count: float, unit: str) -> str:
        """Return how many there are of a thing that is used up: ``10 sheets``, ``33 ft``."""
        if unit == "m":
            return tell_in(self.units)(count, "m", 2)
        return counted(count, unit)

    def spot(self, area_m2: float) -> str:
        """Return an area as small as a defect in words."""
        return show(area_m2, AREA, self.units.spot, digits=2)

    def um(self, um: float) -> str:
        """Return one thickness of a film in words."""
        return um_told(um, self.units)


def cut_words(cut_g_per_l: float, units: ShownUnits) -> str:
    """Return a cut as the shop says it: ``2-lb cut`` or ``240 g/L cut``."""
    text = show(cut_g_per_l, CUT, units.cut)
    if units.cut == "lb/gal":
        return f"{text.removesuffix(' lb/gal')}-lb cut"
    return f"{text} cut"


def cut_range_words(low_g_per_l: float, high_g_per_l: float | None, units: ShownUnits) -> str:
    """Return from where to where a cut may be, in digits enough to tell them apart."""
    unit = "lb" if units.cut == "lb/gal" else units.cut
    low = convert(low_g_per_l, CUT, units.cut)
    if high_g_per_l is None:
        return f"{plain_number(low)} {unit} or more"
    high = convert(high_g_per_l, CUT, units.cut)
    for digits in range(3, 7):
        ends = plain_number(low, digits), plain_number(high, digits)
        if ends[0] != ends[1]:
            break
    return f"{ends[0]} to {ends[1]} {unit}"


def tell_in(units: ShownUnits) -> Teller:
    """Return what tells every quantity in the shop's units: the one way from a figure to text."""

    def tell(value: float, unit: Kept, digits: int = 3, /) -> str:
        name = units.named(unit)
        if unit == "K":
            shown = value * KELVIN_IN_DEGF if name == "degF" else value
        elif unit == "m":
            shown = convert(1000 * value, LENGTH, name)
        else:
            shown = convert(value, MEASURES[unit], name)
        if name == "mil":
            shown = round(shown, MIL_PLACES)
        return f"{plain_number(shown, digits)} {name}"

    return tell


def um_told(um: float, units: ShownUnits) -> str:
    """Return one thickness of a film in words, none so thin that it would be told as none."""
    if 0 < um < LEAST_TOLD_UM:
        return f"under {um_told(2 * LEAST_TOLD_UM, units)}"
    return f"{um_number(um, units)} {units.film}"


def film_told(um: Range, units: ShownUnits) -> str:
    """Return a film in words: ``25 um (17 to 35)``, or in thousandths of an inch."""
    likely, low, high = (um_number(end, units) for end in (um.likely, um.low, um.high))
    return f"{likely} {units.film} ({low} to {high})"


def film_cell(um: Range | None, units: ShownUnits) -> str:
    """Return a film for a table whose head has the unit; empty for none."""
    if um is None:
        return ""
    likely, low, high = (um_number(end, units) for end in (um.likely, um.low, um.high))
    return f"{likely} ({low} to {high})"


def um_number(um: float, units: ShownUnits) -> str:
    """Return a thickness to the whole um, or to a hundredth of a mil, which is a quarter of one."""
    if units.film == "um":
        return f"{um:.0f}"
    return plain_number(round(convert(um, FILM, units.film), MIL_PLACES))


def marked_in(step: float, measure: Measure, units: tuple[str, ...]) -> str:
    """Return the unit that a tool is marked in: the one in which its step is the roundest."""

    def digits(unit: str) -> int:
        return sum(sign.isdigit() for sign in show(step, measure, unit).lstrip("0."))

    return min(units, key=digits)


def _no_finer(value: float, step: float, digits: int) -> str:
    """Return a number to so many significant digits, with no more places than ``step`` has."""
    if value <= 0:
        return "0"
    places = min(digits - 1 - math.floor(math.log10(value)), -math.floor(math.log10(step)))
    text = f"{value:.{max(0, places)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


PLAIN = Shown()
"""For a shop of which nothing is known."""


def shown_of(shop: Shop) -> Shown:
    """Return by which units and which scale amounts are told in ``shop``."""
    trust = shop.tools.measure_error_percent / 100
    return Shown(shop.units, shop.tools.scale_g, trust)
