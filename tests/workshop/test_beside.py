"""What is worked beside a piece: a spot with its own steps and clock, a wait, an extra step."""

from __future__ import annotations

import pytest

from finishsched.journal import events
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.defects.defects import defect_answer, take_rework
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.film.sentences import standing_sentences
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.papers.bench_sheet import bench_sheet
from finishsched.workshop.papers.records import records_of
from finishsched.workshop.plan.plans import plan_answer
from finishsched.workshop.plan.what_now import HeldBy, what_now
from finishsched.workshop.standing.where import find, standings
from finishsched.workshop.views.views import due_answer, piece_view

PATCH = "patch-spot"


def log(workshop, what, when, piece="lid", text="", **told):
    """Log one entry at an instant."""
    return log_entries(workshop, Entry(what, piece, text=text, at=when, **told), when)


def take(workshop, seen, option, when, **place):
    """Take one way by its name; return the name that it is worked by."""
    answer = defect_answer(workshop, "lid", seen, when, **place)
    number = next(one.number for one in answer.options if one.rework.option == option)
    *_, taken = take_rework(workshop, answer, number, when)
    return taken.what.beside


@pytest.fixture
def patched(workshop, at):
    """Return a shop whose lid, bare as yet, has a patch let into it, and the patch's name."""
    log(workshop, What.START, at(0))
    place = {"where": "top edge", "area_m2": 1e-4}
    return workshop, take(workshop, "sand-through of veneer", PATCH, at(5), **place)


def test_a_patch_in_bare_wood_is_glued_and_brought_flush_and_no_more(patched):
    """Filling, seal and coats are still to come in the piece's own work: none is laid twice."""
    workshop, ref = patched
    assert [step.verb.value for step in find(workshop, ref).steps] == ["glue up", "sand"]


def test_it_is_listed_with_its_own_clock_and_the_piece_waits_for_it(patched, at):
    """Glued, it dries by itself; the step that it holds is refused until it is over."""
    workshop, ref = patched
    log(workshop, What.DONE, at(10), ref)
    due = due_answer(workshop, at(11))
    assert [view.ref for view in due.clocks] == [ref]
    assert "box/lid" not in [view.ref for view in due.at_hand]
    held = next(view for view in due.coming if view.ref == "box/lid")
    assert held.waits_for[0].ref == ref
    with pytest.raises(
        RefusedError, match=f"waits for .*{ref.rpartition('/')[2]}".replace("+", r"\+")
    ):
        log(workshop, What.DONE, at(12))
    log(workshop, What.READY, at(2000), ref)
    log(workshop, What.DONE, at(2001), ref)
    log(workshop, What.DONE, at(2002))
    assert ref not in [view.ref for view in due_answer(workshop, at(2003)).at_hand]


def test_the_plan_has_both_in_their_order(patched, at):
    """The held step begins after the line is over, its wait and all; what now says why it waits."""
    workshop, ref = patched
    plan = plan_answer(workshop, at(11))
    mine = {one.step.key: one for one in plan.steps if one.ref in (ref, "box/lid")}
    last = max(one.ready_likely for one in plan.steps if one.ref == ref)
    assert mine[find(workshop, "lid").step.key].start >= last
    held = {one.ref: one.by for one in what_now(workshop, at(11)).held}
    assert held["box/lid"] is HeldBy.BESIDE


def test_it_costs_that_spots_material_and_time_only(patched):
    """The spot's area is its own, so that its minutes do not grow with the face."""
    workshop, ref = patched
    spot = find(workshop, ref)
    assert spot.piece.area_m2 == pytest.approx(1e-4)
    assert sum(step.hands_on.minutes(spot.piece.area_m2) for step in spot.steps) < 60


def test_one_undo_takes_it_away_unless_it_was_worked_at(patched, at):
    """What was logged on it hangs on its beginning; without that, undo leaves no trace of it."""
    workshop, ref = patched
    log(workshop, What.DONE, at(10), ref)
    with pytest.raises(RefusedError, match="hangs on that one"):
        log(workshop, What.UNDO, at(11))
    log(workshop, What.UNDO, at(12), ref)
    log(workshop, What.UNDO, at(13))
    assert ref not in [standing.ref for standing in standings(workshop)]
    log(workshop, What.DONE, at(14))


def test_coats_go_on_over_a_spot_that_is_dropped_full(workshop, at):
    """A drop-fill runs beside the coats, which bury it; only paper waits for it."""
    log(workshop, What.START, at(0))
    log(workshop, What.DONE, at(1))
    log(workshop, What.DONE, at(2))
    ref = take(workshop, "dent at the top edge", "drop-fill", at(3))
    log(workshop, What.READY, at(200))
    log(workshop, What.DONE, at(201))
    done = [step.verb.value for step, _ in find(workshop, ref).progress.done]
    assert done == ["rest"]


