"""How dense a wood is, which decides how quickly water leaves it."""

from __future__ import annotations

from finishsched.model.woods import woods_of

UNKNOWN_KG_PER_M3 = 600.0
"""For a wood that is not in the table (our assumption)."""


def density_kg_per_m3(species: str) -> float:
    """Return the density of the densest wood that ``species`` names: it dries the slowest."""
    named = [wood.kg_per_m3 for wood in woods_of(species) if wood.kg_per_m3 is not None]
    return max(named, default=UNKNOWN_KG_PER_M3)
