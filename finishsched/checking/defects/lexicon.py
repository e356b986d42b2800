"""What words mean: a sentence of a maker's, read as the things that it tells of.

The table is ``words.txt``. Nothing here knows of defects: what is seen, felt, where, when and what
was done are the same things, whoever asks for them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from finishsched.checking.language.inflected import DERIVATIONS, INFLECTIONS, formed
from finishsched.checking.language.spelling import slips, spelt, spelt_each
from finishsched.checking.language.word_table import (
    GAP,
    MOST_BETWEEN,
    Phrase,
    WordTable,
    bases_of,
    word_table,
    words_in,
)

MOST_DENIED = 4
"""A denial reaches over so many words, no further than its clause, and not to where it is: what
never dried on walnut is walnut (our assumption)."""
LOOKS = ("seen", "felt")
"""The parts of the table that tell how something looks or feels: the others are facts of it."""

_ASKED, _DENIAL = "asked", "not"
_PASSED_OVER, _CLAUSE_ENDS, _COMPARISON_ENDS = "passed over", "begins a clause", "ends a comparison"
_SAYS_WHERE, _OF_ANY, _DENIAL_ENDS = "says where", "of any piece", "ends a denial"
_PARTS = re.compile(r"[^,;.:!?()]+").findall
# Letters, and the two figures that steel wool is called by.
_WORDS = re.compile(r"[a-z']+|\b0000?\b").findall

_COMPARED = tuple(
    (hint, re.compile(pattern), with_like)
    for hint, pattern, with_like in (
        ("-like", r"\b(\w+)-like\b", r"like \1"),
        ("as ", r"\bas (?:if|though)\b", "like"),
        ("similar", r"\bsimilar to\b", "like"),
        ("resembl", r"\bresembl\w+", "like"),
        ("remind", r"\bremind\w*(?: me)? of\b", "like"),
        ("as ", r"\bas (?!(?:soon|well|long|far|much)\b)(\w+) as\b", r"\1 like"),
        ("as a", r"\b(\w+) as (?=an? \w)", r"\1 like "),
        (
            " a",
            r"\b(?:its|it's|it is|became|become) an? (\w+)(?=\s*(?:now\b|[.,;!?]|$))",
            r"like a \1",
        ),
    )
)
"""Ways to compare and what each has in it always, a quick look before the slow one."""


class Word(NamedTuple):
    """One word of what was said."""

    stem: str
    denied: bool = False
    compared: bool = False
    """It is only what something is like."""
    spoken: str = ""
    """As it was said."""


class Meaning(NamedTuple):
    """One thing that words tell of."""

    part: str
    """The part of the table that it stands in: seen, felt, where, when, done."""
    denied: bool
    words: str
    """The words that told it, as they were said."""


class _Row(NamedTuple):
    """A phrase, read: few are ever asked for in one run, and reading all takes long."""

    words: tuple[Word, ...]
    part: str
    meaning: str


class _Found(NamedTuple):
    places: tuple[int, ...]
    row: _Row
    denied: bool


@lru_cache(maxsize=64)
def meanings(text: str) -> Mapping[str, Meaning]:
    """Return all that a text tells of, by the names of the table; of no more than is said.

    What is said and denied of the same thing is taken as said.
    """
    said = words_of(text)
    found: dict[str, Meaning] = {}
    for one in _longest(list(_matches(said))):
        name, denied = one.row.meaning, one.denied
        if name not in found or (found[name].denied and not denied):
            words = " ".join(said[place].spoken for place in one.places)
            found[name] = Meaning(one.row.part, denied, words)
    return MappingProxyType(found)


def questions() -> Mapping[str, str]:
    """Return how a meaning is asked for, by its name, of all that can be asked."""
    found: dict[str, list[str]] = {}
    for phrase in _table().phrases:
        if phrase.part == _ASKED:
            found.setdefault(phrase.meaning, []).append(phrase.words)
    return MappingProxyType({meaning: ", ".join(words) for meaning, words in found.items()})


def is_of_any(stem: str) -> bool:
    """Tell whether a word is said of any piece and in any sentence, so that it tells nothing."""
    return stem in _grammar()[_OF_ANY]


@lru_cache(maxsize=4096)
def is_of_looks(stem: str) -> bool:
    """Tell whether a word by itself may say how something looks or feels."""
    listed = _by_first_stem().get(stem, ())
    return any(one.part in LOOKS and " " not in one.words for one in listed)


def is_known(stem: str) -> bool:
    """Tell whether a word stands in the table, or is a form of one that does."""
    return stem in _bases()


@lru_cache(maxsize=4096)
def meant_alone(stem: str) -> tuple[str, ...]:
    """Return what a word means by itself, whatever stands beside it, by the names of the table."""
    listed = _by_first_stem().get(stem, ())
    alone = (one for one in listed if not one.words.startswith(("!", "~")))
    return tuple(one.meaning for one in alone if " " not in one.words)


def words_of(text: str) -> tuple[Word, ...]:
    """Return the words of a text by their stems: which are denied, and which only compared."""
    return tuple(word for clause in _clauses(text) for word in _of_clause(clause))


def _clauses(text: str) -> Iterator[list[str]]:
    """Give the words of each clause: up to a comma, or a word that begins another one."""
    begins = _grammar()[_CLAUSE_ENDS]
    for part in _PARTS(_as_like(text)):
        clause: list[str] = []
        for word in _WORDS(part):
            if clause and word in begins:
                yield clause
                clause = []
            clause.append(word)
        if clause:
            yield clause


def _as_like(text: str) -> str:
    """Return a text whose ways to compare are all said with ``like``."""
    said = _MEASURED.sub(_in_words, text.lower())
    for hint, pattern, with_like in _COMPARED:
        if hint in said:
            said = pattern.sub(with_like, said)
    return said


_MEASURED = re.compile(r"\b([1-9][0-9]?)[ -]*(%|per ?cent\b|lbs?\b|pounds?\b|cm\b)|\bper cent\b")
"""Figures that the table knows by their words: a cut, a share, how far a gun was off."""
_UNITS = MappingProxyType({"%": "percent", "per cent": "percent"})
_ONES = (
    *("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven"),
    *("twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def _in_words(found: re.Match[str]) -> str:
    if found[1] is None:
        return "percent"
    tens, ones = divmod(int(found[1]), 10)
    number = _ONES[int(found[1])] if int(found[1]) < len(_ONES) else f"{_TENS[tens]} {_ONES[ones]}"
    return f"{number} {_UNITS.get(found[2], found[2])} "


_SINCE = (["from"], ["since"], ["when"], ["after"], ["before"], ["straight"])
"""What follows ``it was like that``: a time, and nothing that it is compared with."""


def _like_at(words: Sequence[str]) -> int | None:
    """Return where a comparison begins; ``I like it`` compares nothing, nor ``like that from``."""
    for at, word in enumerate(words):
        likes = at > 0 and words[at - 1] in ("i", "would", "you", "not")
        so = words[at + 1 : at + 2] in (["that"], ["this"]) and words[at + 2 : at + 3] in _SINCE
        if word == "like" and not likes and not so:
            return at
    return None


def _of_clause(clause: Sequence[str]) -> Iterator[Word]:
    like_at = _like_at(clause) if "like" in clause else None
    left, compared = 0, False
    grammar = _grammar()
    ends, says_where = grammar[_COMPARISON_ENDS], grammar[_SAYS_WHERE]
    denial_ends = grammar[_DENIAL_ENDS]
    for at, spoken in enumerate(clause):
        if at == like_at:
            compared = True
            continue
        compared = compared and spoken not in ends
        word = stem_of(spoken)
        if not word:
            continue
        if word == _DENIAL:
            only = clause[at + 1 : at + 2] in (["only"], ["just"])
            left = 0 if only else MOST_DENIED
            continue
        if spoken in denial_ends or (0 < left < MOST_DENIED and spoken in says_where):
            left = 0
        yield Word(word, left > 0, compared, spoken)
        left -= 1


@lru_cache(maxsize=1)
def denials() -> frozenset[str]:
    """Return every word that denies, as it is spoken."""
    return frozenset(form for form, base in _bases().items() if base == _DENIAL)


@lru_cache(maxsize=8192)
def stem_of(spoken: str) -> str:
    """Return a spoken word by its stem; nothing of one that is passed over."""
    bare = spoken.removesuffix("'s").strip("'") if "'" in spoken else spoken
    return "" if bare in _grammar()[_PASSED_OVER] else _base(bare)


@lru_cache(maxsize=4096)
def _base(word: str) -> str:
    """Return what a word is a form of, written as it should be or nearly so; else itself."""
    bases = _bases()
    if word in bases:
        return bases[word]
    meant = next((bases[one] for one in slips(word) if one in bases), word)
    return _by_spelling().get(spelt(word), meant)


def _matches(said: Sequence[Word]) -> Iterator[_Found]:
    """Give every place where words of the table stand in what was said."""
    for at, word in enumerate(said):
        for row in _rows_from(word.stem):
            found = _match(said, at, row.words)
            if found is not None and (row.part in LOOKS or not word.compared):
                if row.words[0].compared and not word.compared:
                    continue
                wants_denial = any(wanted.denied for wanted in row.words)
                denied = any(said[place].denied for place in found) and not wants_denial
                yield _Found(found, row, denied)


def _match(said: Sequence[Word], at: int, wanted: Sequence[Word]) -> tuple[int, ...] | None:
    """Return the places of words of the table from one place on; None where they do not stand."""
    if not wanted:
        return ()
    if wanted[0].stem == GAP:
        tries = (_match(said, at + skip, wanted[1:]) for skip in range(_room(said, at) + 1))
        return next((found for found in tries if found is not None), None)
    if at >= len(said) or said[at].stem != wanted[0].stem:
        return None
    if wanted[0].denied and not said[at].denied:
        return None
    rest = _match(said, at + 1, wanted[1:])
    return None if rest is None else (at, *rest)


def _room(said: Sequence[Word], at: int) -> int:
    """Return how many words may stand between two of a row: none beyond an 'and'."""
    between = said[at : at + MOST_BETWEEN]
    return next((n for n, word in enumerate(between) if word.stem == "and"), MOST_BETWEEN)


def _longest(found: list[_Found]) -> Iterator[_Found]:
    """Give what is left when longer words have taken the places of shorter ones in them.

    Where a row is of what something is like, it takes the place of those of the thing itself: what
    is like an orange has no colour of it.
    """
    taken: dict[int, tuple[tuple[int, ...], bool]] = {}
    for one in sorted(found, key=lambda one: (-_weight(one), one.places)):
        mine = (one.places, any(word.compared for word in one.row.words))
        if all(taken.get(place, mine) == mine for place in one.places):
            taken.update(dict.fromkeys(one.places, mine))
            yield one


def _weight(found: _Found) -> int:
    """Return how much is said: a word that has to be denied or compared says more."""
    return sum(2 + word.denied + word.compared for word in _spoken(found.row.words))


def _spoken(words: Sequence[Word]) -> list[Word]:
    return [word for word in words if word.stem != GAP]


@lru_cache(maxsize=1)
def _table() -> WordTable:
    return word_table(__package__)


@lru_cache(maxsize=1)
def _listed() -> tuple[Phrase, ...]:
    """Return all words that mean something, row by row."""
    return tuple(phrase for phrase in _table().phrases if phrase.part != _ASKED)


@lru_cache(maxsize=1)
def _grammar() -> Mapping[str, frozenset[str]]:
    """Return the words that do something to those about them, by what they do."""
    does = _table().grammar
    return MappingProxyType({**does, _COMPARISON_ENDS: does[_COMPARISON_ENDS] | does[_CLAUSE_ENDS]})


@lru_cache(maxsize=1)
def _bases() -> Mapping[str, str]:
    """Return the word that each form is a form of; what stands for itself is derived of none."""
    phrases = [phrase.words for phrase in _listed()]
    alone = {words.strip("!~") for words in phrases if " " not in words}

    def forms_of(word: str) -> Iterator[str]:
        yield from formed(word, INFLECTIONS)
        yield from (form for form in formed(word, DERIVATIONS) if form not in alone)

    return bases_of(_table().forms, words_in(phrases), forms_of)


@lru_cache(maxsize=1)
def _by_spelling() -> Mapping[str, str]:
    """Return the word that each spelling is a form of, where it can be no other."""
    found: dict[str, str] = {}
    several = set()
    for base, spelling in zip(_bases().values(), spelt_each(_bases()), strict=True):
        if found.setdefault(spelling, base) != base:
            several.add(spelling)
    return MappingProxyType({one: base for one, base in found.items() if one not in several})


@lru_cache(maxsize=4096)
def _rows_from(stem: str) -> tuple[_Row, ...]:
    """Return the rows whose first word is this one."""
    listed = _by_first_stem().get(stem, ())
    return tuple(_Row(tuple(_pattern(one.words)), one.part, one.meaning) for one in listed)


@lru_cache(maxsize=1)
def _by_first_stem() -> Mapping[str, Sequence[Phrase]]:
    """Return what the table lists, by the first word of it."""
    found: dict[str, list[Phrase]] = {}
    for listed in _listed():
        first = next(_pattern(listed.words), None)
        if first is not None:
            found.setdefault(first.stem, []).append(listed)
    return MappingProxyType(found)


def _pattern(words: str) -> Iterator[Word]:
    """Give the words of a row as they must be said: ``!`` denied, ``~`` compared."""
    for word in words.split():
        if word == GAP:
            yield Word(GAP)
            continue
        for stem in _stems(word.strip("!~")):
            yield Word(stem, word.startswith("!"), word.startswith("~"))


@lru_cache(maxsize=4096)
def _stems(word: str) -> tuple[str, ...]:
    """Return a word of a row by its stem; nothing of one that is passed over."""
    return tuple(one.stem for one in _of_clause([word]))
