"""The air as somebody writes it: what no room has is refused in the unit that it was written in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finishsched.units import HUMIDITY, TEMPERATURE, temperature_unit

if TYPE_CHECKING:
    from collections.abc import Callable

    from finishsched.cli.faults import Words


def read_air(
    words: Words, temperature: str | None, humidity: str | None
) -> tuple[float | None, float | None]:
    """Return the temperature in degC and the humidity in percent; None for what is not given."""
    from finishsched.drying.air import impossible_humidity, impossible_temperature

    temperature_c = _degrees(words, "--temperature", temperature, impossible_temperature)
    percent = words.read("--humidity", humidity, HUMIDITY)
    refused = "" if percent is None else impossible_humidity(percent)
    if refused:
        words.fault(f"--humidity: {refused}")
    return temperature_c, percent


def read_surface(words: Words, surface: str | None) -> float | None:
    """Return the temperature of a floor or a piece in degC; None where none is given."""
    if surface is None:
        return None
    from finishsched.workshop.air.reading_entries import impossible_surface

    return _degrees(words, "--surface", surface, impossible_surface)


def _degrees(
    words: Words, option: str, text: str | None, impossible: Callable[[float, str], str]
) -> float | None:
    celsius = words.read(option, text, TEMPERATURE)
    if text is not None and celsius is not None and impossible(celsius, "degC"):
        words.fault(f"{option}: {impossible(celsius, temperature_unit(text))}")
    return celsius
