"""The cells of a hygrometer's file: how a line falls into them, and what a figure in one means."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache, lru_cache

from finishsched.refusals import RefusalError
from finishsched.units import TEMPERATURE, convert, plain_number

LONGEST_LINE = 10_000
"""Characters; a longer line is no row of readings."""

_LONGEST_CELL = 40
_NUMBER = re.compile(
    r"([+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,2})?)\s*(\S.*)?"
)
_UNITS = {
    **dict.fromkeys(("c", "celsius", "centigrade", "degc", "degcelsius", "gradc"), "degC"),
    **dict.fromkeys(("f", "fahrenheit", "degf", "degfahrenheit"), "degF"),
    **dict.fromkeys(("k", "kelvin", "degk"), "K"),
    **dict.fromkeys(("%", "%rh", "rh%", "%rf", "%hr", "%ur", "percent", "pct", "prozent"), "%"),
}


class HygrometerFaultError(RefusalError, ValueError):
    """A file of readings that cannot be taken as it is: what is wrong, and what would be right."""


class CellError(ValueError):
    """One cell that cannot be read; its text is the reason, for the row to be skipped."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number in a cell, and the unit that stood behind it: degC, degF, K, % or none."""

    value: float
    unit: str | None


@dataclass(frozen=True, slots=True)
class Scale:
    """How a column's figures become what is kept; straight lines only."""

    zero: float
    """The figure that stands for nought of the kept unit."""
    size: float
    """How much of the kept unit one step of the column is."""

    def __call__(self, value: float) -> float:
        """Return ``value`` in the kept unit; to 0.0001, which hides what binary fractions add."""
        return round((value - self.zero) * self.size, 4)


@dataclass(frozen=True, slots=True)
class Kind:
    """What a column of figures is of, and what it can be."""

    name: str
    unit: str
    minimum: float
    maximum: float


AIR_TEMPERATURE = Kind("temperature", "degC", -40.0, 60.0)
"""Where the air of a workshop can be: the usual range of hygrometers (our assumption)."""
AIR_HUMIDITY = Kind("humidity", "%", 0.0, 100.0)


@cache
def scale_of(unit: str) -> Scale:
    """Return the scale of ``unit``: degC, degF, K, % or ``share`` for 0 to 1."""
    if unit in ("degC", "%"):
        return Scale(0.0, 1.0)
    if unit == "share":
        return Scale(0.0, 100.0)
    zero, hundred = (convert(celsius, TEMPERATURE, unit) for celsius in (0.0, 100.0))
    return Scale(zero, 100.0 / (hundred - zero))


def split_line(line: str, delimiter: str) -> list[str]:
    """Return the cells of ``line`` without quotes and the spaces around them."""
    if '"' not in line:
        return [cell.strip() for cell in line.split(delimiter)]
    try:
        rows = csv.reader([line], delimiter=delimiter, skipinitialspace=True)
        return [cell.strip() for cell in next(rows)]
    except (csv.Error, StopIteration):
        return [cell.strip() for cell in line.split(delimiter)]


def figure(cell: str) -> Figure | None:
    """Return the number in ``cell``, its decimal sign a point or a comma; None when it is none."""
    match = _NUMBER.fullmatch(cell.replace("−", "-")) if len(cell) <= _LONGEST_CELL else None
    if match is None:
        return None
    unit = unit_named(match[2]) if match[2] else None
    if match[2] and unit is None:
        return None
    return Figure(float(match[1].replace(",", ".")), unit)


def unit_named(text: str) -> str | None:
    """Return the unit that ``text`` is: degC, degF, K or %; None when it is none of them."""
    if any(letter.isdigit() for letter in text):
        return None
    return _UNITS.get(re.sub(r"[^a-z%]", "", text.replace("℃", "C").replace("℉", "F").lower()))


@lru_cache(maxsize=4096)
def value_of(cell: str, kind: Kind, scale: Scale) -> float:
    """Return the cell's figure in the kind's unit, by the unit in the cell or else by ``scale``.

    Remembered, because the air of one room says the same few things a hundred thousand times.

    Raises:
        CellError: when there is none, or it is outside what the kind can be.

    """
    found = figure(cell)
    if found is None:
        raise CellError(f"{quoted(cell)} is no {kind.name}" if cell else f"no {kind.name}")
    value = (scale_of(found.unit) if _belongs(found.unit, kind) else scale)(found.value)
    if not kind.minimum <= value <= kind.maximum:
        turned = "" if value == found.value else f"{plain_number(value)} {kind.unit}, "
        raise CellError(
            f"{kind.name} {quoted(cell)} is {turned}outside "
            f"{plain_number(kind.minimum)} to {plain_number(kind.maximum)} {kind.unit}"
        )
    return value


def quoted(cell: str) -> str:
    """Return ``cell`` in quotes, cut to a length that a line can carry."""
    return repr(cell if len(cell) <= _LONGEST_CELL else f"{cell[:30]}...")


def _belongs(unit: str | None, kind: Kind) -> bool:
    if unit is None:
        return False
    if (unit == "%") != (kind is AIR_HUMIDITY):
        raise CellError(f"a figure in {unit} is no {kind.name}")
    return True
