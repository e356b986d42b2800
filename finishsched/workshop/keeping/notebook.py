"""A past notebook, kept as a table: each row an entry with the time when it happened.

The first line names the columns, in any order: ``piece``, ``date`` (with the time, or a column
``time`` of its own), ``entry`` (done, ready, not ready, skipped, defect, note), and where there is
one ``step``, ``used``, ``batch``, ``temperature``, ``humidity``, ``by`` and ``text``.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, tzinfo
from itertools import chain
from typing import TextIO, TypeAlias, TypeVar

from finishsched.documents.plain_files import size_words
from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.growing import GrowingFiled
from finishsched.journal.progress import Book, PieceProgress, fold
from finishsched.model.shop import Air
from finishsched.refusals import RefusalError, RefusalsError
from finishsched.workshop.base.entries import ENTRY_NAMES, Entry, What
from finishsched.workshop.base.typed import (
    Amount,
    read_amount,
    read_humidity,
    read_temperature,
)
from finishsched.workshop.base.wall_clock import WallTimeError, read_wall_time
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.ledger import new_event
from finishsched.workshop.standing.reckoning import OneByOne
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find

MOST_ROWS = 20_000
MOST_SIGNS = 32 * 1024**2
"""Of all cells that are read: far more than what so many rows can have to tell."""
INFERRED = "taken from the next coat in the notebook"

_NAMES = {
    **dict.fromkeys(("piece", "part", "object"), "piece"),
    **dict.fromkeys(("date", "day", "when", "date and time"), "date"),
    **dict.fromkeys(("time", "clock"), "time"),
    **dict.fromkeys(("entry", "what", "did", "kind"), "entry"),
    **dict.fromkeys(("step", "number"), "step"),
    **dict.fromkeys(("used", "amount"), "used"),
    **dict.fromkeys(("batch", "jar"), "batch"),
    "temperature": "temperature",
    "humidity": "humidity",
    **dict.fromkeys(("by", "who", "hands"), "by"),
    **dict.fromkeys(("text", "note", "notes", "remark", "remarks"), "text"),
}
_WANTED = ("piece", "date", "entry")
_KINDS = {
    What.DONE: events.StepDone.kind,
    What.READY: events.DryReady.kind,
    What.EARLY: events.WentEarly.kind,
    What.NOT_READY: events.DryNotYet.kind,
    What.SKIPPED: events.StepSkipped.kind,
    What.DEFECT: events.DefectSeen.kind,
    What.NOTE: events.Noted.kind,
    What.START: events.PieceStarted.kind,
}

Value = TypeVar("Value")

Row: TypeAlias = tuple[int, Entry, datetime]
"""The line, the entry, and when it happened."""


class NotebookFaultError(RefusalsError):
    """A notebook that cannot be taken: every fault, with its line."""

    def __init__(self, faults: Sequence[tuple[int, str]]) -> None:
        self.faults = tuple(sorted(faults))
        super().__init__(f"line {line}: {what}" for line, what in self.faults)


@dataclass(frozen=True, slots=True)
class NotebookImport:
    """What came of a notebook."""

    entries: tuple[Event, ...]
    already_there: int


def import_notebook(workshop: Workshop, notebook: str | TextIO, now: datetime) -> NotebookImport:
    """Log every row of a notebook, each at its own time: all of them, or none.

    ``notebook`` is its text, or where it is read from line by line.

    A row that the journal has already is passed over. A piece that was not begun begins with its
    first coat; a wait that no row ends is taken to have been over when the next coat was laid.

    Raises:
        NotebookFaultError: with every fault; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    rows = sorted(read_notebook(notebook, now, workshop.zone), key=lambda row: row[2])
    taker = _Taker(workshop, now)
    with workshop.trying(taker.snapshots):
        written = workshop.append_all(lambda book: taker.take(rows, book), now)
    return NotebookImport(written, taker.already_there)


