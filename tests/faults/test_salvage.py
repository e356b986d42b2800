"""A damaged journal: what is sound of it is read and comes back, and what is not is told."""

from __future__ import annotations

import random
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal import derived, soundness
from finishsched.journal.events import AirRead, NewEvent, Noted, PieceStarted, StepDone
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.salvage import salvage
from finishsched.journal.store import Journal
from finishsched.model.job import Face, Piece
from finishsched.model.plain import canonical_json, text_hash
from finishsched.model.shop import Air
from finishsched.workshop.demo.demo import make_demo

NOW = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
ENTRIES = 400
SCHEDULE = canonical_json(Piece("lid", "Padded lid", "padded", (Face("top", 300.0, 200.0),)))


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """Give a sound journal of several hundred entries of several kinds."""
    path = tmp_path_factory.mktemp("whole") / "journal.db"
    hash_ = text_hash(SCHEDULE)
    new = [NewEvent(NOW, "box/lid", PieceStarted("padded", hash_, hash_), ((hash_, SCHEDULE),))]
    for number in range(1, ENTRIES):
        at = NOW + timedelta(minutes=number)
        whats = (
            Noted(f"note {number}"),
            StepDone(f"body/pad:1.{number}"),
            AirRead(Air(20.0, 50.0)),
        )
        what = whats[number % 3]
        new.append(NewEvent(at, None if isinstance(what, AirRead) else "box/lid", what))
    with Journal.open(path) as journal:
        journal.append_all(lambda _book: new, NOW)
    return path


@pytest.fixture
def path(whole, tmp_path):
    """Return a copy of the sound journal, to be damaged."""
    return shutil.copy(whole, tmp_path / "journal.db")


def test_what_is_held_of_a_journal_is_no_file_left_open(path):
    """A program that read one says nothing on its way out, warned of files that nobody closed.

    The interpreter told of 'unclosed file journal.db' at its end.
    """
    program = (
        "import sys; from pathlib import Path; from finishsched.journal.files import bytes_of; "
        "path = Path(sys.argv[1]); assert bytes_of(path) == bytes_of(path) == path.read_bytes()"
    )
    command = [sys.executable, "-W", "error::ResourceWarning", "-c", program, str(path)]
    ran = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")


def tamper(path, *statements):
    """Change what is said never to change."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        names = db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for (name,) in names:
            db.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            db.execute(statement)


def read_fully(path):
    """Return every entry of every piece as commands read them, and what is told to be lost."""
    with Journal.open_or_look(path) as journal:
        book = journal.book()
        found = [event for piece in book.filed for event in book.live(piece)]
        return found + list(book.air), journal.lost


def test_an_unreadable_entry_hides_no_other(path):
    """All others are read, it is told, nothing more is logged, and the way out is named."""
    tamper(path, "UPDATE events SET body = '{\"note\":' WHERE seq = 7")
    found, lost = read_fully(path)
    assert len(found) == ENTRIES
    assert len(lost) == 1
    assert lost[0].startswith("entry 7 (note")

    with Journal.open_or_look(path) as journal:
        note = NewEvent(NOW, "box/lid", Noted("next"))
        with pytest.raises(JournalFaultError, match="NEW-DIR") as caught:
            journal.append(lambda book: book.live("box/lid") and note, NOW)
    assert "entry 7" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_damaged_snapshot_still_serves_and_is_told(path):
    """A schedule's text in which a byte changed is no longer what its hash says; it is told."""
    hash_ = text_hash(SCHEDULE)
    tamper(path, "UPDATE snapshots SET body = replace(body, 'Padded', 'Puddle')")
    with Journal.open_or_look(path) as journal:
        assert any(hash_[:12] in line for line in journal.check())
        (started,) = journal.book().told("box/lid", PieceStarted)
        journal.snapshot(started.what.schedule_hash)
        (again,) = journal.events()[:1]
        assert "Puddle" in journal.snapshot(again.what.schedule_hash)
        assert hash_[:12] in journal.lost[0]


def test_a_bit_that_turned_in_a_snapshot_is_turned_back(path):
    """By its hash a snapshot of which one bit turned is as it was, and the entry that names it."""
    tamper(path, "UPDATE snapshots SET body = replace(body, 'Padded', 'Paddad')")
    saved = salvage(path)
    assert saved.snapshots == ((text_hash(SCHEDULE), SCHEDULE),)
    assert saved.lost == ()


