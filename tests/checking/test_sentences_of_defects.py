"""What makers say of a defect in their own words, read as the defect that it is."""

from pathlib import Path

import pytest

from finishsched.checking.defects.seen import LOOKS, Seen
from finishsched.checking.defects.told import perhaps_meant, understood

LINES = (Path(__file__).parent / "sentences.txt").read_text("utf-8").splitlines()
SAID = [tuple(line.split(" | ")) for line in LINES if not line.startswith("#")]


@pytest.mark.parametrize(("said", "seen"), SAID)
def test_a_sentence_is_read_as_the_defect_that_it_tells(said: str, seen: str) -> None:
    """A hundred sentences, written before the names that they are read by."""
    assert understood(said) == seen


def test_words_that_are_nearly_a_name_are_guessed_with_what_they_look_like() -> None:
    """Slips of the fingers are asked back by the nearest names, each with its look."""
    assert f"blister: {LOOKS[Seen.BLISTER]}" in perhaps_meant("blisster")
    assert "fisheye" in perhaps_meant("fish-eyse")
    assert understood("blisster") is None
    assert perhaps_meant("zzz").startswith("say what it is most like, one of blush")
