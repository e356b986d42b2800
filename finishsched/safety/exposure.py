"""How much of each liquid may be breathed: every limit that is known, and which one decides.

Parts per million of the air. The lowest of all counts, the shop's own among them: lists differ by
five times and more, and the legal ones are the oldest. Limits over eight hours and over a quarter
of an hour are held alike, since a room's peak is what is compared with them. The product's safety
data sheet and local rules come first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from finishsched.model.solvent import Liquid, LocalLimit

if TYPE_CHECKING:
    from finishsched.safety.solvents import Solvent

ONTARIO = "Ontario Regulation 833"
ACGIH = "ACGIH TLV"
SHOPS_OWN = "the shop's own document"
MOLAR_VOLUME_L = 24.45
"""Of a gas at 25 degC and one atmosphere, as exposure limits are reckoned."""


class Limit(NamedTuple):
    """One list's limit of one liquid."""

    ppm: float
    whose: str


_MORE: Mapping[Liquid, tuple[Limit, ...]] = MappingProxyType(
    {
        Liquid.ETHANOL: (Limit(1000, f"{ONTARIO} (15 min)"), Limit(1000, f"{ACGIH} (15 min)")),
        Liquid.METHANOL: (Limit(200, ONTARIO), Limit(200, ACGIH)),
        Liquid.ISOPROPANOL: (Limit(200, ONTARIO), Limit(200, ACGIH)),
        Liquid.ACETONE: (Limit(500, ONTARIO), Limit(250, ACGIH)),
        Liquid.MINERAL_SPIRITS: (Limit(100, ONTARIO), Limit(100, ACGIH)),
        Liquid.TURPENTINE: (Limit(20, ONTARIO), Limit(20, ACGIH)),
        Liquid.TOLUENE: (Limit(20, ONTARIO), Limit(20, ACGIH)),
        Liquid.XYLENE: (Limit(100, ONTARIO), Limit(20, ACGIH)),
        Liquid.BUTYL_ACETATE: (Limit(150, ONTARIO), Limit(50, ACGIH)),
        Liquid.ETHYL_ACETATE: (Limit(400, ONTARIO), Limit(400, ACGIH)),
        Liquid.BUTOXYETHANOL: (Limit(20, ONTARIO), Limit(20, ACGIH)),
    }
)
"""Ontario Regulation 833, table of limits, as transcribed in a public repository of chemical
properties; ACGIH threshold limit values from public listings, those of turpentine and xylene from
memory. Ontario's of acetone and of n-butyl acetate are older ones."""


def limits_of(solvent: Solvent, local: Iterable[LocalLimit] = ()) -> tuple[Limit, ...]:
    """Return every limit known of a liquid, the lowest first; of equal ones the legal list's."""
    found = [
        *(Limit(one.ppm, SHOPS_OWN) for one in local if one.liquid is solvent.liquid),
        *([Limit(solvent.rel_ppm, "NIOSH REL")] if solvent.rel_ppm is not None else ()),
        *([Limit(solvent.pel_ppm, "OSHA PEL")] if solvent.pel_ppm is not None else ()),
        *_MORE.get(solvent.liquid, ()),
    ]
    return tuple(sorted(found, key=lambda limit: limit.ppm))


def lowest_limit(solvent: Solvent, local: Iterable[LocalLimit] = ()) -> Limit:
    """Return the limit that decides; every liquid of the table has one."""
    return limits_of(solvent, local)[0]
