"""The format of a shop: the place, the people, the air, their tools and what they can buy."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from finishsched.documents.codec import (
    BadValueError,
    JsonSchema,
    Leaf,
    ListOf,
)
from finishsched.documents.formats.accepted import ACCEPTED, accepted_once
from finishsched.documents.formats.film import FILM_RULES
from finishsched.documents.formats.hours import AWAY, EXTRA, HOLIDAY, HOURS
from finishsched.documents.formats.rooms import (
    FIXTURE,
    PREPARING,
    ROOM,
    PeopleKey,
    known_names,
    names_of_their_own,
)
from finishsched.documents.leaves import (
    ID,
    LINE,
    PROSE,
    exact_text,
    quantity,
    quantity_schema,
    read_quantity,
    unit_of,
    word,
)
from finishsched.documents.nodes import Fields, Items, Node, Text
from finishsched.documents.records import Draft, Key, Record
from finishsched.documents.wording import did_you_mean, quoted
from finishsched.model.shop import (
    UNIT_SETS,
    Air,
    Alcohol,
    KitchenUnits,
    Pack,
    Price,
    Shop,
    ShownUnits,
    Steady,
    Tools,
)
from finishsched.model.solvent import FlameClass, Liquid, LocalLimit, StorageLimit
from finishsched.model.woods_described import SAYS, OwnWood, not_understood
from finishsched.units import (
    AREA,
    CUT,
    HUMIDITY,
    LENGTH,
    MASS,
    SHARE,
    SPEED,
    STRENGTH,
    TEMPERATURE,
    VAPOUR,
    VOLUME,
    ForeignUnitError,
)

_PRICE = r"([0-9]{1,7}(?:\.[0-9]{1,3})?) ([A-Z]{3})"
"""A number and a currency's three letters (ISO 4217)."""


def _time_zone(text: str) -> str:
    try:
        ZoneInfo(text)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        remedy = _nearest_zone(text)
        raise BadValueError(f"there is no time zone {quoted(text)}", remedy) from None
    return text


def _nearest_zone(text: str) -> str:
    zones = {zone.lower(): zone for zone in available_timezones()}
    remedy = did_you_mean(text, zones, "write an IANA name, such as Europe/Lisbon")
    for small, zone in zones.items():
        remedy = remedy.replace(repr(small), repr(zone))
    return remedy


def _price(text: str) -> Price:
    match = re.fullmatch(_PRICE, " ".join(text.split()))
    if match is None:
        raise BadValueError(
            f"{quoted(text)} is not a price",
            "write the number, a space and the currency's three letters, such as 18.50 EUR",
        )
    return Price(float(match[1]), match[2])


def _price_text(price: Price) -> str:
    cents = f"{price.amount:.2f}"
    amount = cents if float(cents) == price.amount else f"{price.amount:.3f}"
    return f"{amount} {price.currency}"


PRICE = Leaf(
    "a price",
    _price,
    _price_text,
    {"type": "string", "pattern": f"^{_PRICE}$", "examples": ["18.50 EUR"]},
    "18.50 EUR",
)


@dataclass(frozen=True, slots=True)
class SizeKey:
    """The size of a pack: a weight or a volume under one key, each in an attribute of its own."""

    name: str
    says: str

    @property
    def names(self) -> tuple[str, ...]:
        """The key."""
        return (self.name,)

    def read(self, draft: Draft) -> None:
        """Read the size as a weight, or else as a volume."""
        draft.missing(self.name, self.says)
        node = draft.node(self.name)
        if node is None:
            return
        if isinstance(node, Text) and _is_volume(node.value):
            draft.read(self.name, "size_ml", _SIZE_ML)
        else:
            draft.read(self.name, "size_g", _SIZE_G)

    def write(self, model: object, default: object) -> Iterator[tuple[Text, Node]]:  # noqa: ARG002
        """Give the size in the unit that it was given in."""
        assert isinstance(model, Pack)  # noqa: S101
        if model.size_ml is not None:
            yield Text(self.name), _SIZE_ML.write(model.size_ml)
        else:
            yield Text(self.name), _SIZE_G.write(model.size_g or 0.0)

    def describe(self, schema: JsonSchema, shared: dict[str, JsonSchema]) -> None:  # noqa: ARG002
        """Put in the key with its description."""
        described = {"description": self.says, **quantity_schema(MASS, VOLUME)}
        schema["properties"][self.name] = described
        schema["required"].append(self.name)


