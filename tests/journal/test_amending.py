"""An entry that is told otherwise: what counts, what is kept, and that it can be taken back."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from finishsched.journal.events import Amended, DryReady, StepDone, Undone
from finishsched.journal.progress import EMPTY_BOOK, fold
from tests.journal.test_progress import AT, PAD, STARTED, story

DONE = StepDone(PAD, by="Ana", batch="jar 1", amount_ml=12.0, note="the pad dragged")


def live(*payloads):
    """Return what counts of a piece after ``payloads``."""
    return fold(EMPTY_BOOK, story(*payloads)).live("box/lid")


def test_what_is_amended_counts_and_the_first_telling_is_kept():
    """Time, hands, jar and amount as told last; what was not told otherwise stays."""
    told = Amended("e2", at=AT, hands="Rui", batch="jar 2", amount_g=10.0, by="Ana")
    book = fold(EMPTY_BOOK, story(STARTED, DONE, told))
    now = book.live("box/lid")[1]
    assert now.at == AT
    assert now.what == StepDone(PAD, by="Rui", batch="jar 2", amount_g=10.0, note="the pad dragged")
    assert book.filed["box/lid"][1].what == DONE
    assert [one.what for one in book.amendments("box/lid")["e2"]] == [told]


def test_an_amendment_taken_back_leaves_the_entry_as_it_was():
    """The newest that counts is the one before it again."""
    first, second = Amended("e2", hands="Rui"), Amended("e2", hands="Eva", amount_ml=8.0)
    assert live(STARTED, DONE, first, second)[1].what.by == "Eva"
    assert live(STARTED, DONE, first, second, Undone("e4"))[1].what.by == "Rui"
    assert live(STARTED, DONE, first, second, Undone("e4"), Undone("e3"))[1].what == DONE


def test_what_an_entry_has_not_cannot_be_amended_in_it():
    """A dry check has hands and a time, and no jar."""
    told = live(STARTED, DONE, DryReady(PAD, "Ana"), Amended("e3", hands="Rui", batch="jar 2"))
    assert told[2].what == DryReady(PAD, "Rui")


amendments = st.builds(
    Amended,
    event_id=st.sampled_from(["e1", "e2", "e9"]),
    at=st.none() | st.integers(0, 99).map(lambda minutes: AT + timedelta(minutes=minutes)),
    hands=st.none() | st.sampled_from(["Ana", "Rui"]),
    amount_ml=st.none() | st.floats(1, 20),
)


@given(st.lists(amendments | st.sampled_from([Undone(f"e{n}") for n in range(2, 9)]), max_size=6))
def test_a_book_read_in_two_parts_is_the_book_read_at_once(told):
    """Amendments are a fold like all the rest, whatever they name."""
    events = story(STARTED, DONE, *told)
    whole = fold(EMPTY_BOOK, events)
    for cut in range(len(events)):
        parts = fold(fold(EMPTY_BOOK, events[:cut]), events[cut:])
        assert parts == whole
        assert parts.live("box/lid") == whole.live("box/lid")
