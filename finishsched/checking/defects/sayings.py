"""What words speak for by the company they keep: how often each goes with which defect.

The sayings are in ``sayings.txt``. A word that is met in those of one defect alone speaks for it;
one that is met in all alike says nothing, nor does one that is met nowhere. The log-odds of all
words are added up, as if they came by themselves: a naive Bayes rule, smoothed.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from importlib import resources
from itertools import chain
from types import MappingProxyType
from typing import NamedTuple

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
    heard = [_speaks(word) for word in _words(text)]
    return {seen: math.fsum(each[seen] for each in heard if each) for seen in Seen}


@lru_cache(maxsize=1024)
def _speaks(word: str) -> Mapping[Seen, float]:
    """Return what a word speaks for each defect; nothing of one that no saying has."""
    sayings = _sayings()
    met = sum(each.met[word] for each in sayings.values())
    if not met:
        return {}
    usual = met / sum(each.several for each in sayings.values())

    def speaks(of_it: _Sayings) -> float:
        here = (of_it.met[word] + AS_IF_MET * usual) / (of_it.several + AS_IF_MET)
        return min(MOST, max(LEAST, math.log(here / usual)))

    return MappingProxyType({seen: speaks(of_it) for seen, of_it in sayings.items()})


class _Sayings(NamedTuple):
    """What is said of one defect."""

    several: int
    """How many sayings."""
    met: Counter[str]
    """In how many of them each word is met."""


@lru_cache(maxsize=1)
def _sayings() -> Mapping[Seen, _Sayings]:
    """Return the sayings of each defect, counted."""
    text = (resources.files(__package__) / "sayings.txt").read_text("utf-8")
    lines: dict[Seen, list[str]] = {}
    of_it: list[str] = []
    for line in filter(None, text.splitlines()):
        if line.startswith("["):
            of_it = lines.setdefault(Seen(line.strip("[]")), [])
        elif not line.startswith("#"):
            of_it.append(line)
    return MappingProxyType({
        seen: _Sayings(len(of_it), Counter(chain.from_iterable(map(_words, of_it))))
        for seen, of_it in lines.items()
    })  # fmt: skip


def _words(text: str) -> set[str]:
    """Return the words of a text without their endings; what is denied is another word."""
    said = ((_bare(word.stem), word.denied) for word in words_of(text))
    return {f"not {bare}" if denied else bare for bare, denied in said if bare}


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
