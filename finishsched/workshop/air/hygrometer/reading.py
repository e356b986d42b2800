"""Read a hygrometer's file, whole or as it grows, into readings and the rows that are none."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, tzinfo

from finishsched.workshop.air.hygrometer.cells import CellError, HygrometerFaultError
from finishsched.workshop.air.hygrometer.finding import find_layout
from finishsched.workshop.air.hygrometer.layout import Layout
from finishsched.workshop.air.hygrometer.times import ClockStep, Order, instants_of

LARGEST_FILE_BYTES = 50_000_000
"""A reading every minute for two years is less."""

_LINE_END = re.compile(r"\r\n|\n|\r")
_NO_TEXT = re.compile(r"[\x00-\x08\x0e-\x19\x1b-\x1f]")
_LOOKED_AT = 512
"""Characters at the beginning; further down, damage costs only the rows that it hit."""


@dataclass(frozen=True, slots=True)
class Reading:
    """The air at an instant, and the line that says so."""

    line: int
    at: datetime
    temperature_c: float
    humidity_percent: float


@dataclass(frozen=True, slots=True)
class SkippedRow:
    """A row that is no reading, and why."""

    line: int
    reason: str


@dataclass(frozen=True, slots=True)
class HygrometerLog:
    """What was read of one file."""

    name: str
    readings: tuple[Reading, ...] = ()
    """In the order of the lines."""
    skipped: tuple[SkippedRow, ...] = ()
    clock_steps: tuple[ClockStep, ...] = ()


@dataclass(slots=True)
class HygrometerReader:
    """Reads the lines of one file as they come; what it learns of the layout, it keeps."""

    name: str
    zone: tzinfo
    """The zone of times that do not name theirs."""
    dates: Order | None = None
    """What a person says of the order of days and months."""
    _layout: Layout | None = None
    _read_lines: int = 0
    _waiting: list[tuple[int, str]] = field(default_factory=list)
    _last: datetime | None = None

    def feed(self, text: str, now: datetime) -> HygrometerLog:
        """Return the readings in ``text``, which is whole lines that follow those fed before.

        Raises:
            HygrometerFaultError: when its layout cannot be made out.

        """
        lines = _LINE_END.split(text.removeprefix("\ufeff"))
        if lines[-1] == "":
            lines.pop()
        # Only spaces go: a tab in front of a row is a cell that is empty.
        numbered = enumerate((line.strip(" ") for line in lines), self._read_lines + 1)
        self._waiting += [(number, line) for number, line in numbered if line.strip()]
        self._read_lines += len(lines)
        if self._layout is None and self._waiting:
            self._layout = find_layout(self._waiting, self.name, self.dates)
        if self._layout is None:
            return HygrometerLog(self.name)
        rows, self._waiting = self._waiting, []
        return self._read(self._layout, rows, now)

    def _read(
        self, layout: Layout, lines: Sequence[tuple[int, str]], now: datetime
    ) -> HygrometerLog:
        rows: list[tuple[int, list[str]]] = []
        skipped: list[SkippedRow] = []
        times: list[tuple[int, datetime]] = []
        for number, line in lines:
            if not layout.is_row(number, line):
                continue
            try:
                cells = layout.cells_of(line)
                times.append((number, layout.time_of(cells)))
                rows.append((number, cells))
            except CellError as error:
                skipped.append(SkippedRow(number, str(error)))
        instants, steps, self._last = instants_of(times, self.zone, self._last, now)
        found = list(_readings(layout, rows, instants))
        skipped += [row for row in found if isinstance(row, SkippedRow)]
        return HygrometerLog(
            self.name,
            tuple(row for row in found if isinstance(row, Reading)),
            tuple(sorted(skipped, key=lambda row: row.line)),
            steps,
        )


def read_hygrometer(
    text: str, name: str, zone: tzinfo, now: datetime, dates: Order | None = None
) -> HygrometerLog:
    """Return every reading in the whole ``text`` of a file called ``name``, and every bad row.

    Times without an offset are those of the wall clock in ``zone``; ``dates`` settles the order
    of days and months where the file leaves it open. Temperatures of -40 to 60 degC and humidity
    of 0 to 100 % are taken.

    Raises:
        HygrometerFaultError: when it is too large or no text, or its layout cannot be made out.

    """
    _refuse_binary(text, name)
    return HygrometerReader(name, zone, dates).feed(text, now)


def decode(data: bytes, name: str) -> str:
    """Return the text of a file: UTF-8, UTF-16 with its mark, or else Western European.

    A character that is only half written at the end is left out.

    Raises:
        HygrometerFaultError: when it is too large, or no text.

    """
    refuse_large(len(data), name)
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        text = codecs.getincrementaldecoder("utf-16")("replace").decode(data)
    else:
        try:
            text = codecs.getincrementaldecoder("utf-8-sig")().decode(data)
        except UnicodeDecodeError:
            text = data.decode("cp1252", "replace")
    _refuse_binary(text, name)
    return text


def refuse_large(size_bytes: int, name: str) -> None:
    """Refuse a file that is larger than any log of readings.

    Raises:
        HygrometerFaultError: when it is.

    """
    if size_bytes > LARGEST_FILE_BYTES:
        raise HygrometerFaultError(
            f"{name}: {size_bytes / 1e6:.0f} MB is too large for a file of readings",
            f"split it into files of at most {LARGEST_FILE_BYTES / 1e6:.0f} MB",
        )


def _refuse_binary(text: str, name: str) -> None:
    """Refuse what begins with other things than text.

    Raises:
        HygrometerFaultError: when it does.

    """
    refuse_large(len(text), name)
    if _NO_TEXT.search(text, 0, _LOOKED_AT):
        raise HygrometerFaultError(
            f"{name}: this is no text", "save the readings as CSV, and import that"
        )


def _readings(
    layout: Layout,
    rows: Sequence[tuple[int, list[str]]],
    instants: dict[int, datetime | CellError],
) -> Iterator[Reading | SkippedRow]:
    for number, cells in rows:
        instant = instants[number]
        try:
            temperature_c, humidity_percent = layout.air_of(cells)
        except CellError as error:
            faults = f"{instant}, {error}" if isinstance(instant, CellError) else str(error)
            yield SkippedRow(number, faults)
            continue
        if isinstance(instant, CellError):
            yield SkippedRow(number, str(instant))
        else:
            yield Reading(number, instant, temperature_c, humidity_percent)
