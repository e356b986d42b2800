"""Several pieces in one go: a batch is its entries one by one, and nothing of it gets lost."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.journal.events import StepDone
from finishsched.model.names import in_words
from finishsched.workshop.base.entries import Entry, RefusedError, SeveralRefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.log.sitting import Sat, log_sitting
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.together import rows_of
from finishsched.workshop.standing.where import find, standings
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.shop_stock import log_stock

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
SHOP = """\
shop: Test bench
time_zone: Europe/Lisbon
people: [Ada]
usual_air: {temperature: 20 degC, humidity: 50 %}
"""
PADDED = """\
schedule: two-coats
title: A sitting and a rest
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 2 lb
        coats: 6
        amount: 15 ml/m2
        hands_on: 1 min
        wait:
          between: {earliest: 5 min, likely: 15 min}
          after: {earliest: 8 h, likely: 12 h}
        dry_check: glides; before paper a thumbnail leaves no mark
      - level: flat
        grade: P400
        hands_on: 3 min
"""
JOB = """\
job: chest
title: A chest
pieces:
  - piece: front
    title: Drawer front
    schedule: two-coats
    count: 12
    faces:
      - {face: face, length: 400 mm, width: 150 mm}
  - piece: top
    title: Top
    schedule: two-coats
    faces:
      - {face: face, length: 800 mm, width: 400 mm}
"""
SLOW = settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@contextmanager
def a_chest(count=12):
    """Open a shop of its own with some fronts and a top, on six coats minutes apart."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        for file, text in (
            ("shop.yaml", SHOP),
            ("jobs/chest.yaml", JOB.replace("count: 12", f"count: {count}")),
            ("schedules/two-coats.yaml", PADDED),
        ):
            (folder / file).parent.mkdir(exist_ok=True)
            (folder / file).write_text(text)
        with Workshop.open(folder, NOW) as opened:
            yield opened


@pytest.fixture
def chest():
    """Give such a shop."""
    with a_chest() as opened:
        yield opened


def log(shop, pieces, word, minute=0, **more):
    """Log an entry so many minutes after the beginning."""
    now = NOW + timedelta(minutes=minute)
    return log_entries(shop, Entry(What(word), pieces, **more), now)


def stories(shop, refs):
    """Return what counts of each piece, but for marks and numbers."""
    book = shop.book()
    return {ref: [(event.at, _unmarked(event.what)) for event in book.live(ref)] for ref in refs}


def _unmarked(what):
    plain = {"given": "", "told": False, "note": "", "piece_hash": ""}
    return replace(what, **{name: value for name, value in plain.items() if hasattr(what, name)})


def _rows(shop, minute=0):
    return rows_of(standings(shop), shop.book(), NOW + timedelta(minutes=minute))


def test_twelve_alike_are_one_row_and_one_entry(chest):
    """Begun, coated and taken back by one name; a single piece is named by its number.

    Twelve coats take 12 ml; what is left of the 24 is near enough to what a dry pad keeps, and
    goes with the first.
    """
    assert [row.title for row in _rows(chest)] == ["12 x Drawer front", "Top"]
    log(chest, "front", "start")
    taken = log(chest, "front", "done", amount_ml=24.0)
    assert len(taken.events) == 12
    amounts = sorted(event.what.amount_ml for event in taken.events)
    assert amounts == pytest.approx([1.0] * 11 + [13.0])
    back = log(chest, "front", "undo")
    assert [event.piece for event in back.events][::11] == ["chest/front-1", "chest/front-12"]
    assert find(chest, "front-7").progress.steps_passed == 0


