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


def seen_in(text: str) -> Seen | None:
    """Return the defect that ``text`` begins with by any of its names, or None.

    ``blush along the hinge edge`` is blush; ``a bit of blush`` is only text.
    """
    said = " ".join(text.lower().replace(":", " ").replace(",", " ").split())
    for name in _LONGEST_FIRST:
        if said == name or said.startswith(f"{name} "):
            return _NAMES[name]
    return None