_SIZE_ML = quantity(VOLUME, "l", "ml", "gal", "qt", "floz")
_SIZE_G = Leaf(
    "a weight or a volume",
    lambda text: read_quantity(text, MASS),
    lambda value: exact_text(value, MASS, ("kg", "g", "lb", "oz")),
    {},
    "250 g",
)


def _is_volume(text: str) -> bool:
    try:
        read_quantity(text, MASS)
    except ForeignUnitError:
        return True
    except ValueError:
        return False
    return False


def _one_currency(draft: Draft) -> None:
    """Check that every price of the shop is in the same currency, or they could not be added."""
    packs: tuple[Pack, ...] = draft.values.get("packs", ())
    written = draft.node("packs")
    hour: Price | None = draft.values.get("hour")
    first = hour or next((pack.price for pack in packs if pack.price), None)
    if first is None or not isinstance(written, Items):
        return
    for pack, node in zip(packs, written.items, strict=True):
        if pack.price is not None and pack.price.currency != first.currency:
            place = node.get("price") if isinstance(node, Fields) else None
            draft.reading.note(
                (place or node).place,
                f"a price in {pack.price.currency}, and an earlier one in {first.currency}",
                "write every price in one currency",
            )


TIME_ZONE = Leaf(
    "a time zone",
    _time_zone,
    str,
    {"type": "string", "examples": ["Europe/Lisbon"]},
    "Europe/Lisbon",
)
UNITS = Record(
    ShownUnits,
    "a list of units",
    (
        Key("volume", unit_of(VOLUME), "for volumes"),
        Key("mass", unit_of(MASS), "for weights"),
        Key("cut", unit_of(CUT), "for cuts"),
        Key("temperature", unit_of(TEMPERATURE), "for temperatures"),
        Key("length", unit_of(LENGTH), "for lengths"),
        Key("area", unit_of(AREA), "for areas"),
    ),
    on_one_line=True,
    words=UNIT_SETS,
)
ALCOHOL = Record(
    Alcohol,
    "the alcohol",
    (
        Key(
            "strength",
            quantity(STRENGTH, "%vol"),
            "by volume, as on the label",
            "strength_percent_vol",
            required=True,
        ),
        Key("at", quantity(TEMPERATURE, "degC", "degF"), "how warm it is when measured", "at_c"),
        Key(
            "methanol",
            quantity(SHARE, "%"),
            "the share of methanol in it by weight, from its data sheet",
            "methanol_percent",
        ),
    ),
    on_one_line=True,
)
AIR = Record(
    Air,
    "the air",
    (
        Key(
            "temperature",
            quantity(TEMPERATURE, "degC", "degF"),
            "where the work is done",
            "temperature_c",
            required=True,
        ),
        Key(
            "humidity",
            quantity(HUMIDITY, "%"),
            "relative humidity",
            "humidity_percent",
            required=True,
        ),
        Key("movement", quantity(SPEED, "m/s", "ft/min"), "over the work", "movement_m_per_s"),
    ),
    on_one_line=True,
)
TOOLS = Record(
    Tools,
    "the tools",
    (
        Key("scale", quantity(MASS, "g", "mg", "oz"), "the smallest step of the scale", "scale_g"),
        Key(
            "measure",
            quantity(VOLUME, "ml", "floz", "tsp"),
            "the smallest mark on the measures",
            "measure_ml",
        ),
        Key(
            "trust",
            quantity(SHARE, "%"),
            "how far a full measure may be out",
            "measure_error_percent",
        ),
    ),
    on_one_line=True,
)
KITCHEN = Record(
    KitchenUnits,
    "the kitchen units",
    (
        Key("volume", unit_of(VOLUME), "on the cups and spoons"),
        Key("mass", unit_of(MASS), "on the other scale"),
    ),
    on_one_line=True,
)
PACK = Record(
    Pack,
    "a pack",
    (
        Key("product", ID, "the id of the product in it", required=True),
        SizeKey("size", "by weight or by volume, such as 250 g or 1 l"),
        Key("price", PRICE, "what it costs, such as 18.50 EUR"),
    ),
    on_one_line=True,
)
LOCAL_LIMIT = Record(
    LocalLimit,
    "a limit",
    (
        Key("solvent", word("a solvent", Liquid), "which liquid", "liquid", required=True),
        Key("most", quantity(VAPOUR, "ppm"), "the most in the air", "ppm", required=True),
    ),
    on_one_line=True,
)
STORAGE = Record(
    StorageLimit,
    "a place of storage",
    (
        Key("place", LINE, "which cabinet or shelf", required=True),
        Key(
            "most",
            quantity(VOLUME, "l", "ml", "gal", "qt"),
            "how much it may hold",
            "most_ml",
            required=True,
        ),
        Key(
            "class",
            word("a class of liquids that burn", FlameClass),
            "of which class; without it, of all liquids together",
            "flame_class",
        ),
    ),
    on_one_line=True,
)


