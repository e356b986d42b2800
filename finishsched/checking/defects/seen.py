"""What is seen when something is wrong, in the trade's words."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from importlib import resources


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


def _names() -> Iterator[tuple[str, Seen]]:
    """Give every name of every defect, by the one table in ``names.txt``."""
    text = (resources.files(__package__) / "names.txt").read_text("utf-8")
    for line in text.splitlines():
        if line.startswith("#"):
            continue
        name, *others = line.split("|")
        seen = Seen(name.strip())
        yield seen.value, seen
        for words in others:
            yield from ((word.strip(), seen) for word in words.split(",") if word.strip())


_NAMES = dict(_names())
_LONGEST_FIRST = sorted(_NAMES, key=lambda name: (-len(name), name))


_LEAD_WORDS = (
    "a all are at be been by can fine first gets goes got has have i in is it its just keep keeps "
    "large little looks my of on over quite rather shows slightly small some still stays that the "
    "there they this turned very was we went were with"
)
_LEAD = frozenset(_LEAD_WORDS.split())
"""Words before a defect that say nothing of which it is."""


def seen_as_said(text: str) -> Seen | None:
    """Return the defect that somebody names in a sentence, or None where it names none or several.

    ``it stays gummy`` is sticky, ``fine cracks all over`` is crackle. A name at the beginning goes
    first; else one that stands anywhere, if it is of one defect only.
    """
    words = text.lower().replace(":", " ").replace(",", " ").split()
    while words:
        found = seen_in(" ".join(words))
        if found is not None:
            return found
        if words[0] not in _LEAD:
            break
        words = words[1:]
    anywhere = {seen for at in range(len(words)) if (seen := seen_in(" ".join(words[at:])))}
    return anywhere.pop() if len(anywhere) == 1 else None


def seen_in(text: str) -> Seen | None:
    """Return the defect that ``text`` begins with by any of its names, or None.

    ``blush along the hinge edge`` is blush; ``a bit of blush`` is only text.
    """
    said = " ".join(text.lower().replace(":", " ").replace(",", " ").split())
    for name in _LONGEST_FIRST:
        if said == name or said.startswith(f"{name} "):
            return _NAMES[name]
    return None
