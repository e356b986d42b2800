"""How a hygrometer's file is laid out, and how a row is read by it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from finishsched.workshop.air.hygrometer.cells import (
    AIR_HUMIDITY,
    AIR_TEMPERATURE,
    LONGEST_LINE,
    CellError,
    Kind,
    Scale,
    split_line,
    value_of,
)
from finishsched.workshop.air.hygrometer.times import Order, read_time

DELIMITERS = (",", ";", "\t", "|")

Lines = Sequence[tuple[int, str]]
"""Lines that are not blank, with their numbers in the file."""


@dataclass(frozen=True, slots=True)
class Columns:
    """Which columns are wanted, from 0. ``time`` is one column, or a date's and a clock's."""

    time: tuple[int, ...]
    temperature: int
    humidity: int

    def time_in(self, cells: Sequence[str]) -> str:
        """Return the text of a row's time."""
        if len(self.time) == 1:
            return cells[self.time[0]]
        return " ".join(cells[column] for column in self.time)

    @property
    def last(self) -> int:
        """The right-most column that is wanted."""
        return max(*self.time, self.temperature, self.humidity)


@dataclass(frozen=True, slots=True)
class Layout:
    """Everything that must be known to read a row."""

    delimiter: str
    columns: Columns
    width: int
    """How many cells the header has."""
    header: str
    """The header's line; empty where there is none."""
    begins: int
    """The number of the first line that may be a row."""
    temperature: Scale
    humidity: Scale
    order: Order | None
    offset: tzinfo | None
    """What the header says of the zone."""

    def is_row(self, number: int, line: str) -> bool:
        """Tell whether a line is meant as a row: no remark, and not the header once more."""
        return number >= self.begins and not is_remark(line) and line != self.header

    def time_of(self, cells: Sequence[str]) -> datetime:
        """Return the row's time, aware where the row or the header says its offset.

        Raises:
            CellError: when there is none.

        """
        said = read_time(self.columns.time_in(cells), self.order)
        return said.replace(tzinfo=self.offset) if self.offset and not said.tzinfo else said

    def air_of(self, cells: Sequence[str]) -> tuple[float, float]:
        """Return the temperature in degC and the humidity in percent.

        Raises:
            CellError: naming whatever is wrong with either.

        """
        temperature, humidity = cells[self.columns.temperature], cells[self.columns.humidity]
        try:
            return (
                value_of(temperature, AIR_TEMPERATURE, self.temperature),
                value_of(humidity, AIR_HUMIDITY, self.humidity),
            )
        except CellError:
            faults = (
                _fault_in(temperature, AIR_TEMPERATURE, self.temperature),
                _fault_in(humidity, AIR_HUMIDITY, self.humidity),
            )
            raise CellError(", ".join(filter(None, faults))) from None

    def cells_of(self, line: str) -> list[str]:
        """Return the cells of a row.

        Raises:
            CellError: when they are too many or too few to know which is which.

        """
        if len(line) > LONGEST_LINE:
            raise CellError(f"a line of {len(line)} characters")
        cells = split_line(line, self.delimiter)
        if any(cells[self.width :]):
            raise CellError(
                f"{len(cells)} cells where {self.width} are wanted; a decimal comma in a file "
                "with commas between its cells needs quotes"
            )
        if len(cells) < self.width and len(cells) <= self.columns.last:
            raise CellError(f"{len(cells)} cells where {self.width} are wanted")
        return cells


def is_remark(line: str) -> bool:
    """Tell whether a line is a remark between rows."""
    return line.startswith(("#", "//"))


def _fault_in(cell: str, kind: Kind, scale: Scale) -> str:
    try:
        value_of(cell, kind, scale)
    except CellError as error:
        return str(error)
    return ""
