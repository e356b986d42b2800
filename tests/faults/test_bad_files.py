"""Files that are no good journal: each is refused in plain words, and left as it is."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime

import pytest

from finishsched.journal import files
from finishsched.journal.events import NewEvent, Noted
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.store import Journal

NOW = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
PAGE = 4096


@pytest.fixture
def path(tmp_path):
    """Return where the bad file is to be."""
    return tmp_path / "journal.db"


def fill(path, entries=300):
    """Make a journal of several pages at ``path``."""
    with Journal.open(path) as journal:
        new = [
            NewEvent(NOW, "box/lid", Noted(f"{number} " + "x" * 200)) for number in range(entries)
        ]
        journal.append_all(lambda _book: new, NOW)


def refused(path, **how):
    """Return the fault of opening ``path``, and show that the file was not touched."""
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(JournalFaultError) as caught:
        Journal.open(path, **how)

    assert str(path) in caught.value.message
    assert "\n" not in str(caught.value)
    assert caught.value.remedy
    assert (path.read_bytes() if path.is_file() else None) == before
    return str(caught.value)


def test_no_journal_where_none_is_to_be_made(path):
    """Asked not to make one, a missing journal is a fault, and none appears."""
    assert "there is no journal here" in refused(path, create=False)
    assert not path.exists()


def test_no_folder(tmp_path):
    """A folder that is not there is a fault and is not made."""
    assert "cannot be opened" in refused(tmp_path / "gone" / "journal.db")
    assert not (tmp_path / "gone").exists()


def test_a_folder_in_its_place(path):
    """A folder by the journal's name is no journal."""
    path.mkdir()
    assert "no journal of finishsched" in refused(path)


@pytest.mark.parametrize(
    "content",
    [
        b"\x00\xff garbage \x00" * 500,
        b"shop: A Shop\n",
        b"\x00",
        b"SQLite format 3\x00" + b"\x07" * 4096,
    ],
    ids=["binary", "text", "one byte", "only the head of a database"],
)
def test_garbage(path, content):
    """A file of anything else is no journal."""
    path.write_bytes(content)
    assert "no journal of finishsched" in refused(path)


def test_a_file_of_no_length(path, monkeypatch):
    """An empty file is not taken for a new journal: something was lost, or it can be deleted."""
    monkeypatch.setattr(files, "CLAIM_WAIT_S", 0.05)
    path.touch()
    assert "empty file" in refused(path)


def test_a_database_of_some_other_program(path):
    """A good database that does not carry our mark is left alone."""
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE events (seq INTEGER PRIMARY KEY)")
    assert "no journal of finishsched" in refused(path)


def test_a_journal_of_a_later_release(path):
    """A journal of a version to come is refused with both versions named."""
    fill(path, 1)
    with closing(sqlite3.connect(path)) as db:
        db.execute("PRAGMA user_version = 7")
    assert "has version 7, this program knows up to version 4" in refused(path)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_a_truncated_journal(path, share):
    """A journal cut short is called damaged as soon as what is missing is asked for."""
    fill(path)
    whole = path.read_bytes()
    path.write_bytes(whole[: int(len(whole) * share)])

    with pytest.raises(JournalFaultError, match="damaged"), Journal.open(path) as journal:
        journal.book()
    try:
        with Journal.open(path) as journal:
            assert any("damaged" in finding for finding in journal.check())
    except JournalFaultError as error:
        assert "damaged" in error.message  # noqa: PT017  # either way will do


def test_pages_of_noise_in_a_journal(path):
    """Noise in the middle of the file is told by a check, not by a crash."""
    fill(path)
    content = bytearray(path.read_bytes())
    middle = len(content) // 2 // PAGE * PAGE
    content[middle : middle + 3 * PAGE] = b"\xa5" * 3 * PAGE
    path.write_bytes(content)

    with Journal.open(path) as journal:
        assert any("damaged" in finding for finding in journal.check())
        entries = journal.book().live("box/lid")
        assert 0 < len(entries) < 300 + 1
        assert journal.lost


