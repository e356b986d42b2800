"""Pieces that were finished long ago are put by: nothing is read of them until they are named."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.journal.events import AirRead, NewEvent
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
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.where import cure_room, find, standings, teachers

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
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


@pytest.mark.parametrize("kept", [b"", b"[]", b'{"by": 1}', b"\x00\xff", b'{"pieces": {"a": []}}'])
def test_a_file_with_nothing_of_use_in_it_is_passed_over(shop, kept):
    """Whatever stands in the file, no piece in hand is hidden by it, and nothing fails."""
    found = answers(shop)
    (shop / PUT_BY_FILE).write_bytes(kept)
    assert answers(shop) == found


def test_nobody_can_hide_a_piece_in_hand_in_the_file(shop):
    """A piece that the file says is put by, with the mark of another, is read all the same."""
    answers(shop)
    file = shop / PUT_BY_FILE
    made = json.loads(file.read_text())
    made["pieces"]["box/lid"] = made["pieces"]["old-0/lid"]
    file.write_text(json.dumps(made))
    with Workshop.open(shop, NOW) as workshop:
        assert refs(standings(workshop)) == ["box/lid", "box/body"]


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