def test_one_is_taken_out_and_comes_back(chest):
    """One that is not ready stands apart; when it has caught up it is one of them again."""
    log(chest, "front", "start")
    log(chest, "front", "done")
    log(chest, "front-3", "not ready", 3)
    assert [row.count for row in _rows(chest)] == [11, 1, 1]
    taken = log(chest, "front", "go on", 10)
    assert len(taken.refs) == 11
    assert taken.apart == ("chest/front-3 is apart, at 1, pad coat 1 of 6",)
    log(chest, "front-3", "go on", 12)
    assert [row.count for row in _rows(chest)] == [12, 1]
    assert len(log(chest, "front", "go on", 20).refs) == 12


def test_undo_takes_back_the_whole_as_it_was_given_or_one_piece_of_it(chest):
    """The last thing given among the pieces named goes; one piece's share of it goes alone."""
    log(chest, "front", "start")
    log(chest, "front", "done")
    log(chest, "front", "go on", 10)
    log(chest, "front-5", "undo", 11)
    assert find(chest, "front-5").progress.waiting
    assert find(chest, "front-5").step.coat == 1
    log(chest, "front-2", "note", 12, text="a nib at the knob")
    taken = log(chest, "front", "undo", 13)
    assert taken.refs == ("chest/front-2",)
    assert len(log(chest, "front", "undo", 14).refs) == 11
    assert {s.step.coat for s in find_several(chest, "front")} == {1}


def test_of_two_that_were_logged_apart_the_last_is_taken_back(chest):
    """Both are named, and the entry that was given by itself before it stays."""
    for minute, piece in enumerate(("front-1", "top")):
        log(chest, piece, "start", minute)
    back = log(chest, "front-1, top", "undo", 3)
    assert [event.piece for event in back.events] == ["chest/top"]
    assert chest.book().live("chest/front-1")
    assert not chest.book().live("chest/top")


def test_a_sitting_is_of_coats_from_the_one_in_hand_on(chest):
    """What lays nothing is no sitting, nor is a step that is named; nothing is written."""
    log(chest, "top", "start")
    before = chest.book().last_seq
    sat = Sat(2, 300.0)
    for words in ({"what": What.READY}, {"what": What.DONE, "step": "1"}):
        with pytest.raises(RefusedError, match="tells a sitting"):
            log_sitting(chest, Entry(piece="top", **words), sat, NOW)
    assert chest.book().last_seq == before


@pytest.mark.parametrize("unit", ["amount_ml", "amount_g"])
def test_what_a_sitting_took_is_shared_among_its_coats(chest, unit):
    """12 of a bottle for three coats on one piece: together they are 12, weighed or measured."""
    log(chest, "top", "start")
    entry = Entry(What.DONE, "top", **{unit: 12.0})
    log_sitting(chest, entry, Sat(3, 300.0), NOW + timedelta(hours=1))
    took = [
        getattr(event.what, unit)
        for event in chest.book().live("chest/top")
        if isinstance(event.what, StepDone)
    ]
    assert len(took) == 3
    assert sum(took) == pytest.approx(12.0)
    if unit == "amount_g":
        assert took == pytest.approx([4.0] * 3)


def test_all_or_none_and_each_refusal_named(chest):
    """One piece that cannot take it keeps all from taking it; what is the same is said once."""
    log(chest, "front", "start")
    before = chest.book().last_seq
    with pytest.raises(SeveralRefusedError) as caught:
        log(chest, "front,top", "ready")
    assert chest.book().last_seq == before
    assert [line.partition(":")[0] for line in caught.value.lines] == [
        "chest/front-1 to 12",
        "chest/top",
    ]
    log(chest, "top", "start")
    for step in "123456":
        log(chest, "top", "skipped", step=step, text="a trial")
    with pytest.raises(RefusedError, match="not at the same work"):
        log(chest, "front,top", "done")


