"""Words of places on a piece: edge, corner, lid, hinge. The table is ``place_words.txt``."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from types import MappingProxyType

from finishsched.tables import parts_of


class Says(StrEnum):
    """What a word does in words that say where, by the parts of the table."""

    EDGE = "edges"
    CORNER = "corners"
    SPOT = "spots"
    SIDE = "sides"
    PART = "parts"
    BEFORE = "before"
    FOREIGN = "foreign"
    OF = "of"
    ALL = "all"
    ON = "on"
    AT = "at"
    TO = "to"
    ARTICLE = "article"
    DEFINITE = "definite"
    DENIES = "denies"
    PUT = "put"
    GOES_ON = "goes on"


SURE = (Says.EDGE, Says.CORNER, Says.SPOT)
"""What names a place by itself."""
PLACES = (*SURE, Says.SIDE, Says.PART)

_FORMS = MappingProxyType({"feet": "foot", "halves": "half", "shelves": "shelf"})


@lru_cache(maxsize=1)
def words_of_places() -> Mapping[Says, frozenset[str]]:
    """Return the words of each part of the table."""
    parts = parts_of("place_words.txt", __package__)
    return MappingProxyType(
        {Says(name): frozenset(" ".join(lines).split()) for name, lines in parts.items()}
    )


def one_of(word: str) -> str:
    """Return a word as the table has it, of one: edges are edge, feet are foot."""
    if word in _FORMS:
        return _FORMS[word]
    every = frozenset[str]().union(*words_of_places().values())
    tries = (word, word.removesuffix("s"), word.removesuffix("es"))
    return next((one for one in tries if one in every), word)


def says(word: str, what: Says) -> bool:
    """Tell whether a word, of one or of several, stands in a part of the table."""
    return one_of(word) in words_of_places()[what]
