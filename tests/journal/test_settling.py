"""What a salvaged journal is made of: what can stay, and a note in the place of what cannot."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.journal.events import Event, Noted, PieceStarted, to_row
from finishsched.journal.salvage import settle, snapshots_named
from finishsched.model.plain import text_hash

NOW = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
TEXT = '{"id":"x"}'
HASH = text_hash(TEXT)


def row(seq, what=None, id_=None):
    """Return an entry's row."""
    at = NOW + timedelta(minutes=seq)
    return to_row(Event(seq, id_ or f"id-{seq}", at, at, "box/lid", what or Noted(f"note {seq}")))


STARTED = PieceStarted("x", HASH, HASH)


def test_what_is_sound_stays_as_it_is():
    """Every row and every text, and nothing is told to be lost."""
    rows = {1: row(1, STARTED), 2: row(2), 3: row(3)}
    saved = settle(rows, {HASH: TEXT})
    assert saved.rows == tuple(rows.values())
    assert saved.snapshots == ((HASH, TEXT),)
    assert saved.lost == ()


@pytest.mark.parametrize(
    ("rows", "texts", "told"),
    [
        ({1: row(1), 2: row(2, id_="id-1")}, {}, "stands there twice"),
        ({1: row(1), 3: row(3)}, {}, "cannot be read any more"),
        ({1: row(1), 2: row(2, STARTED)}, {}, f"names snapshot {HASH[:12]}, which is lost"),
        ({1: row(1), 2: (*row(2)[:6], "{")}, {}, "cannot be read any more"),
        ({1: row(1), 2: (*row(2)[:6], '{"text":"\udcff"}')}, {}, "cannot be read any more"),
    ],
    ids=["twice", "gone", "without its text", "broken", "no text"],
)
def test_what_cannot_stay_leaves_a_note_in_its_place(rows, texts, told):
    """The number is kept, so that later entries keep theirs, and the note says why."""
    saved = settle(rows, texts)
    assert [one[0] for one in saved.rows] == list(range(1, max(rows) + 1))
    assert len(saved.lost) == 1
    assert saved.lost[0].startswith("entry 2")
    assert saved.lost[0].endswith(told)
    assert saved.rows[1][5] == "note"
    assert told in saved.rows[1][6]
    assert len({one[1] for one in saved.rows}) == len(saved.rows)


def test_the_end_that_is_gone_is_told_up_to_the_last_number_there_was():
    """Two of four are left: the other two are notes, each with what it was about."""
    saved = settle({1: row(1), 2: row(2)}, {}, known={4: " (done of box/lid)"}, last=4)
    assert len(saved.rows) == 4
    assert [line.partition(" cannot")[0] for line in saved.lost] == [
        "entry 3", "entry 4 (done of box/lid)",
    ]  # fmt: skip


def test_an_entry_names_its_texts():
    """Those of a start, and none of a note, whatever its words are."""
    assert snapshots_named(row(1, STARTED)) == [HASH, HASH]
    assert snapshots_named(row(1, Noted("piece_hash"))) == []
