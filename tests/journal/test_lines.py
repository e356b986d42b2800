"""A journal as JSON Lines: the same journal comes back, and nothing that was tampered with."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.journal import derived
from finishsched.journal.events import AirRead, NewEvent, Noted, PieceStarted, Undone
from finishsched.journal.faults import JournalFaultError
from finishsched.journal.lines import copy_lines, journal_lines, read_lines, restore_lines
from finishsched.journal.lines_reader import MOST_FAULTS, LinesFaultError
from finishsched.journal.store import Journal
from finishsched.model.plain import text_hash
from finishsched.model.shop import Air

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


def fill(path, texts=("first", "a line\u2028within", "tail\n\t\x1b[31m")):
    """Make a journal of several kinds of entries at ``path``."""
    with Journal.open(path) as journal:
        body = '{"id":"x"}'
        started = PieceStarted("x", text_hash(body), text_hash(body), "Ada")
        snapshots = ((text_hash(body), body),)
        journal.append(lambda _: NewEvent(NOW, "box/lid", started, snapshots), NOW)
        for number, text in enumerate(texts):
            at = NOW + timedelta(minutes=number)
            noted = journal.append(lambda _, t=text, at=at: NewEvent(at, "box/lid", Noted(t)), NOW)
        journal.append(lambda _: NewEvent(NOW, "box/lid", Undone(noted.id)), NOW)
        air = AirRead(Air(18.25, 55.0, 0.1, NOW), "by hand")
        journal.append(lambda _: NewEvent(NOW, None, air), NOW)


def everything(path):
    """Return every row of both tables."""
    with closing(sqlite3.connect(path)) as db:
        events = db.execute("SELECT * FROM events ORDER BY seq").fetchall()
        return events, db.execute("SELECT * FROM snapshots ORDER BY hash").fetchall()


@settings(max_examples=20)  # each makes three journals on the disk
@given(st.lists(st.text(st.characters(exclude_categories=["Cs"])), min_size=1, max_size=4))
def test_the_same_journal_comes_back(tmp_path_factory, texts):
    """Every row of entries and snapshots is the same to the letter after out and in again."""
    folder = tmp_path_factory.mktemp("lines")
    fill(folder / "a.db", texts)
    restore_lines(journal_lines(folder / "a.db", "test"), folder / "b.db")
    assert everything(folder / "b.db") == everything(folder / "a.db")
    assert list(journal_lines(folder / "b.db", "test")) == list(
        journal_lines(folder / "a.db", "test")
    )


def test_a_restored_journal_goes_on(tmp_path):
    """What came back is a sound journal that takes the next entry and finds its undone ones."""
    fill(tmp_path / "a.db")
    restore_lines(journal_lines(tmp_path / "a.db", "test"), tmp_path / "b.db")
    with Journal.open(tmp_path / "b.db") as journal:
        assert journal.check() == []
        assert len(journal.book().undone) == 1
        event = journal.append(lambda _: NewEvent(NOW, "box/lid", Noted("next")), NOW)
    assert event.seq == len(everything(tmp_path / "a.db")[0]) + 1


def test_an_empty_journal_is_filled(tmp_path):
    """A journal in which nothing was entered, as a new shop has, takes the lines and is sound."""
    fill(tmp_path / "a.db")
    Journal.open(tmp_path / "b.db").close()
    restore_lines(journal_lines(tmp_path / "a.db", "test"), tmp_path / "b.db")
    assert everything(tmp_path / "b.db") == everything(tmp_path / "a.db")
    with Journal.open(tmp_path / "b.db") as journal:
        assert journal.check() == []
        assert len(journal.book().air) == 1


def test_what_is_no_journal_is_not_filled(tmp_path):
    """A file of another kind in the journal's place is left as it is."""
    fill(tmp_path / "a.db")
    (tmp_path / "b.db").write_text("dear diary")
    with pytest.raises(JournalFaultError):
        restore_lines(journal_lines(tmp_path / "a.db", "test"), tmp_path / "b.db")
    assert (tmp_path / "b.db").read_text() == "dear diary"


