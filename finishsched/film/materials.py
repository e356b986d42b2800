"""What lies under the paper: how fast each material gives way, and how deep it is scratched.

Specific wear K, in mm3 for each newton and metre of path on fresh coarse paper. Depth is then
K times force times path over area: Preston, Journal of the Society of Glass Technology, 1927;
Archard, Journal of Applied Physics, 1953 (both from memory). No figure in print was found for a
hand's strokes on any of them: wood is taken by its side hardness, K = 10,000 / Janka (N), which
agrees with times found for belts on softwood and hardwood (Applied Sciences, MDPI, 2021); the rest
by Vickers hardness and a factor of its class, from memory. Wood is good to a factor of 3 each way,
all else to 4, until a maker measures.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from finishsched.model.inlays import inlays_in
from finishsched.model.woods import woods_of


@dataclass(frozen=True, slots=True)
class Material:
    """One material under the paper."""

    name: str
    wear_mm3_per_nm: float
    """K on fresh paper of P150 or coarser, mm3/(N m)."""
    words: str = ""
    scratch_share: float = 0.2
    """Depth of a scratch over the mean grain: wood, film, plastic 0.15 to 0.2; metal and shell
    0.02 to 0.06 (from memory)."""
    spread: float = 4.0
    """Within which factor each way K is known before a maker measures."""


WEAR_TIMES_JANKA = 10_000.0
"""K times Janka hardness, for wood: 1.6 for maple, 6 for spruce."""
WOOD_SPREAD = 3.0

SHELLAC_WEAR = 0.59
FILM = Material("film", SHELLAC_WEAR, "shellac; lacquer 0.4, oil varnish 0.5, two-part 0.15")

INLAID: Mapping[str, Material] = MappingProxyType(
    {
        material.name: material
        for material in (
            Material("shell", 0.048, "mother of pearl, Vickers 168", 0.04),
            Material("bone", 0.11, "Vickers 45", 0.1),
            Material("horn", 0.15, "dry, Vickers 20", 0.1),
            Material("tortoiseshell", 0.17, "Vickers 18", 0.1),
            Material("ivory", 0.14, "Vickers 35", 0.1),
            Material("metal", 0.027, "brass, half hard, Vickers 110", 0.03),
            Material("brass", 0.027, "half hard, Vickers 110", 0.03),
            Material("silver", 0.037, "worked, Vickers 80", 0.03),
            Material("copper", 0.037, "Vickers 80", 0.03),
            Material("pewter", 0.15, "Vickers 20", 0.05),
            Material("plastic", 0.28, "acrylic, Vickers 18"),
            Material("celluloid", 0.28, "Vickers 12"),
            Material("filler", 0.33, "epoxy, Vickers 18"),
            Material("epoxy", 0.33, "Vickers 18"),
        )
    }
)
"""By name: Vickers hardness and the factor of its class, from memory; shell after Taylor and
Layman, Palaeontology, 1972 (from memory)."""


UNKNOWN_JANKA_N = 5000.0
"""Of a wood that is not in the table (our assumption: a middling hardwood)."""


def janka_n(species: str) -> float:
    """Return the side hardness, in N, of the softest wood that ``species`` names."""
    known = [wood.janka_n for wood in woods_of(species) if wood.janka_n is not None]
    return min(known, default=UNKNOWN_JANKA_N)


def wood_of(species: str, hardness_n: float | None = None) -> Material:
    """Return a wood as paper meets it; of a pattern its softest, which gives way first.

    Source: wear goes as one over side hardness (our assumption); hardness by the table of woods.

    Args:
        species: its name, or those of a pattern.
        hardness_n: its side hardness in N, above 0, where its maker knows it; before the table's.

    """
    wear = WEAR_TIMES_JANKA / (hardness_n or janka_n(species))
    return Material("wood", wear, species, spread=WOOD_SPREAD)


def material_of(name: str, hardness_n: float | None = None) -> Material:
    """Return the material of an inlay; a wood by its species where it is none of the table's.

    Source: Vickers hardness, from memory; shell after Taylor and Layman, Palaeontology, 1972 (from
    memory); woods as ``wood_of`` says.

    Args:
        name: ``shell``, ``brass``, ``holly``.
        hardness_n: of a wood, its side hardness in N, above 0, where its maker knows it.

    """
    known = INLAID.get(name.lower())
    if known is not None:
        return known
    # What goes by another name: nacre is shell.
    for other in inlays_in(f"{name} inlay"):
        if other.name in INLAID:
            return INLAID[other.name]
    return wood_of("" if name.lower() == "wood" else name, hardness_n)
