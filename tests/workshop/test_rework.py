"""A rework enters a piece's own work: its steps, its clocks, its film, and the way back."""

from dataclasses import replace

import pytest

from finishsched.journal.events import ReworkTaken
from finishsched.journal.progress import StepStatus
from finishsched.model.schedule import Verb
from finishsched.model.shop import Air
from finishsched.workshop.air.reading_entries import add_air
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.defects.defects import defect_answer, take_rework
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.standing.where import cure_room, find
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.views.views import due_answer, piece_view


def _log(workshop, now, *words, piece="lid", **given):
    for word in words:
        log_entry(workshop, Entry(What(word), piece, **given), now)


def _take(workshop, now, seen="", option=1, piece="lid"):
    return take_rework(workshop, defect_answer(workshop, piece, seen, now), option, now)


def _number_of(workshop, now, seen, name):
    options = defect_answer(workshop, "lid", seen, now).options
    return next(one.number for one in options if one.rework.option == name)


def _keys(workshop):
    return [step.key for step in find(workshop, "lid").steps]


def test_a_rework_comes_next_and_the_past_is_kept(workshop, at):
    """What was done stays done, the rework is in hand, and the rest follows it in its order."""
    _log(workshop, at(0), "start", "done")
    before, done = _keys(workshop), find(workshop, "lid").progress.done
    _take(workshop, at(5), "mould")
    after = find(workshop, "lid")
    added = [key for key in _keys(workshop) if key.startswith("rework-1/")]
    assert _keys(workshop) == [before[0], *added, *before[1:]]
    assert [event for _, event in after.progress.done][: len(done)] == [event for _, event in done]
    view = piece_view(workshop, "lid", at(5))
    assert view.step.key == added[0]
    assert view.step.place == "rework"
    assert view.steps_in_all == len(before) + len(added)
    assert [v.step.key for v in due_answer(workshop, at(5)).coming if v.ref == "box/lid"] == added[
        :1
    ]


def test_its_steps_have_clocks_of_their_own(workshop, at):
    """The rest of a rework runs from when it was taken, and its dry check ends it."""
    _log(workshop, at(0), "start", "done", "done")
    _take(workshop, at(5), "blush", _number_of(workshop, at(5), "blush", "spirit-off"))
    view = piece_view(workshop, "lid", at(7))
    assert view.state is State.DRYING
    assert view.clock.laid_at == at(5)
    _log(workshop, at(60 * 24), "ready")
    assert piece_view(workshop, "lid", at(60 * 24)).step.title == "spirit off"
    _log(workshop, at(60 * 25), "done")
    _log(workshop, at(60 * 27), "ready")
    assert piece_view(workshop, "lid", at(60 * 27)).step.key == "body/pad:1.2"


def test_a_running_wait_is_taken_over(workshop, at):
    """Taken while a coat dries, the rework brings its own wait, and teaches nothing of the old."""
    _log(workshop, at(0), "start", "done", "done")
    assert piece_view(workshop, "lid", at(10)).state is State.DRYING
    *_, taken = _take(workshop, at(10), "sag")
    assert taken.what.ends_wait == "body/pad:1.1"
    standing = find(workshop, "lid")
    assert standing.progress.status_of(standing.steps[1]) is StepStatus.OVER
    assert standing.step.key.startswith("rework-1/")
    assert piece_view(workshop, "lid", at(10)).clock.laid_at == at(10)
    assert cure_room(workshop).groups() == ()
    _log(workshop, at(11), "undo")
    assert piece_view(workshop, "lid", at(11)).state is State.DRYING
    assert piece_view(workshop, "lid", at(11)).clock.laid_at == at(0)


