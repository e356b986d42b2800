"""How a word is spelt, on whichever side of the sea, and whatever letters were doubled."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

SHORTEST = 5
"""Shorter words are too near to others to be guessed."""
LONG = 7
"""In words as long as this a wrong letter is told from another word."""
_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_ALIKE = tuple(
    (re.compile(pattern, re.MULTILINE), as_one)
    for pattern, as_one in (
        (r"our(?<=[a-z]{2}our)", "or"),
        (r"is(?=e|ing|ation)", "iz"),
        (r"[ao]e", "e"),
        (r"gray", "grey"),
        (r"ph", "f"),
        (r"ei|ie|ey$", "i"),
        (r"tre(?=s?$)", "ter"),
        (r"bre(?=s?$)", "ber"),
        (r"gh?t(?=s?$)", "t"),
        (r"(.)(?=\1)", ""),
    )
)
"""Ways to write the same sound, in the order in which they are made one."""


def spelt(word: str) -> str:
    """Return what two spellings of a word have in common: colour and color, dribble and drible."""
    return spelt_each([word])[0]


def spelt_each(words: Iterable[str]) -> list[str]:
    """Return that of each word: all at once, a line each, as thousands take long one by one."""
    every = list(words)
    lines = "\n".join(word for word in every if len(word) >= SHORTEST)
    for pattern, as_one in _ALIKE:
        lines = pattern.sub(as_one, lines)
    long = iter(lines.split("\n"))
    return [next(long) if len(word) >= SHORTEST else word for word in every]


def slips(word: str) -> Iterator[str]:
    """Give what a word may have been before two of its letters changed places, the first kept."""
    if len(word) > SHORTEST:
        for at in range(1, len(word) - 1):
            yield word[:at] + word[at + 1] + word[at] + word[at + 2 :]


def slipped_from(word: str) -> Iterator[str]:
    """Give what a word may have been before one letter was left out, doubled, struck or swapped.

    The first letter is taken as right, and of short words only one that was left out is looked for.
    """
    for at in range(1, len(word) + 1):
        yield from (word[:at] + letter + word[at:] for letter in _LETTERS)
    if len(word) >= SHORTEST:
        yield from (word[:at] + word[at + 1 :] for at in range(1, len(word)))
        yield from slips(word)
    if len(word) >= LONG:
        for at in range(1, len(word)):
            yield from (word[:at] + letter + word[at + 1 :] for letter in _LETTERS)
