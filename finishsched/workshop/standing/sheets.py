"""The sheet of a step: what to do, with what, how much to mix, and what to mind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from finishsched.mixing.amount import SMALLEST_BATCH_ML, pad_charge_ml, used_amount
from finishsched.mixing.cut import mix_for_volume
from finishsched.model.job import Piece
from finishsched.model.lubricants import DRY, WATERS
from finishsched.model.product import Product, ProductKind
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.safety.cautions import DEFERRAL, cautions_for
from finishsched.units import AREA, CUT, MASS, VOLUME, show
from finishsched.workshop.base.answers import MixLine, StepSheet


@dataclass(frozen=True, slots=True)
class Need:
    """What a step on a piece needs, before it is put in words."""

    area_m2: float
    coats: int
    """This coat and those after it that take the same mixture."""
    volume_ml: float | None
    mass_g: float | None


def step_sheet(
    steps: Sequence[Step],
    step: Step,
    area_m2: float,
    products: Mapping[str, Product],
    shop: Shop,
    made_of: str = "",
) -> StepSheet:
    """Return the sheet of ``step`` on a piece of ``area_m2``, which is ``made_of`` some woods."""
    product = products.get(step.product or "")
    need = _need(steps, step, area_m2)
    mix, makes = _mix(step, product, need, products, shop)
    return StepSheet(
        step=step,
        steps_in_all=len(steps),
        product=_product_words(step, product, shop),
        abrasive=_abrasive_words(step),
        lubricant=_lubricant_words(step, products),
        mix=mix,
        mix_makes=makes,
        hands_on_min=step.hands_on.minutes(area_m2),
        cautions=cautions_for(
            step, brought_in(step, products), _laid_before(steps, step, products), made_of
        ),
        deferral=DEFERRAL,
        volume_ml=need.volume_ml if mix else None,
    )


def mixing_reasons(sheet: StepSheet, area_m2: float) -> list[str]:
    """Return in words how the sheet's amounts came about."""
    step = sheet.step
    if not sheet.mix or step.spread is None:
        return []
    per_m2 = step.spread.ml_per_m2
    laid = f"{per_m2:g} ml/m2" if per_m2 is not None else f"{step.spread.g_per_m2:g} g/m2"
    loss = 100 * step.verb.does.lost_share
    held_ml = pad_charge_ml(step.verb)
    held = f", {held_ml:g} ml kept by the pad (our assumption)" if held_ml else ""
    lost = f", {loss:g} % lost on the way (coatings texts)" if loss else ""
    return [
        (
            f"amount: {laid} laid on {area_m2:.3g} m2 for each coat{lost}{held}; "
            f"never less than {SMALLEST_BATCH_ML:g} ml, which can just be measured"
        ),
        *_rule_of_the_mix(step),
    ]


def _rule_of_the_mix(step: Step) -> list[str]:
    if step.cut_g_per_l is not None:
        rule = "flakes per volume of alcohol by the exact balance"
        return [f"mix: {rule} (Federal Specification TT-S-300A)"]
    if step.thinned_percent:
        return [f"mix: {step.thinned_percent:g} % of the whole is thinner, by volume"]
    return []


def _need(steps: Sequence[Step], step: Step, area_m2: float) -> Need:
    coats = sum(1 for other in steps[step.number - 1 :] if _same_mixture(other, step))
    volume_ml = mass_g = None
    if step.spread is not None and step.spread.ml_per_m2 is not None:
        laid_ml = used_amount(step.spread.ml_per_m2, area_m2, coats, step.verb)
        volume_ml = max(SMALLEST_BATCH_ML, laid_ml + pad_charge_ml(step.verb))
    elif step.spread is not None and step.spread.g_per_m2 is not None:
        mass_g = used_amount(step.spread.g_per_m2, area_m2, coats, step.verb)
    return Need(area_m2, coats, volume_ml, mass_g)


def _same_mixture(other: Step, step: Step) -> bool:
    """Tell whether ``other`` is a coat of the same step and round, of the same strength."""
    same_step = other.key.rpartition(".")[0] == step.key.rpartition(".")[0]
    return (
        same_step
        and other.cut_g_per_l == step.cut_g_per_l
        and other.thinned_percent == step.thinned_percent
    )


def _mix(
    step: Step, product: Product | None, need: Need, products: Mapping[str, Product], shop: Shop
) -> tuple[tuple[MixLine, ...], str]:
    if product is None or (need.volume_ml is None and need.mass_g is None):
        return (), ""
    makes = _makes_words(need, shop)
    if need.volume_ml is None:
        return (
            MixLine(show(need.mass_g or 0.0, MASS, shop.units.mass, digits=2), product.title),
        ), makes
    if step.cut_g_per_l is not None and product.kind is ProductKind.FLAKES:
        return _cut_lines(step.cut_g_per_l, product, need.volume_ml, products, shop), makes
    if step.thinned_percent:
        return _thinned_lines(step.thinned_percent, product, need.volume_ml, products, shop), makes
    return (MixLine(_volume(need.volume_ml, shop), product.title),), makes


def _cut_lines(
    cut_g_per_l: float,
    product: Product,
    volume_ml: float,
    products: Mapping[str, Product],
    shop: Shop,
) -> tuple[MixLine, ...]:
    batch = mix_for_volume(cut_g_per_l, volume_ml, shop.alcohol)
    thinner = products.get(product.thinner or "")
    alcohol = thinner.title if thinner else "alcohol"
    by_weight = show(batch.alcohol_g, MASS, shop.units.mass, digits=2)
    return (
        MixLine(show(batch.flakes_g, MASS, shop.units.mass, digits=2), product.title),
        MixLine(f"{_volume(batch.alcohol_ml, shop)} ({by_weight})", alcohol),
    )


def _thinned_lines(
    percent: float, product: Product, volume_ml: float, products: Mapping[str, Product], shop: Shop
) -> tuple[MixLine, ...]:
    thinner = products.get(product.thinner or "")
    thinner_ml = volume_ml * percent / 100
    return (
        MixLine(_volume(volume_ml - thinner_ml, shop), product.title),
        MixLine(_volume(thinner_ml, shop), thinner.title if thinner else "thinner"),
    )


def _makes_words(need: Need, shop: Shop) -> str:
    amount = (
        _volume(need.volume_ml, shop)
        if need.volume_ml is not None
        else show(need.mass_g or 0.0, MASS, shop.units.mass, digits=2)
    )
    area = show(need.area_m2, AREA, shop.units.area, digits=2)
    coats = "this coat" if need.coats == 1 else f"{need.coats} coats"
    return f"{amount} for {coats} on {area}"


def _volume(volume_ml: float, shop: Shop) -> str:
    return show(volume_ml, VOLUME, shop.units.volume, digits=2)


def _product_words(step: Step, product: Product | None, shop: Shop) -> str:
    if product is None:
        return step.product or ""
    if step.cut_g_per_l is not None:
        cut = show(step.cut_g_per_l, CUT, shop.units.cut, digits=2)
        cut = f"{cut.removesuffix(' lb/gal')}-lb" if shop.units.cut == "lb/gal" else cut
        return f"{product.title}, {cut} cut"
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
    return f"{piece.species} {piece.notes}"


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
