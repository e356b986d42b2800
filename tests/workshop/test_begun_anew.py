"""A stripped piece is begun anew: its old life stays in the record, and an undo brings it back."""

from dataclasses import replace
from datetime import timedelta

import pytest

from finishsched.journal.events import FilmGauged, NewEvent, PieceStarted
from finishsched.journal.progress import StepStatus
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.defects.defects import defect_answer, take_rework
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.log.log import log_entry, remarks_on
from finishsched.workshop.papers.records import record_of
from finishsched.workshop.safety.rags import open_rags
from finishsched.workshop.safety.vapour_sources import coats_since
from finishsched.workshop.standing.where import cure_room, find, standings
from finishsched.workshop.views.views import piece_view

STRIPPED = "stripped to the wood, the film had crazed"


def _log(workshop, now, *words, piece="lid", **given):
    for word in words:
        log_entry(workshop, Entry(What(word), piece, **given), now)


@pytest.fixture
def coated(workshop, folder, at):
    """Return the shop with a veneered lid sanded and once coated, and that coat still drying."""
    document = folder / "jobs/box.yaml"
    text = document.read_text().replace("species: cherry", "species: cherry\n    veneer: 0.6 mm")
    document.write_text(text)
    workshop.changed()
    _log(workshop, at(0), "start", "done")
    _log(workshop, at(5), "done", amount_ml=3.0)
    return workshop


def test_every_step_is_to_do_again_and_an_undo_brings_the_work_back(coated, at):
    """Begun anew the first step is in hand; undone, the coat dries on as if nothing had been."""
    before = piece_view(coated, "lid", at(20))
    assert before.state is State.DRYING
    _log(coated, at(10), "anew", text=STRIPPED)
    standing = find(coated, "lid")
    assert set(standing.progress.statuses) == {StepStatus.TO_DO}
    assert piece_view(coated, "lid", at(20)).log[0].text == f"begun anew on two-coats, {STRIPPED}"
    event = coated.book().live("box/lid")[-1]
    assert isinstance(event.what, PieceStarted)
    assert "veneer" in remarks_on(coated, event, at(10))[0]
    _log(coated, at(11), "undo", text="it was the body")
    assert piece_view(coated, "lid", at(20)) == before
    assert coated.every_event()[-1].what.note == "it was the body"


def test_it_goes_by_the_document_as_it_now_reads(coated, folder, at):
    """What was edited since the first beginning counts, without an 'adopt'."""
    document = folder / "schedules/two-coats.yaml"
    document.write_text(document.read_text().replace("coats: 2", "coats: 5"))
    coated.changed()
    assert len(find(coated, "lid").steps) == 4
    _log(coated, at(10), "anew", text=STRIPPED)
    assert len(find(coated, "lid").steps) == 7
    assert not find(coated, "lid").changed_schedule
    (life,) = find(coated, "lid").earlier
    assert len(life.steps) == 4


def test_the_record_tells_both_lives(coated, at):
    """The lines of the work are of this life; the earlier one is told whole beside them."""
    _log(coated, at(8), "defect", text="crazed all over")
    _log(coated, at(10), "anew", text=STRIPPED)
    _log(coated, at(20), "done")
    record = record_of(coated, "lid", at(30))
    assert [line.what for line in record.work] == ["sand P180"]
    assert (record.begun_at, record.talk[-1].at) == (at(10), at(10))
    assert [line.words.partition(":")[0] for line in record.talk[:-1]] == [
        "begun on two-coats", "done", "done", "defect",
    ]  # fmt: skip
    assert "pad coat 1 of 2, 3 ml" in record.talk[2].words
    assert record.talk[-1].words.startswith("begun anew on two-coats")


def test_film_and_defects_begin_anew(coated, at):
    """No film, gauge reading or open defect of the first life counts; the veneer is asked for."""
    _log(coated, at(6), "defect", text="sag")
    coated.append(lambda _: NewEvent(at(7), "box/lid", FilmGauged(80.0)), at(7))
    _log(coated, at(10), "anew", text=STRIPPED)
    film = film_answer(coated, "lid", at(11))
    assert film.now.film_um.high == 0
    assert any("Measure the veneer" in line for line in film.assumed)
    with pytest.raises(RefusedError, match="no defect of box/lid is open"):
        defect_answer(coated, "lid", "", at(11))


