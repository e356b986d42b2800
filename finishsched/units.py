"""Read and show quantities in the trade's units.

This is the one door between text such as ``1 1/2 lb`` and the plain floats that everything inside
computes on. pint does the arithmetic, on the small list of units in ``units.txt``.

Sources of the definitions: the international yard and pound agreement of 1959 (inch, pound), the
US gallon of 231 cubic inches (NIST Handbook 44, appendix C, from memory), the imperial gallon of
4.54609 L (UK Units of Measurement Regulations 1995, from memory). US proof is twice the
percentage by volume (27 CFR 5.1, from memory).
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from finishsched import unit_table
from finishsched.near import either, nearest
from finishsched.numerals import plain_number as plain_number  # noqa: PLC0414  # asked for here too
from finishsched.refusals import RefusalError
from finishsched.unit_table import factor, is_same, same_kind, unit_names


class UnitFaultError(RefusalError, ValueError):
    """A quantity that cannot be read: what is wrong, and what would be right."""


class NoUnitError(UnitFaultError):
    """A number on its own where a unit is needed."""


class ForeignUnitError(UnitFaultError):
    """A unit of another kind of quantity, such as grams for a volume."""


@dataclass(frozen=True, slots=True)
class Measure:
    """One kind of quantity: the unit it is kept in, and what a person may write for it."""

    name: str
    unit: str
    """The unit in which the insides keep it, as ``units.txt`` names it."""
    examples: tuple[str, ...]
    minimum: float = 0.0
    maximum: float = math.inf
    above_minimum: bool = False
    """True when the minimum itself is no sensible value (a batch of nothing)."""
    shown: str = ""
    """How the kept unit is written for people, when not by its own name."""

    @property
    def noun(self) -> str:
        """The name with its article: ``a length``, ``an area``."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"

    @property
    def written_in(self) -> tuple[str, ...]:
        """The units of the examples, those of sides left out."""
        ends = (each.split()[-1] for each in self.examples if " " in each and not by_sides(each))
        return tuple(dict.fromkeys(ends))

    @property
    def kept_unit(self) -> str:
        """The kept unit as people write it."""
        return self.shown or self.unit


VOLUME = Measure(
    "volume", "ml", ("250 ml", "8 floz", "1 cup", "1 qt"), maximum=1e7, above_minimum=True
)
MASS = Measure("mass", "g", ("30 g", "1 oz", "0.5 lb"), maximum=1e7, above_minimum=True)
LENGTH = Measure("length", "mm", ("220 mm", "8 1/2 in"), maximum=1e5, above_minimum=True)
FILM = Measure("film", "um", ("20 um", "0.8 mil"), maximum=1e4, above_minimum=True)
AREA = Measure(
    "area", "m2", ("0.12 m2", "220 x 140 mm", "180 sqin"), maximum=1e4, above_minimum=True
)
DURATION = Measure(
    "duration",
    "s",
    ("90 min", "1 h 30 min", "overnight", "2 days"),
    maximum=10 * 365.25 * 86400,
)
TEMPERATURE = Measure(
    "temperature", "degC", ("20 degC", "68 degF"), minimum=-40.0, maximum=100.0, shown="degC"
)
HUMIDITY = Measure("humidity", "percent_rh", ("55 %",), maximum=100.0, shown="%")
STRENGTH = Measure(
    "strength", "percent_vol", ("95 %vol", "190 proof"), maximum=100.0, above_minimum=True
)
CUT = Measure(
    "cut",
    "g/l",
    ("2 lb", "240 g/L", "20 %w/v", "1.5 lb/impgal"),
    maximum=2400.0,
    above_minimum=True,
)
SHARE = Measure("share", "percent", ("5 %",), maximum=100.0, shown="%")
SPREAD = Measure(
    "amount for an area", "ml/m2", ("15 ml/m2", "0.05 floz/ft2"), maximum=5000.0, above_minimum=True
)
SPREAD_MASS = Measure(
    "amount for an area", "g/m2", ("150 g/m2",), maximum=5000.0, above_minimum=True
)
PACE = Measure("time for an area", "min/m2", ("8 min/m2", "1 min/sqft"), maximum=10000.0)
LOADING = Measure(
    "strength", "g/l", ("10 g/l", "1 oz/gal"), maximum=2000.0, above_minimum=True, shown="g/l"
)
"""Weight of powder for a volume: of liquid, or of what is made."""
FORCE = Measure(
    "hardness", "newton", ("5200 N", "1170 lbf"), maximum=30000.0, above_minimum=True, shown="N"
)
"""Side hardness of a wood: the force that presses a ball of 11.28 mm half in (Janka)."""
DENSITY = Measure("density", "g/ml", ("0.81 g/ml", "810 kg/m3"), maximum=25.0, above_minimum=True)
SPEED = Measure("air movement", "m/s", ("0.1 m/s",), maximum=20.0)
SPACE = Measure(
    "room volume", "m3", ("30 m3", "4 x 3 x 2.5 m", "1060 cuft"), maximum=1e6, above_minimum=True
)
AIR_FLOW = Measure("air flow", "m3/h", ("60 m3/h", "35 cfm"), maximum=1e6)
VAPOUR = Measure("concentration", "ppm", ("200 ppm",), maximum=1e6, above_minimum=True)

