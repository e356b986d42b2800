"""The table of the readings: always what the entries say, and made anew from them."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta, timezone

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.journal.air_rows import StoredAir, fill
from finishsched.journal.events import AirRead, Event, NewEvent, Noted, StepDone, Undone
from finishsched.journal.files import build
from finishsched.journal.progress import EMPTY_BOOK, fold
from finishsched.journal.schema import MIGRATIONS, migrate
from finishsched.journal.source import Source
from finishsched.journal.store import Journal
from finishsched.model.shop import Air

AT = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
WEST = timezone(timedelta(hours=-3, minutes=-30))

instants = st.none() | st.datetimes(
    datetime(2020, 1, 1),  # noqa: DTZ001  # the strategy puts the zone on
    datetime(2030, 1, 1),  # noqa: DTZ001
    timezones=st.sampled_from([UTC, WEST]),
)
airs = st.builds(Air, st.floats(-10, 40), st.floats(1, 100), st.just(0.1), instants)
whats = st.one_of(
    st.builds(Noted, st.just("a")),
    st.builds(AirRead, airs, st.sampled_from(["", "log.csv"])),
    st.builds(StepDone, st.just("body/pad:1.1"), air=st.none() | airs),
    st.just("undo"),
)


@given(st.lists(st.tuples(whats, st.integers(0, 30)), max_size=30))
@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_the_book_tells_the_readings_that_the_entries_tell(tmp_path, drawn):
    """Read from the table or folded from the entries, the live readings are the same."""
    path = tmp_path / f"{len(list(tmp_path.iterdir()))}.db"
    with Journal.open(path) as journal:
        for number, (made, back) in enumerate(drawn):
            known = journal.events()
            undo = Undone(known[back % len(known)].id if known else "0" * 32)
            what = undo if made == "undo" else made
            at = AT + timedelta(minutes=number)
            journal.append(lambda _, at=at, what=what: NewEvent(at, None, what), at)
        told = fold(EMPTY_BOOK, journal.events()).air
        found = journal.book().air

        assert [(r.at, r.seq, r.event_id) for r in found] == [
            (r.at, r.seq, r.event_id) for r in told
        ]
        assert [r.air.temperature_c for r in found] == [r.air.temperature_c for r in told]
        assert journal.book().last_logged_at == fold(EMPTY_BOOK, journal.events()).last_logged_at
        assert journal.check() == []
    path.unlink()


def test_a_journal_of_the_first_version_gets_its_table(path, now):
    """Opened by this release, an earlier journal keeps every entry and tells the same air."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        migrate(db, MIGRATIONS[:1])
        rows = [
            (1, "a", "2026-03-01T08:30:00.000000Z", "2026-03-01T08:30:00.000000Z", None, "air",
             '{"air":{"humidity_percent":50.0,"temperature_c":20.0}}'),
            (2, "b", "2026-03-01T09:30:00.000000Z", "2026-03-01T09:30:00.000000Z", None, "air",
             '{"air":'),
        ]  # fmt: skip
        db.executemany("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?)", rows)
        db.execute("PRAGMA journal_mode = WAL")
    with Journal.open(path) as journal:
        (reading,) = journal.book().air
        assert (reading.at, reading.air.temperature_c) == (now, 20.0)
        assert journal.book().last_seq == 2


def test_readings_told_since_an_entry(journal, now):
    """Only what is new is asked for again: that is what keeps a bench with a logger quick."""
    for minutes, warmth in ((0, 20.0), (10, 21.0), (5, 22.0)):
        at = now + timedelta(minutes=minutes)
        journal.append(
            lambda _, at=at, t=warmth: NewEvent(at, None, AirRead(Air(t, 50.0, at=at))), now
        )
    told = journal.book().told_air

    assert [row[1] for row in told.figures()] == [20.0, 22.0, 21.0]
    assert [row[1] for row in told.figures(after_seq=2)] == [22.0]
    second_s = told.figures()[1][0]
    assert [row[1] for row in told.figures(since_s=second_s)] == [22.0, 21.0]
    assert told.last().air.temperature_c == 21.0
    assert told.last_written().air.temperature_c == 22.0


def test_a_table_that_went_wrong_is_found_and_made_anew(path, now):
    """A row too few is told by the check, and filling the table puts it right."""
    with Journal.open(path) as journal:
        journal.append(lambda _: NewEvent(now, None, AirRead(Air(20.0, 50.0))), now)
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("DELETE FROM air")
    with Journal.open(path) as journal:
        (finding,) = journal.check()
        assert "differs from the entries in 1 row" in finding
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        fill(db)
    with Journal.open(path) as journal:
        assert journal.check() == []


def test_an_empty_table_tells_nothing(tmp_path):
    """A journal without readings has no last one and no figures."""
    build(tmp_path / "a.db")
    with closing(sqlite3.connect(tmp_path / "a.db")) as db:
        told = StoredAir(Source(tmp_path / "a.db", db), 0, frozenset())

        assert (told.last(), told.last_surface(), told.figures()) == (None, None, [])


def test_folding_on_keeps_the_readings_of_the_journal(journal, now):
    """What a plan folds on top of the journal's book does not lose its air."""
    journal.append(lambda _: NewEvent(now, None, AirRead(Air(20.0, 50.0))), now)
    book = journal.book()
    more = fold(book, [Event(book.last_seq + 1, "x", now, now, "box/lid", Noted("a"))])

    assert more.air == book.air
    assert len(more.air) == 1
