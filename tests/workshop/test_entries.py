"""What the workshop takes, what it refuses, and what comes of it."""

from datetime import timedelta

import pytest

from finishsched.model.shop import Air
from finishsched.refusals import RefusalError
from finishsched.workshop.air.reading_entries import add_air
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.log.log import log_entry, remarks_on
from finishsched.workshop.views.views import bench_view, due_answer, piece_view, shop_notices


def _log(workshop, now, what, piece="lid", **given):
    return log_entry(workshop, Entry(What(what), piece, **given), now)


def _state(workshop, now, piece="lid"):
    return piece_view(workshop, piece, now).state


def test_a_piece_goes_from_raw_wood_to_finished(workshop, at):
    """Start, done, dry checks and no wait: each state comes in its turn, and only by an entry."""
    assert _state(workshop, at(0)) is State.NOT_BEGUN
    _log(workshop, at(0), "start")
    assert _state(workshop, at(0)) is State.TO_DO
    _log(workshop, at(10), "done")
    assert piece_view(workshop, "lid", at(10)).step.title == "pad coat 1 of 2"
    _log(workshop, at(20), "done")
    assert _state(workshop, at(79)) is State.DRYING
    assert _state(workshop, at(80)) is State.NEARLY
    assert _state(workshop, at(140)) is State.CHECK
    assert _state(workshop, at(14000)) is State.CHECK
    _log(workshop, at(141), "ready")
    _log(workshop, at(150), "done")
    assert _state(workshop, at(150 + 3 * 24 * 60)) is State.CLOSED
    _log(workshop, at(150 + 12 * 60), "ready")
    _log(workshop, at(900), "done")
    assert _state(workshop, at(900)) is State.FINISHED


def test_not_yet_extends_the_wait(workshop, at):
    """After a failed dry check the piece dries on, a quarter of the time taken."""
    for minute, what in ((0, "start"), (0, "done"), (0, "done"), (120, "not ready")):
        _log(workshop, at(minute), what)
    view = piece_view(workshop, "lid", at(121))
    assert view.state is State.NEARLY
    assert view.clock.likely_at == at(150)
    _log(workshop, at(150), "ready", text="a little soft at the edge")
    assert piece_view(workshop, "lid", at(150)).log[0].text.endswith("a little soft at the edge")


@pytest.mark.parametrize(
    ("before", "what", "given", "message", "remedy"),
    [
        ([], "done", {}, "is not begun", "log box/lid start"),
        (["start"], "start", {}, "begun already", "done"),
        (["start"], "ready", {}, "nothing to check", "done first"),
        (["start", "done", "done"], "done", {}, "wait has not ended", "dry check"),
        (["start", "done", "done"], "skipped", {"text": "x"}, "only its wait", "dry check"),
        (["start"], "skipped", {}, "without words", "skipped"),
        (["start"], "note", {"text": "  "}, "without words", "note"),
        (["start"], "done", {"step": "3"}, "still ahead", "step 1, sand P180"),
        (["start", "done"], "done", {"step": "1"}, "is over", "step 2"),
        (["start"], "done", {"step": "77"}, "no step '77'", "from 1 to 4"),
        (["start"], "adopt", {}, "as written", "nothing to adopt"),
        ([], "undo", {}, "no entry to undo", "nothing was changed"),
        (["start"], "done", {"piece": "lod"}, "no piece 'lod'", "did you mean 'lid'"),
    ],
)
def test_what_cannot_be_true_is_refused(workshop, at, before, what, given, message, remedy):
    """A refused entry says why and what would be right, and leaves the journal as it was."""
    for word in before:
        _log(workshop, at(0), word)
    before_view = bench_view(workshop, at(1))
    with pytest.raises(RefusedError) as caught:
        _log(workshop, at(1), what, **given)
    assert message in caught.value.message
    assert remedy in caught.value.remedy
    assert bench_view(workshop, at(1)) == before_view


def test_times_to_come_and_before_the_coat_are_refused(workshop, at):
    """An entry can be late but not early, and no dry check comes before its coat."""
    for word in ("start", "done", "done"):
        _log(workshop, at(0), word)
    with pytest.raises(RefusedError, match="to come"):
        _log(workshop, at(0), "ready", at=at(5))
    with pytest.raises(RefusedError, match="before the step"):
        _log(workshop, at(60), "ready", at=at(-1))


def test_what_is_typed_to_a_minute_may_be_any_instant_of_it(workshop, at):
    """After a dry check by the clock's second, the minute that is typed is not before it."""
    for word in ("start", "done", "done"):
        _log(workshop, at(0), word)
    found_ready = at(130) + timedelta(seconds=42)
    _log(workshop, found_ready, "ready")
    late = at(140)
    _log(workshop, late, "done", at=at(130))
    assert piece_view(workshop, "lid", late).clock.laid_at == found_ready
    _log(workshop, late, "amend", at=at(131))
    _log(workshop, late, "amend", at=at(130))
    assert piece_view(workshop, "lid", late).clock.laid_at == found_ready
    with pytest.raises(RefusedError, match="not between"):
        _log(workshop, late, "amend", at=at(129))


