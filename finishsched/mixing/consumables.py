"""What a job takes beside its finishes: papers, pads, cloths, tape, and what wets the paper.

No published figure for the life of a sheet in the hand was found: every figure here is our
assumption, wide on purpose, for whole sheets and cloths. A shop that counts its own knows better.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeAlias

from finishsched.mixing.need import PieceWork
from finishsched.model.doing import Abrades
from finishsched.model.grades import Form, form_of
from finishsched.model.lubricants import LUBRICANT_WORDS, is_wet
from finishsched.model.product import Product
from finishsched.model.ranges import Range
from finishsched.model.step import Step
from finishsched.model.verbs import Verb

SOURCE = "our assumption; no published life of a sheet in the hand was found"

SHEET_MM, CLOTH_MM = (230.0, 280.0), (300.0, 300.0)
"""The sides of a whole sheet, and of a cloth."""
_LISTED_FIRST = ("sheet", "pad", "cover", "cloth", "m")
"""What is counted otherwise comes after these."""

SHEET_DOES_M2: Mapping[str, Range] = MappingProxyType(
    {
        "wood": Range(0.5, 1.0, 2.0),
        "film, dry": Range(0.3, 0.8, 1.6),
        "film, wet": Range(1.0, 2.0, 4.0),
        "wool or pad": Range(0.5, 1.0, 2.0),
    }
)
"""How much of a face one whole sheet goes over once, in m2; of wool and pads, one of a hand's size.
Film clogs a dry sheet soonest; wet it lasts longest."""
LEAST_SHEET = Range(0.25, 0.25, 0.25)
"""Nobody tears a sheet smaller than a quarter, and each grade begins on a fresh one."""
LEAST_PAD = Range(0.5, 0.5, 0.5)
LEAST_CLOTH = Range(0.125, 0.25, 1.0)
"""Each wiping begins on a clean face: folded in four or eight a cloth has as many, and some take a
new one (common practice, no source)."""
CLOTH_DOES_M2 = Range(0.25, 0.5, 1.0)
"""How much of a face a clean cloth wipes before it only spreads."""
COVER_SITTINGS = Range(1.0, 1.0, 2.0)
"""For how many sittings the cover of a pad is good."""
TAPE_SHARE = Range(0.5, 1.0, 2.0)
"""Length of tape over the outline of a square of that area."""
SANDS_WET_ML_PER_M2 = Range(30.0, 60.0, 120.0)
"""What wets a paper; other verbs say their own. Water is not counted."""


@dataclass(frozen=True, slots=True)
class Consumable:
    """One thing that is used up, as much as all the work left takes."""

    name: str
    """``P240``, ``cloth``, or a product's id."""
    unit: str
    """``sheet``, ``pad``, ``cloth``, ``cover``, ``m`` of tape or ``ml``."""
    amount: Range


AtOnce: TypeAlias = tuple[str, Verb, str | None, str | None, str | None]


def at_once(step: Step) -> AtOnce:
    """Return by what a step is the same on several pieces: these share what it uses up."""
    return step.key, step.verb, step.grade, step.lubricant, step.product


def consumables_of(
    works: Iterable[PieceWork], products: Mapping[str, Product]
) -> tuple[Consumable, ...]:
    """Return what the steps left take, papers from coarse to fine as they come, cloths after.

    Pieces at the same step share its sheets, its cloths and the cover of its pad, as they share the
    pad: they are worked one after the other.
    """
    shared: dict[AtOnce, tuple[Step, float]] = {}
    for work in works:
        for step in work.steps:
            if step.key in work.left:
                _, area_m2 = shared.get(at_once(step), (step, 0.0))
                shared[at_once(step)] = step, area_m2 + work.area_m2
    found: dict[tuple[str, str], Range] = defaultdict(lambda: Range(0.0, 0.0, 0.0))
    for step, area_m2 in shared.values():
        for name, unit, amount in _of_step(step, area_m2, products):
            found[name, unit] = found[name, unit] + amount
    rows = (Consumable(name, unit, amount) for (name, unit), amount in found.items())
    return tuple(sorted(rows, key=lambda one: _place(one.unit)))


def _place(unit: str) -> tuple[bool, int]:
    """Return by what a row is listed: papers first, whatever is measured out last."""
    at = _LISTED_FIRST.index(unit) if unit in _LISTED_FIRST else len(_LISTED_FIRST)
    return unit == "ml", at


def _of_step(
    step: Step, area_m2: float, products: Mapping[str, Product]
) -> Iterator[tuple[str, str, Range]]:
    if step.verb.abrades and step.grade:
        yield from _abrasive(step, area_m2)
    if step.verb.does.cleans or step.verb.does.with_cloths:
        yield "cloth", "cloth", _count(area_m2, CLOTH_DOES_M2, least=LEAST_CLOTH)
    if step.verb is Verb.PAD and step.coat == 1:
        yield "pad cover", "cover", _over(1.0, COVER_SITTINGS)
    if step.verb is Verb.MASK:
        yield "masking tape", "m", TAPE_SHARE.times(4 * math.sqrt(area_m2))
    yield from _wets(step, area_m2, products)


def _abrasive(step: Step, area_m2: float) -> Iterator[tuple[str, str, Range]]:
    """Give the paper or the pad; powders are products, and a scraper is not used up."""
    grade = step.grade or ""
    form = form_of(grade)
    on_film = step.verb.does.abrades is not Abrades.WOOD
    on = ("film, wet" if is_wet(step.lubricant) else "film, dry") if on_film else "wood"
    if form is Form.PAD:
        yield grade, form.value, _count(area_m2, SHEET_DOES_M2["wool or pad"], least=LEAST_PAD)
    elif form is Form.SHEET:
        yield grade, form.value, _count(area_m2, SHEET_DOES_M2[on], least=LEAST_SHEET)


def _wets(
    step: Step, area_m2: float, products: Mapping[str, Product]
) -> Iterator[tuple[str, str, Range]]:
    """Give what wets the paper, the pad or the cloth, where it is a product that is bought."""
    name = step.lubricant if step.lubricant not in LUBRICANT_WORDS else None
    if name is None and step.verb.does.cleans and step.spread is None:
        name = step.product
    if name is None or name not in products or name == "water":
        return
    per_m2 = step.verb.does.damps_ml_per_m2 or SANDS_WET_ML_PER_M2
    yield name, "ml", per_m2.times(area_m2)


def _count(area_m2: float, does_m2: Range, least: Range) -> Range:
    """Return how many an area takes, the better they last the fewer; ``least`` of one at least."""
    found = _over(area_m2, does_m2)
    return Range(
        max(least.low, found.low), max(least.likely, found.likely), max(least.high, found.high)
    )


def _over(amount: float, by: Range) -> Range:
    return Range(amount / by.high, amount / by.likely, amount / by.low)
