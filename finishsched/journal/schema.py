"""The tables of a journal, and how a journal of an earlier version becomes one of this version."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from typing import TypeAlias

from finishsched.journal import air_rows, derived, jar_draws

Migration: TypeAlias = Callable[[sqlite3.Connection], None]

APPLICATION_ID = 0x46_53_4A_4C
"""Marks a database file as a journal of ours: the letters FSJL."""

SCHEMA_1 = (
    f"PRAGMA application_id = {APPLICATION_ID}",
    """
    -- What happened, one row for each entry. Rows are added at the end and never change.
    CREATE TABLE events (
        seq INTEGER PRIMARY KEY,   -- from 1 without a gap, in the order of writing
        id TEXT NOT NULL UNIQUE,   -- random, 32 hex digits; how an undo names its entry
        at TEXT NOT NULL,          -- when it happened, ISO 8601 in UTC to the microsecond
        logged_at TEXT NOT NULL,   -- when it was written, likewise; the clock may step back
        piece TEXT,                -- job/piece; NULL when it is about the whole shop
        kind TEXT NOT NULL,        -- what sort of entry: step-done, dry-ready, undo, ...
        body TEXT NOT NULL         -- the rest of the entry as JSON, by its kind
    ) STRICT
    """,
    """
    -- Documents as they read when an entry named them. Rows are added and never change.
    CREATE TABLE snapshots (
        hash TEXT PRIMARY KEY,     -- SHA-256 of the body as UTF-8, in hex
        body TEXT NOT NULL         -- a schedule or a piece as canonical JSON
    ) STRICT
    """,
    """
    -- When somebody last looked. Not history: one row, overwritten.
    CREATE TABLE last_look (
        one INTEGER PRIMARY KEY CHECK (one = 1),  -- keeps it to one row
        at TEXT NOT NULL           -- ISO 8601 in UTC to the microsecond
    ) STRICT
    """,
    """
    CREATE TRIGGER events_join_at_the_end BEFORE INSERT ON events
    WHEN EXISTS (SELECT 1 FROM events WHERE seq >= NEW.seq)
      OR EXISTS (SELECT 1 FROM events WHERE id = NEW.id)
    BEGIN SELECT RAISE(ABORT, 'events join at the end only'); END
    """,
    """
    CREATE TRIGGER events_never_change BEFORE UPDATE ON events
    BEGIN SELECT RAISE(ABORT, 'events never change'); END
    """,
    """
    CREATE TRIGGER events_are_never_removed BEFORE DELETE ON events
    BEGIN SELECT RAISE(ABORT, 'events are never removed'); END
    """,
    """
    CREATE TRIGGER snapshots_are_kept_once BEFORE INSERT ON snapshots
    WHEN EXISTS (SELECT 1 FROM snapshots WHERE hash = NEW.hash)
    BEGIN SELECT RAISE(IGNORE); END
    """,
    """
    CREATE TRIGGER snapshots_never_change BEFORE UPDATE ON snapshots
    BEGIN SELECT RAISE(ABORT, 'snapshots never change'); END
    """,
    """
    CREATE TRIGGER snapshots_are_never_removed BEFORE DELETE ON snapshots
    BEGIN SELECT RAISE(ABORT, 'snapshots are never removed'); END
    """,
)


def _to_version_1(db: sqlite3.Connection) -> None:
    for statement in SCHEMA_1:
        db.execute(statement)


def _to_version_2(db: sqlite3.Connection) -> None:
    for statement in air_rows.SCHEMA:
        db.execute(statement)
    air_rows.fill(db)


def _to_version_3(db: sqlite3.Connection) -> None:
    db.execute("DROP TABLE IF EXISTS air_written")
    for statement in (*derived.SCHEMA, derived.INDEX, *jar_draws.SCHEMA):
        db.execute(statement)
    derived.fill(db)


def _to_version_4(db: sqlite3.Connection) -> None:
    db.execute("DROP TABLE IF EXISTS jar_draws")
    for statement in jar_draws.SCHEMA:
        db.execute(statement)
    derived.fill_draws(db)


MIGRATIONS: tuple[Migration, ...] = (_to_version_1, _to_version_2, _to_version_3, _to_version_4)
"""The first makes version 1 of an empty file, the next version 2 of version 1, and so on."""


def make_in_memory(db: sqlite3.Connection) -> None:
    """Give an earlier journal, which may not be written, what the newest version has beside it."""
    db.execute("PRAGMA temp_store = MEMORY")
    for statement in (*air_rows.SCHEMA, *derived.SCHEMA, *jar_draws.SCHEMA):
        db.execute(statement.replace("CREATE TABLE", "CREATE TEMP TABLE"))
    derived.fill(db)


def version_of(db: sqlite3.Connection) -> int:
    """Return the version of the journal; 0 for an empty file."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def migrate(db: sqlite3.Connection, migrations: Sequence[Migration] = MIGRATIONS) -> None:
    """Bring a journal up to the newest version, each step whole or not at all.

    A migration must only execute single statements: anything that commits would part the change
    from its version number. Two processes may migrate one journal at once.
    """
    while version_of(db) < len(migrations):
        db.execute("BEGIN IMMEDIATE")
        try:
            version = version_of(db)
            if version < len(migrations):
                migrations[version](db)
                db.execute(f"PRAGMA user_version = {version + 1}")
            db.execute("COMMIT")
        finally:
            if db.in_transaction:
                db.execute("ROLLBACK")
