"""Read what a person typed into a form: amounts, wall times, the air."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, tzinfo
from types import MappingProxyType
from typing import TypeVar

from finishsched import units
from finishsched.model.shop import Air
from finishsched.refusals import RefusalError
from finishsched.workshop.base import typed, wall_clock

Value = TypeVar("Value")

STILL_AIR_M_PER_S = 0.1
"""What a room without a fan has, when nobody measured (the model's own default)."""


class FormFaultError(RefusalError, ValueError):
    """A field that cannot be read: what is wrong, and what would be right."""

    def __init__(self, message: str, at: Mapping[str, str] = MappingProxyType({})) -> None:
        """``at`` says what is wrong in each field, by its id, where that is known."""
        super().__init__(message)
        self.at = at


@dataclass(frozen=True, slots=True)
class RagsWent:
    """Where the rags went that can heat by themselves."""

    where: str


def read_amount(text: str) -> tuple[float | None, float | None]:
    """Return an amount used as millilitres or as grams, the other None; nothing for blank text.

    Raises:
        FormFaultError: for a bare number or a unit that is neither.

    """
    if not text.strip():
        return None, None
    amount = _taken("amount", text, typed.read_amount)
    return amount.volume_ml, amount.mass_g


def read_spot(text: str) -> float:
    """Return the area of a spot in m2.

    Raises:
        FormFaultError: when it is no size.

    """
    return _taken("size", text, typed.read_size)


def read_wall_time(text: str, now: datetime, zone: tzinfo) -> datetime | None:
    """Return the instant that ``text`` names on the shop's wall clock; None for blank.

    Raises:
        FormFaultError: when it is no time.

    """
    if not text.strip():
        return None
    try:
        return wall_clock.read_wall_time(text, now, zone)
    except wall_clock.WallTimeError as fault:
        raise FormFaultError(str(fault)) from None


def read_how_long(text: str, now: datetime, zone: tzinfo) -> tuple[float | None, datetime | None]:
    """Return a span in seconds, or the instant to come that ends it; neither for blank text.

    Raises:
        FormFaultError: when it is no span and no time to come.

    """
    if not text.strip():
        return None, None
    with suppress(RefusalError):
        return units.read(text, units.DURATION), None
    try:
        return None, wall_clock.read_time_ahead(text, now, zone)
    except wall_clock.WallTimeError:
        raise FormFaultError(
            f"how long: {text!r:.40} is no span and no time to come; write 20 min, or tomorrow 8:00"
        ) from None


def read_air(temperature: str, humidity: str, movement: str, now: datetime) -> Air:
    """Return a reading of the air, taken at ``now``.

    Raises:
        FormFaultError: with every field that has a bare number, a foreign unit or a value that no
            room has.

    """
    temperature_c, humidity_percent, movement_m_per_s = read_all(
        lambda: _taken("temperature", temperature, typed.read_temperature),
        lambda: _taken("humidity", humidity, typed.read_humidity),
        lambda: _movement(movement),
    )
    return Air(temperature_c, humidity_percent, movement_m_per_s, at=now)


def read_all(*fields: Callable[[], Value]) -> list[Value]:
    """Return what each of ``fields`` reads.

    Raises:
        FormFaultError: with the faults of all fields together.

    """
    values: list[Value] = []
    faults: list[str] = []
    for field in fields:
        try:
            values.append(field())
        except FormFaultError as fault:
            faults.append(str(fault))
    if faults:
        raise FormFaultError(". ".join(faults))
    return values


def _movement(text: str) -> float:
    if not text.strip():
        return STILL_AIR_M_PER_S
    return read_quantity("air movement", text, units.SPEED)


def read_quantity(name: str, text: str, measure: units.Measure) -> float:
    """Return what the field ``name`` says, in the kept unit of ``measure``.

    Raises:
        FormFaultError: for a bare number, a foreign unit or what the measure cannot be.

    """
    return _taken(name, text, lambda words: units.read(words, measure))


def _taken(name: str, text: str, reader: Callable[[str], Value]) -> Value:
    try:
        return reader(text)
    except RefusalError as refusal:
        raise FormFaultError(f"{name}: {refusal}") from None


def read_coat_air(text: str) -> Air | None:
    """Return the air written beside a coat, such as ``19 degC, 55 %``; None for blank text.

    Raises:
        FormFaultError: unless it is a temperature and a humidity.

    """
    if not text.strip():
        return None
    return _taken("air", text, typed.read_air)
