"""Any entry can be taken back or told otherwise, and what hangs on it is told first."""

from __future__ import annotations

import pytest

from finishsched.journal import source
from finishsched.journal.events import NewEvent, Noted, ReworkTaken
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.defects.defects import defect_answer, take_rework
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.papers.records import records_of
from finishsched.workshop.standing.earlier import hanging_words
from finishsched.workshop.standing.where import find


@pytest.fixture
def worked(workshop, at):
    """Give the lid sanded and coated once, its dry check made, and coated again."""
    for minute, word in ((0, "start"), (5, "done"), (10, "done"), (140, "ready"), (150, "done")):
        _log(workshop, at(minute), word)
    return workshop


def _log(workshop, now, word, piece="lid", **given):
    return log_entries(workshop, Entry(What(word), piece, **given), now)


def _live(workshop, ref="box/lid"):
    return [(event.what.kind, event.at) for event in workshop.book().live(ref)]


def test_an_early_entry_tells_what_hangs_on_it_before_it_goes(worked, at):
    """The first coat carries its dry check and the second coat; a note stands by itself."""
    _log(worked, at(151), "note", text="a run at the corner, wiped")
    with pytest.raises(RefusedError, match="2 later entries of box/lid hang on that one: ready"):
        _log(worked, at(152), "undo", step="2")
    taken = _log(worked, at(152), "undo", step="2", and_later=True)
    assert len(taken.events) == 3
    assert [kind for kind, _ in _live(worked)] == ["piece-started", "step-done", "note"]
    _log(worked, at(153), "undo", number=worked.book().live("box/lid")[-1].seq)
    assert [kind for kind, _ in _live(worked)] == ["piece-started", "step-done"]


def test_what_would_go_with_an_entry_is_told_in_words_before_it_goes(worked):
    """Of the first coat its dry check and the second coat; of the second, nothing."""
    _, _, first, _, second = (event.seq for event in worked.book().live("box/lid"))
    told = hanging_words(worked, ["lid"], first)
    assert len(told) == 2
    assert hanging_words(worked, ["lid"], second) == ()


def test_with_a_rework_go_its_own_steps_and_no_more(workshop, at):
    """Its rest that was ready goes with it; a note about it stays."""
    for minute, word in ((0, "start"), (1, "done")):
        _log(workshop, at(minute), word)
    take_rework(workshop, defect_answer(workshop, "lid", "mould", at(5)), 1, at(5))
    rework = next(e for e in workshop.book().live("box/lid") if isinstance(e.what, ReworkTaken))
    _log(workshop, at(6), "note", text="it was the lower edge")
    assert hanging_words(workshop, ["lid"], rework.seq) == ()
    assert find(workshop, "lid").step.key.startswith("rework-1/")
    _log(workshop, at(60 * 24 * 9), "ready")
    assert hanging_words(workshop, ["lid"], rework.seq) == ("ready: 2, rest",)


def test_a_wrong_time_is_amended_between_its_neighbours(worked, at):
    """The clock runs from the time told last; a time out of order is refused."""
    _log(worked, at(160), "amend", at=at(145))
    assert find(worked, "lid").laid.at == at(145)
    for wrong in (at(139), at(170)):
        with pytest.raises(RefusedError, match=r"not between|time to come"):
            _log(worked, at(160), "amend", at=wrong)
    _log(worked, at(161), "undo")
    assert find(worked, "lid").laid.at == at(150)


def test_the_record_tells_both(worked, at):
    """What was told first stands beside what is told now."""
    _log(worked, at(160), "amend", step="2", amount_ml=3.0, by="Ben")
    (record,) = records_of(worked, "lid", at(161))
    coat = record.work[1]
    assert coat.by == "Ben"
    assert coat.amount.startswith("3 ml")
    assert "amended; first told: Ada" in coat.outcome


