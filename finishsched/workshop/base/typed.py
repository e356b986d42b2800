"""What people type for an amount or the air: one reader for every door.

The command line, the bench's forms and the notebook all read here, so that the same words are
taken, or refused, in the same way wherever they are written.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from finishsched.drying.air import refuse_humidity, refuse_surface, refuse_temperature
from finishsched.model.shop import Air
from finishsched.units import (
    AREA,
    HUMIDITY,
    LENGTH,
    MASS,
    TEMPERATURE,
    VOLUME,
    ForeignUnitError,
    NoUnitError,
    UnitFaultError,
    read,
    temperature_unit,
)

_SIZES = "write for example 8 x 12 mm, 12 mm for as much across, or 2 cm2"
MOST_SIDES = 2
_AMOUNTS = "write for example 15 ml, 0.5 floz or 12 g"
_BY_WEIGHT = re.compile(r"\s+(?:by\s+weight|wt\.?)\s*$", re.IGNORECASE)
"""As the sheets tell an ounce that is a weight."""
_BARE_OUNCES = re.compile(r"\d\s*(?:oz\b|ounces?\b)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount of material, by volume or by weight; the other is None."""

    volume_ml: float | None = None
    mass_g: float | None = None


def read_amount(text: str) -> Amount:
    """Return an amount such as ``15 ml``, ``0.5 floz``, ``12 g`` or ``0.5 oz by weight``.

    Raises:
        UnitFaultError: for a bare number, a unit of neither, or a bare ounce, which could be
            either.

    """
    weight = _BY_WEIGHT.sub("", text)
    if weight != text:
        return Amount(mass_g=_mass(weight))
    if _BARE_OUNCES.search(text):
        raise UnitFaultError(
            f"{text!r} could be a weight or a volume",
            "write floz for fluid ounces, or g for weight",
        )
    try:
        return Amount(volume_ml=read(text, VOLUME))
    except NoUnitError as no_unit:
        raise NoUnitError(no_unit.message, _AMOUNTS) from None
    except ForeignUnitError:
        return Amount(mass_g=_mass(text))


def _mass(text: str) -> float:
    try:
        return read(text, MASS)
    except ForeignUnitError:
        raise ForeignUnitError(f"{text!r} is no amount of material", _AMOUNTS) from None


def read_temperature(text: str) -> float:
    """Return the warmth of a room's air in degC, refused in the unit that it was written in.

    Raises:
        UnitFaultError: when it is no temperature.
        NoSuchAirError: outside -10 to 60 degC.

    """
    return _degrees(text, refuse_temperature)


def read_surface_temperature(text: str) -> float:
    """Return the warmth of a floor or of the work in degC.

    Raises:
        UnitFaultError: when it is no temperature.
        NoSuchAirError: outside -20 to 80 degC.

    """
    return _degrees(text, refuse_surface)


def read_humidity(text: str) -> float:
    """Return relative humidity in percent.

    Raises:
        UnitFaultError: when it is no humidity.
        NoSuchAirError: outside 1 to 100 %.

    """
    percent = read(text, HUMIDITY)
    refuse_humidity(percent)
    return percent


def read_air(text: str) -> Air:
    """Return the air written in one go: ``19 degC, 55 %``, or with a stroke between them.

    Raises:
        UnitFaultError: unless it is a temperature and a humidity.
        NoSuchAirError: for air that no room has.

    """
    parts = re.split(r"[,/]", text)
    if len(parts) != 2:
        raise UnitFaultError(f"{text!r:.60} is no air", "write for example 19 degC, 55 %")
    temperature, humidity = (part.strip() for part in parts)
    return Air(read_temperature(temperature), read_humidity(humidity))


def read_size(text: str) -> float:
    """Return the area of a spot in m2: ``8 x 12 mm``, ``12 mm`` across, ``2 cm2``.

    Raises:
        UnitFaultError: for anything else, or a spot larger than a face.

    """
    sides = re.split(r"\s*(?:x|by|\N{MULTIPLICATION SIGN})\s*", text.strip())
    unit = re.sub(r"^[\d./\s]+", "", sides[-1])
    try:
        return read(text, AREA)
    except UnitFaultError:
        pass
    if not 1 <= len(sides) <= MOST_SIDES:
        raise UnitFaultError(f"{text!r} is no size", _SIZES)
    try:
        lengths = [read(s if re.search("[a-z]", s) else f"{s} {unit}", LENGTH) for s in sides]
    except UnitFaultError:
        raise UnitFaultError(f"{text!r} is no size", _SIZES) from None
    return lengths[0] * lengths[-1] * 1e-6


def _degrees(text: str, refuse: Callable[[float, str], None]) -> float:
    celsius = read(text, TEMPERATURE)
    refuse(celsius, temperature_unit(text))
    return celsius