def read_notebook(notebook: str | TextIO, now: datetime, zone: tzinfo) -> list[Row]:
    """Return the rows of a notebook, read line by line and no further than may be taken.

    Raises:
        NotebookFaultError: with every fault.

    """
    rows, faults = [], []
    for line, named in _cells(io.StringIO(notebook) if isinstance(notebook, str) else notebook):
        reader = _RowReader(named, now, zone)
        entry, at = reader.entry(), reader.at()
        faults += [(line, fault) for fault in reader.faults]
        if entry is not None and at is not None and not reader.faults:
            rows.append((line, replace(entry, at=at), at))
    if faults:
        raise NotebookFaultError(faults)
    return rows


def _cells(lines: TextIO) -> Iterator[tuple[int, dict[str, str]]]:
    """Give each row below the first by the names of its columns; those of no name are let go."""
    header = lines.readline().removeprefix("\ufeff")
    table = csv.reader(chain([header], lines), delimiter=_delimiter(header))
    columns: dict[str, int] | None = None
    signs = count = 0
    try:
        for row in table:
            if not any(row):
                continue
            if columns is None:
                columns = _columns(table.line_num, list(map(str.strip, row)))
                continue
            named = {name: row[at].strip() for name, at in columns.items() if at < len(row)}
            count, signs = count + 1, signs + sum(map(len, named.values()))
            if count >= MOST_ROWS:
                too_many = f"more than {MOST_ROWS} rows; split the file"
                raise NotebookFaultError([(MOST_ROWS, too_many)])
            if signs > MOST_SIGNS:
                too_much = f"more than {size_words(MOST_SIGNS)} of text by here; split the file"
                raise NotebookFaultError([(table.line_num, too_much)])
            yield table.line_num, named
    except csv.Error as error:
        raise NotebookFaultError([(table.line_num, f"no row of a table ({error})")]) from None
    if columns is None:
        raise NotebookFaultError([(1, "there is nothing; write a line that names the columns")])


def _delimiter(header: str) -> str:
    return max((",", ";", "\t"), key=header.count)