def test_what_evaporates_and_what_the_checks_taught_stays(coated, at):
    """The coat of the first life still counts for the air; its dry check for the shop's pace."""
    _log(coated, at(150), "ready")
    learnt = cure_room(coated).groups()
    assert len(learnt) == 1
    _log(coated, at(151), "anew", text=STRIPPED)
    assert cure_room(coated).groups() == learnt
    coats = coats_since(standings(coated), coated.book(), at(0), at(200))
    assert [coat.step.title for coat in coats] == ["sand P180", "pad coat 1 of 2"]


def test_rags_of_a_step_that_is_no_more_are_still_about(workshop, folder, at):
    """Oiled by another schedule, then begun anew on this one: the oily rags do not go unsaid."""
    jobs = folder / "jobs/box.yaml"
    written = jobs.read_text()
    jobs.write_text(written.replace("schedule: two-coats", "schedule: wiped-oil"))
    workshop.changed()
    _log(workshop, at(0), "start")
    for minutes in range(1, 60):
        view = piece_view(workshop, "lid", at(minutes))
        _log(workshop, at(minutes), "ready" if view.clock else "done")
        if open_rags(workshop, at(minutes)).rags:
            break
    rags = open_rags(workshop, at(61)).rags
    assert rags
    jobs.write_text(written)
    workshop.changed()
    _log(workshop, at(61), "anew", text=STRIPPED)
    assert open_rags(workshop, at(61)).rags == rags


def test_a_rework_of_the_first_life_is_in_it_alone(coated, at):
    """Its steps go with that life, and its number is never given again."""
    take_rework(coated, defect_answer(coated, "lid", "sag", at(6)), 1, at(6))
    _log(coated, at(10), "anew", text=STRIPPED)
    standing = find(coated, "lid")
    assert len(standing.steps) == 4
    assert any(step.key.startswith("rework-1/") for step in standing.earlier[0].steps)
    _log(coated, at(11), "done")
    take_rework(coated, defect_answer(coated, "lid", "sag", at(12)), 1, at(12))
    assert any(step.key.startswith("rework-2/") for step in find(coated, "lid").steps)


def test_a_finished_piece_too(workshop, at):
    """A piece that was finished long ago is stripped and begun anew, twice."""
    _log(workshop, at(0), "start", "done", "done")
    _log(workshop, at(200), "ready", "done")
    _log(workshop, at(2000), "ready", "done")
    for number in (1, 2):
        _log(workshop, at(3000 + number), "anew", text=STRIPPED)
        assert len(find(workshop, "lid").earlier) == number
        assert piece_view(workshop, "lid", at(3010)).state is State.TO_DO


@pytest.mark.parametrize(
    ("begun", "what", "given", "message"),
    [
        (False, "anew", {"text": STRIPPED}, "is not begun"),
        (True, "anew", {}, "a new beginning without words"),
        (True, "anew", {"text": "3"}, "begins anew at its first step"),
        (True, "anew", {"text": STRIPPED, "step": "2"}, "not about one step"),
        (True, "anew", {"text": STRIPPED, "early": True}, "before the step before it"),
        (True, "start", {}, "'anew' with the reason"),
        (True, "undo", {"text": "2"}, "write the step before it, 2 undo"),
    ],
)
def test_what_cannot_be_so_is_refused(workshop, at, begun, what, given, message):
    """Each with a remedy, and the journal as it was."""
    if begun:
        _log(workshop, at(-20), "start")
        _log(workshop, at(-10), "done")
    entry = Entry(What(what), "lid", text=given.get("text", ""), step=given.get("step"))
    if given.get("early"):
        entry = replace(entry, at=at(0) - timedelta(minutes=15))
    seq = workshop.book().last_seq
    with pytest.raises(RefusedError, match=message):
        log_entry(workshop, entry, at(0))
    assert workshop.book().last_seq == seq


def test_words_after_start_are_kept_and_after_adopt_refused(workshop, folder, at):
    """No word that somebody writes is dropped without a word."""
    _log(workshop, at(0), "start", text="the old varnish was sound")
    assert piece_view(workshop, "lid", at(0)).log[0].text.endswith("the old varnish was sound")
    document = folder / "schedules/two-coats.yaml"
    document.write_text(document.read_text().replace("coats: 2", "coats: 5"))
    workshop.changed()
    with pytest.raises(RefusedError, match="takes no words"):
        _log(workshop, at(1), "adopt", text="because")
    _log(workshop, at(1), "adopt", text="two-coats")
    assert len(find(workshop, "lid").steps) == 7
