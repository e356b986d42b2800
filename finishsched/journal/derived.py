"""What the journal keeps beside its entries so that no command need read them all.

The figures of the air, which pieces there are, which entries were taken back, when somebody last
wrote: all of it is made of the entries alone, in the transaction that writes them, and can be made
anew from them at any time. Only the sums are more: they tell an entry that changed on the disk.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias
from zlib import crc32

from finishsched.journal import air_rows, jar_draws
from finishsched.journal.compared import differing
from finishsched.journal.events import AirRead, Event, Row, Undone, from_row, utc_text
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.progress import EMPTY_BOOK, fold

COLUMNS = "seq, id, at, logged_at, piece, kind, body"

SCHEMA = (
    """
    -- Every piece that an entry is about, made of the entries alone.
    CREATE TABLE pieces (
        piece TEXT PRIMARY KEY,
        first_seq INTEGER,          -- its first entry; NULL while there are only undos
        last_seq INTEGER NOT NULL   -- its last one, an undo too
    ) STRICT, WITHOUT ROWID
    """,
    """
    -- The entries that do not count, made of the entries alone.
    CREATE TABLE undone (
        id TEXT PRIMARY KEY         -- as in events; it may name none
    ) STRICT, WITHOUT ROWID
    """,
    """
    -- When an entry was last written, by a clock that may step back. One row, overwritten.
    CREATE TABLE last_written (
        one INTEGER PRIMARY KEY CHECK (one = 1),  -- keeps it to one row
        logged_at TEXT NOT NULL     -- the latest there ever was, as in events
    ) STRICT
    """,
    """
    -- A sum over each entry as it was written, by which one that changed on the disk is known.
    CREATE TABLE sums (
        seq INTEGER PRIMARY KEY,    -- of the entry
        crc INTEGER NOT NULL        -- CRC-32 of its row, see sum_of
    ) STRICT
    """,
)
INDEX = "CREATE INDEX events_by_piece ON events (piece, kind, seq) WHERE kind <> 'air'"

_PIECES = (
    "SELECT piece, min(seq) FILTER (WHERE kind <> 'undo'), max(seq) FROM events"
    " WHERE piece IS NOT NULL AND kind <> 'air' GROUP BY piece"
)
_MAY_DRAW = f"SELECT {COLUMNS} FROM events WHERE kind IN ('step-done', 'amend') ORDER BY seq"  # noqa: S608  # constants
_LAST_WRITTEN = "SELECT logged_at FROM last_written"
_WITHOUT_SUM = "SELECT seq FROM events LEFT JOIN sums USING (seq) WHERE crc IS NULL LIMIT 1"
_TABLES = ("pieces", "undone", "last_written", "sums")
_SOME = "ORDER BY seq LIMIT 5000"

Piece: TypeAlias = tuple[str, int | None, int]


def sum_of(row: Row) -> int:
    """Return the CRC-32 of an entry's row: its columns as UTF-8, a unit separator between them."""
    seq, id_, at, logged_at, piece, kind, body = row
    about = "" if piece is None else piece
    text = f"{seq}\x1f{id_}\x1f{at}\x1f{logged_at}\x1f{about}\x1f{kind}\x1f{body}"
    return crc32(text.encode("utf-8", "surrogatepass"))


def add(db: sqlite3.Connection, events: Sequence[Event], rows: Sequence[Row]) -> None:
    """Keep what ``events`` tell, whose rows ``rows`` are."""
    air_rows.add_rows(db, events)
    jar_draws.add_rows(db, events)
    db.executemany("INSERT INTO sums VALUES (?, ?)", ((row[0], sum_of(row)) for row in rows))
    db.executemany(
        "INSERT INTO pieces VALUES (?, ?, ?) ON CONFLICT (piece) DO UPDATE"
        " SET last_seq = excluded.last_seq, first_seq = coalesce(first_seq, excluded.first_seq)",
        _pieces(events),
    )
    written = [event.logged_at for event in events]
    if written:
        db.execute(
            "INSERT INTO last_written VALUES (1, ?) ON CONFLICT (one) DO UPDATE"
            " SET logged_at = max(logged_at, excluded.logged_at)",
            (utc_text(max(written), "microseconds"),),
        )


