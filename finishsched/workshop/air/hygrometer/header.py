"""The header of a hygrometer's file: where it is, and which columns it names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finishsched.workshop.air.hygrometer.cells import (
    LONGEST_LINE,
    HygrometerFaultError,
    quoted,
    split_line,
    unit_named,
)
from finishsched.workshop.air.hygrometer.layout import DELIMITERS, Columns, Lines
from finishsched.workshop.air.hygrometer.names import Role, role_of, temperature_unit
from finishsched.workshop.air.hygrometer.times import is_time, offset_in

HEADER_WITHIN = 200
"""Lines; a header further down is not looked for."""


@dataclass(frozen=True, slots=True)
class Head:
    """A header as found."""

    position: int
    delimiter: str
    cells: list[str]
    columns: Columns

    @property
    def no_units(self) -> list[str]:
        """An empty cell for each of the header's."""
        return [""] * len(self.cells)


def header_in(lines: Lines, name: str) -> Head | None:
    """Return the first line that names a time, a temperature and a humidity; None without one.

    Raises:
        HygrometerFaultError: when several of its columns could be the one that is wanted.

    """
    for position, (number, line) in enumerate(lines[:HEADER_WITHIN]):
        heads, faults = _heads_in(position, line, f"{name}: line {number}")
        if heads:
            following = lines[position + 1 : position + 20]
            return max(heads, key=lambda head: _rows_that_fit(head, following))
        if faults:
            raise faults[0]
    return None


def _heads_in(
    position: int, line: str, where: str
) -> tuple[list[Head], list[HygrometerFaultError]]:
    """Return what a line could be as a header, by each delimiter in turn."""
    heads, faults = [], []
    for delimiter in DELIMITERS if len(line) <= LONGEST_LINE else ():
        cells = split_line(line.lstrip("#/ "), delimiter)
        try:
            columns = _columns_named(cells, where)
        except HygrometerFaultError as fault:
            faults.append(fault)
            continue
        if columns is not None:
            heads.append(Head(position, delimiter, cells, columns))
    return heads, faults


def _rows_that_fit(head: Head, lines: Lines) -> int:
    rows = (split_line(line, head.delimiter) for _, line in lines)
    return sum(len(row) > head.columns.last and is_time(head.columns.time_in(row)) for row in rows)


def _columns_named(cells: Sequence[str], where: str) -> Columns | None:
    """Return the columns of a header; None when ``cells`` is none.

    Raises:
        HygrometerFaultError: when several columns could be the one that is wanted.

    """
    roles: dict[Role, list[int]] = {role: [] for role in Role}
    for column, cell in enumerate(cells):
        if len(cell) <= 80 and (role := role_of(cell)) is not None:
            roles[role].append(column)
    times = roles[Role.STAMP] or roles[Role.DATE] or roles[Role.CLOCK]
    temperatures = roles[Role.TEMPERATURE]
    if not (times and temperatures and roles[Role.HUMIDITY]):
        return None
    in_celsius = [c for c in temperatures if temperature_unit(cells[c]) == "degC"]
    if len(in_celsius) == 1 and _the_same_twice(temperatures, cells):
        temperatures = in_celsius
    return Columns(
        _time_columns(roles, cells, where),
        _only(temperatures, cells, Role.TEMPERATURE, where),
        _only(roles[Role.HUMIDITY], cells, Role.HUMIDITY, where),
    )


def _the_same_twice(columns: Sequence[int], cells: Sequence[str]) -> bool:
    """Tell whether columns differ by their units alone, so that any of them will do."""
    return len({temperature_unit(cells[column]) for column in columns} - {None}) == len(columns)


def _time_columns(
    roles: dict[Role, list[int]], cells: Sequence[str], where: str
) -> tuple[int, ...]:
    stamps = roles[Role.STAMP]
    if stamps:
        with_zone = [column for column in stamps if offset_in(cells[column]) is not None]
        return (_only(with_zone or stamps, cells, Role.STAMP, where),)
    found = [role for role in (Role.DATE, Role.CLOCK) if roles[role]]
    return tuple(_only(roles[role], cells, role, where) for role in found)


def _only(columns: Sequence[int], cells: Sequence[str], role: Role, where: str) -> int:
    if len(columns) == 1:
        return columns[0]
    names = " and ".join(quoted(cells[column]) for column in columns[:4])
    raise HygrometerFaultError(
        f"{where}: more than one column for the {role.value}, {names}",
        "rename those that are not the shop's air",
    )


def units_row(head: Head, following: Lines) -> list[str] | None:
    """Return the cells of a second line of the header, which holds nothing but units."""
    if not following:
        return None
    cells = split_line(following[0][1].lstrip("#/ "), head.delimiter)
    wanted = (head.columns.temperature, head.columns.humidity)
    if len(cells) <= max(wanted) or not all(
        unit_named(cells[column].strip("[]() ")) for column in wanted
    ):
        return None
    return [*cells, *head.no_units]


def missing_in(lines: Lines) -> tuple[int, str] | None:
    """Return the line that names two of time, temperature and humidity, and the one it does not."""
    for number, line in lines[:HEADER_WITHIN]:
        for delimiter in DELIMITERS if len(line) <= LONGEST_LINE else ():
            roles = {role_of(cell) for cell in split_line(line.lstrip("#/ "), delimiter)}
            wanted = {
                "time": roles & {Role.STAMP, Role.DATE, Role.CLOCK},
                "temperature": roles & {Role.TEMPERATURE},
                "humidity": roles & {Role.HUMIDITY},
            }
            missing = [name for name, found in wanted.items() if not found]
            if len(missing) == 1:
                return number, missing[0]
    return None
