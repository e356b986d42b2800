"""What words speak for by the company they keep: how often each goes with which defect.

The sayings are in ``sayings.txt``. A word that is met in those of one defect alone speaks for it;
one that is met in all alike says nothing, nor does one that is met nowhere. The log-odds of all
words are added up, as if they came by themselves: a naive Bayes rule, smoothed.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import lru_cache
from importlib import resources
from types import MappingProxyType

from finishsched.checking.defects.lexicon import is_known, is_of_any, words_of
from finishsched.checking.defects.seen import Seen

AS_IF_MET = 3.0
"""Sayings that every defect has beside its own, in which a word is as frequent as anywhere."""
LEAST, MOST = -0.5, 2.8
"""In log-odds: how far one word speaks against a defect, and for it: one alone is not enough."""
_ENDINGS = ("ings", "ing", "edly", "ed", "ies", "es", "s", "ly", "y", "er", "e", "n")
_SHORTEST = 3


def by_company(text: str) -> Mapping[Seen, float]:
    """Return what the words of a text speak for each defect, in log-odds, by the sayings."""
    weights = [_weights()[word] for word in _words(text) if word in _weights()]
    return {seen: math.fsum(one[seen] for one in weights) for seen in Seen}


@lru_cache(maxsize=1)
def _weights() -> Mapping[str, Mapping[Seen, float]]:
    """Return what each word speaks for each defect."""
    met, sayings = {seen: Counter[str]() for seen in Seen}, Counter[Seen]()
    for seen, saying in _sayings():
        met[seen].update(_words(saying))
        sayings[seen] += 1
    anywhere = sum(met.values(), Counter[str]())

    def speaks(word: str, seen: Seen) -> float:
        usual = anywhere[word] / sayings.total()
        here = (met[seen][word] + AS_IF_MET * usual) / (sayings[seen] + AS_IF_MET)
        return min(MOST, max(LEAST, math.log(here / usual)))

    return MappingProxyType({w: {seen: speaks(w, seen) for seen in Seen} for w in anywhere})


def _sayings() -> Iterator[tuple[Seen, str]]:
    """Give each saying of the table with its defect."""
    text = (resources.files(__package__) / "sayings.txt").read_text("utf-8")
    seen = None
    for line in filter(None, text.splitlines()):
        if line.startswith("["):
            seen = Seen(line.strip("[]"))
        elif seen is not None and not line.startswith("#"):
            yield seen, line


def _words(text: str) -> frozenset[str]:
    """Return the words of a text without their endings; what is denied is another word."""
    said = (word for word in words_of(text) if not is_of_any(word.stem))
    return frozenset(f"{'not ' * word.denied}{_bare(word.stem)}" for word in said)


def _bare(word: str) -> str:
    """Return a word that no table has without its ending, however rough.

    Only the sayings are compared by it.
    """
    if is_known(word):
        return word
    endings = (ending for ending in _ENDINGS if word.endswith(ending))
    cut = next((end for end in endings if len(word) >= len(end) + _SHORTEST), "")
    return word.removesuffix(cut)