def test_an_entry_on_the_wrong_piece_goes_where_it_was_meant(worked, at):
    """It is taken back there and made here at its own time, and both say where the other is."""
    for minute, word in ((151, "start"), (152, "done")):
        _log(worked, at(minute), word, "body")
    taken = _log(worked, at(160), "amend", to="body", at=at(155))
    assert taken.refs == ("box/body", "box/lid")
    assert [kind for kind, _ in _live(worked)][-1] == "dry-ready"
    assert _live(worked, "box/body")[-1] == ("step-done", at(155))
    assert worked.book().live("box/body")[-1].what.note == "logged on box/lid first"
    _log(worked, at(161), "undo", "lid,body")
    assert len(_live(worked, "box/body")) == 2


@pytest.mark.parametrize(
    ("word", "text", "kind"),
    [
        ("ready", "", "dry-ready"), ("not ready", "", "dry-not-yet"),
        ("note", "cold tonight", "note"), ("defect", "blush, near the edge", "defect"),
    ],
)  # fmt: skip
def test_each_kind_that_can_move_is_the_same_where_it_was_meant(workshop, at, word, text, kind):
    """A dry check, a note and a defect say there what they said here, at their own time."""
    for piece in ("lid", "body"):
        for minute, before in ((0, "start"), (1, "done"), (2, "done")):
            _log(workshop, at(minute), before, piece)
    _log(workshop, at(150), word, text=text, by="Ben")
    here = workshop.book().live("box/lid")[-1].what
    _log(workshop, at(160), "amend", to="body")
    there = workshop.book().live("box/body")[-1]
    assert (there.what.kind, there.at, there.what.by) == (kind, at(150), "Ben")
    for name in ("text", "seen"):
        assert getattr(there.what, name, None) == getattr(here, name, None)
    assert _live(workshop)[-1] == ("step-done", at(2))


def test_a_coat_does_not_move_onto_one_that_still_dries(workshop, at):
    """Where it was meant a dry check is due first: both pieces stay as they are."""
    for piece in ("lid", "body"):
        for minute, before in ((0, "start"), (1, "done"), (2, "done")):
            _log(workshop, at(minute), before, piece)
    _log(workshop, at(130), "ready")
    _log(workshop, at(140), "done")
    before = _live(workshop), _live(workshop, "box/body")
    with pytest.raises(RefusedError, match="its wait has not ended"):
        _log(workshop, at(150), "amend", to="body")
    assert (_live(workshop), _live(workshop, "box/body")) == before


def test_pieces_are_joined_for_an_evening_while_their_steps_agree(workshop, at):
    """Not before they are at the same step; and in the morning they are on their own again."""
    from finishsched.workshop.standing.together import rows_of
    from finishsched.workshop.standing.where import standings

    def rows(minute):
        return [row.title for row in rows_of(standings(workshop), workshop.book(), at(minute))]

    _log(workshop, at(0), "start", "lid")
    with pytest.raises(RefusedError, match="not at the same step"):
        _log(workshop, at(1), "join", "lid,body")
    _log(workshop, at(1), "start", "body")
    _log(workshop, at(2), "join", "lid,body")
    assert rows(3) == ["The body and The lid"]
    assert len(rows(60 * 12)) == 2
    _log(workshop, at(4), "done", "lid,body")
    assert len(rows(5)) == 1
    _log(workshop, at(6), "part", "lid")
    assert len(rows(7)) == 2


def test_an_entry_reads_none_of_a_lifetime_of_notes(workshop, at, monkeypatch):
    """However many notes a piece has, one more, and a coat, are taken without reading them."""
    for minute, word in ((0, "start"), (5, "done")):
        _log(workshop, at(minute), word)
    notes = [NewEvent(at(6), "box/lid", Noted(f"note {n}")) for n in range(300)]
    workshop.append_all(lambda _: notes, at(6))
    read = []
    from_row = source.from_row
    monkeypatch.setattr(source, "from_row", lambda row: read.append(row) or from_row(row))
    with type(workshop).open(workshop.folder, at(7)) as again:
        _log(again, at(7), "note", text="one more")
        _log(again, at(8), "done")
    assert len(read) < 100
