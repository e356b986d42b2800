"""A past notebook comes in whole or not at all, each row at its own time."""

from __future__ import annotations

import io
from contextlib import suppress
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.journal import events
from finishsched.workshop.keeping.notebook import (
    INFERRED,
    NotebookFaultError,
    import_notebook,
    read_notebook,
)
from finishsched.workshop.views.views import piece_view

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)

PAST = """\
date,time,piece,entry,used,text
2026-11-20,18:00,lid,done,,first sanding
2026-11-20,18:20,lid,done,2 ml,
2026-11-20,21:00,lid,done,2 ml,thinner
2026-11-21,09:00,lid,ready,,
2026-11-21,09:05,lid,note,,a faint line at the hinge
"""

HEADER = "date,time,piece,entry,step,used,text\n"


def kinds(workshop):
    """Return the kinds of all entries in the order of writing."""
    return [event.what.kind for event in workshop.every_event()]


def test_rows_become_entries_at_their_own_time(workshop):
    """A piece begins with its first coat, and a wait that no row ends is over by the next coat."""
    import_notebook(workshop, PAST, NOW)
    assert kinds(workshop) == [
        "piece-started", "step-done", "step-done", "dry-ready", "step-done", "dry-ready", "note",
    ]  # fmt: skip
    inferred = workshop.every_event()[3]
    assert inferred.at == datetime(2026, 11, 20, 21, tzinfo=UTC)
    assert isinstance(inferred.what, events.DryReady)
    assert inferred.what.note == INFERRED
    assert piece_view(workshop, "lid", NOW).steps_done == 3


def test_nothing_is_brought_in_twice(workshop):
    """The same notebook again adds nothing, and a longer one only what is new."""
    import_notebook(workshop, PAST, NOW)
    again = import_notebook(workshop, PAST + "2026-11-22,09:00,lid,done,,waxed\n", NOW)
    assert again.already_there == 5
    assert [event.what.kind for event in again.entries] == ["step-done"]


def test_rows_that_are_alike_are_counted(workshop):
    """Where no time is written rows of a day may be alike: one more of them is one more entry."""
    row = "2026-11-20,lid,done\n"
    import_notebook(workshop, f"date,piece,entry\n{row * 2}", NOW)
    again = import_notebook(workshop, f"date,piece,entry\n{row * 3}", NOW)
    assert again.already_there == 2
    assert kinds(workshop).count("step-done") == 3


def test_the_order_of_rows_does_not_matter(workshop):
    """Rows count by their time, however they are sorted."""
    header, *rows = PAST.splitlines()
    import_notebook(workshop, "\n".join([header, *reversed(rows)]), NOW)
    assert piece_view(workshop, "lid", NOW).steps_done == 3


def test_one_bad_row_keeps_all_out(workshop):
    """Every bad row is told with its line, and the journal is as it was."""
    harmed = PAST + "2026-11-21,18:00,lod,done,,\n2026-13-01,,lid,danced,3 degC,\n"
    with pytest.raises(NotebookFaultError) as caught:
        import_notebook(workshop, harmed, NOW)
    assert {line for line, _ in caught.value.faults} == {8}
    assert len(caught.value.faults) == 2
    with pytest.raises(NotebookFaultError, match=r"line 7.*did you mean"):
        import_notebook(workshop, harmed.rpartition("2026-13")[0], NOW)
    assert kinds(workshop) == []
    assert piece_view(workshop, "lid", NOW).steps_done == 0


@pytest.mark.parametrize("mark", [";", "\t"])
def test_other_delimiters_and_names_of_columns(mark):
    """A table from another spreadsheet is read as well, with the names that people use."""
    text = mark.join(["Day", "Who", "Part", "What", "Note"])
    text += "\n" + mark.join(["2026-11-20", "Ada", "lid", "Not yet", "cool"])
    ((line, entry, at),) = read_notebook("\ufeff" + text, NOW, UTC)
    assert (line, entry.piece, entry.by, entry.text) == (2, "lid", "Ada", "cool")
    assert at == datetime(2026, 11, 20, tzinfo=UTC)


@given(st.text())
def test_garbage_is_refused_or_read(text):
    """Any text is read as rows or refused with a line, and never anything else."""
    rows = None
    with suppress(NotebookFaultError):
        rows = read_notebook(text, NOW, UTC)
    assert rows is None or isinstance(rows, list)


TOLD = st.tuples(
    st.sampled_from(["lid", "body", "box/lid"]),
    st.sampled_from(["done", "done", "done", "ready", "not ready", "skipped", "defect", "note"]),
    st.sampled_from(["", "", "", "1", "2", "4", "9"]),
    st.sampled_from(["", "cloudy", "a sag at the edge", "so"]),
    st.sampled_from(["", "", "3 ml"]),
)


def _rows(told):
    start = datetime(2026, 11, 1, 8, tzinfo=UTC)
    for turn, (piece, entry, step, text, used) in enumerate(told):
        at = start + timedelta(hours=7 * turn)
        yield f"{at:%Y-%m-%d},{at:%H:%M},{piece},{entry},{step},{used},{text}\n"


def _taken(workshop, tables):
    """Return what came of notebooks one after the other, up to the first refusal; log nothing."""
    found = []
    with workshop.only_trying():
        for table in tables:
            try:
                written = import_notebook(workshop, f"{HEADER}{table}", NOW).entries
            except NotebookFaultError as refusal:
                return found, [what for _, what in refusal.faults][:1]
            found += [(event.at, event.piece, event.what) for event in written]
    return found, []


@settings(
    max_examples=60,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(told=st.lists(TOLD, max_size=25))
def test_a_whole_notebook_is_judged_as_its_rows_one_by_one(workshop, told):
    """Row for row the same entries come of it, and the same first refusal, as of single rows."""
    rows = list(_rows(told))
    one_by_one, refused = _taken(workshop, rows)
    whole, told_refusals = _taken(workshop, ["".join(rows)])
    assert told_refusals == refused
    assert refused or whole == one_by_one


def test_each_row_costs_as_much_however_many_came_before(workshop, calls_of):
    """Twice the rows are twice the work: nothing is read or worked out again for every row."""

    def work(rows):
        notes = [("lid", "note", "", f"note {turn}", "") for turn in range(rows)]
        table = "".join(_rows(notes[: rows // 2])) + "".join(
            row.replace(",lid,", ",body,") for row in _rows(notes[rows // 2 :])
        )
        with workshop.only_trying():
            return calls_of(lambda: import_notebook(workshop, f"{HEADER}{table}", NOW))

    work(10)
    few, many = work(40), work(80)
    assert many < 2.2 * few


class Endless(io.TextIOBase):
    """A notebook whose rows never end, and that counts how many were read."""

    def __init__(self, row):
        self.row, self.read_lines = row, 0

    def readline(self, _size=-1):
        """Return one more row; first the names of the columns."""
        self.read_lines += 1
        return "date,piece,entry,text,picture\n" if self.read_lines == 1 else self.row


@pytest.mark.parametrize(
    ("text", "told"),
    [("waxed", "more than 20000 rows"), ("w" * 9_000, "more than 32 MB of text")],
    ids=["rows", "text"],
)
def test_a_notebook_without_end_is_read_no_further_than_may_be_taken(text, told):
    """Columns that nobody asked for are let go, and what is too much ends the reading."""
    endless = Endless(f"2026-11-20,lid,done,{text},{'p' * 500}\n")
    with pytest.raises(NotebookFaultError, match=told):
        read_notebook(endless, NOW, UTC)
    assert endless.read_lines <= 20_002
