"""What the columns of hygrometers' files are called, in the languages of their makers and users."""

from __future__ import annotations

import re
import unicodedata
from enum import Enum

from finishsched.workshop.air.hygrometer.cells import unit_named


class Role(Enum):
    """What a column holds."""

    STAMP = "time with its date"
    DATE = "date"
    CLOCK = "time of day"
    TEMPERATURE = "temperature"
    HUMIDITY = "humidity"


_SHORT = {
    **dict.fromkeys(("%", "h", "rh", "rf", "hr", "ur", "rv", "lf", "rlf", "relf", "relh"), "h"),
    **dict.fromkeys(("t", "ta", "tc", "tf", "tk", "c", "f", "degc", "degf", "tdegc", "tdegf"), "t"),
}
_TEMPERATURE = ("temp", "celsius", "fahrenheit", "teplot", "lampotila", "sicaklik", "темпер")
_HUMIDITY = (
    "hum", "rh", "relhum", "feucht", "luftfeucht", "humed", "umid", "vocht", "luchtvocht", "fukt",
    "luftfukt", "fugt", "luftfugt", "wilgot", "vlhk", "kosteus", "nem", "влаж",
)  # fmt: skip
_OTHERS = (
    "dew", "tau", "rosee", "rocio", "rugiada", "orvalho", "dauw", "dagg", "wet", "bulb", "abs",
    "index", "feels", "min", "max", "low", "high", "batt", "alarm", "delta", "set", "soll", "wood",
    "holz", "moist", "water", "wasser", "mixing", "outside", "outdoor", "aussen",
)  # fmt: skip
"""Beginnings of words in the names of columns that are not the air's own reading."""
_STAMP = (
    "timestamp", "datetime", "zeitstempel", "zeitpunkt", "horodatage", "tidsstempel", "tidspunkt",
    "tijdstip", "epoch", "unix", "unixtime", "ts",
)  # fmt: skip
_DATE = (
    "date", "datum", "data", "fecha", "dato", "tarih", "paiva", "paivamaara", "pvm", "day", "tag",
    "дата",
)  # fmt: skip
_CLOCK = (
    "time", "zeit", "uhrzeit", "uhr", "heure", "hora", "ora", "tijd", "tid", "klokkeslaet", "kl",
    "czas", "godzina", "cas", "aika", "kello", "saat", "время",
)  # fmt: skip
_SHARE = ("fraction", "ratio", "share", "anteil")


def role_of(header: str) -> Role | None:
    """Return what the column called ``header`` holds; None when it is nothing that is wanted."""
    words = _words(header)
    short = _SHORT.get("".join(word for word in words if len(word) < 4 and word != "%"))
    if any(word.startswith(_OTHERS) for word in words):
        return None
    if words == ["%"] or (short == "h" and len(words) < 4) or _any_begins(words, _HUMIDITY):
        return Role.HUMIDITY
    if _any_begins(words, _TEMPERATURE) or (short == "t" and len(words) < 4):
        return Role.TEMPERATURE
    return _role_in_time(set(words))


def temperature_unit(header: str) -> str | None:
    """Return degC, degF or K when ``header`` names just one of them."""
    units = {unit_named(word) for word in _words(header)} - {None, "%"}
    return units.pop() if len(units) == 1 else None


def humidity_unit(header: str) -> str | None:
    """Return % or ``share`` when ``header`` says one of them."""
    words = _words(header)
    if "%" in words or any(unit_named(word) == "%" for word in words):
        return "%"
    if any(word in _SHARE for word in words) or re.search(r"0\s*(?:-|\.\.)\s*1\b", header):
        return "share"
    return None


def _role_in_time(words: set[str]) -> Role | None:
    has_date, has_clock = bool(words & set(_DATE)), bool(words & set(_CLOCK))
    if words & set(_STAMP) or (has_date and has_clock):
        return Role.STAMP
    if has_date:
        return Role.DATE
    return Role.CLOCK if has_clock else None


def _any_begins(words: list[str], beginnings: tuple[str, ...]) -> bool:
    return any(word.startswith(beginnings) for word in words)


def _words(header: str) -> list[str]:
    """Return the words of a header without case, accents and dots; ``TempC`` is two of them."""
    parted = re.sub(r"(?<=[a-zäéí]{2})(?=[A-Z])", " ", re.sub("[°º]", " deg", header))
    plain = unicodedata.normalize("NFKD", parted.replace(".", "")).casefold()
    bare = "".join(letter for letter in plain if not unicodedata.combining(letter))
    return re.findall(r"[^\W\d_]+|%", bare.replace("ı", "i").replace("æ", "ae"))
