"""The tables of a journal, what they refuse, and how versions follow each other."""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing

import pytest

from finishsched.journal.events import NewEvent, Noted
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.files import connect
from finishsched.journal.schema import (
    APPLICATION_ID,
    MIGRATIONS,
    SCHEMA_1,
    migrate,
    version_of,
)
from finishsched.journal.store import Journal
from finishsched.model.plain import text_hash


@pytest.fixture
def database(path, now):
    """Give a bare connection to a journal that holds two entries and a snapshot."""
    with Journal.open(path) as journal:
        new = NewEvent(now, None, Noted("a"), ((text_hash("{}"), "{}"),))
        journal.append_all(lambda _book: [new, new], now)
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        yield db


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE events SET body = '{}'",
        "DELETE FROM events WHERE seq = 2",
        "INSERT OR REPLACE INTO events VALUES (2, 'x', '', '', NULL, 'note', '{}')",
        "INSERT INTO events VALUES (0, 'x', '', '', NULL, 'note', '{}')",
        "INSERT OR REPLACE INTO events SELECT 3, id, '', '', NULL, 'note', '{}' FROM events",
        "UPDATE snapshots SET body = ''",
        "DELETE FROM snapshots",
        "INSERT INTO last_look VALUES (2, '')",
        "INSERT INTO events VALUES ('three', 'x', '', '', NULL, 'note', '{}')",
    ],
)
def test_what_is_written_cannot_be_changed(database, statement):
    """The file itself refuses to change, remove, replace or slip in anything."""
    before = list(database.iterdump())
    with pytest.raises(sqlite3.IntegrityError):
        database.execute(statement)

    assert list(database.iterdump()) == before


def test_a_snapshot_cannot_be_replaced(database):
    """Writing another text under a known hash leaves the first one."""
    database.execute("INSERT OR REPLACE INTO snapshots VALUES (?, 'x')", (text_hash("{}"),))

    assert database.execute("SELECT body FROM snapshots").fetchall() == [("{}",)]


def test_the_file_is_durable_and_marked_as_ours(path):
    """Write-ahead log, full syncing, our mark and our version are what a journal has."""
    with closing(connect(path, create=True, wait_s=1.0)) as db:
        asked = ("journal_mode", "synchronous", "application_id", "user_version", "busy_timeout")
        found = [db.execute(f"PRAGMA {name}").fetchone()[0] for name in asked]

    assert found == ["wal", 2, APPLICATION_ID, len(MIGRATIONS), 1000]


def test_every_column_is_explained():
    """Each column in the schema carries a comment on its own line, for whoever opens the file."""
    lines = [line for text in SCHEMA_1 if "CREATE TABLE" in text for line in text.splitlines()]
    columns = [line for line in lines if re.match(r"\s+\w+ (TEXT|INTEGER)\b", line)]

    assert len(columns) == 11
    assert all(re.search(r"-- \w", line) for line in columns)


def _add_a_table(db):
    db.execute("CREATE TABLE racks (name TEXT NOT NULL) STRICT")


def _fail_half_way(db):
    _add_a_table(db)
    db.execute("no such statement")


def test_a_later_version_is_made_of_an_earlier_one(database):
    """A migration to one version more keeps every entry, and is done once."""
    migrate(database, (*MIGRATIONS, _add_a_table))
    migrate(database, (*MIGRATIONS, _add_a_table))

    assert version_of(database) == len(MIGRATIONS) + 1
    assert database.execute("SELECT count(*) FROM events").fetchone() == (2,)
    assert database.execute("SELECT count(*) FROM racks").fetchone() == (0,)


def test_several_versions_are_passed_one_by_one(tmp_path):
    """An empty file goes through each version in turn."""
    seen = []
    steps = [lambda db, n=number: seen.append((n, version_of(db))) for number in range(1, 4)]
    with closing(sqlite3.connect(tmp_path / "a.db", isolation_level=None)) as db:
        migrate(db, steps)
        assert version_of(db) == 3

    assert seen == [(1, 0), (2, 1), (3, 2)]


def test_a_migration_that_fails_leaves_the_earlier_version(database):
    """A step that fails half way leaves no trace: not its tables, not its number."""
    before = list(database.iterdump())
    with pytest.raises(sqlite3.OperationalError):
        migrate(database, (*MIGRATIONS, _fail_half_way))

    assert version_of(database) == len(MIGRATIONS)
    assert list(database.iterdump()) == before
    assert not database.in_transaction


def test_a_journal_of_a_later_release_is_left_as_it_is(path):
    """It says which version it has and which are known, and to update; not a byte is changed."""
    Journal.open(path).close()
    later = len(MIGRATIONS) + 7
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute(f"PRAGMA user_version = {later}")
        db.execute("PRAGMA journal_mode = DELETE")
    before = path.read_bytes()
    with pytest.raises(JournalFaultError) as caught:
        Journal.open(path)
    known = len(MIGRATIONS)
    assert f"has version {later}, this program knows up to version {known}" in caught.value.message
    assert caught.value.remedy == "update finishsched; the journal was left as it is"
    assert path.read_bytes() == before