def test_a_snapshot_that_cannot_be_read_costs_its_entry(path):
    """What begins a piece goes with the text it began by; every other entry stays."""
    tamper(path, "UPDATE snapshots SET body = substr(body, 9)")
    saved = salvage(path)
    assert "cannot be read any more" in saved.lost[0]
    assert "which is lost" in saved.lost[1]
    assert len(saved.lost) == 2
    with Journal.open_or_look(path) as journal:
        assert journal.book().told("box/lid", PieceStarted)
        with pytest.raises(JournalFaultError):
            journal.snapshot(text_hash(SCHEDULE))


def test_an_entry_that_changed_on_the_disk_is_told(path):
    """A figure that still reads well but is not the one written is found by its sum."""
    tamper(path, "UPDATE events SET body = replace(body, 'note 9\"', 'note 8\"') WHERE seq = 10")
    with Journal.open(path) as journal:
        (line,) = journal.check()
    assert "entry 10 is not as it was written" in line
    assert "entry 10" in " ".join(salvage(path).lost)


@pytest.mark.parametrize("seed", range(12))
def test_a_flipped_byte_costs_little_and_is_told(path, whole, seed):
    """Wherever a byte flips, the journal is read, or what is lost is told; never a crash."""
    chance = random.Random(seed)  # noqa: S311  # the same in every run
    data = bytearray(path.read_bytes())
    for at in chance.sample(range(len(data)), 1 + seed // 3):
        data[at] ^= 1 << chance.randrange(8)
    path.write_bytes(data)

    found, _ = read_fully(path)
    saved = salvage(path)
    assert len(found) >= ENTRIES - 60
    assert [row[0] for row in saved.rows] == list(range(1, ENTRIES + 1))
    sound = set(salvage(whole).rows)
    assert len(sound & set(saved.rows)) + len(saved.lost) >= ENTRIES


def test_a_journal_cut_short_gives_what_is_left(path):
    """Half a file is half a journal, and all that is gone is told."""
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    saved = salvage(path)
    assert len(saved.lost) < ENTRIES
    assert [row[0] for row in saved.rows] == list(range(1, len(saved.rows) + 1))
    found, lost = read_fully(path)
    assert found
    assert lost


def test_what_is_no_journal_is_not_salvaged(path):
    """Noise holds nothing that is sound, and is refused as no journal of ours."""
    path.write_bytes(bytes(range(256)) * 80)
    with pytest.raises(JournalFaultError, match="no journal of finishsched"):
        Journal.open_or_look(path)


def test_every_command_tells_of_a_flipped_byte_and_keeps_the_rest(tmp_path, capsys):
    """A byte flipped in a snapshot is told by check, due, export, backup; then it is salvaged."""
    shop = tmp_path / "shop"
    make_demo(shop, NOW)
    tamper(shop / "journal.db", "UPDATE snapshots SET body = replace(body, 'shellac', 'shellaz')")

    def ran(*words):
        variables = {"FINISHSCHED_DATA": str(shop)}
        world = Surroundings(now=lambda: NOW, cwd=shop, variables=variables)
        return run(words, world), capsys.readouterr().err

    assert ran("check")[0] == 1
    status, said = ran("due")
    assert status == 0
    assert "the journal is damaged" in said
    status, said = ran("log", "tea-chest/lid", "note", "a")
    assert status == 2
    assert said.count("NEW-DIR") >= 1
    status, said = ran("export", "--journal", str(tmp_path / "a.jsonl"))
    assert status == 1
    assert "not the text that it was" in said
    status, said = ran("backup", str(tmp_path / "a.zip"))
    assert status == 1
    assert "not the text that it was" in said
    assert ran("backup", "--check", str(tmp_path / "a.zip"))[0] == 0
    assert ran("restore", str(shop), str(tmp_path / "new"))[0] == 1
    with Journal.open(tmp_path / "new" / "journal.db") as journal:
        assert journal.check() == []
    assert ran("restore", str(tmp_path / "a.zip"), str(tmp_path / "again"))[0] == 0


def test_an_entry_kept_is_never_told_as_refused(tmp_path, capsys, monkeypatch):
    """When the look cannot be marked after an entry, because another writes, the entry stands."""
    shop = tmp_path / "shop"
    make_demo(shop, NOW)
    taken = Journal.append_all

    def then_locked(journal, build, now):
        events = taken(journal, build, now)
        other.execute("BEGIN IMMEDIATE")
        return events

    monkeypatch.setattr(Journal, "append_all", then_locked)
    with closing(sqlite3.connect(shop / "journal.db", isolation_level=None)) as other:
        variables = {"FINISHSCHED_DATA": str(shop)}
        world = Surroundings(now=lambda: NOW, cwd=shop, variables=variables)
        status = run(["log", "tea-chest/lid", "note", "once"], world)
    said = capsys.readouterr()
    assert status == 0, said.err
    assert "nothing was written" not in said.err
    assert "once" in said.out


def test_what_the_leaves_hold_comes_back_where_the_way_to_them_is_lost(path, whole):
    """Without the page that names the tables every entry, snapshot and sum is still found."""
    data = bytearray(path.read_bytes())
    data[100:4096] = bytes(3996)
    path.write_bytes(data)
    saved = salvage(path)
    assert saved.rows == salvage(whole).rows
    assert saved.snapshots == ((text_hash(SCHEDULE), SCHEDULE),)
    assert saved.lost == ()


@pytest.mark.parametrize("letters", [3000, 4050, 4070, 4100, 8000, 20_000])
def test_a_text_longer_than_a_page_comes_back_from_leaves(tmp_path, letters):
    """Snapshots and notes run over into pages of their own, which are followed to their end."""
    path, text = tmp_path / "journal.db", "a nib, " * (letters // 7)
    body = canonical_json(Piece(text, "Padded lid", "padded", (Face("top", 300.0, 200.0),)))
    hash_ = text_hash(body)
    started = PieceStarted("padded", hash_, hash_)
    with Journal.open(path) as journal:
        journal.append(lambda _: NewEvent(NOW, "box/lid", started, ((hash_, body),)), NOW)
        journal.append(lambda _: NewEvent(NOW, "box/lid", Noted(text)), NOW)
    sound = salvage(path)
    data = bytearray(path.read_bytes())
    data[100:4096] = bytes(3996)
    path.write_bytes(data)
    assert salvage(path) == sound
    assert sound.snapshots == ((hash_, body),)
    assert len(sound.rows) == 2


def test_the_first_and_the_last_entry_are_told_where_they_are_lost(path):
    """One that cannot be read, and one that is gone and of which only the sum is left."""
    tamper(path, "UPDATE events SET body = 'no text of ours' WHERE seq = 1")
    tamper(path, f"DELETE FROM events WHERE seq = {ENTRIES}")  # noqa: S608
    lost = salvage(path).lost
    assert any(line.startswith("entry 1 ") for line in lost)
    assert any(line.startswith(f"entry {ENTRIES} ") for line in lost)


@pytest.mark.parametrize(
    ("body", "summed", "says"),
    [
        ('{"text":"otherwise"}', False, "is not as it was written"),
        ("{}", True, "cannot be read"),
    ],
)
@pytest.mark.parametrize("quickly", [True, False])
def test_a_quick_look_finds_what_is_wrong_with_the_newest(
    path, monkeypatch, body, summed, says, quickly
):
    """One of the last hundred is told in either look, one before those only in the whole one."""
    monkeypatch.setattr(soundness, "_LOOKED_AT", 100)
    for seq, told in ((400, True), (301, True), (298, not quickly)):
        copy = shutil.copy(path, path.parent / f"{seq}.db")
        tamper(copy, f"UPDATE events SET body = '{body}' WHERE seq = {seq}")  # noqa: S608
        if summed:
            with closing(sqlite3.connect(copy, isolation_level=None)) as db:
                query = f"SELECT {derived.COLUMNS} FROM events WHERE seq = ?"  # noqa: S608
                (row,) = db.execute(query, (seq,))
                db.execute("UPDATE sums SET crc = ? WHERE seq = ?", (derived.sum_of(row), seq))
        with Journal.open(copy) as journal:
            found = [line for line in journal.check(quickly=quickly) if f"entry {seq}" in line]
        assert bool(found) is told
        assert all(says in line for line in found)
