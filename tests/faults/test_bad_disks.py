"""Disks that are full or may not be written: nothing is half written, and the way out is told."""

from __future__ import annotations

import errno
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal.air_rows import fill
from finishsched.journal.events import NewEvent, Noted
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.files import connect_to_look
from finishsched.journal.lines import journal_lines
from finishsched.journal.schema import MIGRATIONS, migrate
from finishsched.journal.source import Source
from finishsched.journal.store import Journal, _stamp
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.write_whole import write_chunks
from finishsched.workshop.begin import written
from finishsched.workshop.begin.written import Written, put, undo
from finishsched.workshop.demo.demo import make_demo

NOW = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
NOBODY = 65534

on_posix = pytest.mark.skipif(os.name != "posix", reason="permissions and limits of POSIX")


def note(text="a"):
    """Return what builds a note."""
    return lambda _book: NewEvent(NOW, None, Noted(text))


@pytest.fixture
def folder():
    """Give a folder that any user may enter, which pytest's own are not."""
    made = Path(tempfile.mkdtemp())
    made.chmod(0o755)
    yield made
    made.chmod(0o755)
    shutil.rmtree(made)


@contextmanager
def not_allowed_to_write(folder):
    """Take the right to write in ``folder`` away, from the superuser too by being nobody."""
    folder.chmod(0o555)
    is_root = os.geteuid() == 0
    try:
        if is_root:
            os.seteuid(NOBODY)
        yield
    finally:
        if is_root:
            os.seteuid(0)
        folder.chmod(0o755)


@on_posix
def test_no_journal_can_be_made_in_a_folder_that_may_not_be_written(folder):
    """The fault says that the folder cannot be written, and nothing is left in it."""
    with not_allowed_to_write(folder), pytest.raises(JournalFaultError) as caught:
        Journal.open(folder / "journal.db")

    assert str(folder / "journal.db") in caught.value.message
    assert "cannot be written" in caught.value.message
    assert "writable" in caught.value.remedy
    assert list(folder.iterdir()) == []


@on_posix
def test_a_journal_in_a_folder_that_may_not_be_written(folder):
    """A good journal that may not be written is refused in plain words, and is unharmed."""
    path = folder / "journal.db"
    with Journal.open(path) as journal:
        journal.append(note(), NOW)
    path.chmod(0o444)
    with (
        not_allowed_to_write(folder),
        pytest.raises(JournalFaultError, match=r"cannot be (opened|written)"),
        Journal.open(path) as journal,
    ):
        journal.append(note(), NOW)
    path.chmod(0o644)

    with Journal.open(path) as journal:
        assert len(journal.events()) == 1
        assert journal.check() == []


def test_no_room_for_an_entry(tmp_path):
    """When the disk is full the entry is refused whole, and goes through once there is room."""
    with Journal.open(tmp_path / "journal.db") as journal:
        first = journal.append(note(), NOW)
        pages = journal._source.db.execute("PRAGMA page_count").fetchone()[0]
        journal._source.db.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(JournalFaultError, match="no room") as caught:
            journal.append(note("x" * 100_000), NOW)

        assert "nothing was written" in caught.value.remedy
        assert journal.events() == (first,)
        journal._source.db.execute("PRAGMA max_page_count = 100000")
        assert journal.append(note("x" * 100_000), NOW).seq == 2
        assert journal.check() == []


LIMITED = """
import resource, sys
from datetime import UTC, datetime
from pathlib import Path
from finishsched.journal.air_rows import fill
from finishsched.journal.events import NewEvent, Noted
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.files import connect_to_look
from finishsched.journal.schema import MIGRATIONS, migrate
from finishsched.journal.store import Journal, _stamp

path, limit, now = Path(sys.argv[1]), int(sys.argv[2]), datetime(2026, 3, 1, tzinfo=UTC)
try:
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
    journal = Journal.open(path)
    while True:
        event = journal.append(lambda _: NewEvent(now, None, Noted("x" * 2000)), now)
        print(event.seq, event.id, flush=True)
except JournalFaultError as error:
    print(error, file=sys.stderr)
"""


def write_up_to(path, limit):
    """Return what a program says that may make no file longer than ``limit`` bytes."""
    command = [sys.executable, "-c", LIMITED, str(path), str(limit)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=600)
    return done.stdout.split(), done.stderr


@on_posix
def test_a_file_that_may_grow_no_further(tmp_path):
    """When the system stops a file from growing, every acknowledged entry stays and no other."""
    path = tmp_path / "journal.db"
    told, fault = write_up_to(path, 300_000)
    with Journal.open(path, create=False) as journal:
        written = [word for event in journal.events() for word in (str(event.seq), event.id)]
        assert journal.check() == []

    assert len(told) >= 20
    assert written == told
    assert fault.count("\n") == 1
    assert str(path) in fault
    assert "room" in fault


@on_posix
@pytest.mark.parametrize("limit", [0, 1000, 10_000])
def test_no_room_to_make_a_journal(tmp_path, limit):
    """When there is no room for a new journal none is left, whole or half."""
    path = tmp_path / "journal.db"
    told, fault = write_up_to(path, limit)

    assert told == []
    assert "room" in fault
    assert list(tmp_path.iterdir()) == []


