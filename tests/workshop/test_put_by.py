"""Pieces that were finished long ago are put by: nothing is read of them until they are named."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import timedelta

import pytest

from finishsched.documents import kept
from finishsched.journal.events import AirRead, NewEvent, Undone
from finishsched.journal.source import Source
from finishsched.model.shop import Air
from finishsched.refusals import RefusalError
from finishsched.workshop.amounts.uses import habits_of
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.place import PUT_BY_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.papers.records import records_of
from finishsched.workshop.papers.tables import tables
from finishsched.workshop.safety.rags import rags_dealt_with
from finishsched.workshop.standing import where
from finishsched.workshop.standing.sentences import reads_anew_words
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.where import cure_room, find, standings, teachers

from .conftest import NOW, SCHEDULE

JOB = """\
job: {job}
title: One of many
pieces:
  - piece: lid
    title: The {job} lid
    schedule: two-coats
    species: cherry
    faces:
      - {{face: top, length: 400 mm, width: 250 mm}}
"""
OILED = "- wipe: thin\n        product: boiled-linseed-oil"
SANDED, COATED, LOOKED = What.DONE, What.DONE, What.READY
WORK = (What.START, SANDED, COATED, LOOKED, COATED, LOOKED, What.DONE)


def finish(workshop, piece, begun):
    """Work a piece through its four steps, an entry a day, from ``begun`` on."""
    for day, what in enumerate(WORK):
        amount_ml = 2.5 if what is COATED and day in (2, 4) else None
        entry = Entry(what, piece, at=begun + timedelta(days=day), amount_ml=amount_ml)
        log_entries(workshop, entry, NOW)


@pytest.fixture
def shop(folder):
    """Return a shop with eight jobs finished one a month, and the two pieces of one in hand."""
    for number in range(8):
        (folder / "jobs" / f"old-{number}.yaml").write_text(JOB.format(job=f"old-{number}"))
    with Workshop.open(folder, NOW) as workshop:
        for number in range(8):
            finish(workshop, f"old-{number}/lid", NOW - timedelta(days=300 - 30 * number))
        log_entries(workshop, Entry(What.START, "box/lid"), NOW)
    return folder


@pytest.fixture
def read(monkeypatch):
    """Return the names of the pieces whose entries are read from the disk from now on."""
    found = set()
    events = Source.events

    def noting(self, query, given=(), known=None):
        found.update(str(one).partition("+")[0] for one in given if "/" in str(one))
        return events(self, query, given, known)

    monkeypatch.setattr(Source, "events", noting)
    return found


def refs(found):
    """Return the names of what was found."""
    return [one.ref for one in found]


@pytest.fixture
def documents_read(monkeypatch):
    """Return the names of the documents that are read from now on."""
    found = set()
    load = kept.load

    def noting(path, kind=None, name=None):
        found.add(name)
        return load(path, kind, name)

    monkeypatch.setattr(kept, "load", noting)
    return found


def in_hand(folder):
    """Return where every piece stands that is not put by."""
    with Workshop.open(folder, NOW) as workshop:
        return standings(workshop)


def answers(folder):
    """Return what the shop answers about all that it has."""
    with Workshop.open(folder, NOW) as workshop:
        return (
            standings(workshop),
            teachers(workshop),
            cure_room(workshop)._checks,
            habits_of(workshop),
            film_answer(workshop, "box/lid"),
            film_answer(workshop, "old-2/lid"),
            tables(workshop),
        )


def test_what_was_finished_long_ago_is_not_read(shop, read):
    """Who asks where things stand reads what is in hand, and five of eight for what they teach."""
    with Workshop.open(shop, NOW) as workshop:
        assert refs(standings(workshop)) == ["box/lid", "box/body"]
    read.clear()
    with Workshop.open(shop, NOW) as workshop:
        assert refs(standings(workshop)) == ["box/lid", "box/body"]
        assert read == {"box/lid", "box/body", *(f"old-{number}/lid" for number in range(3, 8))}


def test_answers_are_the_same_without_what_was_kept(shop):
    """Film, tables, waits and amounts say the same with the file, and with everything read anew."""
    first, kept = answers(shop), answers(shop)
    (shop / PUT_BY_FILE).unlink()
    assert first == kept == answers(shop)


@pytest.mark.parametrize("kept", [b"", b"[]", b"\x00\xff", b"SQLite format 3\x00 and no more" * 99])
def test_a_file_with_nothing_of_use_in_it_is_passed_over(shop, kept):
    """Whatever stands in the file, no piece in hand is hidden by it, and nothing fails."""
    found = answers(shop)
    (shop / PUT_BY_FILE).write_bytes(kept)
    assert answers(shop) == found


def test_nobody_can_hide_a_piece_in_hand_in_the_file(shop):
    """A piece that the file says is put by, with the mark of another, is read all the same."""
    answers(shop)
    with closing(sqlite3.connect(shop / PUT_BY_FILE)) as db, db:
        db.execute(
            "INSERT INTO pieces SELECT 'box/lid', mark, wanted, schedule, first_s, last_s"
            " FROM pieces WHERE ref = 'old-0/lid'"
        )
    with Workshop.open(shop, NOW) as workshop:
        assert refs(standings(workshop)) == ["box/lid", "box/body"]


def test_a_list_of_what_is_in_hand_that_the_disk_changed_is_not_believed(shop):
    """Where a name in it is another, the piece that it was is read all the same."""
    (shop / "jobs" / "box.yaml").unlink()
    answers_of = refs(in_hand(shop))
    with closing(sqlite3.connect(shop / PUT_BY_FILE)) as db, db:
        db.execute("UPDATE state SET in_hand = replace(in_hand, 'box/lid', 'box/lie')")
    assert refs(in_hand(shop)) == answers_of == ["box/lid"]


def test_a_file_of_another_journal_is_not_believed(shop):
    """With the journal of a day before come back, each piece stands as that journal has it."""
    before = (shop / "journal.db").read_bytes()
    begun = NOW - timedelta(days=250)
    (shop / "jobs" / "late.yaml").write_text(JOB.format(job="late"))
    with Workshop.open(shop, NOW) as workshop:
        finish(workshop, "late/lid", begun)
        assert "late/lid" not in refs(standings(workshop))
    (shop / "journal.db").write_bytes(before)
    with Workshop.open(shop, NOW) as workshop:
        log_entries(workshop, Entry(What.START, "box/body"), NOW)
        assert refs(standings(workshop)) == ["box/lid", "box/body", "late/lid"]


def test_documents_of_what_is_put_by_are_not_read(shop, documents_read):
    """Who asks where things stand has no document read but those in hand and of who teaches."""
    in_hand(shop)
    documents_read.clear()
    in_hand(shop)
    teaching = {f"jobs/old-{number}.yaml" for number in range(3, 8)}
    assert documents_read == {"shop.yaml", "jobs/box.yaml", "schedules/two-coats.yaml"} | teaching


def test_a_document_at_rest_that_was_edited_or_went_is_noticed(shop):
    """A fault that was typed into it is told; one that is gone leaves its piece put by."""
    in_hand(shop)
    (shop / "jobs" / "old-0.yaml").write_text("job: old-0\ntitle: One of many\n")
    (shop / "jobs" / "old-1.yaml").unlink()
    for _ in range(2):
        with Workshop.open(shop, NOW) as workshop:
            assert {fault.file for fault in workshop.papers.faults} == {"jobs/old-0.yaml"}
            assert refs(standings(workshop)) == ["box/lid", "box/body"]
            assert find(workshop, "old-1/lid").progress.finished


def test_a_second_job_of_the_name_of_one_at_rest_is_told(shop):
    """It is a fault as ever, in the document that is read after the other."""
    in_hand(shop)
    (shop / "jobs" / "older.yaml").write_text(JOB.format(job="old-0"))
    with Workshop.open(shop, NOW) as workshop:
        (fault,) = workshop.papers.faults
        assert (fault.file, fault.rule) == ("jobs/older.yaml", "duplicate-name")


def test_a_schedule_of_the_shop_that_changed_has_all_read_by_it(shop):
    """Whether it goes on after what was finished is asked of every piece that it finished."""
    in_hand(shop)
    file = shop / "schedules" / "two-coats.yaml"
    file.write_text(file.read_text().replace("Two coats", "Two thin coats"))
    with Workshop.open(shop, NOW) as workshop:
        assert not workshop.papers.resting.ids
        assert refs(standings(workshop)) == ["box/lid", "box/body"]
    with Workshop.open(shop, NOW) as workshop:
        assert len(workshop.papers.resting.ids) == 8


def test_very_many_pieces_are_judged_a_few_at_a_time(shop, monkeypatch):
    """With room for two only, all are put by that were before, and answers are the same."""
    found = answers(shop)
    (shop / PUT_BY_FILE).unlink()
    monkeypatch.setattr(where, "AT_ONCE", 2)
    assert answers(shop) == found
    with closing(sqlite3.connect(shop / PUT_BY_FILE)) as db:
        assert db.execute("SELECT count(*) FROM pieces").fetchone() == (8,)


def test_how_far_the_finding_of_finished_pieces_has_come_is_told(shop, monkeypatch):
    """It is told from the first few to the last, once; with the file there is nothing to tell."""
    monkeypatch.setattr(where, "AT_ONCE", 4)
    for lost, expected in [(True, [(0, 10), (4, 10), (8, 10), (10, 10)]), (False, [])]:
        if lost:
            (shop / PUT_BY_FILE).unlink(missing_ok=True)
        told = []
        with Workshop.open(shop, NOW) as workshop:
            workshop.reads_anew = lambda done, of: told.append((done, of))  # noqa: B023  # at once
            standings(workshop)
        assert told == expected
    assert reads_anew_words(4, 10, shop).endswith("anew, once: 40 % of 10")


def test_where_the_file_cannot_be_written_answers_are_the_same(shop):
    """A folder that has its name is left alone, and every answer is as with the file."""
    found = answers(shop)
    (shop / PUT_BY_FILE).unlink()
    (shop / PUT_BY_FILE).mkdir()
    assert answers(shop) == found
    assert (shop / PUT_BY_FILE).is_dir()


def test_rags_that_were_not_put_out_after_all_wake_a_piece(folder):
    """An undo of where its oily rags went has a piece in sight again, until that is said anew."""
    oiled = SCHEDULE.replace("- wax: thin, then buff", OILED)
    (folder / "schedules" / "two-coats.yaml").write_text(oiled)
    (folder / "jobs" / "old.yaml").write_text(JOB.format(job="old"))
    with Workshop.open(folder, NOW) as workshop:
        finish(workshop, "old/lid", NOW - timedelta(days=90))
        log_entries(workshop, Entry(What.START, "box/lid"), NOW)
    with Workshop.open(folder, NOW) as workshop:
        assert "old/lid" in refs(standings(workshop))
        out = rags_dealt_with(workshop, "flat outdoors", NOW)
        assert "old/lid" not in refs(standings(workshop))
    assert "old/lid" not in refs(in_hand(folder))
    with Workshop.open(folder, NOW) as workshop:
        workshop.append(lambda _: NewEvent(NOW, None, Undone(out.id)), NOW)
    assert "old/lid" in refs(in_hand(folder))


def test_a_piece_is_found_by_its_name_and_its_title(shop):
    """By its whole name, its title, its job and a pattern; the lid in hand goes first."""
    with Workshop.open(shop, NOW) as workshop:
        assert find(workshop, "lid").ref == "box/lid"
        assert find(workshop, "old-0/lid").progress.finished
        assert find(workshop, "the old-1 LID").ref == "old-1/lid"
        assert refs(find_several(workshop, "old-2")) == ["old-2/lid"]
        assert refs(find_several(workshop, "old-*", finished=True)) == [
            f"old-{number}/lid" for number in range(8)
        ]
        assert refs(find_several(workshop, "all")) == ["box/body", "box/lid"]
        assert records_of(workshop, "old-3", NOW)[0].ref == "old-3/lid"
        with pytest.raises(RefusalError, match="no piece 'old-9'"):
            find(workshop, "old-9")


def test_the_air_of_its_time_comes_with_a_piece(shop):
    """Who names a piece put by has the air that was read while it was worked, not the usual."""
    then = NOW - timedelta(days=298)
    with Workshop.open(shop, NOW) as workshop:
        read = NewEvent(then, None, AirRead(Air(11.0, 83.0)))
        workshop.append(lambda _: read, NOW)
    with Workshop.open(shop, NOW) as workshop:
        assert "old-0/lid" not in refs(teachers(workshop))
        find(workshop, "old-0/lid")
        assert cure_room(workshop).course.at(then.timestamp()).temperature_c == 11.0


def test_an_entry_wakes_a_piece(shop):
    """A piece that an undo opens again is in hand again, for this program and for another."""
    with Workshop.open(shop, NOW) as workshop:
        standings(workshop)
        log_entries(workshop, Entry(What.UNDO, "old-0/lid"), NOW)
        assert "old-0/lid" in refs(standings(workshop))
    with Workshop.open(shop, NOW) as workshop:
        assert "old-0/lid" in refs(standings(workshop))
        log_entries(workshop, Entry(What.NOTE, "old-1/lid", text="lent to a show"), NOW)
        assert "old-1/lid" not in refs(standings(workshop))


def test_a_trial_wakes_none(shop):
    """What was only tried leaves no piece awake, and none asleep that should be awake later."""
    with Workshop.open(shop, NOW) as workshop:
        with workshop.only_trying():
            log_entries(workshop, Entry(What.UNDO, "old-0/lid"), NOW)
            assert "old-0/lid" in refs(standings(workshop))
        assert "old-0/lid" not in refs(standings(workshop))
        with workshop.only_trying():
            log_entries(workshop, Entry(What.NOTE, "old-0/lid", text="tried"), NOW)
            standings(workshop)
        log_entries(workshop, Entry(What.UNDO, "old-0/lid"), NOW)
    with Workshop.open(shop, NOW) as workshop:
        assert "old-0/lid" in refs(standings(workshop))


def test_a_document_that_goes_on_wakes_a_piece(shop):
    """A piece whose document has another schedule follow stands in hand, to be gone on with."""
    with Workshop.open(shop, NOW) as workshop:
        standings(workshop)
    file = shop / "jobs" / "old-0.yaml"
    text = file.read_text()
    file.write_text(text.replace("schedule: two-coats", "schedules: [two-coats, two-coats]"))
    with Workshop.open(shop, NOW) as workshop:
        (woken,) = (one for one in standings(workshop) if one.ref == "old-0/lid")
        assert woken.changed_schedule
    file.write_text(text)
    with Workshop.open(shop, NOW) as workshop:
        assert "old-0/lid" not in refs(standings(workshop))


def test_a_pad_that_served_both_is_known(shop):
    """A coat of a piece in hand, laid with the pad of one put by since, finds it charged."""
    begun = NOW - timedelta(days=300)
    with Workshop.open(shop, NOW) as workshop:
        assert "old-0/lid" not in refs(teachers(workshop))
        for day, what in enumerate(WORK[:3]):
            at = begun + timedelta(days=day, minutes=20)
            log_entries(workshop, Entry(what, "box/body", at=at), NOW)
        assert "old-0/lid" not in refs(standings(workshop))
        coat = find(workshop, "box/body").steps[1]
        pads = habits_of(workshop).pads
        assert pads.is_charged(coat, begun + timedelta(days=2, minutes=19))
        assert pads == cure_room(workshop)._pads