def test_undo_takes_it_out_step_by_step(workshop, at):
    """Undo after undo leads back over the rework to the piece as it was, and on from there."""
    _log(workshop, at(0), "start", "done")
    views = [piece_view(workshop, "lid", at(9))]
    _log(workshop, at(1), "defect", text="mould at the lower edge")
    views.append(piece_view(workshop, "lid", at(9)))
    _take(workshop, at(2))
    views.append(piece_view(workshop, "lid", at(9)))
    _log(workshop, at(3), "not ready")
    for earlier in reversed(views):
        _log(workshop, at(4), "undo")
        assert piece_view(workshop, "lid", at(9)) == earlier


def test_no_key_ever_means_two_steps(workshop, at):
    """A rework taken after another was undone has another number."""
    _log(workshop, at(0), "start", "done")
    _take(workshop, at(1), "sag")
    _log(workshop, at(2), "undo")
    _take(workshop, at(3), "sag")
    assert any(key.startswith("rework-2/") for key in _keys(workshop))
    assert not any(key.startswith("rework-1/") for key in _keys(workshop))


def test_a_finished_piece_is_opened_again(workshop, at):
    """A defect on a finished piece puts the rework at its end; when that is done it is finished."""
    _log(workshop, at(0), "start", "done", "done")
    _log(workshop, at(200), "ready", "done")
    _log(workshop, at(2000), "ready", "done")
    assert piece_view(workshop, "lid", at(2001)).state is State.FINISHED
    _take(
        workshop, at(2001), "white ring", _number_of(workshop, at(2001), "white ring", "spirit-off")
    )
    assert piece_view(workshop, "lid", at(2001)).state is State.DRYING
    assert find(workshop, "lid").steps[-1].key.startswith("rework-1/")
    _log(workshop, at(6000), "ready", "done")
    # What ended the work is done again: alcohol takes the wax along.
    _log(workshop, at(6300), "ready", "done")
    _log(workshop, at(6400), "ready")
    assert piece_view(workshop, "lid", at(6401)).state is State.FINISHED


def test_a_rework_within_a_rework(workshop, at):
    """Something goes wrong again: the second goes in before what is left of the first."""
    _log(workshop, at(0), "start", "done")
    _take(workshop, at(1), "mould")
    first = [key for key in _keys(workshop) if key.startswith("rework-1/")]
    _log(workshop, at(9000), "ready")
    _take(workshop, at(9001), "dust nib")
    keys = _keys(workshop)
    second = [key for key in keys if key.startswith("rework-2/")]
    assert keys[1 : 1 + len(first) + len(second)] == [first[0], *second, *first[1:]]
    assert piece_view(workshop, "lid", at(9001)).step.key == second[0]


def test_it_stays_when_another_text_is_adopted(workshop, folder, at):
    """A schedule adopted later changes its own steps; the rework in hand stays in hand."""
    _log(workshop, at(0), "start", "done")
    _take(workshop, at(1), "sag")
    in_hand = piece_view(workshop, "lid", at(1)).step.key
    file = folder / "schedules/two-coats.yaml"
    text = file.read_text().replace("  - stage: body", "      - tack off: cloth\n  - stage: body")
    file.write_text(text.replace("coats: 2", "coats: 3"))
    assert workshop.changed()
    _log(workshop, at(2), "adopt")
    assert piece_view(workshop, "lid", at(2)).step.key == in_hand
    keys = _keys(workshop)
    assert keys.index(in_hand) < keys.index("prepare/tack-off:1.1")
    assert "body/pad:1.3" in keys


def test_it_is_the_same_opened_anew(workshop, folder, at):
    """The journal alone gives the steps back, whatever the program would offer by then."""
    _log(workshop, at(0), "start", "done")
    _take(workshop, at(1), "sag")
    with Workshop.open(folder, at(2)) as again:
        assert find(again, "lid").steps == find(workshop, "lid").steps
        assert piece_view(again, "lid", at(2)).log == piece_view(workshop, "lid", at(2)).log