def test_nothing_is_written_over(tmp_path):
    """Where a journal is already, the restoring is refused and the journal left as it is."""
    fill(tmp_path / "a.db")
    fill(tmp_path / "b.db", ("other",))
    before = everything(tmp_path / "b.db")
    with pytest.raises(JournalFaultError, match="there already"):
        restore_lines(journal_lines(tmp_path / "a.db", "test"), tmp_path / "b.db")
    assert everything(tmp_path / "b.db") == before


def changed(lines, number, **fields):
    """Return the lines with some fields of one of them changed."""
    data = {**json.loads(lines[number]), **fields}
    return [*lines[:number], json.dumps(data, ensure_ascii=False) + "\n", *lines[number + 1 :]]


@pytest.mark.parametrize(
    ("harm", "says"),
    [
        (lambda lines: lines[:-1], "cut short"),
        (lambda _: [], "nothing"),
        (lambda lines: [*lines, lines[-2]], "after the end"),
        (lambda lines: changed(lines, 0, format="other"), "not a journal"),
        (lambda lines: changed(lines, 0, version=9), "update"),
        (lambda lines: changed(lines, 1, text="{}"), "not the text that it was"),
        (lambda lines: changed(lines, 3, at="2020-01-01T00:00:00Z"), "one was changed"),
        (lambda lines: changed(lines, 3, kind="strange"), "unknown kind"),
        (lambda lines: [*lines[:2], *lines[3:]], "entry 2 stands where entry 1 would"),
        (lambda lines: [lines[0], "no json\n", *lines[1:]], "not JSON"),
        (lambda lines: [lines[0], "[1]\n", *lines[1:]], "no JSON object"),
        (lambda lines: [lines[0], '{"seq": 1}\n', *lines[1:]], "without 'body'"),
    ],
)
def test_lines_that_were_changed_are_refused(tmp_path, harm, says):
    """A copy cut short, changed, mixed up or foreign leaves no journal, and says what is wrong."""
    fill(tmp_path / "a.db")
    lines = harm(list(journal_lines(tmp_path / "a.db", "test")))
    with pytest.raises(LinesFaultError, match=says):
        restore_lines(lines, tmp_path / "b.db")
    assert [path.name for path in tmp_path.iterdir()] == ["a.db"]


@given(st.lists(st.text()))
def test_garbage_is_refused_in_words(lines):
    """Whatever the lines are, reading them ends in a refusal that names a line."""
    with pytest.raises(LinesFaultError, match="line 1"):
        read_lines(lines)


def test_a_missing_journal_is_told(tmp_path):
    """Exporting where there is no journal says so."""
    with pytest.raises(JournalFaultError):
        list(journal_lines(tmp_path / "none.db", "test"))


def test_lines_with_wrong_types_are_told(tmp_path):
    """A snapshot that is no text, an entry whose columns are of other types: each by its line."""
    fill(tmp_path / "a.db")
    lines = list(journal_lines(tmp_path / "a.db", "test"))
    for number, change in (
        (1, {"snapshot": 3}),
        (1, {"text": None}),
        (2, {"id": 7}),
        (2, {"at": []}),
    ):
        wrong = [*lines]
        wrong[number] = json.dumps({**json.loads(lines[number]), **change}) + "\n"
        with pytest.raises(LinesFaultError) as caught:
            read_lines(wrong)
        assert caught.value.faults[0][0] == number + 1


