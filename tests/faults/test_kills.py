"""Programs killed in the middle lose nothing that was acknowledged, and leave nothing half made."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal.store import Journal
from finishsched.workshop.demo.demo import make_demo

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
WRITERS = Path(__file__).with_name("writers.py")
KILLS = 200

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="forks and kills by signal")


def start(*words):
    """Start one of the writers' programs, its standard output a pipe."""
    command = [sys.executable, str(WRITERS), *map(str, words)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def acknowledged(program):
    """Return the number and id of each entry that ``program`` was told is safe."""
    said, _ = program.communicate(timeout=600)
    assert program.returncode == 0
    return [(int(seq), id_) for seq, id_ in (line.split() for line in said.splitlines())]


def test_killed_writers_lose_no_acknowledged_entry(tmp_path):
    """Through 200 kills at random instants every acknowledged entry stays, and the file is sound.

    Beyond those there is at most the one entry that each writer was writing when it was killed.
    """
    path = tmp_path / "journal.db"
    told = acknowledged(start("kill-writers", path, KILLS, 0.05))
    with Journal.open(path, create=False) as journal:
        written = [(event.seq, event.id) for event in journal.events()]
        assert journal.check() == []

    assert len(told) > KILLS // 4
    assert set(told) <= set(written)
    assert len(written) <= len(told) + KILLS
    assert [seq for seq, _ in written] == list(range(1, len(written) + 1))


def test_killed_makers_leave_no_journal_or_a_good_one(tmp_path):
    """Whenever the making of a journal is cut short, the next one to open it finds it good."""
    assert acknowledged(start("kill-makers", tmp_path, KILLS // 2, 0.05)) == []
    outcomes = set()
    for shop in tmp_path.iterdir():
        path = shop / "journal.db"
        outcomes.add(path.exists())
        assert not path.exists() or path.stat().st_size > 0
        with Journal.open(path) as journal:
            assert journal.check() == []

    assert outcomes == {True, False}
    assert not list(tmp_path.rglob("*making*"))


def test_an_entry_with_pictures_is_there_with_all_of_them_or_not_at_all(tmp_path, monkeypatch):
    """Stopped between the coat and its second picture, a command leaves nothing of either."""
    shop = tmp_path / "shop"
    make_demo(shop, NOW)
    for name in ("before.png", "after.png"):
        (shop / name).write_bytes(b"\x89PNG\r\n\x1a\n")
    words = ["log", "letter-box/slope", "done", "--picture", "before.png", "--picture", "after.png"]

    def logged():
        """Run the command and return how many entries there are."""
        variables = {"FINISHSCHED_DATA": str(shop)}
        run(words, Surroundings(now=lambda: NOW, cwd=shop, variables=variables))
        with Journal.open(shop / "journal.db") as journal:
            assert journal.check() == []
            return len(journal.events())

    with Journal.open(shop / "journal.db") as journal:
        before = len(journal.events())
    with monkeypatch.context() as stopping:
        stopping.setattr(
            "finishsched.workshop.papers.picture_entries.picture_path", stopped_after(3)
        )
        assert logged() == before
    assert logged() == before + 3


def stopped_after(calls):
    """Return what names a picture so often, and then is stopped."""

    def named(_workshop, file):
        nonlocal calls
        calls -= 1
        if calls < 0:
            raise KeyboardInterrupt
        return file.name

    return named


def test_two_programs_write_at_once_and_lose_nothing(tmp_path):
    """Of 2,000 entries by two programs at once each is there once, numbered without a gap."""
    path = tmp_path / "journal.db"
    programs = [start("write", path, 1000) for _ in range(2)]
    told = [acknowledged(program) for program in programs]
    with Journal.open(path, create=False) as journal:
        written = [(event.seq, event.id) for event in journal.events()]
        assert journal.check() == []

    assert sorted(told[0] + told[1]) == written
    assert [seq for seq, _ in written] == list(range(1, 2001))
    for own in told:
        assert own == sorted(own)


def test_programs_that_make_one_journal_at_once_share_it(tmp_path):
    """Eight programs that all find no journal end with one, holding every entry of each."""
    for round_ in range(3):
        path = tmp_path / f"journal-{round_}.db"
        programs = [start("write", path, 3) for _ in range(8)]
        told = [pair for program in programs for pair in acknowledged(program)]
        with Journal.open(path, create=False) as journal:
            assert sorted(told) == [(event.seq, event.id) for event in journal.events()]
            assert len(told) == 24

    assert not [file.name for file in tmp_path.iterdir() if "making" in file.name]
