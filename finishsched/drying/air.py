"""What the air in the room does: dew point, wet bulb, wood moisture, blush.

Saturation pressure by Hyland and Wexler (1983), as printed in ASHRAE Handbook Fundamentals 2017,
chapter 1, equations 5 and 6; wet bulb by the same chapter's equations 33 and 35. Wood moisture by
USDA Forest Products Laboratory, Wood Handbook, chapter 4, equation 4-5.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

from finishsched.drying.evaporation import ETHANOL, film_c, vapour_pa
from finishsched.drying.rates import ZERO_C_IN_K
from finishsched.model.said import Quantity, Said, said
from finishsched.refusals import RefusalError

STANDARD_PRESSURE_PA = 101_325.0
COLDEST_SURFACE_C, WARMEST_SURFACE_C = -20.0, 80.0
"""Of a floor or the work (our assumption)."""
COLDEST_AIR_C, WARMEST_AIR_C = -10.0, 60.0
"""Of a room to work in."""


class Blush(StrEnum):
    """The risk that a film cools below the dew point and turns white."""

    NONE = "none"
    POSSIBLE = "possible"
    LIKELY = "likely"


FILM_COOLING = {"pad": 0.2, "wipe": 0.2, "brush": 0.37, "spray": 0.6}
"""Share of the way from the air to ethanol's own wet bulb that a wet film cools.

