"""What is seen when something is wrong, in the trade's words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from enum import StrEnum
from functools import lru_cache
from importlib import resources
from types import MappingProxyType


class Seen(StrEnum):
    """A defect by its name."""

    BLUSH = "blush"
    STICKY = "sticky"
    RIDGE = "ridge"
    SAG = "sag"
    DUST_NIB = "dust nib"
    CORNING = "corning"
    ORANGE_PEEL = "orange peel"
    PRINT = "print"
    WHITE_RING = "white ring"
    FISHEYE = "fisheye"
    LIFTING = "lifting"
    CRACKLE = "crackle"
    FILM_THROUGH = "sand-through of film"
    VENEER_THROUGH = "sand-through of veneer"
    COLOUR_THROUGH = "sand-through of colour"
    WITNESS_LINES = "witness lines"
    PINHOLES = "pinholes"
    BLEEDING = "bleeding"
    DULL_PATCH = "dull patch"
    SINKING = "sinking"
    RAISED_GRAIN = "raised grain"
    BLOTCHES = "blotches"
    RUST = "rust"
    BRUSH_MARKS = "brush marks"
    BLISTER = "blister"
    OPEN_SEAM = "open seam"
    WHITE_PORES = "white in the pores"
    SCRATCHES = "scratches"
    STREAKS = "streaks"
    COLOUR_CHANGE = "colour change"
    DENT = "dent"
    BURN = "burn"


def _rows() -> Iterator[tuple[Seen, str, tuple[str, ...]]]:
    """Give every defect, what it looks like, and all its names, by the table in ``names.txt``."""
    text = (resources.files(__package__) / "names.txt").read_text("utf-8")
    for line in text.splitlines():
        if not line.startswith("#"):
            name, looks, *others = (cell.strip() for cell in line.split("|"))
            words = (word.strip() for cell in others for word in cell.split(","))
            yield Seen(name), looks, (name, *filter(None, words))


LOOKS: Mapping[Seen, str] = MappingProxyType({seen: looks for seen, looks, _ in _rows()})
"""What each defect looks like, in a sentence."""
_NAMES = MappingProxyType({name: seen for seen, _, names in _rows() for name in names})


def all_names() -> Mapping[str, Seen]:
    """Return every name of every defect."""
    return _NAMES


_LONGEST_FIRST = sorted(_NAMES, key=lambda name: (-len(name), name))


GAP = ".."
"""In a name: a few other words may stand here."""
MOST_BETWEEN = 3
_ENDINGS = ("ing", "ed", "es", "s", "ly", "y", "e")


def _stem(word: str) -> str:
    """Return a word less its ending, so that sag, sags, sagged and sagging are one."""
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= MOST_BETWEEN:
            word = word.removesuffix(ending)
            break
    return word[:-1] if word[-2:-1] == word[-1:] else word


def stems(text: str) -> tuple[str, ...]:
    """Return the words of a text less their endings, in their order."""
    return tuple(word if word == GAP else _stem(word) for word in _words(text))


def _words(text: str) -> list[str]:
    return re.findall(r"[a-z']+|[.]{2}", text.lower().replace("-", " "))


@lru_cache(maxsize=1)
def _stemmed() -> tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]:
    """Return every name by its stems, those of most words first."""
    names: dict[tuple[str, ...], list[str]] = {}
    for name in _NAMES:
        names.setdefault(stems(name), []).append(name)
    found = ((stems, tuple(several)) for stems, several in names.items())
    return tuple(sorted(found, key=lambda one: -_words_in(one[0])))


def _words_in(stems: tuple[str, ...]) -> int:
    return sum(stem != GAP for stem in stems)


def named_in(text: str) -> tuple[Seen, ...]:
    """Return the defects that somebody names in a sentence, the one named most fully first.

    Of names with as many words, the first in the sentence goes first.
    """
    words, said = " ".join(_words(text)), stems(text)
    found: list[tuple[int, int, Seen]] = []
    taken: set[int] = set()
    for wanted, names in _stemmed():
        for at in range(len(said)):
            end = _matched(said, at, wanted)
            if end is not None and not taken & set(range(at, end)):
                taken |= set(range(at, end))
                # Of names with the same stems, peels and peel, the one that was said.
                name = next((one for one in names if f" {one} " in f" {words} "), names[0])
                found.append((-_words_in(wanted), at, _NAMES[name]))
    return tuple(dict.fromkeys(seen for _, _, seen in sorted(found)))


def _matched(said: tuple[str, ...], at: int, stems: tuple[str, ...]) -> int | None:
    """Return where a name ends that begins at a place in what was said; None where it does not."""
    if not stems:
        return at
    first, *rest = stems
    if first != GAP:
        fits = at < len(said) and said[at] == first
        return _matched(said, at + 1, tuple(rest)) if fits else None
    ends = (_matched(said, at + skip, tuple(rest)) for skip in range(MOST_BETWEEN + 1))
    return next((end for end in ends if end is not None), None)


def seen_as_said(text: str) -> Seen | None:
    """Return the defect that somebody names in a sentence, or None where it names none or a choice.

    ``it stays gummy`` is sticky, ``fine cracks all over`` is crackle; ``haze or gummy`` is asked
    back.
    """
    named = named_in(text)
    if len(named) > 1 and " or " in f" {text.lower()} ":
        return None
    return named[0] if named else None


def seen_in(text: str) -> Seen | None:
    """Return the defect that ``text`` begins with by any of its names, or None.

    ``blush along the hinge edge`` is blush; ``a bit of blush`` is only text.
    """
    said = " ".join(text.lower().replace(":", " ").replace(",", " ").split())
    for name in _LONGEST_FIRST:
        if said == name or said.startswith(f"{name} "):
            return _NAMES[name]
    return None
