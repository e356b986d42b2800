"""Cautions for one step, short, in the order of what can hurt first.

They are the usual cautions of the trade and of the hazard statements on the label (UN GHS), in our
own words. They never replace the product's safety data sheet, local codes or licensed practice.
Self-heating of oily rags: NFPA safety tip sheet. Methanol passes organic-vapour cartridges, and
only supplied air is listed for ethanol above its limit: NIOSH Pocket Guide.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum

from finishsched.model.product import Product, ProductKind, RagHabit
from finishsched.model.schedule import Verb
from finishsched.model.step import Step

DEFERRAL = "The product's safety data sheet and local codes come first."


FLAMMABLE_VAPOUR = (
    "Flammable vapour, heavier than air: no flame, spark, heater or unrated fan near it."
)


class Danger(IntEnum):
    """What a caution guards against, the quickest to hurt first."""

    FIRE = 1
    VAPOUR = 2
    RAGS = 3
    DUST = 4
    SKIN = 5
    HEAT = 6
    OTHER = 7


@dataclass(frozen=True, slots=True, order=True)
class Caution:
    """One caution and what it guards against."""

    danger: Danger
    text: str


_FLAMMABLE = {"H224", "H225", "H226", "H228"}
_POISONOUS_VAPOUR = {"H330", "H331", "H332", "H370", "H371"}
_BREATHED = {"H335", "H336", "H373"}
_SKIN = {"H314", "H315", "H318", "H319", "H311", "H312", "H310"}
_SENSITISING = {"H317", "H334"}


def cautions_for(
    step: Step, products: Sequence[Product], beneath: Sequence[Product] = ()
) -> tuple[Caution, ...]:
    """Return the cautions for ``step``, which uses ``products``, the gravest first.

    ``products`` are all that the step brings into the room: what is applied, its solvent or
    thinner, the lubricant. ``beneath`` is what was laid before, which a dry abrasive makes dust of.
    The step's and the products' own cautions come last.
    """
    found = {
        *_from_labels(products),
        *_from_rags(products),
        *_from_dust(step, products, beneath),
        *_from_kinds(step, products),
    }
    own = [*step.cautions, *(text for product in products for text in product.cautions)]
    found.update(Caution(Danger.OTHER, text) for text in own)
    return tuple(sorted(found))


def _from_labels(products: Iterable[Product]) -> Iterable[Caution]:
    codes = {code[:4] for product in products for code in product.hazards}
    if codes & _FLAMMABLE:
        yield Caution(
            Danger.FIRE,
            FLAMMABLE_VAPOUR,
        )
    if codes & _POISONOUS_VAPOUR:
        yield Caution(
            Danger.VAPOUR,
            "Vapour poisonous to breathe: move fresh air through the room; "
            "a cartridge mask does not hold methanol.",
        )
    elif codes & (_FLAMMABLE | _BREATHED):
        yield Caution(
            Danger.VAPOUR,
            "Open a window and move air through; the air at the pad is worse than in the room.",
        )
    if codes & _SENSITISING:
        yield Caution(Danger.SKIN, "Can make you allergic for life: gloves, and none on the skin.")
    if codes & _SKIN:
        yield Caution(
            Danger.SKIN, "Gloves that the data sheet names, and eyes covered when pouring."
        )


def _from_rags(products: Iterable[Product]) -> Iterable[Caution]:
    habits = {product.rags for product in products}
    if RagHabit.SELF_HEATING in habits:
        yield Caution(
            Danger.RAGS,
            "Rags and pads can catch fire by themselves: spread flat outdoors in one layer, "
            "or under water in a closed metal can. Never in a heap.",
        )
    elif RagHabit.FLAMMABLE in habits:
        yield Caution(
            Danger.RAGS,
            "Wet rags and pads burn readily: dry them outdoors, or keep the pad in a closed jar.",
        )


def _from_dust(
    step: Step, products: Iterable[Product], beneath: Iterable[Product]
) -> Iterable[Caution]:
    wet = step.lubricant not in (None, "dry")
    if step.verb is Verb.SAND and not wet:
        yield Caution(
            Danger.DUST, "Wood dust harms the lungs: extract it, and wear a P2 or N95 mask."
        )
    if step.verb is Verb.LEVEL and not wet:
        yield Caution(
            Danger.DUST, "Dust of the film and filler: wear a mask, and keep it off wet work."
        )
    abrades_dry = step.verb in (Verb.SAND, Verb.LEVEL) and not wet
    if abrades_dry and any(product.kind is ProductKind.FILLER for product in beneath):
        yield Caution(
            Danger.DUST,
            "Filler holds silica: sand it with extraction and a P3 or P100 mask, or damp.",
        )
    if any(product.kind is ProductKind.POWDER for product in products):
        yield Caution(Danger.DUST, "Rubbing powders may hold silica: keep them damp, do not blow.")


def _from_kinds(step: Step, products: Iterable[Product]) -> Iterable[Caution]:
    if any(product.pot_life_s for product in products):
        yield Caution(
            Danger.HEAT,
            "Mixed in a cup it heats by itself: mix little, spread it out, mind the pot life.",
        )
    if step.verb is Verb.GLUE_UP and any("hot" in product.title.lower() for product in products):
        yield Caution(Danger.HEAT, "Hot glue scalds: keep water at hand, and the pot steady.")
    if step.verb is Verb.STRIP_TAPE:
        yield Caution(
            Danger.OTHER, "Damp the tape, do not soak it: water under veneer loosens the glue."
        )
