"""A table of words: what the forms of a word are, what some words do to others, and what they mean.

Its parts are ``[forms]``, a word and the forms of it that no rule makes; ``[grammar]``, what words
do to those about them; and the parts of what is meant, a name and the words that tell it. In those,
several words stand together, and ``..`` leaves room for others.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from finishsched.tables import pair, parts_of, several

GAP = ".."
"""Among the words of a phrase: up to ``MOST_BETWEEN`` other words may stand here."""
MOST_BETWEEN = 3
"""More of them are about something else (our assumption)."""

_FORMS, _GRAMMAR, _THEMSELVES = "forms", "grammar", "themselves"


class Phrase(NamedTuple):
    """Some words as a table has them, and what they mean."""

    words: str
    part: str
    """The part of the table that they stand in."""
    meaning: str


class WordTable(NamedTuple):
    """What a table of words says."""

    forms: Mapping[str, str]
    """Of which word each form is one, as far as the table says it; a word that stands for itself is
    its own."""
    grammar: Mapping[str, frozenset[str]]
    """The words that do something to those about them, by what they do."""
    phrases: tuple[Phrase, ...]
    """All that means something, row by row."""


def word_table(package: str) -> WordTable:
    """Return the table ``words.txt`` of a package."""
    parts = {
        part: tuple(map(pair, lines)) for part, lines in parts_of("words.txt", package).items()
    }
    irregular = dict(parts.pop(_FORMS))
    themselves = irregular.pop(_THEMSELVES).split()
    return WordTable(
        forms=MappingProxyType(
            {word: word for word in themselves}
            | {form: base for base, forms in irregular.items() for form in (base, *forms.split())}
        ),
        grammar=MappingProxyType(
            {does: frozenset(words.split()) for does, words in parts.pop(_GRAMMAR)}
        ),
        phrases=tuple(
            Phrase(words, part, meaning)
            for part, rows in parts.items()
            for meaning, phrases in rows
            for words in several(phrases)
        ),
    )


def words_in(phrases: Iterable[str]) -> set[str]:
    """Return every word that stands in some phrases."""
    return set(re.findall(r"[a-z']+", " ".join(phrases)))


def bases_of(
    told: Mapping[str, str], listed: Iterable[str], forms_of: Callable[[str], Iterable[str]]
) -> Mapping[str, str]:
    """Return of which word each form is one: as it is ``told``, else by rule.

    A longer word of those ``listed`` that is made of a shorter one is a form of it, unless it was
    told to stand for itself. The rule, ``forms_of``, gives the forms of a word.
    """
    found: dict[str, str] = {}
    shortest_first = sorted(set(listed) - told.keys(), key=lambda word: (len(word), word))
    for word in (*told.values(), *shortest_first):
        if word not in found:
            for form in (word, *forms_of(word)):
                found.setdefault(form, word)
    return MappingProxyType({**found, **told})