def test_where_it_is_is_kept_and_told(workshop, at):
    """Face and zone come out of the words, or out of what was said of them, size and all."""
    log(workshop, What.START, at(0))
    log(workshop, What.DEFECT, at(1), text="sag at the top edge", area_m2=2e-4)
    (event,) = workshop.book().told("box/lid", events.DefectSeen)
    assert (event.what.where, event.what.zone, event.what.area_m2) == ("top edge", "edges", 2e-4)
    assert piece_view(workshop, "lid", at(2)).log[0].text == "defect: sag at the top edge, 2 cm2"


def test_an_edge_that_was_named_is_the_likeliest_cause(workshop, at):
    """Said to lie at an edge, an edge that took the pressure comes first."""
    log(workshop, What.START, at(0))
    answer = defect_answer(workshop, "lid", "sand-through of veneer", at(1), where="top edge")
    assert answer.diagnosis.causes[0].cause.id == "edge"


def test_a_wait_of_ones_own_runs_by_the_clock_on_the_wall(workshop, at):
    """Said until when, it is over then, whatever the air; the piece waits, and the record tells."""
    log(workshop, What.START, at(0))
    log(workshop, What.WAIT, at(1), text="patch glued", until=at(841))
    ref = "box/lid+1"
    clock = piece_view(workshop, ref, at(2)).clock
    assert (clock.earliest_at, clock.likely_at, clock.latest_at) == (at(841),) * 3
    with pytest.raises(RefusedError, match="waits for"):
        log(workshop, What.DONE, at(3))
    log(workshop, What.READY, at(842), ref)
    log(workshop, What.DONE, at(843))
    told = [line.words for line in records_of(workshop, "lid", at(844))[0].talk]
    assert any("patch glued" in text for text in told)
    assert any(text.startswith(ref) for text in told)


def test_an_extra_step_takes_hands_and_has_the_cautions_of_its_verb(workshop, at):
    """It is planned with its minutes, and what makes dust says so."""
    log(workshop, What.START, at(0))
    log(workshop, What.EXTRA, at(1), text="sand the rim dull", span_s=300.0)
    view = piece_view(workshop, "box/lid+1", at(2))
    assert view.sheet.hands_on_min == pytest.approx(5)
    assert any("dust" in caution.text.lower() for caution in view.sheet.cautions)


@pytest.mark.parametrize(
    ("what", "text", "told", "says"),
    [
        (What.WAIT, "glue", {}, "says how long"),
        (What.WAIT, "glue", {"span_s": -5.0}, "says how long"),
        (What.EXTRA, "dance", {}, "does not begin with what is done"),
        (What.EXTRA, "", {}, "without words"),
    ],
)
def test_what_says_too_little_is_refused_and_nothing_is_written(
    workshop, at, what, text, told, says
):
    """A wait without a length, a step without a verb of the trade."""
    log(workshop, What.START, at(0))
    seq = workshop.book().last_seq
    with pytest.raises(RefusedError, match=says):
        log(workshop, what, at(1), text=text, **told)
    assert workshop.book().last_seq == seq


@pytest.mark.parametrize("what", [What.START, What.ANEW, What.ADOPT, What.WAIT])
def test_what_belongs_to_the_piece_is_refused_on_its_spot(patched, at, what):
    """A spot is neither begun anew nor given waits of its own."""
    workshop, ref = patched
    with pytest.raises(RefusedError, match="worked beside"):
        log(workshop, what, at(20), ref, text="because", span_s=60.0)


def test_the_piece_begun_anew_has_no_spots_left(patched, at):
    """Stripped and begun again, what was mended before is no work of this life."""
    workshop, ref = patched
    log(workshop, What.ANEW, at(30), text="stripped")
    assert ref not in [standing.ref for standing in standings(workshop)]
    assert find(workshop, "lid").beside == ()


def test_the_record_tells_of_spots_of_an_earlier_life(patched, at):
    """What was glued in before it was stripped stands in the record, in words, with its name."""
    workshop, ref = patched
    log(workshop, What.DONE, at(10), ref)
    log(workshop, What.ANEW, at(3000), text="stripped")
    told = [line.words for line in records_of(workshop, "lid", at(3001))[0].talk]
    assert f"{ref}, done: 1, glue up" in told


def _veneered(folder):
    job = folder / "jobs/box.yaml"
    job.write_text(
        job.read_text().replace("species: cherry", "species: cherry\n    veneer: 0.6 mm")
    )