def keep_undone(db: sqlite3.Connection, before: frozenset[str], after: frozenset[str]) -> None:
    """Keep which entries do not count after an entry was written, and did not before."""
    db.executemany("INSERT OR IGNORE INTO undone VALUES (?)", ((id_,) for id_ in after - before))
    db.executemany("DELETE FROM undone WHERE id = ?", ((id_,) for id_ in before - after))


def fill(db: sqlite3.Connection) -> None:
    """Make everything anew from the entries; one that cannot be read tells nothing."""
    for table in _TABLES:
        db.execute(f"DELETE FROM {table}")  # noqa: S608  # constants
    air_rows.fill(db)
    fill_draws(db)
    db.execute(f"INSERT INTO pieces {_PIECES}")
    db.execute(
        "INSERT INTO last_written SELECT 1, max(logged_at) FROM events HAVING max(logged_at) > ''"
    )
    db.executemany("INSERT INTO sums VALUES (?, ?)", _sums(db))
    keep_undone(db, frozenset(), _undone(db))


def fill_draws(db: sqlite3.Connection) -> None:
    """Make anew what coats took out of jars."""
    db.execute("DELETE FROM jar_draws")
    jar_draws.add_rows(db, _readable(db.execute(_MAY_DRAW)))


def find_stale(db: sqlite3.Connection, first_seq: int = 1) -> Iterator[str]:
    """Give in words each way in which what is kept is not what the entries say.

    Of the air only what entry ``first_seq`` and later ones tell is looked at.
    """
    yield from air_rows.find_stale(db, first_seq)
    if set(db.execute(_PIECES)) != set(db.execute("SELECT * FROM pieces")):
        yield "the table of the pieces differs from the entries"
    drawn = jar_draws.rows_of(_readable(db.execute(_MAY_DRAW)))
    held = db.execute(f"SELECT {jar_draws.COLUMNS} FROM jar_draws ORDER BY seq")  # noqa: S608  # constant
    if differing(drawn, held):
        yield "the table of what coats took differs from the entries"
    if _undone(db) != {id_ for (id_,) in db.execute("SELECT id FROM undone")}:
        yield "the table of what was undone differs from the entries"
    written = "SELECT max(logged_at) FROM events HAVING max(logged_at) > ''"
    if db.execute(written).fetchall() != db.execute(_LAST_WRITTEN).fetchall():
        yield "when an entry was last written differs from the entries"
    if db.execute(_WITHOUT_SUM).fetchone() is not None:
        yield "an entry has no sum to know it by"


def find_changed(db: sqlite3.Connection) -> Iterator[int]:
    """Give the number of each entry that is not as it was written."""
    after = 0
    query = f"SELECT crc, {COLUMNS} FROM events JOIN sums USING (seq) WHERE seq > ? {_SOME}"  # noqa: S608  # constants
    while rows := db.execute(query, (after,)).fetchall():
        after = rows[-1][1]
        yield from [row[0] for crc, *row in rows if crc != sum_of(tuple(row))]


def _sums(db: sqlite3.Connection) -> Iterator[tuple[int, int]]:
    after = 0
    query = f"SELECT {COLUMNS} FROM events WHERE seq > ? {_SOME}"  # noqa: S608  # constants
    while rows := db.execute(query, (after,)).fetchall():
        after = rows[-1][0]
        yield from [(row[0], sum_of(row)) for row in rows]


def _pieces(events: Iterable[Event]) -> list[Piece]:
    found: dict[str, Piece] = {}
    for event in events:
        if event.piece is None or isinstance(event.what, AirRead):
            continue
        known = found.get(event.piece)
        first = known[1] if known else None
        if first is None and not isinstance(event.what, Undone):
            first = event.seq
        found[event.piece] = event.piece, first, event.seq
    return list(found.values())


def _undone(db: sqlite3.Connection) -> frozenset[str]:
    query = f"SELECT {COLUMNS} FROM events WHERE kind = 'undo' ORDER BY seq"  # noqa: S608  # constants
    return fold(EMPTY_BOOK, _readable(db.execute(query))).undone


def _readable(rows: Iterable[Row]) -> Iterator[Event]:
    for row in rows:
        try:
            yield from_row(row)
        except JournalFaultError:
            continue
