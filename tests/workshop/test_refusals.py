"""Every refusal of an entry about a piece: what it says, and that what is just allowed is taken."""

from __future__ import annotations

from datetime import timedelta

import pytest

from finishsched.model.shop import Air
from finishsched.refusals import RefusalError
from finishsched.workshop.base.entries import AHEAD, Entry, RefusedError, What
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.standing.where import find
from finishsched.workshop.views.views import bench_view, piece_view

USED = {
    "an amount": {"amount_ml": 5.0}, "a weight": {"amount_g": 5.0}, "a jar": {"batch": "jar 1"},
    "air": {"air": Air(20.0, 50.0)}, "moisture": {"moisture_percent": 0.0},
    "time": {"took_min": 5.0},
}  # fmt: skip
TO_NOTE = [
    ([], "start"), (["start"], "note"), (["start"], "skipped"), (["start"], "defect"),
    (["start", "done", "done"], "ready"), (["start", "done", "done"], "not ready"),
    (["start"], "anew"),
]  # fmt: skip


def log(workshop, now, what, piece="lid", **given):
    """Log one entry."""
    return log_entry(workshop, Entry(What(what), piece, **given), now)


def refused(workshop, now, what, **given):
    """Return the refusal of an entry, which leaves the bench as it was."""
    before = bench_view(workshop, now)
    with pytest.raises(RefusedError) as caught:
        log(workshop, now, what, **given)
    assert bench_view(workshop, now) == before
    return caught.value


@pytest.mark.parametrize("used", USED)
@pytest.mark.parametrize(("before", "what"), TO_NOTE, ids=[what for _, what in TO_NOTE])
def test_what_was_used_belongs_to_a_coat(workshop, at, before, what, used):
    """No other entry takes an amount, a jar, air, moisture or time, and none drops it unsaid."""
    for word in before:
        log(workshop, at(0), word)
    told = {} if what == "start" else {"text": "because"}
    found = refused(workshop, at(1), what, **told, **USED[used])
    assert found.message == f"{what!r} takes no amount, batch, air, moisture or time"
    assert found.remedy == "they belong to 'done'"
    log(workshop, at(1), what, **told)


@pytest.mark.parametrize("what", ["start", "note", "adopt", "anew"])
def test_an_entry_about_the_whole_piece_names_no_step(workshop, at, what):
    """A step beside it would be lost."""
    found = refused(workshop, at(1), what, step="2", text="x")
    assert f"{what!r} is not about one step" in found.message
    assert "leave out the step '2'" in found.remedy


@pytest.mark.parametrize("what", ["done", "note", "skipped"])
def test_only_a_defect_is_of_a_kind(workshop, at, what):
    """A kind of defect on another entry is refused."""
    log(workshop, at(0), "start")
    assert "is of no kind" in refused(workshop, at(1), what, text="x", seen="blush").message
    log(workshop, at(1), "defect", text="white", seen="blush")
    assert (
        "no defect is called 'blosh'"
        in refused(workshop, at(1), "defect", text="white", seen="blosh").message
    )


@pytest.mark.parametrize(
    ("what", "remedy"),
    [
        ("done", "write the step before it: 2 done"),
        ("skipped", "write the step before it: 2 skipped"),
        ("undo", "write the step before it, 2 undo, or the entry: --entry 2"),
        ("anew", "a piece begins anew at its first step; write the reason in words"),
    ],
)
def test_a_number_behind_an_entry_could_be_a_step(workshop, at, what, remedy):
    """It is asked for where steps are named; in a note a number is a number."""
    log(workshop, at(0), "start")
    found = refused(workshop, at(1), what, text="2")
    assert (found.message, found.remedy) == (f"'2' after {what!r} could be a step", remedy)
    log(workshop, at(1), "note", text="2")


def test_a_step_that_is_over_is_not_skipped(workshop, at):
    """Neither one that was done nor one that was skipped already; one ahead is."""
    log(workshop, at(0), "start")
    log(workshop, at(0), "done")
    for before in ("1",):
        found = refused(workshop, at(1), "skipped", step=before, text="no need")
        assert found.message == "step 1, sand P180, is over"
        assert found.remedy == "undo it, if it was not"
    log(workshop, at(1), "skipped", step="3", text="thick enough")
    assert "is over" in refused(workshop, at(2), "skipped", step="3", text="again").message
    assert find(workshop, "lid").step.number == 2


