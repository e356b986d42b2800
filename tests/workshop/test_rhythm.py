"""When the coats of a sitting were laid, from whatever of it is told."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.log.sitting import LONGEST_EVERY_S, Sat, rhythm_of

END = datetime(2026, 11, 25, 21, 0, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


def test_a_beginning_and_an_end_give_the_rhythm():
    """Five coats on one piece in an hour: a quarter of an hour apart, the last at the end."""
    found = rhythm_of(Sat(5, began_at=END - 60 * MINUTE), END, 1)
    assert (found.every_s, found.last_at) == (900.0, END)


def test_several_pieces_share_the_rounds():
    """Three coats on two pieces by turns are two rounds and a half, of ten minutes each."""
    found = rhythm_of(Sat(3, began_at=END - 25 * MINUTE), END, 2)
    assert found.every_s == pytest.approx(600.0)


def test_a_beginning_and_a_rhythm_give_the_end():
    """Told both, the end follows from them, whatever the time of the entry is."""
    found = rhythm_of(Sat(5, 360.0, END - 60 * MINUTE), END, 1)
    assert (found.every_s, found.last_at) == (360.0, END - 36 * MINUTE)


def test_one_coat_needs_no_rhythm():
    """Alone it was laid at the time of the entry; its beginning is its end."""
    assert rhythm_of(Sat(1), END, 1).every_s == 0.0
    assert rhythm_of(Sat(1, began_at=END - MINUTE), END, 1).last_at == END


@pytest.mark.parametrize(
    ("sat", "message"),
    [
        (Sat(0, 60.0), "0 coats are no sitting"),
        (Sat(100, 60.0), "100 coats are no sitting"),
        (Sat(2), "how far apart"),
        (Sat(2, began_at=END + MINUTE), "ends before it begins"),
        (Sat(2, LONGEST_EVERY_S + 1), "so far apart"),
        (Sat(2, -1.0), "so far apart"),
        (Sat(2, began_at=END - timedelta(seconds=LONGEST_EVERY_S + 1)), "so far apart"),
    ],
)
def test_what_is_no_sitting_is_refused(sat, message):
    """Too many, none, without a rhythm, backwards, or too far apart."""
    with pytest.raises(RefusedError, match=message):
        rhythm_of(sat, END, 1)


@pytest.mark.parametrize(
    "sat",
    [Sat(99, 60.0), Sat(2, LONGEST_EVERY_S), Sat(2, 0.0), Sat(2, began_at=END)],
)
def test_what_is_just_a_sitting_is_taken(sat):
    """At the bounds themselves."""
    assert rhythm_of(sat, END, 1).coats == sat.coats