def test_a_coat_logged_late_counts_from_when_it_was_laid(workshop, at):
    """The clock runs from the time that the person gives."""
    _log(workshop, at(0), "start")
    _log(workshop, at(0), "done")
    _log(workshop, at(90), "done", at=at(30))
    assert piece_view(workshop, "lid", at(90)).clock.laid_at == at(30)


def test_undo_steps_back_one_entry_at_a_time(workshop, at):
    """Undo after undo leads back through every state to not begun."""
    views = [piece_view(workshop, "lid", at(0))]
    for word in ("start", "done", "done", "not ready", "ready"):
        _log(workshop, at(0), word)
        views.append(piece_view(workshop, "lid", at(0)))
    for earlier in reversed(views[:-1]):
        _log(workshop, at(0), "undo")
        assert piece_view(workshop, "lid", at(0)) == earlier


def test_a_coat_keeps_its_batch_amount_air_and_hands(workshop, at):
    """What was used, from which jar, in what air and by whom stays with the coat."""
    _log(workshop, at(0), "start")
    _log(workshop, at(0), "done")
    event = _log(
        workshop, at(5), "done", by="ada", batch="jar 3", amount_ml=4.5, air=Air(19.0, 55.0)
    )
    assert (event.what.batch, event.what.amount_ml, event.what.by) == ("jar 3", 4.5, "Ada")
    assert event.what.air.temperature_c == 19.0
    assert (
        piece_view(workshop, "lid", at(6)).log[0].text
        == "done: 2, pad coat 1 of 2, 4.5 ml of jar 3"
    )


def test_editing_the_schedule_changes_nothing_until_adopted(workshop, folder, at):
    """A running piece goes on by the text it began with; another one begins by the new text."""
    _log(workshop, at(0), "start")
    document = folder / "schedules/two-coats.yaml"
    document.write_text(document.read_text().replace("coats: 2", "coats: 5"))
    assert workshop.changed()
    view = piece_view(workshop, "lid", at(1))
    assert (view.steps_in_all, view.changed_schedule) == (4, True)
    assert any("adopt" in notice.text for notice in bench_view(workshop, at(1)).notices)
    _log(workshop, at(2), "start", piece="body")
    assert piece_view(workshop, "body", at(2)).steps_in_all == 7
    _log(workshop, at(3), "done")
    _log(workshop, at(4), "adopt")
    view = piece_view(workshop, "lid", at(4))
    assert (view.steps_in_all, view.step.number, view.changed_schedule) == (7, 2, False)


def test_a_piece_outlives_its_documents(workshop, folder, at):
    """With job and schedule gone, or full of faults, a running piece still stands where it did."""
    for word in ("start", "done", "done"):
        _log(workshop, at(0), word)
    before = piece_view(workshop, "box/lid", at(60))
    (folder / "jobs/box.yaml").write_text("job: [")
    (folder / "schedules/two-coats.yaml").unlink()
    assert workshop.changed()
    after = piece_view(workshop, "box/lid", at(60))
    assert (after.state, after.clock, after.step) == (before.state, before.clock, before.step)
    assert any("jobs/box.yaml:1:" in notice.text for notice in bench_view(workshop, at(60)).notices)


def test_pieces_are_found_by_their_own_name_or_the_whole(workshop, at):
    """`lid` will do while only one piece is called so."""
    assert piece_view(workshop, "lid", at(0)) == piece_view(workshop, "box/lid", at(0))


def test_air_is_the_last_reading_or_the_usual_air(workshop, at):
    """The strip says whether it was read, and a late entry of an old reading is not the last."""
    assert bench_view(workshop, at(0)).air.read_at is None
    add_air(workshop, Air(17.0, 60.0), at(0))
    add_air(workshop, Air(25.0, 40.0, at=at(-60)), at(1))
    air = bench_view(workshop, at(2)).air
    assert (air.answer.temperature_c, air.read_at) == (17.0, at(0))
    with pytest.raises(RefusedError, match="to come"):
        add_air(workshop, Air(20.0, 50.0, at=at(10)), at(2))
    for impossible in (Air(90.0, 50.0), Air(20.0, 0.0)):
        with pytest.raises(RefusalError, match="a reading is from"):
            add_air(workshop, impossible, at(2))
    assert bench_view(workshop, at(2)).air == air


def test_a_coat_in_impossible_air_is_refused(workshop, at):
    """A coat's own reading is judged as any other."""
    _log(workshop, at(0), "start")
    with pytest.raises(RefusalError, match="no air to work in"):
        _log(workshop, at(1), "done", air=Air(90.0, 50.0))
    assert _state(workshop, at(1)) is State.TO_DO


