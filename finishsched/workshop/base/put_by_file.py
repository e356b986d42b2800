"""The file of what is put by: an index of pieces finished long ago, and of their documents.

It is no truth. Everything in it follows from the journal and the documents, it may be removed at
any time, and where nothing of use is in it everything is read anew.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from finishsched.workshop.base.place import PUT_BY_FILE

FORMAT = 3
"""Another one once the index, or what may be put by, is made otherwise."""
_WAIT_S = 0.2
"""Nobody waits for it: what cannot be read now is made anew, what cannot be written is so next."""

_SCHEMA = (
    """
    -- Of which state of the journal it is. One row.
    CREATE TABLE state (
        one INTEGER PRIMARY KEY CHECK (one = 1),
        seq INTEGER NOT NULL,       -- the journal's last entry then
        mark TEXT NOT NULL,         -- by which that entry is known
        in_hand TEXT NOT NULL,      -- every piece of the journal that is not put by, as JSON
        sum INTEGER NOT NULL        -- over the row, by which one that changed on the disk is known
    ) STRICT
    """,
    """
    -- The pieces that are put by.
    CREATE TABLE pieces (
        ref TEXT PRIMARY KEY,
        mark TEXT NOT NULL,         -- of its last entry
        wanted TEXT NOT NULL,       -- what its document wants of it
        schedule TEXT NOT NULL,     -- by which it was finished
        first_s REAL NOT NULL,      -- when the work on it began and ended, since 1970 in UTC
        last_s REAL NOT NULL
    ) STRICT, WITHOUT ROWID
    """,
    "CREATE INDEX pieces_by_schedule ON pieces (schedule, last_s)",
    "CREATE INDEX pieces_by_time ON pieces (last_s, first_s)",
    "CREATE INDEX pieces_by_wanted ON pieces (wanted)",
    """
    -- All that each of them may be called.
    CREATE TABLE names (
        name TEXT NOT NULL, ref TEXT NOT NULL, PRIMARY KEY (name, ref)
    ) STRICT, WITHOUT ROWID
    """,
    "CREATE INDEX names_by_piece ON names (ref)",
    """
    -- When rags that heat by themselves were last used on them, and on what was worked beside them.
    CREATE TABLE heating (
        ref TEXT NOT NULL, used_on TEXT NOT NULL, at_s REAL NOT NULL,
        PRIMARY KEY (ref, used_on)
    ) STRICT, WITHOUT ROWID
    """,
    """
    -- The jobs whose every piece is put by, with what their documents' files were then.
    CREATE TABLE documents (
        name TEXT PRIMARY KEY, written_ns INTEGER NOT NULL, bytes INTEGER NOT NULL,
        job TEXT NOT NULL, title TEXT NOT NULL
    ) STRICT, WITHOUT ROWID
    """,
)
_TABLES = ("state", "pieces", "names", "heating", "documents")
_WANTED = """
    WITH RECURSIVE each (wanted) AS (
        SELECT min(wanted) FROM pieces
        UNION ALL
        SELECT (SELECT min(wanted) FROM pieces WHERE wanted > each.wanted) FROM each
        WHERE wanted IS NOT NULL
    )
    SELECT wanted FROM each WHERE wanted IS NOT NULL
"""


def connect_put_by(folder: Path) -> sqlite3.Connection | None:
    """Return the open file of what is put by in a shop; None where there is none of use."""
    file = folder / PUT_BY_FILE
    if not file.is_file():
        return None
    db = None
    try:
        db = connected(f"{file.absolute().as_uri()}?mode=rw")
        if db.execute("PRAGMA user_version").fetchone()[0] == FORMAT:
            return db
    except sqlite3.Error:
        pass  # it is no such file, or nothing of it can be read
    if db is not None:
        db.close()
    return None


def connected(uri: str) -> sqlite3.Connection:
    """Return an open connection, in which nothing is begun by itself."""
    db = sqlite3.connect(uri, uri=True, timeout=_WAIT_S, isolation_level=None)
    db.execute("PRAGMA synchronous = NORMAL")
    return db


def make_tables(db: sqlite3.Connection) -> None:
    """Make the tables anew, empty, within a transaction."""
    for table in _TABLES:
        db.execute(f"DROP TABLE IF EXISTS {table}")
    for statement in _SCHEMA:
        db.execute(statement)
    db.execute(f"PRAGMA user_version = {FORMAT}")


def every_wanted(db: sqlite3.Connection) -> list[str]:
    """Return all that documents want of the pieces that are put by, each once."""
    return [wanted for (wanted,) in db.execute(_WANTED)]


@contextmanager
def looked_into(folder: Path) -> Iterator[sqlite3.Connection | None]:
    """Give the open file for a moment; None where there is none of use."""
    db = connect_put_by(folder)
    if db is None:
        yield None
        return
    with closing(db):
        yield db
