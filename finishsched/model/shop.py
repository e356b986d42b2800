"""The shop: the place, the people, the air, and the units that they like."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from finishsched.model.accepted import Accepted
from finishsched.model.film import FilmRules

if TYPE_CHECKING:
    from finishsched.model.hours import Away, Extra, Holiday, HoursLine, Person
    from finishsched.model.room import Fixture, Preparing, Room
    from finishsched.model.woods_described import OwnWood
from finishsched.model.solvent import LocalLimit, StorageLimit

_FEET = re.compile("in|inch|inches|ft|foot|feet|yd|yard|mils?|thou", re.IGNORECASE)
"""The lengths of those who reckon rooms in feet."""


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
    methanol_percent: float | None = None
    """Share of methanol in it by weight, from its data sheet; None until somebody read that."""


@dataclass(frozen=True, slots=True)
class ShownUnits:
    """The units in which a shop wants its answers, as the units list names them."""

    volume: str = "ml"
    mass: str = "g"
    cut: str = "lb/gal"
    temperature: str = "degC"
    length: str = "mm"
    area: str = "m2"

    @property
    def space(self) -> str:
        """The unit of a room's volume: cubic feet for who measures in feet and inches."""
        return "cuft" if self._in_feet else "m3"

    @property
    def air_flow(self) -> str:
        """The unit of a flow of air, as fans are sold by it."""
        return "cfm" if self._in_feet else "m3/h"

    @property
    def film(self) -> str:
        """The unit that films are told in besides um: thousandths of an inch for who has inches.

        Gauges, films for lapping and every table of grain are in um there too (common practice).
        """
        return "mil" if self._in_feet else "um"

    @property
    def _in_feet(self) -> bool:
        return _FEET.fullmatch(self.length.strip()) is not None


UNIT_SETS = {
    "metric": ShownUnits(),
    "us": ShownUnits("floz", "oz", "lb/gal", "degF", "in", "sqft"),
}
"""The units of a new shop, by the word for them."""


@dataclass(frozen=True, slots=True)
class Tools:
    """What the shop measures with, and how far it can be trusted.

    The usual ones are a kitchen scale and a kitchen measure (our assumption).
    """

    scale_g: float = 1.0
    """The smallest step that the scale shows."""
    measure_ml: float = 5.0
    """The smallest mark on the measures."""
    measure_error_percent: float = 5.0
    """How far a full measure may be out."""


@dataclass(frozen=True, slots=True)
class KitchenUnits:
    """The units on the shop's own cups and scales, for answers beside grams and millilitres."""

    volume: str = "floz"
    mass: str = "oz"


@dataclass(frozen=True, slots=True)
class Price:
    """What something costs."""

    amount: float
    currency: str


@dataclass(frozen=True, slots=True)
class Pack:
    """A size that a product can be bought in: by weight or by volume."""

    product: str
    size_g: float | None = None
    size_ml: float | None = None
    price: Price | None = None


class Steady(StrEnum):
    """How much a plan that was shown is held to when something happens."""

    LOOSELY = "loosely"
    USUALLY = "usually"
    FIRMLY = "firmly"


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
    tools: Tools = Tools()
    kitchen: KitchenUnits = KitchenUnits()
    jars_ml: tuple[float, ...] = ()
    """The jars that batches are kept in."""
    packs: tuple[Pack, ...] = ()
    """What can be bought, in which sizes."""
    notes: str = ""
    limits: tuple[LocalLimit, ...] = ()
    """What its own place allows in the air that is breathed."""
    storage: tuple[StorageLimit, ...] = ()
    """How much that burns it may keep, by place."""
    film: FilmRules = FilmRules()
    persons: tuple[Person, ...] = ()
    """Those of the people who have skills or hours of their own."""
    hours: tuple[HoursLine, ...] = ()
    """When hands are there, by the clock on the wall."""
    away: tuple[Away, ...] = ()
    holidays: tuple[Holiday, ...] = ()
    extras: tuple[Extra, ...] = ()
    rooms: tuple[Room, ...] = ()
    stores: tuple[Fixture, ...] = ()
    """What there is only so much of: rack slots, clamps, a spray corner, jars."""
    set_up: tuple[Preparing, ...] = ()
    steady: Steady = Steady.USUALLY
    accepted: tuple[Accepted, ...] = ()
    """Rules of the checker that are silent here."""
    woods: tuple[OwnWood, ...] = ()
    """Woods that no table has, or of which it knows better."""
    hour: Price | None = None
    """What an hour of hands costs."""
