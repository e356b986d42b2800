"""Woods that no table has, described by who knows them: ``quince (like pear, slightly oily)``.

For one piece they are described where they are named; for all pieces under ``woods:`` of the shop.

What stands in brackets behind a name, item by item with commas: what it is like, its pores, oil,
resin, tannin, blotches, what it bleeds in, its colour and how that changes in light, its dust, its
weight. Items that say nothing known are passed over, and brackets without any known item are none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from finishsched.model.inlays import inlays_in
from finishsched.model.job import OF_THE_VENEER, Job, Piece
from finishsched.model.woods import (
    Degree,
    DustHarm,
    Oil,
    PoreClass,
    PoreSize,
    Wood,
    by_name,
    woods_of,
)

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


@dataclass(frozen=True, slots=True)
class OwnWood:
    """A wood that a shop describes itself, for all its pieces."""

    name: str
    words: str
    """What it is like and what it has, with commas: ``like pear, slightly oily, 700 kg/m3``."""


def not_understood(words: str) -> tuple[str, ...]:
    """Return the items of a description that say nothing known."""
    items = [item.strip().lower() for item in words.split(",")]
    return tuple(item for item in items if _wood("", [item], by_name()) is None)


def in_full(species: str, own: Iterable[OwnWood]) -> str:
    """Return ``species`` with the shop's own woods described, those that describe themselves not.

    It is the same text where none of them is named.
    """
    words = {wood.name.lower(): wood.words.lower() for wood in own}
    longest_first = "|".join(re.escape(name) for name in sorted(words, key=len, reverse=True))
    named = rf"(?<![a-z])({longest_first})(?![a-z])(?!\s*\()(?![^()]*\))"

    def described(found: re.Match[str]) -> str:
        name = found[1].lower()
        return f", {name} ({words[name]}), "

    return re.sub(named, described, species, flags=re.IGNORECASE).strip(", ") if words else species


def with_own_woods(job: Job, own: tuple[OwnWood, ...]) -> Job:
    """Return a job whose pieces know the shop's own woods."""
    if not own:
        return job
    return replace(job, pieces=tuple(_with_own_woods(piece, own) for piece in job.pieces))


def _with_own_woods(piece: Piece, own: tuple[OwnWood, ...]) -> Piece:
    inlays = tuple(
        replace(one, described=in_full(one.material, own)) if _is_own(one.material, own) else one
        for one in piece.inlays
    )
    return replace(piece, described=in_full(piece.species, own), inlays=inlays)


def _is_own(name: str, own: Iterable[OwnWood]) -> bool:
    """Tell whether a shop describes the wood called ``name`` itself."""
    return name.lower() in {wood.name.lower() for wood in own}


def is_material(name: str, own: Iterable[OwnWood] = ()) -> bool:
    """Tell whether something of that name can be let in: shell, brass, a wood, one's own wood."""
    known = name.lower() in (*OF_THE_VENEER, "wood", "filler", "epoxy") or _is_own(name, own)
    return known or bool(woods_of(name)) or any(inlays_in(f"{name} inlay"))


def not_a_material(name: str) -> tuple[str, str]:
    """Return what is wrong with the name of a material that nobody knows, and what is right."""
    return (
        f"{name!r:.60} is no material that is known",
        (
            "write for example shell, brass, bone, plastic, epoxy or a wood such as holly; a wood "
            "of your own is described under 'woods:' of the shop"
        ),
    )


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