_SIDES = {AREA: 2, SPACE: 3}
"""What may be written by its sides too, and how many those are."""
_TIMES = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_SPOKEN_DURATIONS = {"overnight": 12 * 3600.0, "none": 0.0}

# Spellings that hold a space, a sign or a full stop, turned into one plain name before reading.
_SPELLINGS = (
    (r"fl\.?\s*oz\.?", "floz"),
    (r"fluid\s+ounces?", "floz"),
    (r"imp(?:erial)?\.?\s+(gal|qt|pt|floz)\w*", r"imp\1"),
    (r"us\s+(gal|floz)\w*", r"us\1"),
    (r"sq\.?\s+(cm|in|ft|m)\b", r"sq\1"),
    (r"%\s*w\s*/\s*v", "wv"),
    (r"%\s*(?:vol|abv|v/v)\b\.?", "percent_vol"),
    (r"%\s*rh\b", "rh"),
    (r"%", "percent"),
    (r"°\s*", "deg"),
    (r"²", "2"),
    (r"³", "3"),
    (r"\bper\b", "/"),
)
_NUMBER = r"[+-]?(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?"
_WORD = r"[A-Za-zµμ_]+(?:[23](?!\d))?"
_UNIT = rf"{_WORD}(?:\s*/\s*{_WORD})*"
_PAIR = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})?\s*\+?")
_LONGEST_TEXT = 80


def read(text: str, measure: Measure) -> float:
    """Return the quantity in ``text`` as a float in the measure's kept unit.

    Several parts add up (``1 h 30 min``); fractions may be written ``1 1/2`` or ``1½``; an area or
    a room may be written by its sides (``220 x 140 mm``).

    Raises:
        UnitFaultError: for a missing or foreign unit, no number, or a value outside the measure's
            range. Its remedy names units that would do.

    """
    _refuse_long(text, text, measure)
    if measure in _SIDES and by_sides(text):
        return _within_range(_by_sides(text, measure), text, measure)
    cleaned = _clean(text)
    if measure is DURATION and cleaned.lower() in _SPOKEN_DURATIONS:
        return _SPOKEN_DURATIONS[cleaned.lower()]
    parts = _split(text, cleaned, measure)
    if measure.name in ("temperature", "strength", "humidity", "cut") and len(parts) > 1:
        raise UnitFaultError(f"{text!r} is more than one {measure.name}", "write one value")
    value = sum(_in_kept_unit(number, unit, text, measure) for number, unit in parts)
    return _within_range(value, text, measure)


