"""What a journal's book tells piece by piece is what folding every entry tells."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.journal.events import (
    Amended,
    BatchMixed,
    Draw,
    DryReady,
    Event,
    LotBought,
    NewEvent,
    Noted,
    StepDone,
    StockCounted,
    Undone,
)
from finishsched.journal.progress import EMPTY_BOOK, fold
from finishsched.journal.shelf import shelf
from finishsched.journal.store import Journal

AT = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
PIECES = (None, "box/lid", "box/body")
WHATS = (
    Noted("a"), StepDone("body/pad:1.1"), DryReady("body/pad:1.1"), None, None,
    LotBought("tin", "flakes", amount_g=500.0),
    BatchMixed("jar", "flakes", 250.0, 240.0, draws=(Draw("tin", amount_g=50.0),)),
    StepDone("body/pad:1.2", batch="jar", amount_ml=30.0, let_down_ml=4.0),
    StepDone("body/pad:1.2", batch="tin", amount_g=3.5), StockCounted("jar", left_ml=100.0),
)  # fmt: skip

entries = st.lists(
    st.tuples(st.sampled_from(PIECES), st.sampled_from(WHATS), st.integers(0, 9)), max_size=25
)


def add(journal, drawn):
    """Write what was drawn, an undo of some earlier entry where it is None."""
    for piece, what, back in drawn:
        known = journal.events()
        named = known[back % len(known)].id if known else "0" * 32
        meant = what or (Amended(named, amount_ml=7.0) if back == 3 and piece else Undone(named))
        at = AT + timedelta(minutes=len(known))
        journal.append(lambda _, p=piece, w=meant, at=at: NewEvent(at, p, w), at)


@given(entries, entries, st.integers(1, 6))
@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_the_book_is_the_fold(tmp_path, first, then, count):
    """By piece, by kind and newest first, before and after more was written, here or elsewhere."""
    path = tmp_path / f"{len(list(tmp_path.iterdir()))}.db"
    with Journal.open(path) as journal:
        add(journal, first)
    with Journal.open(path) as opened, Journal.open(path) as other:
        opened.book().live("box/lid")
        add(other, then[::2])
        opened.book().told("box/body", Noted)
        add(opened, then[1::2])
        book, whole = opened.book(), fold(EMPTY_BOOK, opened.events())

        assert (book.last_seq, book.undone) == (whole.last_seq, whole.undone)
        assert book.last_logged_at == whole.last_logged_at
        assert book.pieces == whole.pieces
        for piece in PIECES:
            assert book.live(piece) == whole.live(piece)
            assert book.work(piece) == whole.work(piece)
            assert book.told(piece, Noted, DryReady) == whole.told(piece, Noted, DryReady)
            assert book.newest(piece, count) == whole.newest(piece, count)
        assert shelf(book) == shelf(whole)
        assert opened.check() == []


def test_what_is_folded_on_top_is_not_lost(journal, now):
    """Entries that are not written, folded on the journal's book, stand after its own."""
    journal.append(lambda _: NewEvent(now, "box/lid", Noted("a")), now)
    book = journal.book()
    more = fold(book, [Event(book.last_seq + 1, "x", now, now, "box/lid", Noted("b"))])
    assert [event.what.text for event in more.live("box/lid")] == ["a", "b"]
    assert [event.what.text for event in more.newest("box/lid", 1)] == ["b"]
    assert [event.what.text for event in book.live("box/lid")] == ["a"]


def test_only_what_is_asked_for_is_read(journal, now):
    """Of a piece with many notes, asking for its coats reads no note."""
    notes = [NewEvent(now, "box/lid", Noted(f"{n}")) for n in range(200)]
    journal.append_all(lambda _: [*notes, NewEvent(now, "box/lid", StepDone("a:1.1"))], now)
    read = []
    with Journal.open(journal.path) as opened:
        ask = opened._source.ask
        opened._source.ask = lambda *given: read.append(ask(*given)) or read[-1]
        assert len(opened.book().told("box/lid", StepDone)) == 1
        assert len(opened.book().newest("box/lid", 3)) == 3
    assert sum(map(len, read)) < 20
