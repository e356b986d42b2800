"""Small turns of phrase that the messages share."""

from __future__ import annotations

from collections.abc import Iterable

from finishsched.near import either, with_word
from finishsched.near import nearest as one_near

_LONGEST_QUOTE = 40
_LONGEST_CHOICE = 16
_MOST_MEANT = 4
"""More names than these that have a word in them tell nobody which was meant."""


def quoted(text: str) -> str:
    """Return ``text`` in quotes, on one line and no longer than a message can bear."""
    if len(text) > _LONGEST_QUOTE:
        return f"{text[:_LONGEST_QUOTE]!r}..."
    return repr(text)


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """Return the choice that ``word`` was probably meant to be, if one is close."""
    return one_near(word, choices, cutoff=0.7)


def did_you_mean(word: str, choices: Iterable[str], otherwise: str = "") -> str:
    """Return the remedy for a word that is not one of ``choices``.

    ``otherwise`` is the remedy when nothing is close and the choices are too many to list.
    """
    known = sorted(choices)
    begun = [one for one in known if one.startswith(f"{word}-")] if "-" in word else []
    if 0 < len(begun) <= _MOST_MEANT:
        return f"did you mean {either([repr(one) for one in begun])}?"
    near = nearest(word, known)
    if near is not None:
        return f"did you mean {near!r}?"
    found = with_word(word, known)
    if found and len(found) <= _MOST_MEANT:
        return f"did you mean {either(found)}?"
    if known and (len(known) <= _LONGEST_CHOICE or not otherwise):
        return f"write {either(known)}"
    return otherwise or "leave it out"
