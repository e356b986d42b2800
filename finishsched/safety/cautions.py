"""Cautions for one step, short, in the order of what can hurt first.

They are the usual cautions of the trade and of the hazard statements on the label (UN GHS), in our
own words. They never replace the product's safety data sheet, local codes or licensed practice.
Self-heating of oily rags: NFPA safety tip sheet. Methanol passes organic-vapour cartridges, and
only supplied air is listed for ethanol above its limit: NIOSH Pocket Guide. Disposable nitrile is
splash protection only: glove studies (AIHAJ 1987).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING

from finishsched.model.doing import Abrades, Care
from finishsched.model.kinds import CHEMICALS
from finishsched.model.lubricants import is_wet
from finishsched.model.product import FLAMMABLE_LIQUIDS, Mechanism, Product, ProductKind, RagHabit

if TYPE_CHECKING:
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


_FLAMMABLE = {*FLAMMABLE_LIQUIDS, "H228"}
_POISONOUS_VAPOUR = {"H330", "H331", "H332", "H370", "H371"}
_BREATHED = {"H335", "H336", "H373"}
_SKIN = {"H314", "H315", "H318", "H319", "H311", "H312", "H310"}
_SENSITISING = {"H317", "H334"}
_UNBORN = {"H360", "H361"}
_LASTING = {"H340", "H341", "H350", "H351", "H372"}

SELF_HEATING_RAGS = (
    "Rags and pads can catch fire by themselves: spread flat outdoors in one layer, "
    "or under water in a closed metal can. Never in a heap."
)
HEATING_LEAVINGS = (
    "Hardener soaked into cloth or sawdust can heat by itself: spread leavings thin, outdoors, "
    "until they are hard. Never in a heap."
)


def rag_words(product: Product) -> str:
    """Return what is to be done with cloths of a product that heat by themselves.

    Oils: NFPA safety tip sheet; two-part products: found in print.
    """
    return HEATING_LEAVINGS if product.mechanism is Mechanism.TWO_PART else SELF_HEATING_RAGS


def cautions_for(
    step: Step,
    products: Sequence[Product],
    beneath: Sequence[Product] = (),
    made_of: str = "",
) -> tuple[Caution, ...]:
    """Return the cautions for ``step``, which uses ``products``, the gravest first.

    ``products`` are all that the step brings into the room: what is applied, its solvent or
    thinner, the lubricant. ``beneath`` is what was laid before, which a dry abrasive makes dust of,
    and ``made_of`` says in any words what the piece is made of: its woods, its inlays.
    The step's and the products' own cautions come last.
    """
    found = {
        *_from_labels(products),
        *_from_rags(products),
        *_from_dust(step, products, beneath, made_of),
        *_from_kinds(step, products),
    }
    own = [*step.cautions, *(text for product in products for text in product.cautions)]
    found.update(Caution(Danger.OTHER, text) for text in own)
    return tuple(sorted(found))


_ALCOHOL = Product(
    "denatured-alcohol",
    "Denatured alcohol",
    ProductKind.ALCOHOL,
    hazards=("H225", "H301", "H311", "H319", "H331", "H370"),
    rags=RagHabit.FLAMMABLE,
)
"""Counted as holding much methanol until its data sheet is entered: from 3.6 to 50 % was found."""
_POURED = Caution(
    Danger.FIRE,
    "Solvent that is poured charges itself: metal cans touch, or a wire joins them, while it runs; "
    "an extinguisher by the way out.",
)
_HEATS = Caution(
    Danger.HEAT, "Mixed in a cup it heats by itself: mix little, spread it out, mind the pot life."
)


def mixing_cautions(products: Sequence[Product] = ()) -> tuple[Caution, ...]:
    """Return what to mind while these are mixed, thinned, poured or weighed, the gravest first.

    Without any it is denatured alcohol, with shellac or without.
    """
    mixed = tuple(products) or (_ALCOHOL,)
    if any(product.kind.is_shellac for product in mixed):
        mixed = (*mixed, _ALCOHOL)
    own = [Caution(Danger.OTHER, text) for product in mixed for text in product.cautions]
    heats = [_HEATS] if any(product.pot_life_s for product in mixed) else []
    codes = {code for product in mixed for code in product.hazard_codes}
    charges = [_POURED] if codes & _FLAMMABLE else []
    return tuple(sorted({*_from_labels(mixed), *_from_rags(mixed), *charges, *heats, *own}))


def parts_cautions(*, sets: bool) -> tuple[Caution, ...]:
    """Return what to mind while parts of unknown make-up are mixed; ``sets`` when they react."""
    unknown = Caution(
        Danger.SKIN,
        "Read the data sheet of each part before they meet: gloves that it names, eyes covered, "
        "and fresh air through the room.",
    )
    if not sets:
        return (unknown,)
    return tuple(sorted({unknown, _HEATS, Caution(Danger.RAGS, HEATING_LEAVINGS)}))


def _from_labels(products: Iterable[Product]) -> Iterable[Caution]:
    codes = {code for product in products for code in product.hazard_codes}
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
    elif codes & _FLAMMABLE and any(product.kind is ProductKind.ALCOHOL for product in products):
        yield Caution(
            Danger.VAPOUR,
            "Open a window and move air through; the air at the pad is worse than in the room, "
            "and no cartridge mask is listed for alcohol.",
        )
    elif codes & (_FLAMMABLE | _BREATHED):
        yield Caution(
            Danger.VAPOUR,
            "Open a window and move air through; the air at the pad is worse than in the room.",
        )
    if codes & _UNBORN:
        yield Caution(Danger.VAPOUR, "May harm an unborn child: nobody pregnant near it.")
    if codes & _LASTING:
        yield Caution(
            Danger.VAPOUR,
            "Its label speaks of cancer, genes or organs: as little of it in the air and on the "
            "skin as can be, and the mask and gloves that its data sheet names.",
        )
    if codes & _SENSITISING:
        yield Caution(Danger.SKIN, "Can make you allergic for life: gloves, and none on the skin.")
    if codes & _SKIN:
        yield Caution(
            Danger.SKIN,
            "Gloves that the data sheet names, thin nitrile only stops splashes; "
            "eyes covered when pouring.",
        )


def _from_rags(products: Iterable[Product]) -> Iterable[Caution]:
    products = tuple(products)
    habits = {product.rags for product in products}
    heating = [product for product in products if product.rags is RagHabit.SELF_HEATING]
    for product in heating:
        yield Caution(Danger.RAGS, rag_words(product))
    if heating:
        return
    if RagHabit.FLAMMABLE in habits:
        yield Caution(
            Danger.RAGS,
            "Wet rags and pads burn readily: dry them outdoors, or keep the pad in a closed jar.",
        )


def _from_dust(
    step: Step, products: Iterable[Product], beneath: Iterable[Product], made_of: str
) -> Iterable[Caution]:
    from finishsched.safety.dust import dust_of  # noqa: PLC0415  # not to be read for a mixture

    wet = is_wet(step.lubricant)
    abrades = step.verb.does.abrades
    if abrades is Abrades.WOOD and not wet:
        yield Caution(
            Danger.DUST,
            "Wood dust harms the lungs, and hardwood's is counted a cause of cancer: extract it, "
            "and wear a P2 or N95 mask.",
        )
    if step.verb.abrades:
        yield from (Caution(Danger.DUST, text) for text in dust_of(made_of, wet=wet))
    if step.verb.rubs_film and not wet:
        yield Caution(
            Danger.DUST, "Dust of the film and filler: wear a mask, and keep it off wet work."
        )
    heating = any(product.rags is RagHabit.SELF_HEATING for product in beneath)
    if heating and step.verb.abrades and not wet:
        yield Caution(
            Danger.FIRE,
            "Dust of oil and varnish can heat by itself in a heap or a bag: empty it outdoors the "
            "same day, spread thin or under water in a closed metal can.",
        )
    filled = any(product.kind is ProductKind.FILLER for product in beneath)
    if filled and step.verb.abrades and not wet:
        yield Caution(
            Danger.DUST,
            "Filler holds silica: sand it with extraction and a P3 or P100 mask, or damp.",
        )
    if any(product.kind is ProductKind.POWDER for product in products):
        yield Caution(Danger.DUST, "Rubbing powders may hold silica: keep them damp, do not blow.")


_OF_THE_WORK = {
    Care.WATER_UNDER_VENEER: Caution(
        Danger.OTHER, "Damp, do not soak: water under veneer loosens the glue."
    ),
    Care.CAUSTIC: Caution(
        Danger.SKIN,
        "Caustic or poisonous: rubber gloves, eyes covered, running water for the eyes within "
        "ten steps. Add lye to water, "
        "never water to lye; never one bleach with another, with acid or with ammonia: "
        "that makes poison gas.",
    ),
    Care.SCALD: Caution(Danger.HEAT, "Steam and iron scald: keep hands and face out of it."),
    Care.HOT_KNIFE: Caution(
        Danger.FIRE,
        "A hot knife lights what is wet with solvent: no flame near a fresh film, wet rags or open "
        "jars.",
    ),
    Care.BLADE: Caution(Danger.OTHER, "A fresh hook cuts, and a scraper gets hot: mind thumbs."),
}
"""What the work itself can do, whatever it is done with: common practice, no source."""


_CHEMICALS = {
    "oxalic": Caution(
        Danger.DUST,
        "Oxalic acid is poisonous: no dust of it in the air, mask P2 or N95 and gloves while it is "
        "weighed, and rinse all of it out of the wood before any dry paper.",
    ),
    "ammonia": Caution(
        Danger.VAPOUR,
        "Ammonia blinds and chokes: outdoors or in a closed tent, goggles that seal, a mask with "
        "an ammonia filter, and running water for the eyes within ten steps.",
    ),
    "lye": Caution(
        Danger.SKIN,
        "Lye burns without warning and heats as it dissolves: goggles, long rubber gloves, apron; "
        "vinegar is for the wood, water for the skin, at once and for long.",
    ),
    "peroxide": Caution(
        Danger.FIRE,
        "Strong peroxide sets cloth, dust and wood on fire as it dries: rinse its rags, shut no "
        "leavings in.",
    ),
}
"""By the word that a bleach or an alkali goes by: common practice, no source."""


def _from_chemicals(step: Step, products: Iterable[Product]) -> Iterable[Caution]:
    names = [f"{p.id} {p.title}".lower() for p in products if p.kind in CHEMICALS]
    said = " ".join([*names, step.how.lower() if step.verb.does.care else ""])
    caustic = Care.CAUSTIC in step.verb.does.care or names
    for word, caution in _CHEMICALS.items():
        if caustic and re.search(rf"\b{word}", said):
            yield caution


def _from_kinds(step: Step, products: Iterable[Product]) -> Iterable[Caution]:
    care = step.verb.does.care
    codes = {code for product in products for code in product.hazard_codes}
    if step.by_gun and codes & _FLAMMABLE:
        yield Caution(
            Danger.FIRE,
            "Sprayed and poured solvent charges itself: metal cans and gun bonded to earth, the "
            "fan on, an extinguisher by the way out and never behind the work.",
        )
    if any(product.pot_life_s for product in products):
        yield _HEATS
    if step.by_gun and any(p.mechanism is Mechanism.TWO_PART for p in products):
        yield Caution(
            Danger.VAPOUR,
            "A sprayed two-part finish may hold isocyanates, which bring on asthma for life: it "
            "needs supplied air, no other mask will do.",
        )
    elif any(product.is_two_part_film for product in products):
        yield Caution(
            Danger.SKIN,
            "The hardener of a two-part finish may hold isocyanates: fresh air, gloves that its "
            "data sheet names, and nobody with asthma near it.",
        )
    if any("cyanoacrylate" in f"{p.id} {p.title}".lower() for p in products):
        yield Caution(Danger.HEAT, "Bonds skin at once, and burns on cotton: no cotton gloves.")
    if Care.HOT_GLUE in care and any("hot" in product.title.lower() for product in products):
        yield Caution(Danger.HEAT, "Hot glue scalds: keep water at hand, and the pot steady.")
    yield from _from_chemicals(step, products)
    for one in care:
        if one in _OF_THE_WORK:
            yield _OF_THE_WORK[one]
