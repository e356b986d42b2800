"""How a word is spelt, on whichever side of the sea, and whatever letters were doubled."""

from __future__ import annotations

import re
from collections.abc import Iterator

SHORTEST = 5
"""Shorter words are too near to others to be guessed."""
_ALIKE = (
    (re.compile(r"(?<=[a-z]{2})our"), "or"),
    (re.compile(r"is(?=e|ing|ation)"), "iz"),
    (re.compile(r"[ao]e"), "e"),
    (re.compile(r"gray"), "grey"),
    (re.compile(r"ph"), "f"),
    (re.compile(r"ei|ie|ey$|ies$"), "i"),
    (re.compile(r"tre(?=s?$)"), "ter"),
    (re.compile(r"bre(?=s?$)"), "ber"),
    (re.compile(r"gh?t(?=s?$)"), "t"),
    (re.compile(r"(.)\1+"), r"\1"),
)
"""Ways to write the same sound, in the order in which they are made one."""


def spelt(word: str) -> str:
    """Return what two spellings of a word have in common: colour and color, dribble and drible."""
    if len(word) < SHORTEST:
        return word
    for pattern, as_one in _ALIKE:
        word = pattern.sub(as_one, word)
    return word


def slips(word: str) -> Iterator[str]:
    """Give what a word may have been before two of its letters changed places, the first kept."""
    if len(word) > SHORTEST:
        for at in range(1, len(word) - 1):
            yield word[:at] + word[at + 1] + word[at] + word[at + 2 :]
