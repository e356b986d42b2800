"""The readings of the air as bare figures, in a table of their own beside the entries.

A shop with a logger has a hundred readings for each entry of any other kind. They are entries like
all others; the table only repeats their figures, so that no command need read their text. It is
filled in the same transaction as the entries, and can be made anew from them at any time.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, datetime
from typing import Any, NamedTuple, Protocol, TypeAlias, TypeVar

from finishsched.journal.compared import differing
from finishsched.journal.events import AirRead, Event, StepDone, from_row
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.told_air import AirFigures, AirReading, ToldAir
from finishsched.model.shop import Air

SCHEMA = (
    """
    -- The figures of every reading of the air, undone ones too, made of the entries alone.
    CREATE TABLE air (
        seq INTEGER PRIMARY KEY,   -- of the entry that tells the reading
        at_s REAL NOT NULL,        -- when it was read, in seconds since 1970 in UTC
        temperature_c REAL NOT NULL,
        humidity_percent REAL NOT NULL,
        movement_m_per_s REAL NOT NULL,
        surface_c REAL             -- of the floor or the work, where it was read too
    ) STRICT
    """,
)

AirRow: TypeAlias = tuple[int, float, float, float, float, float | None]
"""A reading as the table holds it, in the order of its columns."""

_Told = TypeVar("_Told")

_FIGURES = "at_s, temperature_c, humidity_percent, movement_m_per_s"
_BATCH = 500
_EVER = float("-inf")


def add_rows(db: sqlite3.Connection, events: Iterable[Event]) -> None:
    """Put the readings that ``events`` tell into the table."""
    db.executemany("INSERT INTO air VALUES (?, ?, ?, ?, ?, ?)", _rows(events))


def fill(db: sqlite3.Connection) -> None:
    """Make the table anew from the entries; one that cannot be read has no row."""
    db.execute("DELETE FROM air")
    add_rows(db, _readable(db))


def find_stale(db: sqlite3.Connection, first_seq: int = 1) -> Iterator[str]:
    """Give in words how the table, from an entry on, is not what the entries say."""
    held = db.execute("SELECT * FROM air WHERE seq >= ? ORDER BY seq", (first_seq,))
    count = differing(_rows(_readable(db, first_seq)), held)
    if count:
        yield f"the table of the air differs from the entries in {count} rows"


class Asked(Protocol):
    """What answers in rows."""

    def ask(self, query: str, given: Sequence[int | float | str | None] = ()) -> list[Any]:
        """Return the rows that ``query`` finds."""
        ...

    def asked(
        self,
        read: Callable[[Any], _Told],
        query: str,
        given: Sequence[int | float | str | None] = (),
    ) -> list[_Told]:
        """Return what ``read`` makes of each row that ``query`` finds."""
        ...


class StoredAir(ToldAir):
    """The readings up to one entry, read from the table when they are asked for."""

    def __init__(self, source: Asked, last_seq: int, undone: frozenset[str]) -> None:
        self._source = source
        self._last_seq = last_seq
        self._undone_ids = undone
        self._undone: frozenset[int] | None = None

    @property
    def undone(self) -> frozenset[int]:
        """The numbers of the readings that do not count."""
        if self._undone is None:
            self._undone = frozenset(self._find_undone())
        return self._undone

    def figures(self, after_seq: int = 0, since_s: float = _EVER) -> list[AirFigures]:
        """Return the readings told after an entry, in the order of time; none that is no air.

        Only those read at ``since_s`` or later, in seconds since 1970.
        """
        query = (
            f"SELECT {_FIGURES} FROM air WHERE seq > ? AND seq <= ? AND at_s >= ?"  # noqa: S608  # constants
            " AND temperature_c BETWEEN -40 AND 60 AND humidity_percent BETWEEN 0 AND 100"
            f" AND movement_m_per_s BETWEEN 0 AND 100{self._but_undone}"
        )
        return sorted(self._source.ask(query, (after_seq, self._last_seq, since_s)))

    def last(self) -> AirReading | None:
        """Return the latest reading by its time."""
        return next(iter(self._readings("ORDER BY at_s DESC, seq DESC LIMIT 1")), None)

    def last_written(self) -> AirReading | None:
        """Return the latest reading by the order of writing, none of those of a coat."""
        return next(iter(self._readings("AND kind = 'air' ORDER BY seq DESC LIMIT 1")), None)

    def last_surface(self) -> tuple[datetime, float] | None:
        """Return when and how warm floor or work were last read."""
        query = (
            "SELECT at_s, surface_c FROM air WHERE surface_c IS NOT NULL AND seq <= ?"  # noqa: S608  # figures
            f"{self._but_undone} ORDER BY at_s DESC, seq DESC LIMIT 1"
        )
        found = self._source.asked(_warmth, query, (self._last_seq,))
        return found[0] if found else None

    def every(self) -> tuple[AirReading, ...]:
        """Return every reading in the order of time."""
        return tuple(self._readings("ORDER BY at_s, seq"))

    def told_between(
        self, first: datetime, last: datetime
    ) -> list[tuple[float, float, float, str]]:
        """Return instant, temperature, humidity and source of readings, undone ones too."""
        query = (
            "SELECT at_s, temperature_c, humidity_percent,"
            " iif(kind = 'air', coalesce(json_extract(body, '$.source'), ''), '')"
            " FROM air JOIN events USING (seq) WHERE at_s BETWEEN ? AND ? AND seq <= ?"
        )
        return self._source.ask(query, (first.timestamp(), last.timestamp(), self._last_seq))

    @property
    def _but_undone(self) -> str:
        undone = ", ".join(map(str, sorted(self.undone)))
        return f" AND seq NOT IN ({undone})" if undone else ""

    def _readings(self, order: str) -> list[AirReading]:
        query = (
            f"SELECT seq, id, {_FIGURES} FROM air JOIN events USING (seq) WHERE seq <= ?"  # noqa: S608  # constants
            f"{self._but_undone} {order}"
        )
        return self._source.asked(_reading, query, (self._last_seq,))

    def _find_undone(self) -> Iterator[int]:
        ids = sorted(self._undone_ids)
        for begin in range(0, len(ids), _BATCH):
            some = ids[begin : begin + _BATCH]
            query = (
                "SELECT air.seq FROM air JOIN events USING (seq) WHERE id IN "  # noqa: S608  # marks
                f"({', '.join('?' * len(some))})"
            )
            yield from (seq for (seq,) in self._source.ask(query, some))


def _reading(row: tuple[int, str, float, float, float, float]) -> AirReading:
    seq, id_, at_s, temperature_c, humidity_percent, movement = row
    at = datetime.fromtimestamp(at_s, UTC)
    return AirReading(at, seq, id_, Air(temperature_c, humidity_percent, movement, at))


def _warmth(row: tuple[float, float]) -> tuple[datetime, float]:
    return datetime.fromtimestamp(row[0], UTC), row[1]


class _ToldAir(NamedTuple):
    at: datetime
    air: Air
    surface_c: float | None


def _told(event: Event) -> _ToldAir | None:
    what = event.what
    if not isinstance(what, AirRead | StepDone) or what.air is None:
        return None
    surface_c = what.surface_c if isinstance(what, AirRead) else None
    return _ToldAir(what.air.at or event.at, what.air, surface_c)


def _rows(events: Iterable[Event]) -> Iterator[AirRow]:
    for event in events:
        told = _told(event)
        if told is not None:
            air = told.air
            yield (
                event.seq,
                told.at.timestamp(),
                float(air.temperature_c),
                float(air.humidity_percent),
                float(air.movement_m_per_s),
                told.surface_c,
            )


def _readable(db: sqlite3.Connection, first_seq: int = 1) -> Iterator[Event]:
    rows = db.execute(
        "SELECT seq, id, at, logged_at, piece, kind, body FROM events"
        " WHERE kind IN ('air', 'step-done') AND seq >= ? ORDER BY seq",
        (first_seq,),
    )
    for row in rows:
        try:
            yield from_row(row)
        except JournalFaultError:
            continue
