"""Which words of a sentence name a place on a piece: ``along the hinge edge``, ``on the left``.

A place is one of a table of words (``model/place_words.txt``), or what the piece itself has. What
else may follow ``at`` or ``on`` is a time, a person or a thing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from finishsched.model.job import Piece
from finishsched.model.place_words import PLACES, SURE, Says, one_of, says

_TOKENS = re.compile(r"[A-Za-z]+(?:['-][A-Za-z]+)?|\d+|[^\sA-Za-z\d]").finditer
_SHUT_IN = "drawer"
"""What is in it is a thing that was put there, and no place of it."""
_ITSELF = ("it", "them", "this", "thing")
MOST_BEFORE = 3
LEAST_OWN = 4
"""A shorter word of what a piece is called names nothing by itself."""


class _Token(NamedTuple):
    word: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class _Own:
    """What a piece calls its own: what is let into it, its faces, and itself."""

    inlaid: frozenset[str]
    faces: frozenset[str]
    itself: frozenset[str]

    @classmethod
    def of(cls, piece: Piece | None) -> _Own:
        if piece is None:
            return cls(frozenset(), frozenset(), frozenset())
        faces = [face.name for face in piece.faces] if len(piece.faces) > 1 else []
        return cls(
            _words(one.name for one in piece.inlays),
            _words(faces),
            _words((piece.title, piece.id.replace("-", " "))),
        )


def where_in(text: str, piece: Piece | None = None) -> str:
    """Return the words that say where on a piece something is; empty where none do.

    ``the film went white at a window`` names no place of it, nor do ``on Saturday`` and ``on it``.
    What is all over it is at no one place.
    """
    tokens = [_Token(m[0].lower(), m.start(), m.end()) for m in _TOKENS(text)]
    if _is_of_all([token.word for token in tokens]):
        return ""
    own = _Own.of(piece)
    for at, token in enumerate(tokens):
        phrase = _Phrase(tokens, own, compared=_is_compared(tokens, at))
        if _says_where(tokens, at) and (end := phrase.end_after(at + 1, token.word)):
            first = phrase.first_after(at + 1)
            return text[tokens[first].start : tokens[end - 1].end]
    return ""


class _Phrase:
    """What follows a word such as ``at``, read as a place."""

    def __init__(self, tokens: Sequence[_Token], own: _Own, *, compared: bool) -> None:
        self._words = [token.word for token in tokens]
        self._own, self._compared = own, compared

    def first_after(self, at: int) -> int:
        """Return where the words of the place begin: after ``the`` and its like."""
        while says(self._at(at), Says.ARTICLE):
            at += 1
        return at

    def end_after(self, at: int, prep: str) -> int:
        """Return where a place ends that begins at ``at``; 0 where there is none."""
        end = self._noun_end(at, prep)
        while end:
            following = self._at(end)
            if following == "of":
                end = self._of_end(end + 1)
                continue
            longer = 0
            if following == "and" or _is_before(following):
                longer = self._noun_end(end + 1, prep if following == "and" else following)
            if not longer:
                return end
            end = longer
        return 0

    def _at(self, at: int) -> str:
        return self._words[at] if at < len(self._words) else ""

    def _noun_end(self, at: int, prep: str) -> int:
        """Return the end of the word that names the place, the last one that can."""
        first = self.first_after(at)
        articles = self._words[at:first]
        ends = [
            end
            for end in range(first + 1, min(first + MOST_BEFORE, len(self._words)) + 1)
            if self._names(articles, self._words[first:end], prep, self._at(end))
        ]
        return ends[-1] if ends else 0

    def _names(self, articles: list[str], words: list[str], prep: str, following: str) -> bool:
        """Tell whether words name a place as they stand between two others."""
        *before, noun = words
        if any(says(word, Says.FOREIGN) for word in before):
            return False
        definite = any(says(word, Says.DEFINITE) for word in (*articles, *before))
        unknown = sum(not self._goes_before(word) for word in before)
        if self._is_sure(noun, before):
            on_edge = prep == "on" and noun == "edge" and len(words) == 1 and not articles
            return unknown <= 1 and not on_edge and (definite or not self._compared)
        several = noun != one_of(noun)
        itself = not before and one_of(noun) in self._own.itself
        if self._compared or unknown or itself or not (definite or before or several):
            return False
        if says(noun, Says.SIDE):
            return _side_fits(one_of(noun), before, several=several, following=following)
        is_part = says(noun, Says.PART) or one_of(noun) in self._own.faces
        shut_in = one_of(noun) == _SHUT_IN and prep in ("in", "inside", "into")
        return is_part and says(prep, Says.ON) and not shut_in and (definite or several)

    def _is_sure(self, noun: str, before: list[str]) -> bool:
        if noun == "grain":
            return before[-1:] == ["end"]
        if noun == "line":
            return before[-1:] == ["glue"]
        if noun in ("spot", "place"):
            return before[-1:] == ["one"]
        return any(says(noun, kind) for kind in SURE) or one_of(noun) in self._own.inlaid

    def _goes_before(self, word: str) -> bool:
        places = any(says(word, kind) for kind in (*PLACES, Says.BEFORE))
        return places or word in self._own.inlaid or word in self._own.itself

    def _of_end(self, at: int) -> int:
        """Return where what a place is of ends; 0 where that is nothing of the piece."""
        longer = self._noun_end(at, "on")
        if longer:
            return longer
        first = self.first_after(at)
        for end in range(first + 1, min(first + MOST_BEFORE, len(self._words)) + 1):
            word = self._words[end - 1]
            if word in _ITSELF and end > first + 1:
                return 0
            if one_of(word) in self._own.itself or says(word, Says.OF):
                return end
            if says(word, Says.PART) and end == first + 1:
                return end
            if not self._goes_before(word):
                return 0
        return 0


def _side_fits(noun: str, before: list[str], *, several: bool, following: str) -> bool:
    """Tell whether a word such as ``left`` names a place as it stands."""
    if following.isalpha() and not says(following, Says.GOES_ON):
        return False
    if noun in ("end", "half", "face"):
        return bool(before) or (several and noun == "end")
    return True


def _is_before(word: str) -> bool:
    return says(word, Says.ON) or says(word, Says.AT)


def _says_where(tokens: Sequence[_Token], at: int) -> bool:
    """Tell whether a word says where, and neither where it is not, nor where a thing was put."""
    word = tokens[at].word
    last = tokens[at - 1].word if at else ""
    before_it = tokens[at - 2].word if at > 1 else ""
    if word == "to":
        return says(last, Says.TO)
    if not _is_before(word) or says(last, Says.DENIES):
        return False
    put_it = says(before_it, Says.PUT) and last in _ITSELF
    return not (says(last, Says.PUT) or put_it)


def _is_compared(tokens: Sequence[_Token], at: int) -> bool:
    """Tell whether it is only what something is like: dew on the lid of a car."""
    for token in reversed(tokens[:at]):
        if not token.word[0].isalnum():
            return False
        if token.word == "like":
            return True
    return False


def _is_of_all(words: Sequence[str]) -> bool:
    """Tell whether something is on all of a piece, so that no place is more than where it shows."""
    over = any(pair == ("all", "over") for pair in pairwise(words))
    return over or any(says(word, Says.ALL) for word in words)


def _words(names: Iterator[str] | Sequence[str]) -> frozenset[str]:
    split = (word for name in names for word in re.findall(r"[a-z]+", name.lower()))
    return frozenset(one_of(word) for word in split if len(word) >= LEAST_OWN or word == "lid")
