"""What words speak for by the company they keep: how often each goes with which defect, or cause.

The sayings of defects are in ``sayings.txt``, those of causes in ``sayings_of_causes.txt``. Of
every text its words count, what each of them means alone, and, for defects, its runs of a few
letters, by which a slip of the fingers and a turn of speech are heard as well. Each speaks for a
defect or a cause by how much oftener it is met in the sayings of it than in all: the log-odds are
added up, as if they came by themselves: a naive Bayes rule, smoothed.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import chain
from types import MappingProxyType
from typing import NamedTuple

from finishsched.checking.defects.lexicon import (
    Word,
    denials,
    is_known,
    is_of_any,
    is_of_looks,
    meant_alone,
    stem_of,
    words_of,
)
from finishsched.checking.defects.seen import Seen
from finishsched.checking.language.spelling import slipped_from
from finishsched.tables import parts_of

OF_DEFECTS, OF_CAUSES = "sayings.txt", "sayings_of_causes.txt"
"""The tables of sayings: of what is seen, and of what made it."""
AS_IF_MET = 0.2
"""How often anything counts as met in the sayings of every defect, beside how often it is."""
IN_ALL = 10_000
"""About how many different things are met in all the sayings."""
BY_LETTERS = 0.5
"""How much a run of letters counts beside a word: a word has several, and they come together."""
RUN = 4
"""How many letters a run has; what parts two words is one."""
LEAST = -0.5
"""In log-odds: how far one thing speaks against a defect."""
MOST_SHARED = 20
"""A word that so many causes' sayings have parts none of them: 'day', 'tin', 'old' (fitted)."""
_ENDINGS = ("ings", "ing", "edly", "ed", "ies", "es", "s", "ly", "y", "er", "e", "n")
_SHORTEST = 3
"""So many letters of a word are left when its ending is cut off."""
_SHORTEST_SLIP = 4
"""In shorter words a slip is no longer told from another word."""
_WORD = re.compile(r"[a-z']+")
_SPOKEN = _WORD.findall


def as_meant(text: str) -> str:
    """Return a text with each word that is nowhere met put right, where one slip makes it so."""
    return _WORD.sub(lambda found: _as_meant(found.group()), text)


@lru_cache(maxsize=1024)
def _as_meant(word: str) -> str:
    short = len(word) < _SHORTEST_SLIP or "'" in word
    if short or word in _met_anywhere() or is_known(word):
        return word
    meant = [one for one in slipped_from(word) if one in _met_anywhere()]
    return max(meant, key=lambda one: _met_anywhere()[one], default=word)


@lru_cache(maxsize=1)
def _met_anywhere() -> Counter[str]:
    """Return every word of the sayings as it is spoken, and how often."""
    return Counter(
        chain.from_iterable(of_it.letters.split() for of_it in _sayings(OF_DEFECTS).values())
    )


@lru_cache(maxsize=64)
def by_company(text: str) -> Mapping[Seen, float]:
    """Return what a text speaks for each defect, in log-odds, by the sayings."""
    words = words_of(text)
    heard = [
        *(_speaks(one, OF_DEFECTS) for one in _things(words)),
        *(_speaks_by_letters(run) for run in _runs(_without_denied(text, words))),
    ]
    by_name = _added_up(heard, OF_DEFECTS)
    return MappingProxyType({seen: by_name[seen.value] for seen in Seen})


@lru_cache(maxsize=64)
def by_telling(text: str) -> Mapping[str, float]:
    """Return what a text speaks for each cause by its id, in log-odds, by the sayings of causes.

    Words of what is seen or felt say which defect it is, and nothing of which cause: they are
    passed over.
    """
    words = [word for word in words_of(text) if not is_of_looks(word.stem)]
    things = {thing for word in words for thing in _most_meant(word.stem, denied=word.denied)}
    return _added_up([_speaks(one, OF_CAUSES) for one in things if _parts(one)], OF_CAUSES)


def _most_meant(stem: str, *, denied: bool) -> tuple[str, ...]:
    """Return what a word means, else the word: both would count the same thing twice."""
    bare, *meant = _things_of(stem, denied=denied) or ("",)
    return tuple(meant) or (bare,)


@lru_cache(maxsize=4096)
def _parts(thing: str) -> bool:
    """Tell whether few enough causes are told by a thing for it to part them."""
    return sum(1 for each in _sayings(OF_CAUSES).values() if each.met[thing]) <= MOST_SHARED


def _added_up(heard: Sequence[Mapping[str, float]], table: str) -> Mapping[str, float]:
    heard = list(filter(None, heard))
    return MappingProxyType({name: math.fsum(by[name] for by in heard) for name in _sayings(table)})


