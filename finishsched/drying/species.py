"""How dense a wood is, which decides how quickly water leaves it.

Specific gravity at 12 % moisture, USDA Wood Handbook, chapter 5, in a reprint; ebony's is from
memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

UNKNOWN_KG_PER_M3 = 600.0
"""For a wood that is not in the table (our assumption)."""

DENSITY_KG_PER_M3: Mapping[str, float] = MappingProxyType(
    {
        "alder": 410.0,
        "ash": 600.0,
        "basswood": 370.0,
        "beech": 640.0,
        "birch": 620.0,
        "butternut": 380.0,
        "cedar": 320.0,
        "cherry": 500.0,
        "chestnut": 430.0,
        "ebony": 1030.0,
        "elm": 500.0,
        "hickory": 720.0,
        "koa": 600.0,
        "locust": 690.0,
        "mahogany": 500.0,
        "maple": 630.0,
        "oak": 650.0,
        "padauk": 720.0,
        "pine": 350.0,
        "poplar": 420.0,
        "rosewood": 830.0,
        "sapele": 640.0,
        "spruce": 400.0,
        "sycamore": 490.0,
        "teak": 660.0,
        "walnut": 550.0,
        "wenge": 880.0,
    }
)


def density_kg_per_m3(species: str) -> float:
    """Return the density of the densest wood that ``species`` names: it dries the slowest."""
    words = species.lower().replace(",", " ").split()
    named = [DENSITY_KG_PER_M3[word] for word in words if word in DENSITY_KG_PER_M3]
    return max(named, default=UNKNOWN_KG_PER_M3)
