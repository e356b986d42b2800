"""Woods that no table has, described by who knows them: ``quince (like pear, slightly oily)``.

What stands in brackets behind a name, item by item with commas: what it is like, its pores, oil,
resin, tannin, blotches, what it bleeds in, its colour and how that changes in light, its dust, its
weight. Items that say nothing known are passed over, and brackets without any known item are none.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from finishsched.model.woods import Degree, DustHarm, Oil, PoreClass, PoreSize, Wood

_OPEN = {"pore_class": PoreClass.OPEN, "size": PoreSize.MEDIUM}
_HALF = {"pore_class": PoreClass.HALF_OPEN, "size": PoreSize.SMALL}
_CLOSED = {"pore_class": PoreClass.CLOSED, "size": PoreSize.SMALL}
SAYS: Mapping[str, Mapping[str, Any]] = MappingProxyType(
    {
        "open pores": _OPEN,
        "open-pored": _OPEN,
        "half-open pores": _HALF,
        "half open pores": _HALF,
        "closed pores": _CLOSED,
        "closed-pored": _CLOSED,
        "slightly oily": {"oil": Oil.SLIGHT},
        "oily": {"oil": Oil.OILY},
        "very oily": {"oil": Oil.VERY},
        "resinous": {"resinous": True, "pores": "softwood"},
        "some tannin": {"tannin": Degree.SOME},
        "tannin": {"tannin": Degree.HIGH},
        "much tannin": {"tannin": Degree.HIGH},
        "blotches": {"blotches": Degree.YES},
        "bleeds in alcohol": {"bleeds_in": ("alcohol",)},
        "bleeds in water": {"bleeds_in": ("water",)},
        **{colour: {"colour": colour} for colour in ("pale", "yellow", "red", "brown", "dark")},
        **{turn: {"in_light": turn} for turn in ("darkens", "lightens", "fades", "yellows")},
        "stable": {"in_light": "stable"},
        "dust brings on allergy": {"dust": (DustHarm.SENSITISES,)},
        "dust irritates": {"dust": (DustHarm.IRRITATES,)},
        "dust is poisonous": {"dust": (DustHarm.POISONOUS,)},
    }
)
"""What an item in the brackets means; pores of a size that is usual for their kind (our
assumption)."""
_DESCRIBED = re.compile(r"([a-z][a-z '-]*?)\s*\(([^()]*)\)")
_UNLIKE_ANY = Wood("", PoreClass.CLOSED, PoreSize.SMALL)


def described_in(text: str, known: Mapping[str, Wood]) -> dict[str, Wood]:
    """Return the woods that ``text`` describes, by their names in small letters.

    ``known`` are those that one may be like. A name runs back from its brackets to a comma, a
    stroke or ``and``.
    """
    found: dict[str, Wood] = {}
    for match in _DESCRIBED.finditer(text.lower()):
        name = re.split(r",|/|;|\band\b", match[1])[-1].strip()
        wood = _wood(name, [item.strip() for item in match[2].split(",")], known)
        if name and wood is not None:
            found[name] = wood
    return found


def _wood(name: str, items: list[str], known: Mapping[str, Wood]) -> Wood | None:
    wood, says = _UNLIKE_ANY, False
    for item in items:
        like = item.removeprefix("like ").strip()
        if item.startswith("like ") and like in known:
            wood, says = known[like], True
        weight = re.fullmatch(r"(\d{2,4}) ?kg/m3", item)
        changes = SAYS.get(item) or ({"kg_per_m3": float(weight[1])} if weight else {})
        bleeds = changes.get("bleeds_in")
        if bleeds is not None:
            before = [liquid for liquid in wood.bleeds_in if liquid != "slight"]
            changes = {"bleeds_in": tuple(dict.fromkeys((*before, *bleeds)))}
        wood, says = replace(wood, **changes), says or bool(changes)
    return replace(wood, name=name, trade_listed="", botanical="") if says else None