def test_film_is_accounted_for(workshop, at):
    """Coats of a rework add film to the end, dabs on a spot add none, and a strip takes all."""
    _log(workshop, at(0), "start", "done", "done")
    _log(workshop, at(200), "ready", "done")
    plain = film_answer(workshop, "lid", at(201)).end.film_um.likely

    def after(seen, name):
        _take(workshop, at(201), seen, _number_of(workshop, at(201), seen, name))
        answer = film_answer(workshop, "lid", at(201))
        rows = {row.step.key.split("/")[1]: row for row in answer.rows if row.step is not None}
        log_entry(workshop, Entry(What.UNDO, "lid"), at(201))
        log_entry(workshop, Entry(What.UNDO, "lid"), at(201))
        return answer, rows

    answer, rows = after("sand-through", "wait-touch-in")
    assert rows["spot-touch-in:1.1"].laid_um.likely == 0
    assert rows["pad:1.4"].laid_um.likely > 0
    answer, rows = after("crackle", "strip")
    assert answer.end.film_um.likely < plain + rows["seal:1.1"].laid_um.likely + 40
    assert rows["strip:1.1"].laid_um.likely <= 0


def test_the_steps_are_asked_for_in_material(workshop, at):
    """What the job takes grows by the coats of the rework: with the one to come, they are four."""
    _log(workshop, at(0), "start", "done", "done")
    before = job_need(workshop, "box", at(3))
    _take(workshop, at(1), "ridge", _number_of(workshop, at(1), "ridge", "level-coat"))
    after = job_need(workshop, "box", at(3))
    assert len(after.coats) == len(before.coats) + 4 - 1


@pytest.mark.parametrize(
    ("seen", "message", "remedy"),
    [
        ("", "no defect of box/lid is open", "blush"),
        ("squeak", "no defect is called 'squeak'", "say what it is most like, one of blush"),
        ("blsh", "no defect is called 'blsh'", "did you mean blush"),
    ],
)
def test_what_is_not_seen_is_refused(workshop, at, seen, message, remedy):
    """Nothing open and no name, or a name of no defect: it says what there are."""
    _log(workshop, at(0), "start")
    with pytest.raises(RefusedError) as caught:
        defect_answer(workshop, "lid", seen, at(1))
    assert message in caught.value.message
    assert remedy in caught.value.remedy


def test_no_such_way_leaves_no_trace(workshop, at):
    """A number that is not offered writes nothing, not even the defect."""
    _log(workshop, at(0), "start")
    answer = defect_answer(workshop, "lid", "sag", at(1))
    seq = workshop.book().last_seq
    with pytest.raises(RefusedError, match="no way 9"):
        take_rework(workshop, answer, 9, at(1))
    assert workshop.book().last_seq == seq


def test_defect_and_rework_are_written_together_or_not_at_all(workshop, at, monkeypatch):
    """A way that is gone by then leaves no defect behind; else both come with one writing."""
    _log(workshop, at(0), "start", "done")
    answer = defect_answer(workshop, "lid", "sag", at(1))
    seq = workshop.book().last_seq
    with monkeypatch.context() as changed:
        changed.setattr("finishsched.workshop.defects.defects.way_named", lambda *_: None)
        with pytest.raises(RefusedError, match="has changed since"):
            take_rework(workshop, answer, 1, at(1))
    assert workshop.book().last_seq == seq
    seen, taken = take_rework(workshop, answer, 1, at(1), "Ada")
    assert (seen.what.seen, taken.what.defect_id) == ("sag", seen.id)
    assert (seen.what.by, taken.what.by) == ("Ada", "Ada")
    assert (seen.seq, taken.seq) == (seq + 1, seq + 2)


def test_two_ways_for_one_defect_are_one_too_many(workshop, at):
    """Of two who took a way for one entry at once the second is told, and nothing is added."""
    _log(workshop, at(0), "start", "done", "done")
    _log(workshop, at(1), "defect", text="sag")
    first, second = (defect_answer(workshop, "lid", "sag", at(2)) for _ in range(2))
    take_rework(workshop, first, 1, at(3))
    keys = _keys(workshop)
    with pytest.raises(RefusedError, match="already"):
        take_rework(workshop, second, 1, at(3))
    assert _keys(workshop) == keys


