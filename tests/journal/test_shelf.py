"""What is left on the shelf, folded from entries."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.journal.events import (
    BatchMixed,
    Draw,
    Event,
    LotBought,
    Noted,
    StepDone,
    StockCounted,
    Undone,
)
from finishsched.journal.progress import EMPTY_BOOK, fold
from finishsched.journal.shelf import entries_about, shelf

AT = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
TIN = LotBought("tin", "flakes", amount_g=500.0)
CAN = LotBought("can", "alcohol", amount_ml=1000.0)
JAR = BatchMixed(
    "jar", "flakes", 250.0, 240.0, draws=(Draw("tin", amount_g=50.0), Draw("can", amount_ml=208.0))
)


def happened(seq, what, minutes=None, piece=None):
    """Return an entry so many minutes after the beginning, by default in the order of writing."""
    at = AT + timedelta(minutes=seq if minutes is None else minutes)
    return Event(seq, f"id{seq}", at, AT, piece, what)


def book_of(*whats):
    """Return the book with entries in this order; coats are of one piece."""
    return fold(
        EMPTY_BOOK,
        [
            happened(seq, what, piece="box/lid" if isinstance(what, StepDone) else None)
            for seq, what in enumerate(whats, start=1)
        ],
    )


def left(book):
    """Return what is left of each thing by its name."""
    return {
        thing.name: thing.left if hasattr(thing, "left") else thing.left_ml
        for thing in shelf(book).things
    }


def test_an_empty_journal_has_an_empty_shelf():
    """Nothing bought, nothing there."""
    assert shelf(EMPTY_BOOK).things == ()


def test_a_batch_takes_from_its_lots_and_coats_take_from_the_batch():
    """Flakes by weight, alcohol by volume, the solution by volume."""
    book = book_of(TIN, CAN, JAR, StepDone("a", batch="jar", amount_ml=12.0))

    assert left(book) == {"tin": 450.0, "can": 792.0, "jar": 238.0}
    (batch,) = shelf(book).batches
    assert (batch.made_ml, batch.lots, batch.cut_g_per_l) == (250.0, ("tin", "can"), 240.0)
    assert not batch.short


def test_a_coat_takes_straight_from_a_lot_too():
    """Oil goes from its can to the cloth without a batch."""
    assert left(book_of(CAN, StepDone("a", batch="can", amount_ml=100.0))) == {"can": 900.0}


@pytest.mark.parametrize(
    "done",
    [
        StepDone("a", batch="jar", amount_g=12.0),
        StepDone("a", batch="jar"),
        StepDone("a", batch="free text", amount_ml=12.0),
        StepDone("a", amount_ml=12.0),
    ],
    ids=["other unit", "no amount", "other name", "no name"],
)
def test_a_coat_without_an_amount_in_the_batchs_unit_takes_nothing(done):
    """Free text stays free text, and what was not measured is not guessed."""
    assert left(book_of(TIN, CAN, JAR, done))["jar"] == 250.0


def test_more_taken_than_there_was_is_short_and_never_negative():
    """The amount stays at zero, the mark stays on until somebody counts."""
    book = book_of(TIN, CAN, JAR, StepDone("a", batch="jar", amount_ml=251.0))
    (batch,) = shelf(book).batches
    assert (batch.left_ml, batch.short) == (0.0, True)

    over, more = (StepDone("a", batch="tin", amount_g=grams) for grams in (501.0, 0.0))
    (lot,) = shelf(book_of(TIN, over, more)).lots
    assert (lot.left_g, lot.short) == (0.0, True)

    book = fold(book, [happened(5, StockCounted("jar", left_ml=3.0))])
    (batch,) = shelf(book).batches
    assert (batch.left_ml, batch.short) == (3.0, False)


def test_a_count_in_another_unit_or_of_nothing_known_changes_nothing():
    """A count is of one thing, in the unit that it is kept in."""
    book = book_of(
        TIN, StockCounted("tin", left_ml=1.0), StockCounted("tun", left_g=1.0), Noted("dusty")
    )
    assert left(book) == {"tin": 500.0}


def test_a_coat_written_down_late_is_in_the_count_already():
    """What was laid before the count is not taken from it again."""
    counted = happened(4, StockCounted("jar", left_ml=100.0), minutes=60)
    late = happened(5, StepDone("a", batch="jar", amount_ml=12.0), minutes=30, piece="box/lid")
    book = fold(book_of(TIN, CAN, JAR), [counted, late])

    assert left(book)["jar"] == 100.0


def test_a_batch_written_again_still_gave_its_coats():
    """Undone and logged anew with the right amount at the same time, its coats count."""
    coat = happened(4, StepDone("a", batch="jar", amount_ml=12.0), piece="box/lid")
    undo = happened(5, Undone("id3"))
    again = happened(6, BatchMixed("jar", "flakes", 200.0, 240.0), minutes=3)
    book = fold(book_of(TIN, CAN, JAR), [coat, undo, again])

    assert left(book) == {"tin": 500.0, "can": 1000.0, "jar": 188.0}


def test_entries_about_a_thing_are_those_that_name_it():
    """What it was bought as and its counts; not what a batch drew from it."""
    book = book_of(TIN, CAN, JAR, StockCounted("tin", left_g=1.0))
    assert [event.seq for event in entries_about(book, "tin")] == [1, 4]
    assert entries_about(book, "nothing") == ()


names = st.sampled_from(["a", "b", "c"])
amounts = st.integers(0, 400).map(lambda quarter: quarter / 4)
whats = st.one_of(
    st.builds(LotBought, names, st.just("flakes"), amount_g=amounts),
    st.builds(LotBought, names, st.just("alcohol"), amount_ml=amounts),
    st.builds(
        BatchMixed,
        names,
        st.just("flakes"),
        amounts,
        draws=st.lists(
            st.builds(Draw, names, amount_g=amounts) | st.builds(Draw, names, amount_ml=amounts),
            max_size=2,
        ).map(tuple),
    ),
    st.builds(StockCounted, names, left_g=st.none() | amounts, left_ml=st.none() | amounts),
    st.builds(StepDone, st.just("s"), batch=names, amount_ml=st.none() | amounts),
)


@settings(deadline=None)
@given(st.lists(whats, max_size=12), st.randoms())
def test_the_order_of_writing_does_not_matter(found, random):
    """Entries at different times give the same shelf in whatever order they are written down."""
    minutes = list(enumerate(found))
    random.shuffle(minutes)
    late = fold(
        EMPTY_BOOK,
        [happened(seq, what, minute) for seq, (minute, what) in enumerate(minutes, start=1)],
    )
    prompt = fold(EMPTY_BOOK, [happened(n + 1, what, n) for n, what in enumerate(found)])
    assert shelf(late) == shelf(prompt)


@settings(deadline=None)
@given(st.lists(whats, max_size=8), whats, st.integers(0, 20))
def test_an_undone_entry_leaves_the_shelf_as_it_was(found, what, minute):
    """Whatever is undone, the shelf is as if it had never been written."""
    before = book_of(*found)
    seq = before.last_seq
    after = fold(
        before, [happened(seq + 1, what, minute), happened(seq + 2, Undone(f"id{seq + 1}"))]
    )
    assert shelf(after) == shelf(before)


@settings(deadline=None)
@given(st.lists(amounts, max_size=8))
def test_amounts_add_up(taken):
    """What is left and what was taken make what was there; split over coats as one coat."""
    made = sum(taken) + 5.0
    book = book_of(
        BatchMixed("jar", "flakes", made),
        *(StepDone(f"s{n}", batch="jar", amount_ml=amount) for n, amount in enumerate(taken)),
    )
    at_once = book_of(
        BatchMixed("jar", "flakes", made), StepDone("s", batch="jar", amount_ml=sum(taken))
    )
    assert left(book) == left(at_once) == {"jar": 5.0}


@settings(deadline=None)
@given(st.lists(whats, max_size=12))
def test_nothing_is_ever_less_than_nothing(found):
    """No history, however odd, leaves a negative amount."""
    assert all(amount >= 0 for amount in left(book_of(*found)).values())