def _all_understood(draft: Draft) -> None:
    words = draft.values.get("words")
    unknown = not_understood(words) if words else ()
    if unknown:
        draft.fault(
            f"{quoted(unknown[0])} says nothing known of a wood",
            f"write 'like' and a wood of the table, or some of {', '.join(SAYS)}, 700 kg/m3",
            at="is",
        )


WOOD = Record(
    OwnWood,
    "a wood of the shop's own",
    (
        Key("wood", LINE, "its name", "name", required=True),
        Key("is", LINE, "what it is like and has: like pear, oily", "words", required=True),
    ),
    (_all_understood,),
    on_one_line=True,
)
SHOP = Record(
    Shop,
    "a shop",
    (
        Key("shop", LINE, "its name", "name", required=True),
        Key("time_zone", TIME_ZONE, "an IANA name; without it, the machine's own"),
        PeopleKey(),
        Key("hours", HOURS, "when hands are there, such as Mon-Thu 18:30-21:30"),
        Key("away", ListOf(AWAY, "days away", or_one=True), "days when they are not"),
        Key(
            "holidays",
            ListOf(HOLIDAY, "holidays", on_one_line=True),
            "days when nobody works, such as 25 Dec",
        ),
        Key(
            "extra",
            ListOf(EXTRA, "extra evenings", or_one=True),
            "more than the usual, such as 2026-11-26 18:00-21:00",
            "extras",
        ),
        Key("rooms", ListOf(ROOM, "rooms"), "where the work is done and dries"),
        Key("stores", ListOf(FIXTURE, "stores"), "what there is only so much of"),
        Key("set_up", ListOf(PREPARING, "set-ups"), "getting ready for a kind of work"),
        Key("hour", PRICE, "what an hour of hands costs, such as 45 EUR"),
        Key("steady", word("how steady", Steady), "how much a plan that was shown is held to"),
        Key("units", UNITS, "in which answers are shown"),
        Key("alcohol", ALCOHOL, "what it mixes with"),
        Key("usual_air", AIR, "the air when nobody has read it"),
        Key("tools", TOOLS, "what it weighs and measures with"),
        Key("kitchen", KITCHEN, "the units on its own cups and scales"),
        Key(
            "jars",
            ListOf(quantity(VOLUME, "ml", "l", "floz", "qt"), "jars", on_one_line=True),
            "the sizes of jar that batches are kept in",
            "jars_ml",
        ),
        Key("limits", ListOf(LOCAL_LIMIT, "limits"), "what its own place allows in the air"),
        Key("storage", ListOf(STORAGE, "places"), "how much that burns it may keep, by place"),
        Key("film", FILM_RULES, "how it means its grades, and what it is asked before"),
        Key("woods", ListOf(WOOD, "woods"), "woods that no table has, for all its pieces"),
        Key("packs", ListOf(PACK, "packs"), "what it can buy, in which sizes"),
        Key("notes", PROSE, "anything else"),
        ACCEPTED,
    ),
    (_one_currency, known_names, names_of_their_own, accepted_once),
)