def test_the_most_urgent_comes_first(workshop, at):
    """A due dry check before work to do, work to do before what dries."""
    for piece in ("lid", "body"):
        _log(workshop, at(0), "start", piece=piece)
    for word in ("done", "done"):
        _log(workshop, at(0), word)
    assert [view.ref for view in bench_view(workshop, at(1)).pieces] == ["box/body", "box/lid"]
    assert [view.ref for view in bench_view(workshop, at(130)).pieces] == ["box/lid", "box/body"]
    assert [view.ref for view in due_answer(workshop, at(1)).coming] == ["box/lid"]


def test_the_sheet_says_what_to_mix_for_this_area(workshop, at):
    """0.1 m2 at 15 ml/m2 with a tenth lost, and what the pad keeps; one jar for the whole job."""
    _log(workshop, at(0), "start")
    _log(workshop, at(0), "done")
    sheet = piece_view(workshop, "lid", at(0)).sheet
    assert sheet.product.endswith("2-lb cut")
    assert [line.what for line in sheet.mix] == [
        "Dewaxed blonde shellac flakes",
        "Denatured alcohol",
    ]
    assert sheet.mix_makes == (
        "20 ml for 4 coats on 2 pieces, 0.3 m2; this one takes 12 ml (10 ml of it into the dry "
        "pad), the rest is for the 3 coats after it, 2.3 ml is left over"
    )
    assert sheet.hands_on_min == pytest.approx(3.0)
    assert sheet.cautions
    assert "data sheet" in sheet.deferral


def test_every_view_says_why(workshop, at):
    """In each state there is a reason, with a source where there is a figure."""
    assert piece_view(workshop, "lid", at(0)).why
    for word in ("start", "done", "done"):
        _log(workshop, at(0), word)
        assert piece_view(workshop, "lid", at(0)).why
    assert any("common practice" in line for line in piece_view(workshop, "lid", at(0)).why)


def test_a_clock_set_back_loses_nothing(workshop, at):
    """With the machine's clock an hour behind the last entry, work goes on and is told so."""
    for word in ("start", "done"):
        _log(workshop, at(60), word)
    _log(workshop, at(0), "done")
    view = piece_view(workshop, "lid", at(0))
    assert view.clock.laid_at == at(0)
    assert any(
        "before an entry that was written" in notice.text
        for notice in bench_view(workshop, at(-10)).notices
    )


def test_it_says_how_long_nobody_looked(folder, workshop, at):
    """Opened again after a night, the shop says so."""
    workshop.mark_looked(at(0))
    with type(workshop).open(folder, at(600)) as again:
        absence = Notice("nobody looked for 10 h 00", about="nobody looked for")
        assert absence in shop_notices(again, at(600))
    with type(workshop).open(folder, at(5)) as soon:
        assert not shop_notices(soon, at(5))


def test_another_process_is_seen(folder, workshop, at):
    """What one door logs, the other shows, and says that something changed."""
    assert not workshop.changed()
    with type(workshop).open(folder, at(0)) as other:
        _log(other, at(0), "start")
    assert workshop.changed()
    assert _state(workshop, at(0)) is State.TO_DO
    assert not workshop.changed()


def test_two_doors_cannot_log_the_same_coat_twice(folder, workshop, at):
    """An entry is judged by the journal as it is when it is written, not as it was last read."""
    _log(workshop, at(0), "start")
    with type(workshop).open(folder, at(0)) as other:
        _log(workshop, at(1), "done", step="1")
        with pytest.raises(RefusedError, match="is over"):
            _log(other, at(1), "done", step="1")


def test_two_pieces_share_one_snapshot(workshop, at):
    """Two pieces begun on the same text are both begun."""
    _log(workshop, at(0), "start", piece="lid")
    _log(workshop, at(0), "start", piece="body")
    assert _state(workshop, at(0), "body") is State.TO_DO


def test_time_zones_change_nothing_but_the_wall(folder, workshop, at):
    """The same clock in another zone ends at the same instant."""
    for word in ("start", "done", "done"):
        _log(workshop, at(0), word)
    before = piece_view(workshop, "lid", at(30))
    document = folder / "shop.yaml"
    document.write_text(document.read_text().replace("Europe/Lisbon", "Asia/Tokyo"))
    assert workshop.changed()
    assert workshop.zone.utcoffset(at(0).replace(tzinfo=None)) == timedelta(hours=9)
    assert piece_view(workshop, "lid", at(30)).clock == before.clock


def test_a_slip_in_a_name_is_asked_about_and_a_guest_is_not(workshop, at):
    """Ad is nearly Ada, who is planned with; Joe may come and help."""
    log_entry(workshop, Entry(What.START, "lid"), at(0))
    for by, is_asked in (("Ad", True), ("Joe", False), ("Ada", False)):
        done = log_entry(workshop, Entry(What.DONE, "lid", by=by), at(1))
        said = " ".join(remarks_on(workshop, done, at(1)))
        assert (f"{by} is nobody of the shop; if it was Ada" in said) is is_asked
        log_entry(workshop, Entry(What.UNDO, "lid"), at(2))
