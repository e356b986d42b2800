"""Find out how a hygrometer's file is laid out, by its header or else by what its cells hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence

from finishsched.workshop.air.hygrometer.cells import (
    LONGEST_LINE,
    HygrometerFaultError,
    figure,
    scale_of,
    split_line,
)
from finishsched.workshop.air.hygrometer.header import Head, header_in, missing_in, units_row
from finishsched.workshop.air.hygrometer.layout import DELIMITERS, Columns, Layout, Lines, is_remark
from finishsched.workshop.air.hygrometer.scales import (
    humidity_scale,
    middle_of,
    temperature_scale,
    ways_to_read,
)
from finishsched.workshop.air.hygrometer.times import (
    Order,
    is_clock,
    is_day,
    is_time,
    offset_in,
    order_of,
)

_SAMPLE = 1000
"""Rows that are looked at for units; for the order of dates it is all of them."""

_ALIKE = 0.9
"""The share of a column's cells that must be of one kind for the column to be of it."""

_REMEDY = "write a first line such as: time,temperature C,humidity %"


def find_layout(lines: Lines, name: str, dates: Order | None) -> Layout | None:
    """Return the layout of a file; None while it has a header but no row yet.

    ``dates`` is what a person says of the order of days and months.

    Raises:
        HygrometerFaultError: when it has none of ours, or could have several.

    """
    head = header_in(lines, name)
    return _with_header(lines, head, name, dates) if head else _without(lines, name, dates)


def _with_header(lines: Lines, head: Head, name: str, dates: Order | None) -> Layout | None:
    rows = lines[head.position + 1 :]
    units = units_row(head, rows)
    rows = rows[1:] if units else rows
    sample = [split_line(row, head.delimiter) for _, row in rows[:_SAMPLE] if not is_remark(row)]
    if not sample:
        return None
    labels = [" ".join(pair) for pair in zip(head.cells, units or head.no_units, strict=False)]
    return Layout(
        delimiter=head.delimiter,
        columns=head.columns,
        width=len(head.cells),
        header=lines[head.position][1],
        begins=rows[0][0],
        temperature=temperature_scale(labels, head.columns.temperature, sample, name),
        humidity=humidity_scale(labels, head.columns.humidity, sample, name),
        order=dates or order_of(_times_in(rows, head.delimiter, head.columns), name),
        offset=next(filter(None, (offset_in(labels[c]) for c in head.columns.time)), None),
    )


def _times_in(lines: Lines, delimiter: str, columns: Columns) -> Iterator[tuple[int, str]]:
    for number, line in lines:
        cells = split_line(line, delimiter) if len(line) <= LONGEST_LINE else ()
        if len(cells) > columns.last:
            yield number, columns.time_in(cells)


def _without(lines: Lines, name: str, dates: Order | None) -> Layout:
    """Return the layout of a file without a header, where its cells can be only one thing."""
    usable = [(n, line) for n, line in lines if len(line) <= LONGEST_LINE and not is_remark(line)]
    for delimiter in DELIMITERS:
        rows = [split_line(line, delimiter) for _, line in usable[:_SAMPLE]]
        width = Counter(map(len, rows)).most_common(1)[0][0] if rows else 0
        rows = [row for row in rows if len(row) == width]
        times = _times_by_content(rows) if width >= 3 else ()
        if times:
            return _by_content(usable, delimiter, rows, times, (name, dates))
    missing = missing_in(lines)
    what = f"line {missing[0]} names no {missing[1]}" if missing else "its columns have no names"
    raise HygrometerFaultError(f"{name}: no readings are to be found, {what}", _REMEDY)


def _by_content(
    lines: Lines,
    delimiter: str,
    rows: Sequence[Sequence[str]],
    times: tuple[int, ...],
    asked: tuple[str, Order | None],
) -> Layout:
    name, dates = asked
    temperature, humidity, units = _figures_by_content(rows, times, name)
    columns = Columns(times, temperature, humidity)
    return Layout(
        delimiter=delimiter,
        columns=columns,
        width=len(rows[0]),
        header="",
        begins=lines[0][0],
        temperature=scale_of(units[0]),
        humidity=scale_of(units[1]),
        order=dates or order_of(_times_in(lines, delimiter, columns), name),
        offset=None,
    )


def _times_by_content(rows: Sequence[Sequence[str]]) -> tuple[int, ...]:
    times = _columns_of(rows, is_time)
    if times:
        return (times[0],)
    days = _columns_of(rows, is_day)
    clocks = _columns_of(rows, is_clock)
    return (days[0], clocks[0]) if days and clocks else ()


def _columns_of(rows: Sequence[Sequence[str]], fits: Callable[[str], bool]) -> list[int]:
    """Return the columns of which most cells fit."""
    cells = list(zip(*rows, strict=False))
    return [number for number, column in enumerate(cells) if _most(map(fits, column))]


def _figures_by_content(
    rows: Sequence[Sequence[str]], times: tuple[int, ...], name: str
) -> tuple[int, int, tuple[str, str]]:
    """Return the columns of temperature and humidity, and their units."""
    numbered = _columns_of(rows, lambda cell: figure(cell) is not None)
    columns = [column for column in numbered if column not in times]
    humid = [column for column in columns if _units_in(rows, column) == {"%"}]
    warm = [column for column in columns if _units_in(rows, column) & {"degC", "degF", "K"}]
    if len(humid) == len(warm) == 1:
        return warm[0], humid[0], ("degC", "%")
    found = _only_pair(rows, columns) if len(columns) == 2 else None
    if found is None:
        raise HygrometerFaultError(
            f"{name}: without a header it is not plain which column is the temperature "
            "and which the humidity",
            _REMEDY,
        )
    return found


def _only_pair(
    rows: Sequence[Sequence[str]], columns: Sequence[int]
) -> tuple[int, int, tuple[str, str]] | None:
    """Return which of two columns is which, when just one way round makes air of a workshop."""
    ways = [
        (warm, humid, units)
        for warm, humid in (columns, columns[::-1])
        for units in ways_to_read(middle_of(rows, warm), middle_of(rows, humid))
    ]
    return ways[0] if len(ways) == 1 else None


def _units_in(rows: Sequence[Sequence[str]], column: int) -> set[str | None]:
    found = (figure(row[column]) for row in rows)
    return {one.unit for one in found if one is not None}


def _most(answers: Iterable[bool]) -> bool:
    said = list(answers)
    return sum(said) >= _ALIKE * len(said)
