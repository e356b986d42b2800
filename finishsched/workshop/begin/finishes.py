"""What each kind of last coat bears, and how it comes off again: one row a kind.

Common practice, no source; a maker's data sheet for the product at hand goes before it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from finishsched.documents.wording import did_you_mean
from finishsched.model.product import ProductKind
from finishsched.workshop.base.entries import RefusedError


class Wear(StrEnum):
    """What a piece will live through."""

    LOOKED_AT = "looked at"
    HANDLED = "handled"
    WATER = "water"
    ALCOHOL = "alcohol"
    HEAT = "heat"


@dataclass(frozen=True, slots=True)
class Finish:
    """What a kind of finish is like when it is done."""

    name: str
    bears: frozenset[Wear]
    comes_off: str
    reversible: bool
    """True where a restorer gets it off without cutting into the wood."""
    colour: str


GENTLE = frozenset({Wear.LOOKED_AT, Wear.HANDLED})

_SHELLAC = Finish(
    "shellac", GENTLE, "alcohol dissolves it at any age", reversible=True,
    colour="nearly clear to warm brown, by the flakes",
)  # fmt: skip

FINISHES: Mapping[ProductKind, Finish] = MappingProxyType(
    {
        ProductKind.FLAKES: _SHELLAC,
        ProductKind.SHELLAC: _SHELLAC,
        ProductKind.OIL: Finish(
            "oil", GENTLE | {Wear.WATER, Wear.ALCOHOL},
            "it is in the wood: sanding or scraping only", reversible=False,
            colour="amber, deeper with age",
        ),
        ProductKind.VARNISH: Finish(
            "varnish", GENTLE | {Wear.WATER, Wear.ALCOHOL, Wear.HEAT},
            "stripper or scraper", reversible=False, colour="amber, deeper with age",
        ),
        ProductKind.LACQUER: Finish(
            "lacquer", GENTLE | {Wear.WATER},
            "lacquer thinner dissolves it", reversible=True, colour="nearly clear, yellows slowly",
        ),
        ProductKind.WATERBORNE: Finish(
            "waterborne", GENTLE | {Wear.WATER, Wear.ALCOHOL},
            "stripper or scraper", reversible=False, colour="clear and cool",
        ),
        ProductKind.WAX: Finish(
            "wax", frozenset({Wear.LOOKED_AT}),
            "mineral spirits wash it off", reversible=True, colour="nearly clear",
        ),
    }
)  # fmt: skip
"""By the kind of the last coat that lays film."""


def read_wear(text: str) -> frozenset[Wear]:
    """Return what a piece will live through, named with commas between.

    Raises:
        RefusedError: for what is no wear.

    """
    found = set()
    known = [wear.value for wear in Wear]
    for part in filter(None, (p.strip().lower() for p in re.split(r",|;|\band\b", text))):
        if part not in known:
            raise RefusedError(f"{part!r:.40} is nothing known here", did_you_mean(part, known))
        found.add(Wear(part))
    return frozenset(found)
