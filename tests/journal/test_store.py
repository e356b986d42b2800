"""The journal in SQLite: what is added stays, is seen by all, and is acknowledged when durable."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import date, timedelta

import pytest

from finishsched.journal.events import (
    PAYLOADS,
    AirRead,
    Amended,
    BatchMixed,
    BottleWeighed,
    CautionsRead,
    DefectSeen,
    DryNotYet,
    DryReady,
    FilmGauged,
    HandsAway,
    HandTested,
    JarTested,
    LotBought,
    NewEvent,
    Noted,
    PaceSet,
    PictureAttached,
    PiecesJoined,
    PieceStarted,
    RagsDealtWith,
    ReworkTaken,
    ScheduleAdopted,
    StepDone,
    StepSkipped,
    StockCounted,
    SuppliesTold,
    SurfaceRead,
    Undone,
    WentEarly,
    WentIn,
    ZoneMeasured,
    ZoneStands,
)
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.progress import EMPTY_BOOK, fold, piece_progress
from finishsched.journal.store import Journal
from finishsched.model.plain import canonical_json, text_hash
from finishsched.model.shop import Air


class NoSuchPieceError(Exception):
    """A refusal by the one who builds an entry."""


@pytest.fixture
def note(now):
    """Return what builds a note that it is given the words of."""

    def builder(text, piece="box/lid"):
        return lambda _book: NewEvent(now, piece, Noted(text))

    return builder


def test_an_entry_is_there_when_the_journal_is_opened_again(path, now, note):
    """What was acknowledged is read back, the same, by whoever opens the file next."""
    with Journal.open(path) as journal:
        written = journal.append(note("veneer lifted"), now)
    with Journal.open(path, create=False) as journal:
        assert journal.events() == (written,)
        assert journal.check() == []


def test_closing_leaves_a_single_file(path, now, note):
    """After the last one closed it, the journal is one file that can be copied."""
    with Journal.open(path) as journal:
        journal.append(note("a"), now)

    assert [file.name for file in path.parent.iterdir()] == ["journal.db"]


def test_entries_are_numbered_from_one_without_a_gap(journal, now, note):
    """Numbers go up by one, a refused entry between them takes none."""

    def refuse(_book):
        raise NoSuchPieceError

    first = journal.append(note("a"), now)
    with pytest.raises(NoSuchPieceError):
        journal.append(refuse, now)
    second = journal.append(note("b"), now)

    assert (first.seq, second.seq) == (1, 2)


def test_a_refusal_leaves_the_journal_as_it_was(journal, now):
    """Whoever builds an entry may raise: nothing is written, and the next entry goes through."""

    def refuse(_book):
        raise NoSuchPieceError

    with pytest.raises(NoSuchPieceError):
        journal.append(refuse, now)

    assert journal.events() == ()
    assert journal.book() == EMPTY_BOOK


def test_an_interrupt_while_building_leaves_the_journal_as_it_was(journal, now, note):
    """Even ^C inside a build rolls back, and the journal goes on working."""

    def interrupt(_book):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        journal.append(interrupt, now)

    assert journal.append(note("a"), now).seq == 1


def test_several_entries_are_written_all_or_none(journal, now):
    """A fault in the last of several entries keeps the first ones out too."""
    good, bad = NewEvent(now, None, Noted("a")), NewEvent(now, None, Noted("\udc80"))
    with pytest.raises(JournalFaultError, match="cannot be written"):
        journal.append_all(lambda _book: [good, bad], now)
    assert journal.events() == ()

    written = journal.append_all(lambda _book: [good, good], now)
    assert journal.events() == written
    assert [event.seq for event in written] == [1, 2]


def test_no_entries_at_all_is_nothing_written(journal, now):
    """A build may find that there is nothing to write."""
    assert journal.append_all(lambda _book: [], now) == ()
    assert journal.events() == ()


def test_builds_see_what_others_wrote(path, journal, now, note):
    """The book that a build is given holds the entries of other processes up to that moment."""
    journal.append(note("a"), now)
    with Journal.open(path) as other:
        other.append(note("b"), now)
    seen = []
    journal.append(lambda book: seen.append(book) or NewEvent(now, None, Noted("c")), now)

    assert [event.what.text for event in seen[0].live("box/lid")] == ["a", "b"]


def test_a_build_may_read_the_journal(journal, now, note):
    """Inside a build the journal answers as it stands, without waiting for itself."""
    journal.append(note("a"), now)
    event = journal.append(lambda _b: NewEvent(now, None, Noted(str(len(journal.events())))), now)

    assert event.what.text == "1"
    assert journal.book().last_seq == 2


def test_the_book_catches_up_with_others(path, journal, now, note):
    """The book has the entries of another connection as soon as they are acknowledged there."""
    assert journal.book() == EMPTY_BOOK
    with Journal.open(path) as other:
        other.append(note("a"), now)
        assert journal.book() == fold(EMPTY_BOOK, other.events())


def test_data_version_tells_of_others_only(path, journal, now, note):
    """The number is the same until another connection writes, whatever this one does."""
    first = journal.data_version()
    journal.append(note("a"), now)
    assert journal.data_version() == first

    with Journal.open(path) as other:
        other.append(note("b"), now)
    assert journal.data_version() != first


def test_events_by_piece_and_after_a_number(journal, now, note):
    """Entries can be asked for from a number on, and of one piece, undone ones among them."""
    lid = journal.append(note("a"), now)
    case = journal.append(note("b", "box/case"), now)
    undo = journal.append(lambda _b: NewEvent(now, "box/lid", Undone(lid.id)), now)

    assert journal.events(piece="box/lid") == (lid, undo)
    assert journal.events(after_seq=1) == (case, undo)
    assert journal.events(after_seq=1, piece="box/case") == (case,)


def test_a_clock_that_steps_back_changes_no_order(journal, now, steps):
    """Entries count in the order of writing, though a later one carries an earlier time."""
    build = [
        lambda _b: NewEvent(now, "box/lid", StepDone(steps[0].key)),
        lambda _b: NewEvent(now - timedelta(days=1), "box/lid", StepDone(steps[1].key)),
    ]
    journal.append(build[0], now)
    later = journal.append(build[1], now - timedelta(days=1))
    progress = piece_progress(journal.book(), "box/lid", steps)

    assert later.logged_at < now
    assert [event.seq for event in journal.events()] == [1, 2]
    assert journal.book().newest("box/lid", 1) == (later,)
    assert progress.laid_at == now - timedelta(days=1)
    assert journal.book().last_logged_at == now
    assert journal.check() == []


def test_a_snapshot_is_kept_once_and_read_back(journal, now):
    """The text that an entry names by hash is in the same transaction, however often named."""
    text = canonical_json(Air(20.0, 50.0))
    hash_ = text_hash(text)
    started = NewEvent(now, "box/lid", PieceStarted("padded", hash_, hash_), ((hash_, text),) * 2)
    journal.append(lambda _book: started, now)
    journal.append(lambda _book: started, now)

    assert journal.snapshot(hash_) == text
    assert journal.check() == []


def test_a_snapshot_under_a_wrong_name_is_refused(journal, now):
    """A text whose hash is another one is a mistake in the program, and nothing is written."""
    wrong = NewEvent(now, None, Noted("a"), (("0" * 64, "{}"),))
    with pytest.raises(ValueError, match="another text"):
        journal.append(lambda _book: wrong, now)

    assert journal.events() == ()


def test_an_unknown_snapshot_is_a_fault(journal):
    """Asking for a snapshot that is not there names its hash."""
    with pytest.raises(JournalFaultError, match="no snapshot abcdefabcdef"):
        journal.snapshot("abcdef" * 10)


def test_the_last_look_is_remembered_across_openings(path, now):
    """The newest look is kept, is no entry, and survives closing."""
    with Journal.open(path) as journal:
        assert journal.last_look() is None
        journal.look(now - timedelta(hours=7))
        journal.look(now)
        assert journal.events() == ()
    with Journal.open(path) as journal:
        assert journal.last_look() == now


def test_a_name_with_odd_characters_works(tmp_path, now, note):
    """Folder and file names with what means something in addresses and patterns are just names."""
    folder = tmp_path / "shop #1 50% [new] ? é"
    folder.mkdir()
    with Journal.open(folder / "jour[n]al #?.db") as journal:
        journal.append(note("a"), now)
    with Journal.open(folder / "jour[n]al #?.db", create=False) as journal:
        assert len(journal.events()) == 1


def test_every_kind_of_entry_passes_through_the_file(journal, now):
    """Each kind is stored under its own name and comes back as itself."""
    made = [
        PieceStarted("padded", "0" * 64, "0" * 64, "Ana"),
        ScheduleAdopted("padded", "0" * 64),
        StepDone("body/pad:1.1", amount_ml=12.0, air=Air(20.0, 50.0, at=now), took_min=12.5),
        DryReady("body/pad:1.1", "Rui"),
        WentEarly("body/pad:1.1", "Rui", "no other evening"),
        DryNotYet("body/pad:1.1", note="drags"),
        StepSkipped("body/pad:1.2", "film is full"),
        Noted("a rod of light, straight"),
        DefectSeen("blush near the edge", "body/pad:1.1", seen="blush"),
        ReworkTaken("0" * 64, 1, "spirit-off", "flash it off", "blush", "0" * 32),
        Undone("0" * 32),
        Amended("0" * 32, at=now, hands="Rui", amount_g=12.0, by="Ana"),
        PiecesJoined(("box/lid", "box/front"), until=now),
        AirRead(Air(20.0, 50.0), "by hand"),
        LotBought("tin", "shellac-dewaxed-blonde", amount_g=500.0),
        BatchMixed("jar 1", "shellac-dewaxed-blonde", 250.0, cut_g_per_l=240.0),
        BatchMixed(
            "jar 2", "toner", 500.0, parts=(WentIn("dye", 2.5), WentIn("ethanol", None, 455.0))
        ),
        StockCounted("jar 1", left_ml=100.0),
        SuppliesTold("P240", "sheet", 10.0, bought=True, by="Ana"),
        BottleWeighed("body/pad:1.1", 512.0, 498.0, 2, "Ana"),
        FilmGauged(45.0, "Ana"),
        ZoneMeasured("edges", 420.0, "Ana"),
        ZoneStands("shell inlay", -40.0, "Ana"),
        SurfaceRead("gloss", "field", (42.0,), 60, by="Ana", note="the top edge"),
        JarTested("jar 1", 3600.0, "Ana"),
        HandTested("film", "P400", 10.0, 1e4, 0.5, wet=True, by="Ana"),
        CautionsRead(("0123456789abcdef",), "Ana"),
        RagsDealtWith("flat outdoors", "Ana", "over the fence"),
        PaceSet("shellac-dewaxed-blonde", "between coats", 1.2, by="Ana"),
        HandsAway(date(2026, 3, 2), date(2026, 3, 3), "Ana"),
        PictureAttached("pictures/lid.jpg", "before the last coat", "Ana"),
    ]
    journal.append_all(lambda _book: [NewEvent(now, "box/lid", what) for what in made], now)

    assert [event.what for event in journal.events()] == made
    assert {what.kind for what in made} == set(PAYLOADS)


def test_a_closed_journal_says_so(path):
    """Using a journal after closing it is a fault like any other, not a crash."""
    journal = Journal.open(path)
    journal.close()

    with pytest.raises(JournalFaultError, match="closed"):
        journal.book()


def test_check_finds_what_was_tampered_with(path, now, note):
    """A changed snapshot, a lost one, a lost entry and an unreadable one are each told."""
    text = canonical_json(Air(20.0, 50.0))
    hash_ = text_hash(text)
    with Journal.open(path) as journal:
        started = NewEvent(now, "a/b", PieceStarted("padded", hash_, "f" * 64), ((hash_, text),))
        journal.append(lambda _book: started, now)
        journal.append(note("a"), now)
        journal.append(note("b"), now)
    _tamper(
        path,
        "UPDATE snapshots SET body = 'x'",
        "UPDATE events SET kind = 'joke' WHERE seq = 3",
        "DELETE FROM events WHERE seq = 2",
    )
    with Journal.open(path) as journal:
        found = "\n".join(journal.check())

    assert f"snapshot {hash_[:12]} is not the text that it was" in found
    assert "entry 1 names snapshot ffffffffffff, which is lost" in found
    assert "3 entries were written, 2 are there" in found
    assert "entry 3 of the journal is of an unknown kind" in found


def _tamper(path, *statements):
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        names = db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for (name,) in names:
            db.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            db.execute(statement)


def test_the_journal_loads_nothing_dear():
    """Opening a journal loads no YAML, no units, no screen: a command must start at once."""
    code = (
        "import sys, finishsched.journal.store\n"
        "dear = {'yaml', 'pint', 'click', 'textual', 'rich', 'numpy', 'uuid', 'dateutil'}\n"
        "print(sorted(dear & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"


def _tampered(path, statement, *values):
    """Change what is said never to change."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'"):
            db.execute(f"DROP TRIGGER {name}")
        db.execute(statement, values)


def test_an_entry_that_reads_otherwise_than_it_was_written_is_named(path, note, now):
    """A sound journal has nothing wrong; one word changed behind its back is told, by its entry."""
    with Journal.open(path) as journal:
        for text in ("one", "two", "three"):
            journal.append(note(text), now)
        assert journal.check() == []
    _tampered(path, "UPDATE events SET body = replace(body, 'two', 'TWO') WHERE seq = 2")
    with Journal.open_or_look(path) as journal:
        (fault,) = journal.check()
        assert "entry 2 is not as it was written" in fault