def by_sides(text: str) -> bool:
    """Tell whether a text names sides, as ``220 x 140 mm`` does, whatever is wrong with them."""
    return len(_TIMES.split(text.strip())) > 1


def read_sides(text: str) -> list[float]:
    """Return the sides of a face or a room in mm; a unit behind the last holds for bare ones too.

    Raises:
        UnitFaultError: for a side that is no length.

    """
    return [read(side, LENGTH) for side in sides_as_written(text)]


def sides_as_written(text: str) -> list[str]:
    """Return the sides that a text names, each with its unit: ``8 in`` and ``5 in`` of 8 x 5 in."""
    written = _TIMES.split(text.strip())
    unit = re.sub(r"^[\d\s./¼-¾⅐-⅞]+", "", written[-1]).strip()
    full = (side if re.search(r"[A-Za-z\"']", side) else f"{side} {unit}" for side in written)
    return [side.strip() for side in full]


def names_of(measure: Measure) -> tuple[str, ...]:
    """Return every name of a unit that ``measure`` may be written in, the longest first."""
    fitting = (name for name in unit_names() if same_kind(name, measure.unit))
    return tuple(sorted(fitting, key=lambda name: (-len(name), name)))


def show(value: float, measure: Measure, unit: str | None = None, *, digits: int = 3) -> str:
    """Return ``value``, kept in the measure's unit, as text in ``unit`` for a person to read.

    ``digits`` is the number of significant digits; trailing zeros are dropped.
    """
    shown = value if unit is None else convert(value, measure, unit)
    return f"{plain_number(shown, digits)} {unit or measure.kept_unit}"


def temperature_unit(text: str) -> str:
    """Return degF for a temperature that is written in it, else degC.

    Raises:
        UnitFaultError: for what is no temperature.

    """
    _, unit = _split(text, _clean(text), TEMPERATURE)[-1]
    return "degF" if is_same(_resolve(unit, text, TEMPERATURE), "degF") else "degC"


def convert(value: float, measure: Measure, unit: str) -> float:
    """Return ``value``, kept in the measure's unit, as a float in ``unit``."""
    if unit == measure.unit:
        return value
    if measure is TEMPERATURE and unit == "degF":
        return value * 1.8 + 32.0
    if (known := unit_table.SHOWN.get((measure.unit, unit))) is not None:
        return value / known
    resolved = _resolve(_clean(unit), unit, measure)
    return _in_other_unit(value, measure.unit, resolved, measure)


def _by_sides(text: str, measure: Measure) -> float:
    sides_m = [side_mm / 1000 for side_mm in read_sides(text)]
    if len(sides_m) != _SIDES[measure]:
        raise UnitFaultError(f"{text!r} is not {measure.noun}", _would_do(measure))
    return math.prod(sides_m)


@lru_cache(maxsize=1024)
def _clean(text: str) -> str:
    plain = "".join(_unfold(character) for character in text.strip())
    for pattern, name in _SPELLINGS:
        plain = re.sub(pattern, name, plain, flags=re.IGNORECASE)
    return plain.strip()


def _unfold(character: str) -> str:
    """Write a one-character fraction such as ½ as ` 1/2`."""
    plain = unicodedata.normalize("NFKD", character)
    is_fraction = unicodedata.category(character) == "No" and "⁄" in plain
    return " " + plain.replace("⁄", "/") if is_fraction else character


def _split(text: str, cleaned: str, measure: Measure) -> list[tuple[float, str]]:
    _refuse_long(cleaned, text, measure)
    if not cleaned or not re.search(r"\d", cleaned):
        raise UnitFaultError(f"{text!r} is not {measure.noun}", _would_do(measure))
    if re.search(r"\d,\d", cleaned):
        raise UnitFaultError(
            f"{text!r} has a comma", "write the decimal sign as a point, thousands without a sign"
        )
    parts, position = [], 0
    while position < len(cleaned):
        match = _PAIR.match(cleaned, position)
        if match is None:
            raise UnitFaultError(f"{text!r} is not {measure.noun}", _would_do(measure))
        number, unit = match.group(1), match.group(2)
        if unit is None:
            raise NoUnitError(f"{text!r} has no unit", _would_do(measure, number))
        parts.append((_to_float(number, text), unit))
        position = match.end()
    return parts