def test_what_is_sound_of_lines_comes_back(tmp_path):
    """A line that is no JSON costs its entry, which leaves a note; all else is there."""
    fill(tmp_path / "a.db")
    lines = list(journal_lines(tmp_path / "a.db", "test"))
    lines[3] = '{"seq": 2, "id"\n'
    copied = restore_lines(lines[:-1], tmp_path / "b.db", salvaging=True)
    assert len(copied.lost) == 3
    assert "line 4: not JSON" in copied.lost[0]
    assert "cut short" in copied.lost[1]
    assert "entry 2 cannot be read" in copied.lost[2]
    with Journal.open(tmp_path / "b.db") as journal:
        assert journal.check() == []
        assert "was lost" in journal.events()[1].what.text
        assert len(journal.events()) == len(everything(tmp_path / "a.db")[0])


def test_however_many_lines_are_bad_the_rest_comes_back(tmp_path):
    """Who only reads is told of some and spared the rest; who salvages is given all that is sound.

    A line that is no JSON is told by its number, and its entry as one that was lost.
    """
    many = MOST_FAULTS + 10
    fill(tmp_path / "a.db", [f"text {number}" for number in range(2 * many)])
    lines = list(journal_lines(tmp_path / "a.db", "test"))
    bad = range(4, 4 + many)
    harmed = ["{\n" if number in bad else line for number, line in enumerate(lines)]
    with pytest.raises(LinesFaultError) as caught:
        read_lines(harmed)
    assert MOST_FAULTS <= len(caught.value.faults) <= MOST_FAULTS + 1
    copied = restore_lines(harmed, tmp_path / "b.db", salvaging=True)
    assert sum("not JSON" in told for told in copied.lost) == many
    with Journal.open(tmp_path / "b.db") as journal:
        texts = [getattr(event.what, "text", "") for event in journal.events()]
    assert f"text {2 * many - 1}" in texts
    assert sum("was lost" in text for text in texts) == many


@pytest.mark.parametrize("summed", [False, True], ids=["harmed later", "written so"])
def test_a_damaged_journal_gives_the_lines_of_what_is_sound(tmp_path, summed):
    """What cannot be read is told, and the lines that are written come back as a journal.

    So it is too where an entry has its sum, and was never one that could be read.
    """
    fill(tmp_path / "a.db")
    with closing(sqlite3.connect(tmp_path / "a.db", isolation_level=None)) as db:
        db.execute("DROP TRIGGER events_never_change")
        db.execute("UPDATE events SET body = '{}' WHERE seq = 2")
        if summed:
            (row,) = db.execute(f"SELECT {derived.COLUMNS} FROM events WHERE seq = 2")  # noqa: S608
            db.execute("UPDATE sums SET crc = ? WHERE seq = 2", (derived.sum_of(row),))
    with pytest.raises(JournalFaultError, match="damaged"):
        list(journal_lines(tmp_path / "a.db", "test"))
    kept = []
    lost = copy_lines(tmp_path / "a.db", "test", lambda lines: kept.append(list(lines)))
    assert any("entry 2" in line for line in lost)
    restore_lines(kept[-1], tmp_path / "b.db")
    with Journal.open(tmp_path / "b.db") as journal:
        assert journal.check() == []


def test_a_body_written_otherwise_than_we_write_comes_back_to_the_byte(tmp_path):
    """Spaces and the order of keys of whoever wrote it stay, and each entry has its sum."""
    path, again = tmp_path / "journal.db", tmp_path / "again.db"
    fill(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        for (name,) in db.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall():
            db.execute(f"DROP TRIGGER {name}")
        db.execute("""UPDATE events SET body = '{ "by": "Ada",  "text": "first" }' WHERE seq = 2""")
        derived.fill(db)
        written = db.execute("SELECT count(*) FROM events").fetchone()
        assert db.execute("SELECT count(*) FROM sums").fetchone() == written
    restore_lines(journal_lines(path, "test"), again)
    assert everything(again) == everything(path)
    with closing(sqlite3.connect(again)) as db:
        (body,) = db.execute("SELECT body FROM events WHERE seq = 2").fetchone()
    assert body == '{ "by": "Ada",  "text": "first" }'