def test_not_begun_is_refused(workshop, at):
    """A piece that is not begun has no work that rework could enter."""
    with pytest.raises(RefusedError, match="is not begun"):
        defect_answer(workshop, "lid", "sag", at(1))


def test_the_newest_open_defect_is_meant(workshop, at):
    """Logged by name, it is found without saying it again, until a rework is taken for it."""
    _log(workshop, at(0), "start", "done")
    _log(workshop, at(1), "defect", text="dust nib by the lock")
    _log(workshop, at(2), "defect", text="white cloud in a corner", seen="blush")
    answer = defect_answer(workshop, "lid", "", at(3))
    assert (answer.seen.value, answer.event.what.text) == ("blush", "white cloud in a corner")
    (taken,) = take_rework(workshop, answer, 1, at(3))
    assert isinstance(taken.what, ReworkTaken)
    assert taken.what.defect_id == answer.event.id
    assert defect_answer(workshop, "lid", "", at(4)).seen.value == "dust nib"


def test_free_text_stays_free(workshop, at):
    """A defect in other words is kept as it is; asked about, it wants a name."""
    _log(workshop, at(0), "start")
    _log(workshop, at(1), "defect", text="odd on arrival")
    assert workshop.book().live("box/lid")[-1].what.seen == ""
    with pytest.raises(RefusedError, match="odd on arrival"):
        defect_answer(workshop, "lid", "", at(2))
    with pytest.raises(RefusedError, match="no defect is called"):
        _log(workshop, at(1), "defect", text="x", seen="squeak")
    with pytest.raises(RefusedError, match="is of no kind"):
        _log(workshop, at(1), "note", text="x", seen="blush")


def test_later_air_does_not_change_what_was_said(workshop, at):
    """The evidence is of the time when the defect was seen: what came after does not count."""
    add_air(workshop, Air(18.0, 80.0), at(0))
    _log(workshop, at(1), "start", "done", "done")
    _log(workshop, at(10), "defect", text="blush")
    first = defect_answer(workshop, "lid", "", at(11))
    assert first.diagnosis.causes[0].cause.id == "damp-air"
    add_air(workshop, Air(30.0, 20.0), at(60))
    again = defect_answer(workshop, "lid", "", at(61))
    blank = {"dried_share": None}
    assert replace(again.evidence, **blank) == replace(first.evidence, **blank)
    assert again.evidence.dried_share == pytest.approx(first.evidence.dried_share)


def test_no_paper_comes_to_a_wet_coat(workshop, at):
    """Taken while a coat is fresh, whatever rubs or bites begins with a rest that takes over."""
    _log(workshop, at(0), "start", "done", "done")
    answer = defect_answer(workshop, "lid", "dust nib", at(5))
    assert all(option.steps[0].verb is Verb.REST for option in answer.options)
    *_, taken = take_rework(workshop, answer, 1, at(5))
    assert taken.what.ends_wait == "body/pad:1.1"
    assert piece_view(workshop, "lid", at(5)).step.verb is Verb.REST


def test_a_rework_without_a_rest_waits_for_the_dry_check(workshop, at):
    """A spot is touched in only when the running wait is over by its own dry check."""
    _log(workshop, at(0), "start", "done", "done")
    number = _number_of(workshop, at(5), "dent", "touch-in")
    *_, taken = _take(workshop, at(5), "dent", number)
    assert taken.what.ends_wait == ""
    assert piece_view(workshop, "lid", at(6)).state is State.DRYING
    _log(workshop, at(130), "ready")
    assert piece_view(workshop, "lid", at(130)).step.key == "rework-1/spot-touch-in:1.1"
