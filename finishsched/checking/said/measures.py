"""Figures in the words of a step: how long, how warm, how far off, at what pressure, how damp."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from finishsched.factors import DAY_S, HOUR_S, MIN_S

_UNITS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "s|secs?|seconds?": ("span", 1.0),
        "min|mins|minutes?": ("span", MIN_S),
        "h|hrs?|hours?": ("span", HOUR_S),
        "nights?": ("span", 12 * HOUR_S),
        "d|days?": ("span", DAY_S),
        "weeks?": ("span", 7 * DAY_S),
        "months?": ("span", 30 * DAY_S),
        "years?": ("span", 365 * DAY_S),
        "mm": ("distance", 0.1),
        "cm|centimet(?:re|er)s?": ("distance", 1.0),
        "in|inch|inches": ("distance", 2.54),
        "ft|feet|foot": ("distance", 30.48),
        "m|met(?:re|er)s?": ("distance", 100.0),
        "yards?": ("distance", 91.44),
        "grit": ("grit", 1.0),
        "times": ("leap", 1.0),
        "bar|bars": ("pressure", 1.0),
        "psi": ("pressure", 0.0689476),
        "%|percent|per cent": ("percent", 1.0),
        "(?:deg(?:rees?)? ?|\N{DEGREE SIGN} ?)?c(?:elsius)?": ("warmth", 1.0),
        "(?:deg(?:rees?)? ?|\N{DEGREE SIGN} ?)?f(?:ahrenheit)?": ("warmth", -1.0),
        "deg|degrees|\N{DEGREE SIGN}": ("warmth", 1.0),
    }
)
"""What a unit measures, and how many s, cm, bar, % or degrees C it is (SI Brochure, BIPM, 2019);
of degrees F only the name is here."""
_WORDS = MappingProxyType(
    {
        "half an": 0.5, "half a": 0.5, "a quarter of an": 0.25, "quarter of an": 0.25,
        "a couple of": 2.0, "couple of": 2.0, "a few": 3.0, "few": 3.0, "several": 4.0,
        "an": 1.0, "a": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0,
        "six": 6.0, "seven": 7.0, "eight": 8.0, "nine": 9.0, "ten": 10.0, "twelve": 12.0,
        "fifteen": 15.0, "twenty": 20.0, "thirty": 30.0, "forty": 40.0, "fifty": 50.0,
        "sixty": 60.0, "ninety": 90.0,
    }
)  # fmt: skip
"""How many are meant; a few and several are our assumption."""
_NUMBER = "|".join([r"\d+(?:\.\d+)?", *sorted(_WORDS, key=len, reverse=True)])
_FIGURE = re.compile(
    rf"(?<!ty )\b(?P<low>{_NUMBER})(?: ?(?:to|or|-) ?(?P<high>{_NUMBER}))?(?: |(?<=\d))"
    rf"(?:(?:full|whole|more|good|short) )?(?P<unit>{'|'.join(_UNITS)})(?![a-z0-9])"
)
_SPANS = tuple(
    (re.compile("|".join(rf"\b{each}\b" for each in words.split(", "))), span_s)
    for words, span_s in (
        (
            "overnight, till morning, until morning, all night, in the morning, for the night",
            12 * HOUR_S,
        ),
        (
            "till the morning, until the morning, till the next morning, until next morning",
            12 * HOUR_S,
        ),
        ("until evening, till evening, until supper, till supper, for the day", 6 * HOUR_S),
        ("all day, all morning, all afternoon", 6 * HOUR_S),
        ("until tomorrow, till tomorrow, the next day, until next day", DAY_S),
        ("over the weekend, all weekend, until monday", 2.5 * DAY_S),
        ("over lunch, during lunch, over dinner, after lunch, after dinner", HOUR_S),
    )
)
"""Spans without a figure (our assumption)."""
_LEAP = re.compile(
    r"\b(\d{2,4})(?: grit)?(?:,| straight| direct(?:ly)?| right| and)? "
    r"(?:straight to|directly to|to|then) p?(\d{2,4})\b(?! ?(?:min|ml|%|h\b|deg|cm))"
)
"""From one paper to the next, as words tell it."""


class Measured(NamedTuple):
    """One figure of a text."""

    name: str
    """What it measures: span, distance, pressure, percent, warmth, grit, or a leap of grits."""
    value: float
    """In s, cm, bar, %, degrees C or times; of a range its upper end."""
    at: int
    """Its place in the text, in characters."""
    words: str


def measured_in(text: str) -> Iterator[Measured]:
    """Give every figure that ``text`` tells."""
    for found in _FIGURE.finditer(text):
        name, factor = _unit(found["unit"])
        number = _number(found["high"] or found["low"])
        if name == "warmth" and found["low"] in ("a", "an"):
            continue
        value = (number - 32) / 1.8 if factor < 0 else number * factor
        yield Measured(name, value, found.start(), found[0])
    for found in _LEAP.finditer(text):
        leap = float(found[2]) / float(found[1])
        yield Measured("leap", leap, found.start(), found[0])
    for pattern, span_s in _SPANS:
        for found in pattern.finditer(text):
            yield Measured("span", span_s, found.start(), found[0])


def _unit(text: str) -> tuple[str, float]:
    return next(row for unit, row in _UNITS.items() if re.fullmatch(unit, text))


def _number(text: str) -> float:
    return _WORDS[text] if text in _WORDS else float(text)
