"""The shop: the place, the people, the air, and the units that they like."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Air:
    """Temperature, relative humidity and air movement, at a time when they were read."""

    temperature_c: float
    humidity_percent: float
    movement_m_per_s: float = 0.1
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Alcohol:
    """The alcohol that the shop mixes with: its strength, and how warm it is when measured."""

    strength_percent_vol: float = 95.0
    at_c: float = 20.0


@dataclass(frozen=True, slots=True)
class ShownUnits:
    """The units in which a shop wants its answers, as the units list names them."""

    volume: str = "ml"
    mass: str = "g"
    cut: str = "lb/gal"
    temperature: str = "degC"
    length: str = "mm"
    area: str = "m2"


@dataclass(frozen=True, slots=True)
class Shop:
    """The place and the people."""

    name: str
    people: tuple[str, ...] = ()
    time_zone: str | None = None
    """An IANA name; None for the machine's own."""
    units: ShownUnits = ShownUnits()
    alcohol: Alcohol = Alcohol()
    usual_air: Air = Air(20.0, 50.0)
    notes: str = ""
