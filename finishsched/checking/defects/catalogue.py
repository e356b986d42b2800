"""Every defect by what is seen, with its causes: read from the tables beside this file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib import resources
from types import MappingProxyType
from typing import TypeAlias

from finishsched.checking.defects.causes import FAIR, PLAIN, SLIGHT, STRONG, Cause, Defect
from finishsched.checking.defects.seen import LOOKS, Seen
from finishsched.checking.defects.signs import Sign
from finishsched.model.kinds import COLOURS, FILMS, MELTING, SHELLACS
from finishsched.model.product import ProductKind

Block: TypeAlias = Mapping[str, str]

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


def _blocks() -> Iterator[Block]:
    """Give each block of the table: ``name`` for its first line, then its keys."""
    text = (resources.files(__package__) / "causes.txt").read_text("utf-8")
    plain = "\n".join(line for line in text.splitlines() if not line.startswith("#"))
    for block in plain.strip().split("\n\n"):
        first, *lines = block.strip().splitlines()
        yield {"name": first, **dict(_pair(line) for line in lines)}


def _pair(line: str) -> tuple[str, str]:
    key, _, value = line.partition(": ")
    return key, value


def _causes() -> Iterator[tuple[Seen, Cause]]:
    for block in _blocks():
        for one in _several(block["seen"], ";"):
            name, _, often = one.rpartition(" ")
            yield Seen(name), _cause(block, name, float(often))


def _cause(block: Block, seen: str, often: float) -> Cause:
    id_, words = _pair(block["name"])
    return Cause(
        id=id_,
        words=words,
        often=often,
        look=block["look"],
        reworks=_several(block.get(f"mend {seen}", block.get("mend", ""))),
        speaks=MappingProxyType(
            {
                Sign(sign): weight
                for key, weight in WEIGHTS.items()
                for sign in _several(block.get(key, ""))
            }
        ),
        needs=tuple(Sign(sign) for sign in _several(block.get("needs", ""))),
        rules=_several(block.get("rules", "")),
        said=_several(block.get("said", "")),
        of=frozenset(kind for name in _several(block.get("of", "")) for kind in KINDS[name]),
        source=block.get("source", "common practice, no source"),
    )


def _several(cell: str, mark: str = ",") -> tuple[str, ...]:
    return tuple(one.strip() for one in cell.split(mark) if one.strip())


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
