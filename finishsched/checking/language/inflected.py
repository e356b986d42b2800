"""Forms of a word that are made by rule: sag, sagged; stripe, striped; dry, dried."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

INFLECTIONS = ("s", "es", "ed", "ing")
"""Endings of one word's own forms: sag, sags, sagged."""
_HISSING = ("s", "x", "z", "ch", "sh", "o")
"""What a word ends in that takes es for several."""
_SHORT = re.compile(r"[^aeiou]*[aeiouy][^aeiouwxy]").fullmatch
"""Whether a word of one short vowel doubles what it ends in: sag, sagged. Of longer ones that do,
``spelling.py`` knows."""
DERIVATIONS = ("y", "ly", "ish", "ier", "er", "ers", "est", "ness")
"""Endings that make another word of it, which may stand in the table for itself: glue, gluey."""


def formed(word: str, endings: Sequence[str]) -> Iterator[str]:
    """Give the forms of a word that are made by rule: sag, sagged; stripe, striped; dry, dried."""
    for start, alike in _by_start(endings).items():
        for stem in _before(start, word):
            yield from map(stem.__add__, alike)


@lru_cache(maxsize=2)
def _by_start(endings: Sequence[str]) -> Mapping[str, Sequence[str]]:
    """Return endings by what decides how a word changes before them: es, i, a vowel, or none."""
    found: dict[str, list[str]] = {}
    for ending in endings:
        start = "vowel" if ending[0] in "aey" else ending[0] if ending[0] == "i" else ""
        found.setdefault("es" if ending == "es" else start, []).append(ending)
    return found


def _before(start: str, word: str) -> tuple[str, ...]:
    """Return what of a word an ending is put to: a strip is stripped, and a stripe is striped."""
    if start == "es":
        return _before_es(word)
    if word[-1] == "y" and start != "i":
        return (word, f"{word[:-1]}i")
    if not start or word[-1] in "wxy":
        return (word,)
    if word[-1] == "e":
        return (word[:-1],)
    return (word + word[-1],) if _SHORT(word) else (word,)


def _before_es(word: str) -> tuple[str, ...]:
    if word.endswith("y"):
        return (f"{word[:-1]}i",)
    return (word,) if word.endswith(_HISSING) else ()
