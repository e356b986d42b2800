"""How deep the hollows of a wood's face are, and whether they want filling.

The woods themselves stand in ``model/woods.txt``. No printed figure was found for how deep a cut
pore lies open; depths are our assumption, from the usual widths of vessels: large over 0.2 mm,
medium 0.1 to 0.2 mm, small under 0.1 mm (from memory).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from finishsched.mixing.amount import Range
from finishsched.model.woods import PoreSize, woods_of

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