def test_another_program_that_holds_the_journal(path):
    """After waiting, an entry is refused because another program writes, and later goes through."""
    fill(path, 1)
    new = NewEvent(NOW, None, Noted("a"))
    with Journal.open(path, wait_s=0.1) as journal, closing(_connect(path)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(JournalFaultError, match="another program"):
            journal.append(lambda _book: new, NOW)
        journal.look(NOW)
        assert journal.book().last_seq == 1
        other.execute("ROLLBACK")

        assert journal.append(lambda _book: new, NOW).seq == 2


def test_opening_a_journal_that_another_program_holds_whole(path):
    """A program that keeps the whole file to itself makes the opening wait, then say so."""
    fill(path, 1)
    with closing(_connect(path)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(JournalFaultError, match="another program"):
            Journal.open(path, wait_s=0.1)


def test_a_journal_without_its_log_becomes_one_with(path):
    """A copy that some tool left in another mode is put back into the durable one."""
    fill(path, 1)
    with closing(_connect(path)) as other:
        assert other.execute("PRAGMA journal_mode = DELETE").fetchone() == ("delete",)
    with Journal.open(path) as journal:
        assert journal.append(lambda _book: NewEvent(NOW, None, Noted("a")), NOW).seq == 2
        assert (path.parent / "journal.db-wal").exists()


def test_the_log_of_a_lost_journal_is_not_played_into_a_new_one(path):
    """Where only the log of a journal is left no new one is made over its last entries."""
    with Journal.open(path) as journal:
        journal.append(lambda _book: NewEvent(NOW, None, Noted("a")), NOW)
        log = path.with_name("journal.db-wal").read_bytes()
    path.unlink()
    path.with_name("journal.db-wal").write_bytes(log)

    with pytest.raises(JournalFaultError, match="log of a journal that is gone"):
        Journal.open(path)
    assert [file.name for file in path.parent.iterdir()] == ["journal.db-wal"]


def test_an_old_sqlite_is_told_by_name(path, monkeypatch):
    """A Python whose SQLite cannot hold the tables says so, before it touches anything."""
    monkeypatch.setattr(files, "OLDEST_SQLITE", (99, 0, 0))
    assert "SQLite 3.37" in refused(path)
    assert not path.exists()


@pytest.mark.parametrize("error", [PermissionError(1, "no links"), OSError(95, "not supported")])
def test_a_disk_without_hard_links(path, monkeypatch, error):
    """Where a file can have only one name, as on many memory sticks, a journal is still made."""

    def refuse(*_):
        raise error

    monkeypatch.setattr(files.os, "link", refuse)
    fill(path, 1)

    assert [file.name for file in path.parent.iterdir()] == ["journal.db"]
    with Journal.open(path) as journal:
        assert journal.check() == []


def test_the_second_to_make_a_journal_takes_the_first_ones(path, monkeypatch):
    """A program that has just made one, and finds another's in its place, uses the other's."""
    build = files.build

    def build_late(made):
        build(made)
        monkeypatch.undo()
        fill(path, 5)

    monkeypatch.setattr(files, "build", build_late)
    with Journal.open(path) as journal:
        assert journal.book().last_seq == 5
    assert [file.name for file in path.parent.iterdir()] == ["journal.db"]


def _connect(path):
    return sqlite3.connect(path, isolation_level=None)


def test_a_journal_that_is_deleted_under_us_takes_no_entry(tmp_path, path):
    """An entry that would go into a file without a name is refused, not acknowledged and lost."""
    with Journal.open(path) as journal:
        journal.append(lambda _: NewEvent(NOW, "box/lid", Noted("kept")), NOW)
        for file in tmp_path.iterdir():
            file.unlink()
        with pytest.raises(JournalFaultError, match="moved, deleted or replaced"):
            journal.append(lambda _: NewEvent(NOW, "box/lid", Noted("lost")), NOW)
        with pytest.raises(JournalFaultError, match="moved, deleted or replaced"):
            journal.data_version()


def test_entries_written_together_go_into_no_file_that_is_deleted_meanwhile(tmp_path, path):
    """Nobody is told that they are kept, where nobody would find the file again."""
    with Journal.open(path) as journal:
        journal.append(lambda _: NewEvent(NOW, "box/lid", Noted("kept")), NOW)

        def write_and_lose_the_file():
            with journal.in_one_write():
                journal.append(lambda _: NewEvent(NOW, "box/lid", Noted("lost")), NOW)
                for file in tmp_path.iterdir():
                    file.unlink()

        with pytest.raises(JournalFaultError, match="moved, deleted or replaced"):
            write_and_lose_the_file()
