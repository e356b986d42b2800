"""The sheet of a step: what to do, with what, how much to mix, and what to mind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from finishsched.mixing.let_down import jar_cut
from finishsched.model.job import Piece
from finishsched.model.lubricants import DRY, WATERS
from finishsched.model.product import Product, ProductKind
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.safety.cautions import DEFERRAL, cautions_for
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.shown import cut_words


def step_sheet(
    steps: Sequence[Step],
    step: Step,
    area_m2: float,
    products: Mapping[str, Product],
    shop: Shop,
    made_of: str = "",
) -> StepSheet:
    """Return the sheet of ``step`` on a piece of ``area_m2``, which is ``made_of`` some woods.

    How much it takes is told by ``with_amounts``.
    """
    product = products.get(step.product or "")
    return StepSheet(
        step=step,
        steps_in_all=len(steps),
        product=_product_words(step, steps, product, shop),
        abrasive=_abrasive_words(step),
        lubricant=_lubricant_words(step, products),
        mix=(),
        mix_makes="",
        hands_on_min=step.hands_on.minutes(area_m2),
        cautions=cautions_for(
            step, brought_in(step, products), _laid_before(steps, step, products), made_of
        ),
        deferral=DEFERRAL,
    )


def _product_words(step: Step, steps: Sequence[Step], product: Product | None, shop: Shop) -> str:
    """Return a product with its strength: of a coat weaker than its jar, with the jar's first."""
    if product is None:
        return step.product or ""
    if step.cut_g_per_l is not None:
        jar_g_per_l = jar_cut(step, steps)
        cut = cut_words(step.cut_g_per_l, shop.units)
        if jar_g_per_l > step.cut_g_per_l:
            jar = cut_words(jar_g_per_l, shop.units)
            return f"{product.title}, {jar} let down to {cut.removesuffix(' cut')}"
        return f"{product.title}, {cut}"
    if step.thinned_percent:
        return f"{product.title}, {step.thinned_percent:g} % thinned"
    return product.title


def _abrasive_words(step: Step) -> str:
    return ", ".join(word for word in (step.grade, DRY if step.lubricant == DRY else "") if word)


def _lubricant_words(step: Step, products: Mapping[str, Product]) -> str:
    if step.lubricant is None or step.lubricant == DRY:
        return ""
    if step.lubricant in WATERS:
        return step.lubricant
    product = products.get(step.lubricant)
    return product.title if product else step.lubricant


def made_of(piece: Piece) -> str:
    """Return the words that say what a piece is made of, for the cautions on its dust."""
    return f"{piece.shows} {piece.notes}"


def _laid_before(
    steps: Sequence[Step], step: Step, products: Mapping[str, Product]
) -> list[Product]:
    names = dict.fromkeys(earlier.product for earlier in steps[: step.number - 1])
    return [products[name] for name in names if name is not None and name in products]


def brought_in(step: Step, products: Mapping[str, Product]) -> list[Product]:
    """Return everything that the step brings into the room, thinners among them."""
    names = [step.product, step.lubricant]
    applied = products.get(step.product or "")
    if applied is not None and (applied.kind is ProductKind.FLAKES or step.thinned_percent):
        names.append(applied.thinner)
    return [products[name] for name in names if name is not None and name in products]
