"""The air as somebody writes it: what no room has is refused in the unit that it was written in."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from finishsched.cli.faults import Words


def read_air(
    words: Words, temperature: str | None, humidity: str | None
) -> tuple[float | None, float | None]:
    """Return the temperature in degC and the humidity in percent; None for what is not given."""
    from finishsched.workshop.base.typed import read_humidity, read_temperature

    return (
        words.take("--temperature", temperature, read_temperature),
        words.take("--humidity", humidity, read_humidity),
    )


def read_surface(words: Words, surface: str | None) -> float | None:
    """Return the temperature of a floor or a piece in degC; None where none is given."""
    from finishsched.workshop.base.typed import read_surface_temperature

    return words.take("--surface", surface, read_surface_temperature)
