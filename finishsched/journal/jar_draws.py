"""What coats took out of jars and lots, as bare figures in a table of their own.

What is left of a jar hangs on every coat that was ever drawn from it, and a shop lays thousands.
They are entries like all others; the table only repeats what they drew, so that nobody need read
the text of a lifetime. It is filled in the same transaction as the entries, and can be made anew
from them at any time.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import NamedTuple, TypeAlias

from finishsched.journal.events import Amended, Event, StepDone, utc_text

SCHEMA = (
    """
    -- What each coat took from what stands on the shelf, made of the entries alone.
    CREATE TABLE jar_draws (
        seq INTEGER PRIMARY KEY,   -- of the entry
        id TEXT NOT NULL,          -- of the entry, as in events
        piece TEXT NOT NULL,
        at TEXT NOT NULL,          -- when it happened, as in events
        name TEXT,                 -- the jar or lot; NULL: it tells another entry otherwise
        amount_g REAL,
        amount_ml REAL             -- out of the jar: what let it down came out of none
    ) STRICT
    """,
)
COLUMNS = "seq, id, piece, at, name, amount_g, amount_ml"

_Row: TypeAlias = tuple[int, str, str, str, str | None, float | None, float | None]


class CoatDraw(NamedTuple):
    """What one coat took out of a jar or a lot."""

    at: datetime
    seq: int
    name: str
    amount_g: float | None
    amount_ml: float | None


class DrawRow(NamedTuple):
    """A row of the table."""

    event_id: str
    piece: str
    draw: CoatDraw | None
    """None where it tells another entry otherwise."""


class Draws(NamedTuple):
    """What all coats took, as far as it is known without reading their entries."""

    known: tuple[DrawRow, ...]
    """Undone ones too."""
    to_read: tuple[str, ...]
    """The pieces whose entries have to be read; none of them has a draw that is known."""


def draw_of(event: Event) -> CoatDraw | None:
    """Return what an entry drew; None where it drew nothing that has a name."""
    done = event.what
    if not isinstance(done, StepDone) or not done.batch:
        return None
    from_jar_ml = None if done.amount_ml is None else done.amount_ml - done.let_down_ml
    return CoatDraw(event.at, event.seq, done.batch, done.amount_g, from_jar_ml)


def draws_of(rows: Sequence[DrawRow], later: Iterable[str | None]) -> Draws:
    """Return what the table's ``rows`` say; the pieces of ``later`` entries are to be read."""
    told_otherwise = (row.piece for row in rows if row.draw is None)
    to_read = dict.fromkeys((*told_otherwise, *(piece for piece in later if piece is not None)))
    return Draws(tuple(row for row in rows if row.piece not in to_read), tuple(to_read))


def read_row(row: _Row) -> DrawRow:
    """Return a row of the table.

    Raises:
        TypeError, ValueError: where it holds something else.

    """
    seq, id_, piece, at, name, amount_g, amount_ml = row
    if name is None:
        return DrawRow(id_, piece, None)
    return DrawRow(id_, piece, CoatDraw(datetime.fromisoformat(at), seq, name, amount_g, amount_ml))


def add_rows(db: sqlite3.Connection, events: Iterable[Event]) -> None:
    """Put what ``events`` drew into the table."""
    db.executemany("INSERT INTO jar_draws VALUES (?, ?, ?, ?, ?, ?, ?)", rows_of(events))


def rows_of(events: Iterable[Event]) -> Iterator[_Row]:
    """Give the table's rows for ``events``."""
    for event in events:
        if event.piece is None:
            continue
        at, draw = utc_text(event.at, "microseconds"), draw_of(event)
        if draw is not None:
            amounts = draw.amount_g, draw.amount_ml
            yield event.seq, event.id, event.piece, at, draw.name, *amounts
        elif isinstance(event.what, Amended):
            yield event.seq, event.id, event.piece, at, None, None, None
