"""What is laid into wood beside wood: shell, bone, horn, metal, plastic, dyed veneer.

Dust of shell: hypersensitivity pneumonitis in workers (European Respiratory Journal 1997;10:780).
Protected species: CITES, appendices of 2023, from memory. What alcohol and water do to each, and
the dust of horn, bone, board and spalted wood: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Inlay:
    """One material: how to know it in a text, and what has to be known of it."""

    name: str
    words: str
    """A regular expression for the names that it goes by, in small letters."""
    dust: str = ""
    """The caution for whatever abrades it."""
    dry_only: bool = True
    """True when work that is wet makes no such dust."""
    lifted_by: tuple[str, ...] = ()
    """What softens it, eats it or carries its colour about: ``alcohol``, ``water``, ``acetone``,
    ``acid``, ``alkali``, ``heat``, ``colour``."""
    soils: bool = False
    """True when its dust sticks in pale pores: it is sealed, or cut first."""
    trade: str = ""
    """Where trade in it is restricted."""


INLAYS = (
    Inlay(
        "shell",
        r"\b(?:nacre|mother[ -]of[ -]pearl|abalone|paua|(?<!walnut )(?<!nut )(?<!egg )(?<!coconut )"
        r"(?:sea ?)?shell)\b",
        "Shell dust can inflame the lungs for good: cut it wet before it is glued in, in the wood "
        "sand it damp with white spirit, not water; extract it, and wear a P3 or P100 mask.",
        dry_only=False,
        lifted_by=("acid",),
    ),
    Inlay(
        "tortoiseshell",
        r"\b(?:tortoise ?shell|hawksbill)\b",
        "Dust of tortoiseshell and horn: extract it and wear a P2 or N95 mask.",
        lifted_by=("heat",),
        trade="hawksbill: CITES I, no trade without papers that prove its age",
    ),
    Inlay(
        "ivory",
        r"\bivory\b",
        "Dust of ivory and bone can carry what is in them: extract it and wear a P3 or P100 mask.",
        lifted_by=("acid", "colour", "water"),
        trade="elephant ivory: CITES I, and many countries forbid all trade in it",
    ),
    Inlay(
        "bone",
        r"\b(?:bone|antler)\b",
        "Dust of bone and antler can carry what is in them: extract it, wear a P3 or P100 mask, "
        "and keep it from overheating.",
        lifted_by=("acid", "colour", "water"),
    ),
    Inlay(
        "horn",
        r"\bhorn\b(?! ?beam)",
        "Dust of horn can bring on allergy: extract it and wear a P2 or N95 mask.",
        lifted_by=("heat", "colour", "water"),
    ),
    Inlay(
        "metal",
        r"\b(?:brass|copper|silver|pewter|tin|aluminium|aluminum|german silver|steel)"
        r"(?= ?(?:wire|inlay|line|lines|stringing|sheet|dot|dots)\b)",
        "Metal dust is sharp and hot: eyes covered, no spark near solvents or wood dust.",
        lifted_by=("acid", "alkali"),
        soils=True,
    ),
    Inlay(
        "celluloid",
        r"\b(?:celluloid|cellulose nitrate)\b",
        "Celluloid burns like a fuse: no flame, no hot tool, its dust wetted and out of doors.",
        lifted_by=("alcohol", "acetone", "heat"),
    ),
    Inlay(
        "plastic",
        r"\b(?:plastic|acrylic sheet|acetate sheet|casein|phenolic)\b",
        "Dust of plastics irritates: extract it and wear a P2 or N95 mask.",
        lifted_by=("acetone", "heat"),
    ),
    Inlay("dyed veneer", r"\bdyed\b", lifted_by=("alcohol", "water"), soils=True),
    Inlay(
        "board",
        r"\b(?:mdf|fibreboard|fiberboard|chipboard|particle ?board|plywood)\b",
        "Dust of board holds its glue, which may give off formaldehyde: extract it, P3 or P100.",
    ),
    Inlay(
        "spalted wood",
        r"\bspalted\b",
        "Spalted wood holds fungus: a P3 or P100 mask, and not for those with weak lungs.",
    ),
)


def inlays_in(text: str) -> Iterator[Inlay]:
    """Give what ``text`` names beside wood."""
    low = text.lower()
    for one in INLAYS:
        if re.search(one.words, low):
            yield one
