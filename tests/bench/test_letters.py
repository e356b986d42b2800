"""The big letters."""

import pytest

from finishsched.bench.drawing import big_letters, state_marks
from finishsched.workshop.base.answers import State


@pytest.mark.parametrize("state", State)
def test_every_state_has_a_big_word(state: State) -> None:
    """Every state's word can be drawn in both sizes, with lines of one length."""
    for draw, rows in ((big_letters.small, 3), (big_letters.large, 5)):
        drawn = draw(state_marks.BIG_WORDS[state])
        assert len(drawn) == rows
        assert len({len(line) for line in drawn}) == 1


@pytest.mark.parametrize("text", ["< 1 min", "59 min", "23 h 45", "6 d 7 h", "0123456789"])
def test_every_time_can_be_drawn(text: str) -> None:
    """Every length of time that the bench shows large can be drawn."""
    assert len(big_letters.small(text)) == 3


def test_an_unknown_letter_draws_nothing() -> None:
    """A letter that has no form yields nothing instead of a wrong picture."""
    assert big_letters.small("Ä") == ()
    assert big_letters.large("") == ()


def test_digits_differ() -> None:
    """No two digits look the same, in either size."""
    for draw in (big_letters.small, big_letters.large):
        assert len({draw(digit) for digit in "0123456789"}) == 10


def test_a_count_gives_way_to_the_name_of_what_is_counted() -> None:
    """Where both do not fit the letters say what it is, and never a bare number."""
    assert big_letters.named("12 x Front", 60) == big_letters.small("12 X FRONT")
    assert big_letters.named("12 x Front", 34) == big_letters.small("FRONT")
