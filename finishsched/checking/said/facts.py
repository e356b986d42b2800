"""Words to facts: what a step's words tell of, by the names of ``words.txt``.

A fact is told, denied or only supposed. Nothing here knows what is right or wrong: that is asked by
the tables of ``unfit``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import chain, pairwise, takewhile
from types import MappingProxyType
from typing import NamedTuple

from finishsched.checking.language.inflected import INFLECTIONS, formed
from finishsched.checking.language.spelling import spelt
from finishsched.checking.language.word_table import (
    GAP,
    MOST_BETWEEN,
    WordTable,
    bases_of,
    word_table,
    words_in,
)
from finishsched.checking.said.clauses import Grammar, Sentence, Word, made_one, sentences_of
from finishsched.checking.said.measures import measured_in
from finishsched.checking.said.unfit import unfit_blocks

_MATTER = "matter"
_QUOTING = ("says", "unless", "of")
"""The keys of ``unfit`` that may quote words, beside naming facts."""
_SHORTEST_INFLECTED = 3
"""Shorter words have no endings: in, at."""


_DENIED, _RIGHT_BEHIND = "!", "!!"
_IN_PHRASES = re.compile(r"(?P<mark>!?)(?P<word>[a-z]+(?:'[a-z]+)?|\d+|\.\.)").finditer


class Fact(NamedTuple):
    """One thing that the words of a step tell."""

    name: str
    sentence: int
    clause: int
    denied: bool
    supposed: bool
    words: str
    value: float = 0.0
    """Of a figure: in s, cm, bar, % or degrees C."""
    span: tuple[int, int] = (0, 0)
    """The places of its first and last word in the sentence."""
    lacks: bool = False
    """True for what is told by a denial: no mask. Of a dust mask it is not said."""
    in_one_run: bool = False
    """True for several words without a gap: they say more than one of them alone."""

    @property
    def told(self) -> bool:
        """True where it is said to be so, and not denied nor only supposed."""
        return not self.denied and not self.supposed


class _Pattern(NamedTuple):
    name: str
    words: tuple[str, ...]
    """Stems; ``..`` for a gap, ``!`` before one that has to be denied, ``!!`` before one that
    has to stand right behind its denial."""
    needs: frozenset[str]
    """The stems by themselves: a sentence that lacks one of them does not tell it."""


@lru_cache(maxsize=1024)
def facts_of(text: str) -> tuple[Fact, ...]:
    """Return all that ``text`` tells of, sentence by sentence."""
    found = enumerate(sentences_of(text, stem_of, _grammar()))
    return tuple(fact for number, sentence in found for fact in _facts_in(number, sentence))


def names() -> frozenset[str]:
    """Return every name of ``words.txt``."""
    return frozenset(phrase.meaning for phrase in _table().phrases)


@lru_cache(maxsize=1)
def matters_in_words() -> frozenset[str]:
    """Return the matters that words alone may name, as ``matter.py`` names them."""
    return frozenset(phrase.meaning for phrase in _table().phrases if phrase.part == _MATTER)


@lru_cache(maxsize=8192)
def stem_of(spoken: str) -> str:
    """Return the word that a spoken one is a form of, in whichever spelling; else itself."""
    bases = _bases()
    if spoken in bases:
        return bases[spoken]
    return _by_spelling().get(spelt(spoken), spoken)


def _facts_in(number: int, sentence: Sentence) -> Iterator[Fact]:
    words = sentence.words
    stems = {word.stem for word in words}
    patterns = (
        (at, one)
        for at, word in enumerate(words)
        for one in _by_first_stem().get(word.stem, ())
        if one.needs <= stems
    )
    found = [fact for at, one in patterns for fact in _at(number, sentence, at, one)]
    longer = [fact.span for fact in found if fact.in_one_run]
    yield from (
        fact
        for fact in found
        if not fact.lacks or not any(_within(fact.span, one) for one in longer)
    )
    for one in measured_in(sentence.text):
        place = next((at for at, word in enumerate(words) if word.at >= one.at), len(words) - 1)
        near = words[place]
        yield Fact(
            one.name,
            number,
            near.clause,
            near.denied,
            near.supposed,
            one.words,
            one.value,
            span=(place, place),
        )


def _at(number: int, sentence: Sentence, at: int, pattern: _Pattern) -> Iterator[Fact]:
    """Give the fact that a pattern tells from one place of a sentence on, if it stands there."""
    words = sentence.words
    places = _match(words, at, pattern.words)
    if places:
        found = [words[place] for place in places]
        wants_denial = any(one.startswith(_DENIED) for one in pattern.words)
        begins_at = _denied_from(sentence.text, found[0].at) if wants_denial else found[0].at
        yield Fact(
            pattern.name,
            number,
            found[-1].clause,
            not wants_denial and any(word.denied for word in found),
            any(word.supposed for word in takewhile(_connects_nothing, found)),
            sentence.text[begins_at : found[-1].at + len(found[-1].spoken)],
            lacks=wants_denial,
            span=(places[0], places[-1]),
            in_one_run=GAP not in pattern.words and len(places) > 1,
        )


def _denied_from(text: str, at: int) -> int:
    """Return where the denial of the word at ``at`` begins: no mask is quoted, not mask."""
    denials = [one for one in re.finditer(r"[a-z']+", text[:at]) if one[0] in _grammar().denies]
    return denials[-1].start() if denials else at


def _within(span: tuple[int, int], longer: tuple[int, int]) -> bool:
    """Tell whether words stand within a longer run: a dust mask is no mask."""
    return longer != span and longer[0] <= span[0] and span[1] <= longer[1]


def _match(words: Sequence[Word], at: int, wanted: Sequence[str]) -> tuple[int, ...] | None:
    """Return the places of wanted words from one on; None where they do not stand there."""
    if not wanted:
        return ()
    if wanted[0] == GAP:
        room = range(at, min(at + MOST_BETWEEN, len(words)) + 1)
        tries = (
            _match(words, there, wanted[1:])
            for there in room
            if _together(words, at, there, joined=wanted[1] in _joining())
        )
        return next((found for found in tries if found), None)
    if at >= len(words) or not _is(words[at], wanted[0]):
        return None
    if len(wanted) > 1 and wanted[1] != GAP and not _goes_on(words, at):
        return None
    rest = _match(words, at + 1, wanted[1:])
    return None if rest is None else (at, *rest)


def _is(word: Word, wanted: str) -> bool:
    """Tell whether a word is one that is wanted, and is denied as it has to be."""
    denied = word.behind_denial if wanted.startswith(_RIGHT_BEHIND) else word.denied
    return word.stem == wanted.lstrip(_DENIED) and (denied or not wanted.startswith(_DENIED))


def _goes_on(words: Sequence[Word], at: int) -> bool:
    """Tell whether the next word stands in the same clause, or only begins another by joining."""
    if at + 1 >= len(words):
        return False
    following = words[at + 1]
    joins = following.spoken in _joining() or following.spoken == "and"
    return joins or following.clause == words[at].clause


def _together(words: Sequence[Word], at: int, there: int, *, joined: bool) -> bool:
    """Tell whether two places of a sentence stand in one clause, or in two that are joined."""
    if there >= len(words):
        return False
    apart = words[there].clause - words[at - 1].clause
    return apart <= int(joined)


def _connects_nothing(word: Word) -> bool:
    return word.spoken not in _grammar().supposes


@lru_cache(maxsize=1)
def _joining() -> frozenset[str]:
    """Return the words that begin a clause and join it to the one before."""
    return _grammar().begins | _grammar().supposes


@lru_cache(maxsize=1)
def _table() -> WordTable:
    return word_table(__package__)


@lru_cache(maxsize=1)
def phrases_heard() -> tuple[tuple[str, str], ...]:
    """Return every phrase that is heard, after the name that it has: of the table, and quoted."""
    asked = (asks for block in unfit_blocks() for key, asks in block.items() if key in _QUOTING)
    quoted = dict.fromkeys(one for asks in asked for one in re.findall(r'"([^"]+)"', asks))
    return (
        *((phrase.meaning, phrase.words) for phrase in _table().phrases),
        *((f'"{one}"', one) for one in quoted),
    )


@lru_cache(maxsize=1)
def _grammar() -> Grammar:
    said = _table().grammar
    return Grammar(
        passed_over=said["passed over"],
        denies=said["denies"],
        instead=frozenset(("insteadof",)),
        begins=said["begins"],
        supposes=said["supposes"],
        modal=said["modal"],
        doings=frozenset(map(stem_of, said["doings"])),
        places=said["places"],
    )


@lru_cache(maxsize=1)
def _bases() -> Mapping[str, str]:
    """Return the word that each form is a form of."""
    table = _table()
    phrases = (words for _, words in phrases_heard())
    listed = words_in(chain(phrases, *table.grammar.values()))
    return bases_of(table.forms, listed, _forms_of)


def _forms_of(word: str) -> Iterator[str]:
    return formed(word, INFLECTIONS if len(word) >= _SHORTEST_INFLECTED else ())


@lru_cache(maxsize=1)
def _by_spelling() -> Mapping[str, str]:
    return MappingProxyType({spelt(form): base for form, base in _bases().items()})


@lru_cache(maxsize=1)
def _by_first_stem() -> Mapping[str, Sequence[_Pattern]]:
    found: dict[str, list[_Pattern]] = {}
    for name, phrase in phrases_heard():
        stems = tuple(_stems(phrase))
        bare = [stem.lstrip(_DENIED) for stem in stems]
        pattern = _Pattern(name, stems, frozenset(bare) - {GAP})
        for first in bare[:1]:
            found.setdefault(first, []).append(pattern)
    return MappingProxyType(found)


def _stems(phrase: str) -> Iterator[str]:
    """Give a phrase by its stems, less what is passed over; what denies marks the word behind."""
    grammar = _grammar()
    denies = grammar.denies | grammar.instead
    tokens = [(found["mark"], found["word"]) for found in _IN_PHRASES(made_one(phrase))]
    kept = [(mark, word) for mark, word in tokens if word not in grammar.passed_over]
    for (_, before), (mark, word) in pairwise([("", ""), *kept]):
        if word not in denies:
            right_behind = _RIGHT_BEHIND if before in denies else ""
            yield word if word == GAP else (mark or right_behind) + stem_of(word)
