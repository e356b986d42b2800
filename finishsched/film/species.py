"""Woods: how open their pores are, whether they want filling, and how deep the hollows are.

Pores and the need to fill them as wood handbooks print them, except where marked from memory. No
printed figure was found for how deep a cut pore lies open; depths are our assumption, from the
usual widths of vessels: large over 0.2 mm, medium 0.1 to 0.2 mm, small under 0.1 mm (from memory).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from finishsched.mixing.amount import Pores, Range


class PoreSize(StrEnum):
    """How large the pores of a wood are."""

    LARGE = "large"
    MEDIUM = "medium"
    SMALL = "small"
    VERY_SMALL = "very small"


@dataclass(frozen=True, slots=True)
class Wood:
    """One wood's pores."""

    name: str
    size: PoreSize
    pores: str
    """How they lie: ``ring``, ``semi-ring``, ``diffuse`` or ``softwood``."""
    fill: bool
    """True when they have to be filled for a surface like glass."""
    oily: bool = False


WOODS: Mapping[str, Wood] = MappingProxyType(
    {
        wood.name: wood
        for wood in (
            Wood("ash", PoreSize.LARGE, "ring", fill=True),
            Wood("oak", PoreSize.LARGE, "ring", fill=True),
            Wood("elm", PoreSize.LARGE, "ring", fill=True),
            Wood("hickory", PoreSize.LARGE, "ring", fill=True),
            Wood("chestnut", PoreSize.LARGE, "ring", fill=True),
            Wood("locust", PoreSize.LARGE, "ring", fill=True),
            Wood("walnut", PoreSize.MEDIUM, "semi-ring", fill=True),
            Wood("butternut", PoreSize.MEDIUM, "semi-ring", fill=True),
            Wood("mahogany", PoreSize.LARGE, "diffuse", fill=True),
            Wood("sapele", PoreSize.MEDIUM, "diffuse", fill=True),
            Wood("rosewood", PoreSize.LARGE, "diffuse", fill=True, oily=True),
            Wood("teak", PoreSize.LARGE, "ring to semi-ring", fill=True, oily=True),
            Wood("wenge", PoreSize.LARGE, "diffuse", fill=True),
            Wood("padauk", PoreSize.LARGE, "diffuse", fill=True, oily=True),
            Wood("koa", PoreSize.MEDIUM, "diffuse", fill=True),
            Wood("cherry", PoreSize.SMALL, "semi-ring to diffuse", fill=False),
            Wood("maple", PoreSize.VERY_SMALL, "diffuse", fill=False),
            Wood("birch", PoreSize.SMALL, "diffuse", fill=False),
            Wood("beech", PoreSize.SMALL, "diffuse", fill=False),
            Wood("alder", PoreSize.SMALL, "diffuse", fill=False),
            Wood("poplar", PoreSize.SMALL, "diffuse", fill=False),
            Wood("sycamore", PoreSize.SMALL, "diffuse", fill=False),
            Wood("basswood", PoreSize.SMALL, "diffuse", fill=False),
            Wood("ebony", PoreSize.VERY_SMALL, "diffuse", fill=False),
            Wood("spruce", PoreSize.VERY_SMALL, "softwood", fill=False),
            Wood("pine", PoreSize.VERY_SMALL, "softwood", fill=False),
            Wood("cedar", PoreSize.VERY_SMALL, "softwood", fill=False),
            Wood("pear", PoreSize.VERY_SMALL, "diffuse", fill=False),
            Wood("holly", PoreSize.VERY_SMALL, "diffuse", fill=False),
            Wood("boxwood", PoreSize.VERY_SMALL, "diffuse", fill=False),
        )
    }
)
"""By name. Wood handbooks, in reprint; ebony, pear, holly, boxwood, oiliness but teak's, and the
pore size of elm to locust, wenge, padauk and koa, from memory."""

HOLLOW_UM: Mapping[PoreSize, Range] = MappingProxyType(
    {
        PoreSize.LARGE: Range(100.0, 200.0, 300.0),
        PoreSize.MEDIUM: Range(60.0, 120.0, 180.0),
        PoreSize.SMALL: Range(5.0, 12.0, 30.0),
        PoreSize.VERY_SMALL: Range(3.0, 8.0, 20.0),
    }
)
"""How deep the hollows of a sanded face are, before filling, in um (our assumption)."""

UNKNOWN_HOLLOW_UM = Range(5.0, 60.0, 200.0)
"""For a wood that is not in the table (our assumption)."""

SEAM_UM = Range(20.0, 45.0, 80.0)
"""Seams and steps of a face laid of several woods, which no filler takes out (our assumption)."""

MEASURED_SHARE = Range(0.75, 1.0, 1.25)
"""How far a relief that somebody stated may be out (our assumption)."""


def woods_of(species: str) -> tuple[Wood, ...]:
    """Return the woods that ``species`` names, each once, those in the table only."""
    words = re.findall(r"[a-z]+", species.lower())
    return tuple(WOODS[word] for word in dict.fromkeys(words) if word in WOODS)


def is_pattern(species: str) -> bool:
    """Tell whether more than one wood shows side by side."""
    return len([w for w in re.split(r",|\band\b|/|\+", species.lower()) if w.strip()]) > 1


def pores_hollow_um(species: str) -> Range:
    """Return how deep the deepest hollows of the wood are before filling: its most open wood's."""
    woods = woods_of(species)
    if not woods:
        return UNKNOWN_HOLLOW_UM
    return max((HOLLOW_UM[wood.size] for wood in woods), key=lambda hollow: hollow.likely)


def wants_filling(species: str) -> bool | None:
    """Tell whether a glass surface needs its pores filled; None when no wood of it is known."""
    woods = woods_of(species)
    return any(wood.fill for wood in woods) if woods else None


def pores_named(species: str) -> Pores:
    """Return how open the grain is, as amounts are reckoned by; one open wood is enough."""
    wants = wants_filling(species)
    if wants is None:
        return Pores.UNKNOWN
    return Pores.OPEN if wants else Pores.CLOSED