def _columns(line: int, header: list[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, cell in enumerate(header):
        name = _NAMES.get(" ".join(cell.lower().split()))
        if name is not None:
            found.setdefault(name, at)
    missing = [name for name in _WANTED if name not in found]
    if missing:
        fault = (
            f"no column {' and none '.join(map(repr, missing))}; the first line names the "
            "columns: piece, date, entry, and perhaps time, step, used, batch, temperature, "
            "humidity, by, text"
        )
        raise NotebookFaultError([(line, fault)])
    return found


class _RowReader:
    """Reads the cells of one row, and keeps what is wrong with them."""

    def __init__(self, cells: dict[str, str], now: datetime, zone: tzinfo) -> None:
        self._cells = cells
        self._now = now
        self._zone = zone
        self.faults: list[str] = []

    def entry(self) -> Entry | None:
        what = ENTRY_NAMES.get(" ".join(self._cell("entry").lower().split()))
        if what is None or what not in _KINDS:
            names = "done, ready, not ready, skipped, defect or note"
            self.faults.append(f"entry: {self._cell('entry')!r:.40}; write {names}")
            return None
        if not self._cell("piece"):
            self.faults.append("piece: none; write job/piece")
        amount_ml, amount_g = self._used()
        return Entry(
            what=what,
            piece=self._cell("piece"),
            step=self._cell("step") or None,
            text=one_line(self._cell("text")),
            by=self._cell("by"),
            batch=self._cell("batch"),
            amount_ml=amount_ml,
            amount_g=amount_g,
            air=self._air(),
        )

    def at(self) -> datetime | None:
        day, clock = self._cell("date"), self._cell("time")
        try:
            if not clock and (found := _bare_day(day)):
                return datetime.combine(found, time(), self._zone).astimezone(self._now.tzinfo)
            return read_wall_time(f"{day} {clock}".strip(), self._now, self._zone)
        except WallTimeError as error:
            self.faults.append(f"date: {error}")
            return None

    def _cell(self, name: str) -> str:
        return self._cells.get(name, "")

    def _used(self) -> tuple[float | None, float | None]:
        amount = self._take("used", read_amount) or Amount()
        return amount.volume_ml, amount.mass_g

    def _air(self) -> Air | None:
        temperature_c = self._take("temperature", read_temperature)
        humidity_percent = self._take("humidity", read_humidity)
        if temperature_c is None or humidity_percent is None:
            return None
        return Air(temperature_c, humidity_percent)

    def _take(self, name: str, reader: Callable[[str], Value]) -> Value | None:
        """Return what ``reader`` makes of a cell; None for an empty one, or what it refuses."""
        text = self._cell(name)
        if not text:
            return None
        try:
            return reader(text)
        except RefusalError as refusal:
            self.faults.append(f"{name}: {refusal}")
            return None


def _bare_day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


class _Taker:
    """Makes the entries of the rows, each judged by the book as the ones before left it."""

    def __init__(self, workshop: Workshop, now: datetime) -> None:
        self._workshop = workshop
        self._now = now
        self._new: list[NewEvent] = []
        self._faults: list[tuple[int, str]] = []
        self._one = OneByOne(workshop.papers, workshop.text_of)
        self._refs: dict[str, str] = {}
        self.already_there = 0
        self.snapshots: dict[str, str] = {}

    def take(self, rows: Sequence[Row], book: Book) -> list[NewEvent]:
        known = Counter(_known(book))
        before, book = book, replace(book, filed=GrowingFiled(book.filed))
        for line, entry, at in rows:
            try:
                ref = self._ref(entry.piece, before)
                mark = ref, at, _KINDS[entry.what], entry.text
                if known[mark] > 0:
                    # Several rows of one day may be alike, where no time was written.
                    known[mark] -= 1
                    self.already_there += 1
                    continue
                for part in self._parts(entry, book):
                    book = self._add(part, book)
            except RefusalError as error:
                self._faults.append((line, str(error)))
        if self._faults:
            raise NotebookFaultError(self._faults)
        return self._new

    def _ref(self, name: str, before: Book) -> str:
        """Return the piece that is meant; no row makes a piece that was not there ``before``."""
        if name not in self._refs:
            self._refs[name] = find(self._workshop, name, before).ref
        return self._refs[name]

    def _standing(self, name: str, book: Book) -> Standing:
        ref = self._refs[name]
        return self._one.standing(ref, book) or find(self._workshop, ref, book)

    def _parts(self, entry: Entry, book: Book) -> Iterator[Entry]:
        """Give what the row means: before a coat, the beginning or the end of a wait."""
        progress = self._standing(entry.piece, book).progress
        if _begun_by_itself(entry, progress):
            return
        if entry.what not in (What.NOTE, What.START) and progress is None:
            yield Entry(What.START, entry.piece, at=entry.at, by=entry.by)
        elif entry.what is What.DONE and progress is not None and progress.waiting:
            yield Entry(What.READY, entry.piece, at=entry.at, by=entry.by, text=INFERRED)
        yield entry

    def _add(self, entry: Entry, book: Book) -> Book:
        standing = self._standing(entry.piece, book)
        written = self._workshop.papers.schedule_of(standing.piece)
        new = new_event(entry, standing, written, book, self._now)
        seq = book.last_seq + 1
        self._new.append(new)
        self.snapshots.update(new.snapshots)
        return fold(book, [Event(seq, f"new-{seq}", new.at, self._now, new.piece, new.what)])


def _begun_by_itself(entry: Entry, progress: PieceProgress | None) -> bool:
    """Tell whether a row says that a rest began, which it does without anybody's saying so."""
    if entry.what is not What.DONE or progress is None or not progress.rests_by_itself:
        return False
    rest = progress.current
    return rest is not None and entry.step in (str(rest.number), rest.key)


def _known(book: Book) -> Iterator[tuple[str, datetime, str, str]]:
    for piece in book.pieces:
        for event in book.live(piece):
            text = getattr(event.what, "note", "") or getattr(event.what, "text", "")
            text = text or getattr(event.what, "reason", "")
            yield piece, event.at, event.what.kind, text
