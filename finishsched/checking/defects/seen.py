"""What is seen when something is wrong, in the trade's words."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from finishsched.checking.defects.signs import Sign
from finishsched.tables import blocks_of, several, weighed


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
    WARP = "warp"
    RIPPLES = "ripples"
    TORN_GRAIN = "torn grain"
    CHIP = "chip"
    OFF_SHADE = "off shade"
    WEAR = "wear"
    SMELL = "smell"
    WORM_HOLES = "worm holes"
    OFF_SHEEN = "off sheen"


_BLOCKS = MappingProxyType(
    {Seen(block["name"]): block for block in blocks_of("defects.txt", __package__)}
)
LOOKS: Mapping[Seen, str] = MappingProxyType({seen: own["words"] for seen, own in _BLOCKS.items()})
"""What each defect looks like, in a sentence."""
TELLS: Mapping[Seen, Mapping[frozenset[str], float]] = MappingProxyType(
    {
        seen: MappingProxyType(
            {frozenset(named.split("+")): by for named, by in weighed(own["tells"])}
        )
        for seen, own in _BLOCKS.items()
    }
)
"""What speaks for each defect, alone or together, in log-odds: the names are of ``words.txt``."""
OF_THE_LOG: Mapping[Seen, Mapping[Sign, float]] = MappingProxyType(
    {
        seen: MappingProxyType({Sign(sign): by for sign, by in weighed(own["log"])})
        for seen, own in _BLOCKS.items()
    }
)
"""What of the log speaks for each defect, whatever its cause, in log-odds."""
_NAMES = MappingProxyType(
    {name: seen for seen, own in _BLOCKS.items() for name in (seen.value, *several(own["names"]))}
)
_LONGEST_FIRST = sorted(_NAMES, key=lambda name: (-len(name), name))


def all_names() -> Mapping[str, Seen]:
    """Return every name of every defect."""
    return _NAMES


def seen_in(text: str) -> Seen | None:
    """Return the defect that ``text`` begins with by any of its names, or None.

    ``blush along the hinge edge`` is blush; ``a bit of blush`` is only text. Of names in a row the
    last is what it is, and those before it say how: ``dull soft streaks`` are streaks.
    """
    said = " ".join(text.lower().replace(":", " ").replace(",", " ").split())
    found = None
    while (name := _name_at_front(said)) is not None:
        found, said = _NAMES[name], said.removeprefix(name).lstrip()
    return found


def _name_at_front(said: str) -> str | None:
    names = (name for name in _LONGEST_FIRST if f"{said} ".startswith(f"{name} "))
    return next(names, None)