def test_names_of_several(chest):
    """A list, a job, a pattern, all, together and a minus, in natural order, each piece once."""

    def named(text):
        return [one.ref.partition("/")[2] for one in find_several(chest, text)]

    assert named("chest") == named("all") == [*(f"front-{n}" for n in range(1, 13)), "top"]
    assert named("front-1?,top,front-10") == ["front-10", "front-11", "front-12", "top"]
    assert len(named("front,-front-3")) == 11
    log(chest, "front-1,front-2", "start")
    assert named("front-2,together") == ["front-2", "front-1"]
    with pytest.raises(SeveralRefusedError) as caught:
        find_several(chest, "frnt,topp")
    assert "did you mean 'front'" in caught.value.lines[0]
    assert "did you mean 'top'" in caught.value.lines[1]


@SLOW
@given(st.sets(st.integers(1, 12), min_size=1))
def test_what_is_told_of_several_can_be_typed(numbers):
    """The spans in which pieces are told name the very same pieces: front-4 to 12."""
    with a_chest() as chest:
        refs = [f"chest/front-{number}" for number in sorted(numbers)]
        assert [one.ref for one in find_several(chest, in_words(refs))] == refs
        with pytest.raises(RefusedError, match="no piece 'front-13'"):
            find_several(chest, "front-11 to 14")


def test_a_trial_says_what_would_be_and_writes_nothing(chest):
    """The journal is as it was."""
    before = chest.book().last_seq
    entry = Entry(What.START, "front")
    assert len(log_entries(chest, entry, NOW, trial=True).events) == 12
    assert chest.book().last_seq == before


def test_one_pad_is_charged_for_all_of_them(chest):
    """Twelve fronts coated from a jar, of which nobody said how much, draw one pad's charge."""
    mixed = Mixed("jar 1", 500.0, 239.65, product="shellac-dewaxed-blonde")
    log_stock(chest, mixed, NOW)
    log(chest, "front", "start")
    taken = log(chest, "front", "done", batch="jar 1")
    amounts = sorted(event.what.amount_ml for event in taken.events)
    coat_ml = 15 * 0.06 / 0.9
    assert amounts == pytest.approx([coat_ml] * 11 + [coat_ml + 10])


words = st.lists(
    st.sampled_from(["done", "ready", "go on", "not ready", "note", "defect", "skipped", "undo"]),
    min_size=1,
    max_size=5,
)


@SLOW
@given(words)
def test_a_batch_is_the_same_as_its_entries_one_by_one(said):
    """Whatever is said of two pieces at once leaves what saying it of each leaves."""
    several, single = "front-1,front-2", ["front-3", "front-4"]
    with a_chest(4) as chest:
        log(chest, f"{several},{','.join(single)}", "start")
        for minute, word in enumerate(said, start=1):
            took = _tried(chest, several, word, minute)
            assert all(_tried(chest, one, word, minute) == took for one in single)
        left = stories(chest, [f"chest/front-{n}" for n in range(1, 5)])
    assert all(story == left["chest/front-1"] for story in left.values())


@SLOW
@given(st.integers(1, 6), st.integers(1, 2), st.sampled_from([300.0, 421.0, 900.0]))
def test_a_sitting_told_afterwards_is_the_same_as_one_tapped(coats, pieces, every_s):
    """The same coats at the same times on the same pieces, with nothing else between them."""
    told = [f"front-{n}" for n in range(1, pieces + 1)]
    tapped = [f"front-{n}" for n in range(3, 3 + pieces)]
    refs = [f"chest/{name}" for name in told + tapped]
    end = NOW + timedelta(hours=3)
    with a_chest(4) as chest:
        log(chest, ",".join(told + tapped), "start")
        entry = Entry(What.DONE, ",".join(told))
        taken = log_sitting(chest, entry, Sat(coats, every_s), end)
        for event in taken.events:
            if isinstance(event.what, StepDone):
                twin = tapped[told.index(event.piece.partition("/")[2])]
                log_entries(chest, Entry(What.GO_ON, twin, at=event.at), end)
        left = stories(chest, refs)
        assert [left[ref] for ref in refs[:pieces]] == [left[ref] for ref in refs[pieces:]]
        assert all(event.what.told for event in taken.events)
        log(chest, ",".join(told), "undo", 200)
        assert all(len(story) == 1 for story in stories(chest, refs[:pieces]).values())


