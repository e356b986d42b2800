"""What is learnt, overruled, forgotten, and taken back."""

from __future__ import annotations

import pytest

from finishsched.drying.dry_checks import Check, Group, WaitKind
from finishsched.journal.events import PaceSet
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.standing.own_pace import Own, counted
from finishsched.workshop.standing.paces import pace_of, paces, set_pace, undo_pace
from finishsched.workshop.views.views import piece_view

FLAKES = "shellac-dewaxed-blonde"


def _log(workshop, now, *words, piece="lid"):
    for word in words:
        log_entry(workshop, Entry(What(word), piece), now)


@pytest.fixture
def slow(workshop, at):
    """Return the shop after a first coat that took 200 minutes instead of two hours."""
    _log(workshop, at(0), "start", "done", "done")
    _log(workshop, at(190), "not ready")
    _log(workshop, at(200), "ready")
    return workshop


def test_what_is_learnt_is_listed(slow):
    """One check of one kind of wait makes one row, with the words that the clock says too."""
    (row,) = paces(slow)
    assert (row.group.product, row.group.kind.short, row.learnt.checks) == (FLAKES, "first", 1)
    assert row.learnt.words.endswith("times the book, from 1 check")


def test_a_pace_set_by_hand_moves_the_clock_and_is_dropped_again(slow, at):
    """Twice the book makes two hours four; as learnt, it is as before; each is an entry."""
    before = pace_of(slow, FLAKES, "first").learnt
    set_pace(slow, PaceSet(FLAKES, "first", 2.0), at(201))
    _log(slow, at(201), "start", "done", "done", piece="body")
    clock = piece_view(slow, "body", at(201)).clock
    assert (clock.likely_at - at(201)).total_seconds() == pytest.approx(4 * 3600, abs=5)
    assert "as you have set it" in pace_of(slow, FLAKES, "first").learnt.words
    set_pace(slow, PaceSet(FLAKES, "first"), at(202))
    assert pace_of(slow, FLAKES, "first").learnt == before


def test_forgetting_drops_the_checks_of_that_wait_only(slow, at):
    """After a reset of one kind of wait the checks of another still count for what they are."""
    _log(slow, at(201), "done")
    _log(slow, at(201 + 13 * 60), "ready")
    after = pace_of(slow, FLAKES, "after").learnt
    set_pace(slow, PaceSet(FLAKES, "first", forget=True), at(202 + 13 * 60))
    assert pace_of(slow, FLAKES, "first").learnt.checks == 0
    assert pace_of(slow, FLAKES, "after").learnt.checks == after.checks == 1
    assert pace_of(slow, FLAKES, "first").own.since == at(202 + 13 * 60)


def test_an_entry_about_a_pace_is_taken_back(slow, at):
    """An undo brings back what was before, and with none left it is refused."""
    before = paces(slow)
    set_pace(slow, PaceSet(FLAKES, "first", 1.3), at(201))
    assert undo_pace(slow, at(202)).factor == 1.3
    assert paces(slow) == before
    with pytest.raises(RefusedError, match="nothing to take back"):
        undo_pace(slow, at(203))


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        (PaceSet("no-such", "first", 1.2), "no product 'no-such'"),
        (PaceSet(FLAKES, "third", 1.2), "no kind of wait 'third'"),
        (PaceSet(FLAKES, "first", 50.0), "from 0.1 to 10"),
        (PaceSet(FLAKES, "first"), "goes by what is learnt"),
    ],
)
def test_what_cannot_be_set_is_refused(slow, at, entry, fault):
    """An unknown wait, a slip of the pen and an entry that changes nothing leave no trace."""
    before = slow.book().last_seq
    with pytest.raises(RefusedError, match=fault):
        set_pace(slow, entry, at(201))
    assert slow.book().last_seq == before


def test_only_checks_since_a_reset_count(at):
    """A check before the reset of its wait, or of unknown date, is dropped; others stay."""
    first, other = Group("a", WaitKind.FIRST), Group("a", WaitKind.AFTER)
    old, undated = Check(*first, 100, ready_s=150, at=at(0)), Check(*first, 100, ready_s=150)
    new, kin = Check(*first, 100, ready_s=150, at=at(9)), Check(*other, 100, ready_s=150, at=at(0))
    assert counted([old, undated, new, kin], {first: Own(since=at(5))}) == (new, kin)
    assert counted([old, undated], {}) == (old, undated)
