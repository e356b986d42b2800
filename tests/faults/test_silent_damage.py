"""Damage that hides: what still reads, and is not what was written, is told at every door."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal.events import AirRead, NewEvent, Noted, Undone
from finishsched.journal.lines import copy_lines
from finishsched.journal.store import Journal
from finishsched.model.shop import Air
from finishsched.planning.problem import Placed, Plan
from finishsched.workshop.base.place import PLAN_FILE
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.plan.memory import Remembered, recall, remember

NOW = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
NOTES = 60


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """Give a sound shop with notes, one of them undone, and a reading of the air."""
    folder = tmp_path_factory.mktemp("whole")
    (folder / "shop.yaml").write_text("shop: Here\n", "utf-8")
    with Journal.open(folder / "journal.db") as journal:
        notes = [NewEvent(NOW, "box/lid", Noted(f"note {number}")) for number in range(NOTES)]
        first = journal.append_all(lambda _book: notes, NOW)[0]
        journal.append(lambda _book: NewEvent(NOW, "box/lid", Undone(first.id)), NOW)
        journal.append(lambda _book: NewEvent(NOW, None, AirRead(Air(20.0, 50.0))), NOW)
    return folder


@pytest.fixture
def shop(whole, tmp_path):
    """Return a copy of the sound shop, to be damaged."""
    return shutil.copytree(whole, tmp_path / "shop")


def tamper(shop, *statements):
    """Change what is said never to change."""
    with closing(sqlite3.connect(shop / "journal.db", isolation_level=None)) as db:
        names = db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for (name,) in names:
            db.execute(f"DROP TRIGGER {name}")
        db.execute("PRAGMA writable_schema = ON")
        for statement in statements:
            db.execute(statement)


def told(shop):
    """Return what a quick look, a full one and a copy say of the journal."""
    path = shop / "journal.db"
    with Journal.open_or_look(path) as journal:
        quick, full = journal.check(quickly=True), journal.check()
    return quick, full, copy_lines(path, "test", list)


def read(shop):
    """Read all that commands read; return the texts of the notes, and what is told to be lost."""
    with Journal.open_or_look(shop / "journal.db") as journal:
        book = journal.book()
        found = [event.what for piece in book.filed for event in book.live(piece)]
        book.told_air.every()
        book.told_air.last_surface()
        return [what.text for what in found if isinstance(what, Noted)], journal.lost


def ran(shop, *words):
    """Run one command and return its status."""
    variables = {"FINISHSCHED_DATA": str(shop)}
    return run(words, Surroundings(now=lambda: NOW, cwd=shop, variables=variables))


def test_an_entry_that_still_reads_is_not_taken_at_its_word(shop):
    """A note in which one byte changed reads well; whoever reads it is told that it changed."""
    tamper(shop, "UPDATE events SET body = replace(body, 'note 9\"', 'note 8\"') WHERE seq = 10")
    texts, lost = read(shop)
    assert len(texts) == NOTES - 1
    assert "entry 10 (note) is not as it was written" in lost[0]


@pytest.mark.parametrize(
    "words",
    [
        ("due",),
        ("record", "tea-chest/lid", "--text"),
        ("log", "tea-chest/lid", "entries"),
        ("plan",),
        ("export", "--tables", "tables"),
    ],
    ids=lambda words: words[0],
)
def test_whatever_reads_a_changed_entry_says_so_once(demo, words, capsys):
    """No command gives an answer made of a changed entry without a word about it."""
    ran(demo, *words)
    assert capsys.readouterr().err.count("is not as it was written") == 1


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the demo's shop with coats that changed on the disk."""
    folder = tmp_path_factory.mktemp("demo") / "shop"
    make_demo(folder, NOW)
    coats = "UPDATE events SET body = body || ' ' WHERE piece = 'tea-chest/lid'"
    tamper(folder, f"{coats} AND kind = 'step-done'")
    return folder


LACKING = (
    "DROP INDEX events_by_piece",
    "CREATE INDEX events_by_piece ON events (piece, kind, seq) WHERE kind = 'undo'",
    "UPDATE sqlite_master SET sql = replace(sql, '= ''undo''', '<> ''air''')",
)


@pytest.mark.parametrize(
    "statements",
    [
        ("DELETE FROM pieces",),
        ("DELETE FROM undone",),
        ("UPDATE air SET temperature_c = 5.0",),
        ("UPDATE last_written SET logged_at = '2020-01-01T00:00:00.000000Z'",),
        ("DELETE FROM sums WHERE seq = 3",),
        LACKING,
    ],
    ids=["pieces", "undone", "air", "last written", "sums", "index"],
)
def test_what_stands_beside_the_entries_is_looked_at_too(shop, statements, capsys):
    """A table or index that hides entries which are all there is told, and the entries are kept."""
    tamper(shop, *statements)
    assert all(told(shop))
    assert ran(shop, "check") == 1
    assert ran(shop, "backup", str(shop.with_name("kept.zip"))) == 1
    assert ran(shop, "export", "--journal", str(shop.with_name("kept.jsonl"))) == 1
    assert ran(shop, "restore", str(shop.with_name("kept.zip")), str(shop.with_name("new"))) == 0
    capsys.readouterr()
    with Journal.open(shop.with_name("new") / "journal.db") as journal:
        assert journal.check() == []
        assert len(journal.book().live("box/lid")) == NOTES - 1


@pytest.mark.parametrize(
    "statements",
    [
        ("UPDATE last_written SET logged_at = '2026-11-25T18>00'",),
        ("UPDATE air SET at_s = 1e300",),
    ],
    ids=["no time", "no instant"],
)
def test_a_column_that_holds_something_else_ends_in_words(shop, statements):
    """What cannot be read in a table beside the entries is damage, never a fault of the program."""
    tamper(shop, *statements)
    texts, _ = read(shop)
    assert len(texts) == NOTES - 1
    assert all(told(shop))


def test_a_snapshot_without_a_name_ends_in_words(shop):
    """A row of which the name is gone costs nobody the journal."""
    tamper(shop, "INSERT INTO snapshots VALUES (printf('%064d', 0), printf('%064d', 1))")
    path = shop / "journal.db"
    # The head of the row says how long its columns are: nothing for the name, all for the text.
    head, bad = b"\x05\x81\x0d\x81\x0d", b"\x05\x80\x00\x82\x0d"
    path.write_bytes(path.read_bytes().replace(head, bad))
    texts, _ = read(shop)
    assert len(texts) == NOTES - 1
    assert all(told(shop))


def test_damage_round_whole_entries_is_damage(shop, capsys):
    """Where every entry reads but the file is not sound, check says so and nothing is logged."""
    path = shop / "journal.db"
    path.write_bytes(path.read_bytes().replace(b"TRIGGER snapshots", b"TSIGGER snapshots"))
    texts, lost = read(shop)
    assert len(texts) == NOTES - 1
    assert "not sound" in lost[0]
    assert ran(shop, "check") == 1
    assert ran(shop, "due") == 0
    assert "the journal is damaged" in capsys.readouterr().err


def test_a_plan_that_changed_on_the_disk_is_made_anew(tmp_path):
    """Of a plan that is kept no start is believed in which one bit turned; a sound one is."""
    plan = Plan((Placed("box/lid", 29_000_000, 29_000_030),))
    kept = Remembered(plan, 29_000_000)
    assert remember(tmp_path, kept)
    assert recall(tmp_path) == kept
    file = tmp_path / PLAN_FILE
    whole = file.read_bytes()
    for at in range(len(whole)):
        bad = bytearray(whole)
        bad[at] ^= 1
        file.write_bytes(bad)
        assert recall(tmp_path) is None