0.37 agrees with the published rule 'no alcohol coating above 65 % humidity', 0.6 with a published
cooling of 11 K for a sprayed film; 0.2 for a padded film is our assumption.
"""

BLUSH_MARGIN_K = 3.0
"""Surface at least this far above the dew point: ISO 8502-4 as cited in coatings guides."""

MOST_HUMIDITY_PERCENT = 85.0
"""For coatings in general (coatings guides)."""
LEAST_ROOM_C = 15.0
"""Common practice, no source: below it films flow badly and stay soft."""
MOST_HUMIDITY_FOR_ALCOHOL_PERCENT = 65.0
"""Published limit for alcohol and lacquer films (coatings guides)."""


class AirAnswer(NamedTuple):
    """What a reading of the air means for the work."""

    temperature_c: float
    humidity_percent: float
    dew_point_c: float
    wet_bulb_c: float
    emc_percent: float
    surface_c: float
    """Estimated temperature of the wet film, for the way of applying."""
    blush_risk: Blush
    blush_margin_k: float
    """How far the film stays above the dew point."""
    how: str
    reason: str | Said


class NoSuchAirError(RefusalError, ValueError):
    """Air that no room to work in has, or a surface that no shop has."""


def refuse_temperature(temperature_c: float, unit: str = "degC") -> None:
    """Refuse, in degC or degF, air that no room to work in has.

    Raises:
        NoSuchAirError: outside -10 to 60 degC, the range of the formulas here (our assumption).

    """
    _refuse_outside(temperature_c, (COLDEST_AIR_C, WARMEST_AIR_C), unit, "no air to work in")


def refuse_surface(celsius: float, unit: str = "degC") -> None:
    """Refuse, in degC or degF, what no floor or work in a shop has.

    Raises:
        NoSuchAirError: outside -20 to 80 degC (our assumption).

    """
    bounds = (COLDEST_SURFACE_C, WARMEST_SURFACE_C)
    _refuse_outside(celsius, bounds, unit, "no floor or work in a shop")


def _refuse_outside(celsius: float, bounds: tuple[float, float], unit: str, what: str) -> None:
    """Refuse, in degC or degF, a temperature that is ``what`` its bounds do not hold.

    Raises:
        NoSuchAirError: outside the bounds.

    """
    if bounds[0] <= celsius <= bounds[1]:
        return
    given, low, high = (
        f"{each * 1.8 + 32:g}" if unit == "degF" else f"{each:g}" for each in (celsius, *bounds)
    )
    raise NoSuchAirError(f"{given} {unit} is {what}", f"a reading is from {low} to {high} {unit}")


def refuse_humidity(humidity_percent: float) -> None:
    """Refuse a relative humidity that the air of no room has.

    Raises:
        NoSuchAirError: outside 1 to 100 %.

    """
    if not 1 <= humidity_percent <= 100:
        raise NoSuchAirError(
            f"{humidity_percent:g} % is no humidity of room air", "a reading is from 1 to 100 %"
        )


def air_answer(temperature_c: float, humidity_percent: float, how: str = "pad") -> AirAnswer:
    """Return dew point, wet bulb, wood moisture and blush risk.

    Source: ASHRAE Handbook Fundamentals, 2017, chapter 1; USDA Wood Handbook, chapter 4; the margin
    of blush is our assumption.

    Args:
        temperature_c: degC, -10 to 60.
        humidity_percent: percent, 1 to 100.
        how: one of the keys of ``FILM_COOLING``.

    Raises:
        NoSuchAirError: outside those ranges.

    """
    refuse_temperature(temperature_c)
    refuse_humidity(humidity_percent)
    dew_c = dew_point_c(temperature_c, humidity_percent)
    surface_c = film_surface_c(temperature_c, FILM_COOLING[how])
    margin_k = surface_c - dew_c
    risk, reason = _blush(margin_k, humidity_percent, how)
    return AirAnswer(
        temperature_c=temperature_c,
        humidity_percent=humidity_percent,
        dew_point_c=dew_c,
        wet_bulb_c=wet_bulb_c(temperature_c, humidity_percent),
        emc_percent=emc_percent(temperature_c, humidity_percent),
        surface_c=surface_c,
        blush_risk=risk,
        blush_margin_k=margin_k,
        how=how,
        reason=reason,
    )


def saturation_pa(temperature_c: float) -> float:
    """Return water's saturation vapour pressure, in Pa.

    Source: Hyland and Wexler, 1983, as in ASHRAE Handbook Fundamentals, 2017, chapter 1.

    Args:
        temperature_c: degC, -100 to 200.

    """
    kelvin = temperature_c + ZERO_C_IN_K
    if temperature_c <= 0.01:
        log_pressure = (
            -5.6745359e3 / kelvin
            + 6.3925247
            - 9.677843e-3 * kelvin
            + 6.2215701e-7 * kelvin**2
            + 2.0747825e-9 * kelvin**3
            - 9.484024e-13 * kelvin**4
            + 4.1635019 * math.log(kelvin)
        )
    else:
        log_pressure = (
            -5.8002206e3 / kelvin
            + 1.3914993
            - 4.8640239e-2 * kelvin
            + 4.1764768e-5 * kelvin**2
            - 1.4452093e-8 * kelvin**3
            + 6.5459673 * math.log(kelvin)
        )
    return math.exp(log_pressure)


@lru_cache(maxsize=1024)  # every piece asks it of the air of now
def dew_point_c(temperature_c: float, humidity_percent: float) -> float:
    """Return the temperature in degC at which this air would be saturated.

    Source: Hyland and Wexler, 1983, turned round by halving.

    Args:
        temperature_c: degC, -10 to 60.
        humidity_percent: percent, 1 to 100.

    """
    vapour_pa = saturation_pa(temperature_c) * humidity_percent / 100
    return _bisect(lambda t: saturation_pa(t) - vapour_pa, -100.0, temperature_c)


@lru_cache(maxsize=1024)
def wet_bulb_c(
    temperature_c: float, humidity_percent: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> float:
    """Return the thermodynamic wet-bulb temperature, in degC.

    Source: ASHRAE Handbook Fundamentals, 2017, chapter 1, equations 33 and 35.

    Args:
        temperature_c: degC, -10 to 60.
        humidity_percent: percent, 1 to 100.
        pressure_pa: Pa, about 60 000 to 110 000.

    """
    humidity_ratio = _humidity_ratio(
        saturation_pa(temperature_c) * humidity_percent / 100, pressure_pa
    )

    def excess(wet_c: float) -> float:
        saturated = _humidity_ratio(saturation_pa(wet_c), pressure_pa)
        return _adiabatic_ratio(temperature_c, wet_c, saturated) - humidity_ratio

    return _bisect(excess, dew_point_c(temperature_c, humidity_percent), temperature_c)


def emc_percent(temperature_c: float, humidity_percent: float) -> float:
    """Return the moisture content that wood comes to in this air, in percent of its dry mass.

    Source: USDA Wood Handbook, chapter 4, equation 4-5.

    Args:
        temperature_c: degC, -10 to 60.
        humidity_percent: percent, 1 to 100.

    """
    t, h = temperature_c, humidity_percent / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + bound)


def ethanol_pa(temperature_c: float) -> float:
    """Return ethanol's vapour pressure, in Pa.

    Source: Antoine's equation; Poling, Prausnitz and O'Connell, 5th edition.

    Args:
        temperature_c: degC, about -20 to 80.

    """
    return vapour_pa(ETHANOL, temperature_c)


def film_surface_c(temperature_c: float, cooling: float) -> float:
    """Return the temperature in degC of a film wet with alcohol, which cools by evaporating.

    At a ``cooling`` of 1 it comes to ethanol's own wet bulb: 1.7 degC in air of 20 degC.

    Source: energy balance of a wet bulb; how far each way of laying goes is our assumption.

    Args:
        temperature_c: of the air in degC, about -20 to 60.
        cooling: share of the way to ethanol's own wet bulb, 0 to 1.

    """
    return film_c(ETHANOL, temperature_c, cooling)


def _humidity_ratio(vapour_pa: float, pressure_pa: float) -> float:
    return 0.621945 * vapour_pa / (pressure_pa - vapour_pa)


def _adiabatic_ratio(temperature_c: float, wet_c: float, saturated: float) -> float:
    if wet_c >= 0:
        above = (2501 - 2.326 * wet_c) * saturated - 1.006 * (temperature_c - wet_c)
        return above / (2501 + 1.86 * temperature_c - 4.186 * wet_c)
    above = (2830 - 0.24 * wet_c) * saturated - 1.006 * (temperature_c - wet_c)
    return above / (2830 + 1.86 * temperature_c - 2.1 * wet_c)


def _blush(margin_k: float, humidity_percent: float, how: str) -> tuple[Blush, str | Said]:
    if margin_k < 0:
        return Blush.LIKELY, f"a film laid by {how} cools below the dew point: water settles in it"
    if margin_k < BLUSH_MARGIN_K:
        near = Quantity(BLUSH_MARGIN_K, "K", 1)
        return Blush.POSSIBLE, said("a film laid by {} comes within {} of the dew point", how, near)
    if humidity_percent > MOST_HUMIDITY_FOR_ALCOHOL_PERCENT:
        limit = MOST_HUMIDITY_FOR_ALCOHOL_PERCENT
        return Blush.POSSIBLE, f"above {limit:g} % humidity alcohol films may turn white"
    stays = Quantity(margin_k, "K", 1)
    return Blush.NONE, said("a film laid by {} stays {} above the dew point", how, stays)


def _bisect(function: Callable[[float], float], low: float, high: float) -> float:
    """Return where an increasing function crosses zero, to a millionth of a degree."""
    for _ in range(60):
        middle = (low + high) / 2
        if function(middle) < 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2