@lru_cache(maxsize=2048)
def _speaks(thing: str, table: str) -> Mapping[str, float]:
    """Return what a thing that is said speaks for each of a table; nothing where none has it."""
    return _odds([float(each.met[thing]) for each in _sayings(table).values()], table)


@lru_cache(maxsize=4096)
def _speaks_by_letters(run: str) -> Mapping[str, float]:
    """Return what a run of letters speaks for each defect: less than a word."""
    met = [BY_LETTERS * each.letters.count(run) for each in _sayings(OF_DEFECTS).values()]
    return {name: BY_LETTERS * by for name, by in _odds(met, OF_DEFECTS).items()}


def _odds(met: Sequence[float], table: str) -> Mapping[str, float]:
    """Return how much oftener something is met in the sayings of each than in all."""
    if not any(met):
        return {}
    sayings = _sayings(table)
    usual = _share(math.fsum(met) / len(met), _usual_size(table))
    return {
        name: max(LEAST, math.log(_share(here, of_it.size) / usual))
        for here, (name, of_it) in zip(met, sayings.items(), strict=True)
    }


def _share(met: float, size: float) -> float:
    return (met + AS_IF_MET) / (size + AS_IF_MET * IN_ALL)


class _Sayings(NamedTuple):
    """What is said of one defect, or of one cause."""

    met: Counter[str]
    """How often each thing is met."""
    letters: str
    """All of them by their letters alone, to look for runs in."""
    size: float
    """How much is met in them, each as much as it counts."""


@lru_cache(maxsize=2)
def _usual_size(table: str) -> float:
    sizes = [of_it.size for of_it in _sayings(table).values()]
    return math.fsum(sizes) / len(sizes)


@lru_cache(maxsize=2)
def _sayings(table: str) -> Mapping[str, _Sayings]:
    """Return the sayings of each defect or cause of a table, counted."""
    sayings = parts_of(table, __package__)
    return MappingProxyType({name: _counted(of_it) for name, of_it in sayings.items()})


def _counted(sayings: Sequence[str]) -> _Sayings:
    """Count what is met; a saying that denies nothing is counted by its words alone, sooner."""
    said = list(map(_letters, sayings))
    denying = [one for one in said if not denials().isdisjoint(one.split())]
    words = Counter((word.stem, word.denied) for word in words_of(".".join(denying)))
    for spoken, times in Counter("".join(set(said).difference(denying)).split()).items():
        words[stem_of(spoken), False] += times
    met: Counter[str] = Counter()
    for (stem, denied), times in words.items():
        for thing in _things_of(stem, denied=denied):
            met[thing] += times
    letters = "\n".join(said)
    return _Sayings(met, letters, met.total() + BY_LETTERS * len(letters))


def _letters(text: str) -> str:
    return f" {' '.join(_SPOKEN(text.lower()))} "


def _things(words: Sequence[Word]) -> set[str]:
    """Return the words of a text without their endings, and what each of them means by itself.

    What is denied is another thing.
    """
    return {thing for word in words for thing in _things_of(word.stem, denied=word.denied)}


@lru_cache(maxsize=4096)
def _things_of(stem: str, *, denied: bool) -> tuple[str, ...]:
    bare, denies = _bare(stem), "not " if denied else ""
    meant = (f"{denies}<{name}>" for name in meant_alone(stem))
    return (f"{denies}{bare}", *meant) if bare else tuple(meant)


def _runs(letters: str) -> set[str]:
    """Return the runs of letters in a text."""
    return {letters[at : at + RUN] for at in range(len(letters) - RUN + 1)}


def _without_denied(text: str, words: Sequence[Word]) -> str:
    """Return a text by its letters, but for words that are denied in it and in no saying."""
    every = _sayings(OF_DEFECTS).values()
    idle = {
        word.spoken
        for word in words
        if word.denied and not any(f"not {_bare(word.stem)}" in each.met for each in every)
    }
    return f" {' '.join(word for word in _SPOKEN(text.lower()) if word not in idle)} "


@lru_cache(maxsize=4096)
def _bare(word: str) -> str:
    """Return a word that no table has without its ending, however rough; nothing of an idle one.

    Only the sayings are compared by it.
    """
    if is_of_any(word):
        return ""
    if is_known(word):
        return word
    endings = (ending for ending in _ENDINGS if word.endswith(ending))
    cut = next((end for end in endings if len(word) >= len(end) + _SHORTEST), "")
    return word.removesuffix(cut)