def _refuse_long(read: str, text: str, measure: Measure) -> None:
    if len(read) > _LONGEST_TEXT:
        raise UnitFaultError(f"{text[:20]!r}... is too long for {measure.noun}", _would_do(measure))


def _to_float(number: str, text: str) -> float:
    try:
        whole, _, fraction = number.rpartition(" ")
        if "/" not in fraction:
            return float(number)
        above, below = fraction.split("/")
        sign = -1.0 if number.startswith("-") else 1.0
        return sign * (abs(float(whole or 0)) + abs(float(above)) / float(below))
    except (ValueError, ZeroDivisionError, OverflowError):
        raise UnitFaultError(
            f"{text!r} holds no number that can be used", "write for example 1 1/2"
        ) from None


def _in_kept_unit(number: float, unit: str, text: str, measure: Measure) -> float:
    return _in_other_unit(number, _resolve(unit, text, measure), measure.unit, measure)


def _in_other_unit(value: float, unit: str, other: str, measure: Measure) -> float:
    if measure is TEMPERATURE:  # its scales begin at different points
        return unit_table.convert(value, unit, other)
    return value if unit == other else value * factor(unit, other)


def _resolve(unit: str, text: str, measure: Measure) -> str:
    """Return the unit's name in the registry, by the sense that the measure gives it."""
    unit = re.sub(r"\s+", "", unit)
    if measure.name == "cut" and unit.lower() in ("lb", "lbs", "pound", "pounds"):
        unit = "lb/gal"
    if measure.name == "humidity" and unit == "percent":
        unit = "percent_rh"
    if unit.lower() in ("oz", "ounce", "ounces") and measure.name == "volume":
        raise UnitFaultError(
            f"{text!r}: an ounce is a weight", "write floz for fluid ounces, or weigh it"
        )
    names = [_known_name(part, text, measure) for part in unit.split("/")]
    resolved = "/".join(names)
    if not same_kind(resolved, measure.unit):
        raise ForeignUnitError(f"{text!r} is not {measure.noun}", _would_do(measure))
    return resolved


def _known_name(unit: str, text: str, measure: Measure) -> str:
    for candidate in (unit, unit.lower()):
        if candidate in unit_names():
            return candidate
    near = nearest(unit.lower(), sorted(unit_names()))
    if near:
        raise UnitFaultError(f"{text!r}: no unit {unit!r}", f"did you mean {near!r}?")
    raise UnitFaultError(f"{text!r}: no unit {unit!r}", _would_do(measure))


def _within_range(value: float, text: str, measure: Measure) -> float:
    too_low = value < measure.minimum or (measure.above_minimum and value <= measure.minimum)
    if math.isfinite(value) and not too_low and value <= measure.maximum:
        return value
    # A person who thinks in one scale of warmth does not in the other.
    unit = temperature_unit(text) if measure is TEMPERATURE else None
    low, _, kept = show(measure.minimum, measure, unit).partition(" ")
    floor = f"more than {low}" if measure.above_minimum else f"{low}"
    if math.isfinite(measure.maximum):
        bounds = f"{floor} up to {show(measure.maximum, measure, unit)}"
    else:
        bounds = f"{floor} {kept} or more"
    raise UnitFaultError(f"{text!r} is outside what {measure.noun} can be", f"it may be {bounds}")


def _would_do(measure: Measure, number: str | None = None) -> str:
    examples = measure.examples
    if number is None:
        return f"write for example {either(examples)}"
    return f"write {either(tuple(f'{number} {unit}' for unit in measure.written_in))}"
