"""The shop: the place, the people, the air, and the units that they like."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from finishsched.model.accepted import Accepted
from finishsched.model.film import FilmRules
from finishsched.model.said import Kept, Quantity, Said, said

if TYPE_CHECKING:
    from finishsched.model.hours import Away, Extra, Holiday, HoursLine, Person
    from finishsched.model.room import Fixture, Preparing, Room
    from finishsched.model.woods_described import OwnWood
from finishsched.factors import SHOWN
from finishsched.model.solvent import LocalLimit, StorageLimit
from finishsched.numerals import plain_number

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
        """The unit of films and grain: thousandths of an inch for who measures in inches.

        Films for lapping keep their names in um, by which they are bought there too (common
        practice).
        """
        return "mil" if self._in_feet else "um"

    @property
    def spot(self) -> str:
        """The unit of an area as small as a defect."""
        return "sqin" if self._in_feet else "cm2"

    @property
    def speed(self) -> str:
        """The unit of moving air."""
        return "ft/min" if self._in_feet else "m/s"

    @property
    def density(self) -> str:
        """The unit of density, as data sheets print it there."""
        return "lb/gal" if self.mass in ("oz", "lb") else "g/ml"

    @property
    def apart(self) -> str:
        """The unit of a difference of warmth."""
        return "degF" if self.temperature == "degF" else "K"

    def either(self, metric: str, us: str) -> str:
        """Return the example that is in the shop's own units."""
        return us if self._in_feet else metric

    def tell(self, value: float, kept: Kept, digits: int = 3, /) -> str:
        """Return a quantity in the shop's unit, where that is one that is often shown.

        So calculators tell a figure in what they say; a rarer unit stays the one that is kept.
        """
        name = self.named(kept)
        factor = SHOWN.get((kept, name))
        if kept == "degC" and name == "degF":
            shown = value * 1.8 + 32
        elif kept == "K" and name == "degF":
            shown = value * 1.8
        else:
            shown = value if factor is None else value / factor
        known = factor is not None or kept in ("degC", "K")
        whole = kept == "um" and factor is None and value >= 1
        return f"{plain_number(round(shown) if whole else shown, digits)} {name if known else kept}"

    def named(self, kept: Kept) -> str:
        """Return the unit in which the shop is told what is kept in another."""
        return {
            "ml": self.volume,
            "g": self.mass,
            "g/l": self.cut,
            "degC": self.temperature,
            "K": self.apart,
            "mm": self.length,
            "m": "ft" if self._in_feet else "m",
            "m2": self.area,
            "um": self.film,
            "ml/m2": f"{self.volume}/{self.area}",
            "g/m2": f"{self.mass}/{self.area}",
            "min/m2": f"min/{self.area}",
            "g/ml": self.density,
            "m/s": self.speed,
            "m3": self.space,
            "m3/h": self.air_flow,
        }[kept]

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

    @property
    def said(self) -> tuple[Said, Said]:
        """What scale and measure can tell, in words."""
        return (
            said("scale reads {}", Quantity(self.scale_g, "g")),
            said("measure marked every {}", Quantity(self.measure_ml, "ml")),
        )


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

    def hands_named(self, name: str) -> str:
        """Return whose hands are meant: the first of the people where nobody is named.

        Capitals do not count; somebody whom the shop does not list is taken as written.
        """
        if not name:
            return self.people[0] if self.people else ""
        known = {person.casefold(): person for person in self.people}
        return known.get(name.casefold(), name)