def test_a_finished_piece_takes_notes_and_nothing_else(workshop, at):
    """There is nothing left to do, to skip or to check."""
    for minute, word in ((0, "start"), (0, "done"), (0, "done"), (200, "ready"), (200, "done"),
                         (2000, "ready"), (2000, "done")):  # fmt: skip
        log(workshop, at(minute), word)
    assert (
        "there is nothing left to skip" in refused(workshop, at(2001), "skipped", text="x").remedy
    )
    for word in ("done", "ready", "not ready"):
        found = refused(workshop, at(2001), word)
        assert (found.message, found.remedy) == (
            "box/lid is finished", "log a note or a defect, or undo",
        )  # fmt: skip
    log(workshop, at(2001), "note", text="gone to its owner")


def test_times_at_their_bounds(workshop, at):
    """A minute ahead is a clock that differs, more is refused; at the step before it is no sooner.

    A note may be of any time that is over.
    """
    log(workshop, at(0), "start")
    log(workshop, at(10), "done")
    assert (
        "to come"
        in refused(workshop, at(20), "done", at=at(20) + AHEAD + timedelta(seconds=1)).message
    )
    assert (
        "before the step"
        in refused(workshop, at(20), "done", at=at(10) - timedelta(seconds=1)).message
    )
    log(workshop, at(20), "note", text="it was cold", at=at(-500))
    log(workshop, at(20), "done", at=at(10))
    log(workshop, at(200), "ready", at=at(200) + AHEAD)


@pytest.mark.parametrize(
    ("given", "taken"),
    [
        ({"moisture_percent": 0.0}, True), ({"moisture_percent": 60.0}, True),
        ({"moisture_percent": 60.1}, False), ({"moisture_percent": -0.1}, False),
        ({"air": Air(60.0, 100.0)}, True), ({"air": Air(60.1, 50.0)}, False),
        ({"air": Air(20.0, 100.1)}, False), ({"air": Air(-10.0, 1.0)}, True),
    ],
)  # fmt: skip
def test_readings_at_their_bounds(workshop, at, given, taken):
    """Wood and air that there are, and no other."""
    log(workshop, at(0), "start")
    if taken:
        log(workshop, at(1), "done", **given)
        return
    with pytest.raises(RefusalError):
        log(workshop, at(1), "done", **given)
    assert piece_view(workshop, "lid", at(2)).steps_done == 0


def test_another_schedule_is_adopted_by_its_name_alone(workshop, folder, at):
    """A job that names another schedule now: its name adopts it, and no other word does."""
    log(workshop, at(0), "start")
    other = (folder / "schedules/two-coats.yaml").read_text().replace("two-coats", "three-coats")
    (folder / "schedules/three-coats.yaml").write_text(other.replace("coats: 2", "coats: 3"))
    job = folder / "jobs/box.yaml"
    job.write_text(job.read_text().replace("schedule: two-coats", "schedule: three-coats", 1))
    assert workshop.changed()
    found = refused(workshop, at(1), "adopt")
    assert "now names another schedule, 'three-coats'" in found.message
    assert found.remedy == "write 'adopt three-coats' if that is meant"
    assert refused(workshop, at(1), "adopt", text="two-coats").remedy == found.remedy
    log(workshop, at(1), "adopt", text="three-coats")
    assert find(workshop, "lid").schedule.id == "three-coats"


def test_the_same_schedule_edited_is_adopted_without_a_word_or_by_its_name(workshop, folder, at):
    """Other words are refused, so that nobody's remark is lost."""
    log(workshop, at(0), "start")
    document = folder / "schedules/two-coats.yaml"
    document.write_text(document.read_text().replace("coats: 2", "coats: 3"))
    assert workshop.changed()
    found = refused(workshop, at(1), "adopt", text="it is thin")
    assert "'adopt' takes no words, but the schedule's name, 'two-coats'" in found.message
    assert "leave out 'it is thin', or log it as a note" in found.remedy
    log(workshop, at(1), "adopt")
    assert len(find(workshop, "lid").steps) == 5
    assert "as written" in refused(workshop, at(2), "adopt").message


def test_a_piece_whose_schedule_cannot_be_read_is_not_begun(workshop, folder, at):
    """There is nothing to begin by; the refusal says what the job names, and where to look."""
    (folder / "schedules/two-coats.yaml").unlink()
    assert workshop.changed()
    found = refused(workshop, at(1), "start")
    assert found.message == "box/lid has no schedule that can be read: 'two-coats'"
    assert "finishsched check" in found.remedy
