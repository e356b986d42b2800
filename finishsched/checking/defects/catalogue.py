"""Every defect by what is seen, with its causes: read from the tables beside this file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from finishsched.checking.defects.causes import (
    FAIR,
    NAMED,
    PLAIN,
    SLIGHT,
    STRONG,
    TOLD,
    Cause,
    Defect,
)
from finishsched.checking.defects.seen import LOOKS, Seen
from finishsched.checking.defects.signs import Sign
from finishsched.checking.rule import PRACTICE
from finishsched.model.kinds import COLOURS, FILMS, MELTING, SHELLACS
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb
from finishsched.tables import Block, blocks_of, several, weighed

WEIGHTS = MappingProxyType(
    {
        "plain": PLAIN,
        "strong": STRONG,
        "fair": FAIR,
        "slight": SLIGHT,
        "against": -FAIR,
        "doubt": -SLIGHT,
    }
)
"""What the table calls the weight of a sign."""
TELLING = MappingProxyType({"hint": FAIR, "told": TOLD, "named": NAMED, "unlike": -FAIR})
"""What it calls the weight of what is said."""
KINDS = MappingProxyType(
    {
        **{kind.value: (kind,) for kind in ProductKind},
        "shellac": SHELLACS,
        "stain": COLOURS,
        "quick": MELTING,
        "film": FILMS,
    }
)
"""What the table calls several kinds of product."""


def _causes() -> Iterator[tuple[Seen, Cause]]:
    for block in blocks_of("causes.txt", __package__):
        for name, often in weighed(block["seen"], ";"):
            yield Seen(name), _cause(block, name, often)


def _cause(block: Block, seen: str, often: float) -> Cause:
    return Cause(
        id=block["name"],
        words=block["words"],
        often=often,
        look=block["look"],
        reworks=several(block.get(f"mend {seen}", block.get("mend", ""))),
        speaks=MappingProxyType(
            {
                Sign(sign): weight
                for key, weight in WEIGHTS.items()
                for sign in several(block.get(key, ""))
            }
        ),
        needs=tuple(
            tuple(Sign(sign) for sign in several(one, " or "))
            for one in several(block.get("needs", ""))
        ),
        rules=several(block.get("rules", "")),
        told=MappingProxyType(
            {
                meaning: weight
                for key, weight in TELLING.items()
                for meaning in several(block.get(key, ""))
            }
        ),
        of=frozenset(kind for name in several(block.get("of", "")) for kind in KINDS[name]),
        only_said="only" in block,
        by=frozenset(Verb(name) for name in several(block.get("by", ""))),
        again=block.get("again", ""),
        colour_again=block.get("colour again", ""),
        thinned_again=float(block.get("thinned again", 0)) / 100,
        source=block.get("source", PRACTICE),
    )


def _catalogue() -> Mapping[Seen, Defect]:
    causes: dict[Seen, list[Cause]] = {seen: [] for seen in Seen}
    for seen, cause in _causes():
        causes[seen].append(cause)
    return MappingProxyType(
        {seen: Defect(seen, LOOKS[seen], tuple(own)) for seen, own in causes.items()}
    )


CATALOGUE = _catalogue()
"""Every defect, its looks and its causes."""
RULES_ASKED = frozenset(
    code for defect in CATALOGUE.values() for cause in defect.causes for code in cause.rules
)
"""The rules of the checker that speak for some cause."""
