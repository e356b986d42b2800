"""The format of a shop: the place, the people, the air and the units that they like."""

from __future__ import annotations

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from finishsched.documents.codec import BadValueError, Leaf, ListOf
from finishsched.documents.leaves import LINE, PROSE, quantity, unit_of
from finishsched.documents.records import Key, Record
from finishsched.documents.wording import did_you_mean, quoted
from finishsched.model.shop import Air, Alcohol, Shop, ShownUnits
from finishsched.units import (
    AREA,
    CUT,
    HUMIDITY,
    LENGTH,
    MASS,
    SPEED,
    STRENGTH,
    TEMPERATURE,
    VOLUME,
)


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
        Key("movement", quantity(SPEED, "m/s"), "over the work", "movement_m_per_s"),
    ),
    on_one_line=True,
)
SHOP = Record(
    Shop,
    "a shop",
    (
        Key("shop", LINE, "its name", "name", required=True),
        Key("time_zone", TIME_ZONE, "an IANA name; without it, the machine's own"),
        Key("people", ListOf(LINE, "people", on_one_line=True), "who works there"),
        Key("units", UNITS, "in which answers are shown"),
        Key("alcohol", ALCOHOL, "what it mixes with"),
        Key("usual_air", AIR, "the air when nobody has read it"),
        Key("notes", PROSE, "anything else"),
    ),
)
