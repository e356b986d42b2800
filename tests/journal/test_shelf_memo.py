"""The shelf is folded from where it was folded before, and comes out the same to the last digit."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.journal import shelf_memo
from finishsched.journal.events import (
    Amended,
    BatchMixed,
    Draw,
    JarTested,
    LotBought,
    NewEvent,
    StepDone,
    StockCounted,
    Undone,
    WentIn,
)
from finishsched.journal.progress import EMPTY_BOOK, fold
from finishsched.journal.shelf import shelf
from finishsched.journal.shelf_memo import SHELF_FILE
from finishsched.journal.store import Journal

AT = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
COAT, JAR_AGAIN = "coat", "mixed again"
WHATS = {
    COAT: StepDone("a", batch="jar", amount_ml=3.3),
    "oil": StepDone("a", batch="can", amount_ml=7.1),
    JAR_AGAIN: BatchMixed(
        "jar", "flakes", 250.1, 240.0, None, (Draw("tin", 50.3), Draw("can", amount_ml=200.7))
    ),
    "by recipe": BatchMixed("mix", "varnish", 99.9, parts=(WentIn("oil", None, 33.3),)),
    "tin": LotBought("tin", "flakes", amount_g=500.7),
    "can": LotBought("can", "alcohol", amount_ml=1000.3),
    "count": StockCounted("jar", left_ml=100.9),
    "drop": JarTested("jar", None),
}


def plain(journal):
    """Return the shelf folded from every entry, with no memory of another fold."""
    return shelf(fold(EMPTY_BOOK, journal.events()))


@pytest.fixture(autouse=True)
def _always_kept(monkeypatch):
    """Have the file written after every fold."""
    monkeypatch.setattr(shelf_memo, "_ENOUGH", 0)


def write(journal, what, minutes, entries):
    """Write an entry; take back, or tell otherwise, one that was written before."""
    if what in ("undo", "amend"):
        if not entries:
            return
        other = entries[minutes % len(entries)]
        payload = Undone(other.id) if what == "undo" else Amended(other.id, amount_ml=1.7)
        new = NewEvent(AT, other.piece, payload)
    else:
        piece = "box/lid" if isinstance(WHATS[what], StepDone) else None
        new = NewEvent(AT + timedelta(minutes=minutes), piece, WHATS[what])
    entries.append(journal.append(lambda _: new, AT))


STEPS = st.tuples(
    st.sampled_from([*WHATS, *[COAT] * 3, "undo", "amend"]), st.integers(0, 60), st.booleans()
)


@settings(max_examples=60, deadline=None)
@given(steps=st.lists(STEPS, max_size=14))
def test_the_shelf_is_as_if_folded_at_once(tmp_path_factory, steps):
    """In whatever order and at whatever times, in one program or by turns of several."""
    path = tmp_path_factory.mktemp("memo") / "journal.db"
    journal, entries = Journal.open(path), []
    for what, minutes, opens_anew in [("tin", 0, False), ("can", 0, False), *steps]:
        if opens_anew:
            journal.close()
            journal = Journal.open(path)
        write(journal, what, minutes, entries)
        assert shelf(journal.book()) == plain(journal)
    journal.close()


def test_what_was_folded_before_is_not_read_again(path):
    """After a hundred coats, one more has one draw read, and no mixing."""
    with Journal.open(path) as journal:
        for number, what in enumerate(["can", JAR_AGAIN, *[COAT] * 100]):
            write(journal, what, number, [])
        shelf(journal.book())
    with Journal.open(path) as journal:
        shelf(journal.book())
        write(journal, COAT, 200, [])
    with Journal.open(path) as journal:
        read, ask = [], journal._source.ask
        journal._source.ask = lambda *given: read.append(ask(*given)) or read[-1]
        found = shelf(journal.book())
        assert sum(map(len, read)) < 20
        assert found == plain(journal)


@pytest.mark.parametrize("kept", [b"", b"\xff", b"00000000{}", b"a39d8cf3{}"])
def test_a_file_with_nothing_of_use_in_it_is_passed_over(path, kept):
    """Whatever stands in the file, the shelf is what the entries say."""
    path.with_name(SHELF_FILE).write_bytes(kept)
    with Journal.open(path) as journal:
        for number, what in enumerate(["can", JAR_AGAIN, COAT]):
            write(journal, what, number, [])
    with Journal.open(path) as journal:
        assert shelf(journal.book()) == plain(journal)


def test_what_was_only_tried_is_not_remembered(path):
    """A coat that was let go of again took nothing, in this program and in the next."""
    with Journal.open(path) as journal:
        for number, what in enumerate(["can", JAR_AGAIN]):
            write(journal, what, number, [])
    with Journal.open(path) as journal:
        before = shelf(journal.book())
        with journal.only_trying():
            write(journal, COAT, 9, [])
            assert shelf(journal.book()) != before
        write(journal, "drop", 9, [])
        assert shelf(journal.book()) == plain(journal)
    with Journal.open(path) as journal:
        assert shelf(journal.book()) == plain(journal)