def test_a_patch_is_a_zone_of_the_face_from_its_beginning(folder, at):
    """Cut through, with no veneer left; then glued in, with its own; pressed like its edge."""
    _veneered(folder)
    with Workshop.open(folder, at(0)) as workshop:
        log(workshop, What.START, at(0))
        ref = take(workshop, "veneer through", PATCH, at(5), where="top edge", area_m2=1e-4)
        (patch,) = film_answer(workshop, "lid").now.parts[3:]
        assert (patch.zone.name, patch.zone.area_mm2) == ("patch 1", pytest.approx(100))
        assert (patch.zone.beside, patch.left_um) == ("edges", None)
        log(workshop, What.DONE, at(10), ref)
        log(workshop, What.READY, at(2000), ref)
        log(workshop, What.DONE, at(2010), ref)
        found = film_answer(workshop, "lid")
        (patch,) = found.now.parts[3:]
        assert patch.left_um.likely == pytest.approx(600)
        assert found.end.parts[3].left_um == found.end.parts[1].left_um


def test_a_spots_film_is_reckoned_by_its_own_coats(workshop, at):
    """Bare where it was cut through, then dab by dab; said on the face, in film, record and sheet.

    What the coats of the piece lay over it comes on top of it, and none of it soaks away there.
    """
    log(workshop, What.START, at(0))
    for minutes, what in ((1, What.DONE), (2, What.DONE), (200, What.READY)):
        log(workshop, what, at(minutes))
    ref = take(workshop, "sand-through of film", "feather-spot", at(201), where="lock")
    (before,) = records_of(workshop, "lid", at(201))
    found = film_answer(workshop, "lid")
    assert (found.spots[0].ref, found.spots[0].film_um.high) == (ref, 0)
    steps = {step.verb.value: step for step in find(workshop, ref).steps}
    assert steps["brush"].coats == 1
    now = _worked_out(workshop, ref, 300, at)
    worked = film_answer(workshop, ref)
    spot = worked.spots[0]
    dabbed, flushed = (row.film_um.likely for row in worked.rows[4:6])
    # A dab of 60 um at the schedule's own cut, 2 lb: 0.17 of it stays, as far as it stood proud.
    assert dabbed == pytest.approx(60 * 0.17, rel=0.15)
    assert (flushed, spot.stands_um.likely) == (found.film_um.likely, 0)
    (record,) = records_of(workshop, "lid", at(now))
    assert sum(dict(record.solvents).values()) > sum(dict(before.solvents).values()) > 0
    log(workshop, What.DONE, at(now))
    after = film_answer(workshop, "lid")
    laid_um = after.film_um.likely - found.film_um.likely
    assert after.spots[0].film_um.likely >= spot.film_um.likely + laid_um > spot.film_um.likely
    (said,) = [text for text in standing_sentences(after) if text.startswith("spot 1 at the field")]
    assert said in records_of(workshop, "lid", at(now))[0].film_words
    assert ("spots", said) in bench_sheet(workshop, "lid", at(now)).facts


def _worked_out(workshop, ref, when, at):
    """Log a line beside the piece to its end, each wait as long as it takes."""
    while not find(workshop, ref).progress.finished:
        waiting = find(workshop, ref).progress.waiting
        log(workshop, What.READY if waiting else What.DONE, at(when), ref)
        when += 2000
    return when


@pytest.mark.parametrize(
    ("seen", "option"),
    [
        ("sand-through of veneer", "patch-spot"),
        ("sand-through of veneer", "colour-spot"),
        ("sand-through of film", "feather-spot"),
        ("dent", "drop-fill"),
        ("dent", "burn-in"),
        ("sag", "run-down"),
        ("dust nib", "point-off"),
    ],
)
def test_a_spot_ends_about_level_with_the_face_round_it(workshop, at, seen, option):
    """Followed to its end in a film that nothing is laid on any more: by 10 um at most."""
    log(workshop, What.START, at(0))
    for minutes, what in ((1, What.DONE), (2, What.DONE), (200, What.READY), (201, What.DONE)):
        log(workshop, what, at(minutes))
    log(workshop, What.READY, at(1500))
    ref = take(workshop, seen, option, at(1501), where="top edge", area_m2=1e-4)
    _worked_out(workshop, ref, 1600, at)
    steps = find(workshop, ref).steps
    assert len({step.key for step in steps}) == len(steps)
    (spot,) = film_answer(workshop, "lid").spots
    assert spot.film_um.likely > 0
    assert abs(spot.stands_um.likely) <= 10