@on_posix
@pytest.mark.parametrize("versions", [1, len(MIGRATIONS)])
def test_a_journal_that_may_not_be_written_can_be_looked_at(folder, versions):
    """Every entry and reading is there, an entry is refused, and no file is left beside it."""
    path = folder / "journal.db"
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        migrate(db, MIGRATIONS[:versions])
        row = (1, "a", "2026-03-01T08:30:00.000000Z", "2026-03-01T08:30:00.000000Z", None, "air",
               '{"air":{"humidity_percent":50.0,"temperature_c":20.0}}')  # fmt: skip
        db.execute("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?)", row)
        if versions == len(MIGRATIONS):
            fill(db)
        db.execute("PRAGMA journal_mode = WAL")
    path.chmod(0o444)
    with not_allowed_to_write(folder), Journal.open_or_look(path) as journal:
        assert journal.only_looked_at
        assert [reading.air.temperature_c for reading in journal.book().air] == [20.0]
        assert journal.data_version() == journal.data_version()
        journal.look(NOW)
        with pytest.raises(JournalFaultError, match="cannot be written"):
            journal.append(note(), NOW)
        assert [file.name for file in folder.iterdir()] == ["journal.db"]


@on_posix
def test_a_journal_that_may_not_be_written_can_be_copied(folder):
    """Its lines are those that it gives where it may be written."""
    path = folder / "journal.db"
    with Journal.open(path) as journal:
        journal.append(note(), NOW)
    lines = list(journal_lines(path, "test"))
    path.chmod(0o444)
    with not_allowed_to_write(folder):
        assert list(journal_lines(path, "test")) == lines
        assert [file.name for file in folder.iterdir()] == ["journal.db"]


def test_a_journal_that_is_looked_at_follows_its_file(tmp_path):
    """What somebody else writes into it shows when next asked."""
    path = tmp_path / "journal.db"
    Journal.open(path).close()
    with Journal.open_or_look(path) as usual:
        assert not usual.only_looked_at
    os.utime(path, (0, 0))  # two writes within one tick of the system's clock have one time
    looked = Journal(Source(path, connect_to_look(path)), 0.0)
    looked._seen = _stamp(path)
    before = looked.data_version()
    with Journal.open(path) as other:
        other.append(note(), NOW)
    assert looked.data_version() != before
    assert looked.book().last_seq == 1
    looked.close()


LOOKING = """
import resource, sys
from datetime import datetime
from pathlib import Path
from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings

shop, now = Path(sys.argv[1]), datetime.fromisoformat(sys.argv[2])
resource.setrlimit(resource.RLIMIT_FSIZE, (0, resource.RLIM_INFINITY))
variables = {"FINISHSCHED_DATA": str(shop)}
world = Surroundings(now=lambda: now, cwd=shop, variables=variables)
print("due", run(["due"], world))
print("log", run(["log", "tea-chest/lid", "note", "full"], world))
print("new", run(["new", "other"], world))
"""


@on_posix
def test_a_full_disk_can_be_looked_at(tmp_path):
    """Where no file may grow, what is due is told; an entry and a new shop are refused in words."""
    make_demo(tmp_path / "shop", NOW)
    command = [sys.executable, "-c", LOOKING, str(tmp_path / "shop"), NOW.isoformat()]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=600)

    assert [line for line in done.stdout.splitlines() if line[:4] in ("due ", "log ", "new ")] == [
        "due 0",
        "log 2",
        "new 2",
    ]
    assert "look, but nothing is logged" in done.stderr
    assert "[Errno" not in done.stderr
    with Journal.open(tmp_path / "shop" / "journal.db") as journal:
        assert journal.check() == []


@pytest.fixture
def no_room_for(monkeypatch):
    """Return what lets no file be written whose name ends so."""

    def stop(ending):
        def full(file, chunks):
            if file.name.endswith(ending):
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(file))
            write_chunks(file, chunks)

        monkeypatch.setattr(written, "write_chunks", full)

    return stop


@pytest.mark.parametrize("ending", [".jsonl", ".yaml"])
def test_a_document_on_a_full_disk_is_refused_and_as_it_was(tmp_path, no_room_for, ending):
    """Whichever of the two files finds no room, it is told in one line, and nothing is to undo."""
    (tmp_path / "a.yaml").write_text("one", "utf-8")
    put(tmp_path, Written("a.yaml", "the first", "one", "two"), NOW)
    no_room_for(ending)
    with pytest.raises(RefusedError, match="documents cannot be written") as caught:
        put(tmp_path, Written("a.yaml", "the second", "two", "three"), NOW)
    assert "make room" in str(caught.value)
    assert (tmp_path / "a.yaml").read_text("utf-8") == "two"
    no_room_for("nothing")
    assert undo(tmp_path).what == "the first"
    assert (tmp_path / "a.yaml").read_text("utf-8") == "one"
    with pytest.raises(RefusedError, match="nothing to undo"):
        undo(tmp_path)


def test_what_the_system_refuses_is_told_with_a_way_out(tmp_path, capsys):
    """Settings that cannot be written are told by their file, why, and what would help."""
    (tmp_path / "settings").mkdir()
    variables = {"FINISHSCHED_SETTINGS": str(tmp_path / "settings" / "on" / "a" / "x.yaml")}
    (tmp_path / "settings" / "on").write_text("a file in the way", "utf-8")
    assert run(["settings", "theme", "light"], Surroundings(cwd=tmp_path, variables=variables)) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "; " in said


def test_a_completion_that_finds_no_room_leaves_no_folder(folder, monkeypatch):
    """The folder that was made for its script goes again; one that holds something stays."""

    def no_room(file, _chunks):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(file))

    monkeypatch.setattr("finishsched.workshop.base.write_whole.write_chunks", no_room)
    world = Surroundings(
        cwd=folder, variables={"HOME": str(folder), "FINISHSCHED_DATA": str(folder / "data")}
    )
    assert run(("completion", "bash", "--install"), world) == 2
    assert list(folder.iterdir()) == []
    (folder / "finishsched-completion").mkdir()
    (folder / "finishsched-completion" / "finishsched.zsh").touch()
    assert run(("completion", "bash", "--install"), world) == 2
    assert (folder / "finishsched-completion" / "finishsched.zsh").exists()