@SLOW
@given(st.lists(st.sampled_from(["not ready", "defect", "note"]), max_size=3))
def test_out_and_back_loses_nothing(own):
    """One that went its own way for a while is one of them again, with all of both in its story."""
    with a_chest(3) as chest:
        log(chest, "front", "start")
        log(chest, "front", "done")
        for minute, word in enumerate(own, start=1):
            log(chest, "front-2", word, minute, text="seen")
        out = len(own) > own.count("note")
        assert len(log(chest, "front", "go on", 10).refs) == (2 if out else 3)
        if out:
            log(chest, "front-2", "go on", 12)
        assert [row.count for row in _rows(chest)] == [3, 1]
        left = stories(chest, [f"chest/front-{n}" for n in (1, 2)])
        work = {
            ref: [w for _, w in story if hasattr(w, "going_on") or hasattr(w, "batch")]
            for ref, story in left.items()
        }
        assert work["chest/front-2"] == work["chest/front-1"]
        assert len(left["chest/front-2"]) == len(left["chest/front-1"]) + len(own)


def test_a_sitting_ends_where_the_schedule_means_a_dry_check(chest):
    """Six coats can follow one another; a seventh comes after paper, and is refused by name."""
    log(chest, "front,top", "start")
    with pytest.raises(SeveralRefusedError, match="6 coats left in one sitting"):
        log_sitting(chest, Entry(What.DONE, "front,top"), Sat(7, 300.0), NOW + timedelta(hours=9))
    with pytest.raises(SeveralRefusedError, match="before the step before it was logged"):
        log_sitting(chest, Entry(What.DONE, "front,top"), Sat(6, 300.0), NOW)
    log_sitting(chest, Entry(What.DONE, "top"), Sat(6, 300.0), NOW + timedelta(hours=1))
    assert find(chest, "top").progress.waiting
    with pytest.raises(RefusedError, match="dry check of its own"):
        log(chest, "top", "go on", 120)


def _tried(shop, names, word, minute):
    try:
        log(shop, names, word, minute, text="seen" if word == "note" else "")
    except RefusedError:
        return False
    return True


WAXED = """\
schedule: waxed
title: Wax over it
source: common practice
stages:
  - stage: polish
    steps:
      - wax: thin, then buff
        hands_on: 3 min
"""


def test_one_schedule_goes_on_into_another_as_one_life():
    """Twelve finished fronts take up a second schedule in one entry, and keep what was done."""
    with a_chest() as chest:
        log(chest, "front", "start")
        for step in "1234567":
            log(chest, "front", "skipped", step=step, text="a trial")
        assert all(one.progress.finished for one in find_several(chest, "front"))
        job = chest.folder / "jobs" / "chest.yaml"
        one, both = "schedule: two-coats\n    count", "schedules: [two-coats, waxed]\n    count"
        text = job.read_text().replace(one, both)
        job.write_text(text)
        (chest.folder / "schedules" / "waxed.yaml").write_text(WAXED)
        assert chest.changed()
        assert len(log(chest, "front", "adopt", 5).events) == 12
        front = find(chest, "front-9")
        assert (front.step.verb.value, front.step.number) == ("wax", 8)
        assert front.progress.steps_passed == 7
        log(chest, "front", "done", 6)
        assert find(chest, "front-9").progress.finished


def test_a_refusal_of_several_names_them_once():
    """What begins with its piece begins with all of them, and with no 'it' between."""
    refused = [
        (ref, RefusedError(f"{ref}: step 7, wipe, is done; {ref} waits", f"log {ref} ready"))
        for ref in ("box/left", "box/right")
    ]
    assert SeveralRefusedError(refused).lines == (
        "box/left, box/right: step 7, wipe, is done; it waits; log box/left,box/right ready",
    )
