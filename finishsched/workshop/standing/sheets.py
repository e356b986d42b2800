"""The sheet of a step: what to do, with what, how much to mix, and what to mind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from finishsched.mixing.amount import SMALLEST_BATCH_ML
from finishsched.mixing.into_jar import ToMix, to_mix
from finishsched.mixing.learnt_use import MethodKey
from finishsched.mixing.need import NO_PADS, Coat, OwnUses, PieceWork, coats_of, with_pads
from finishsched.model.job import Piece
from finishsched.model.lubricants import DRY, WATERS
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import Spread
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.safety.cautions import DEFERRAL, cautions_for
from finishsched.units import AREA, SPREAD, SPREAD_MASS, show
from finishsched.workshop.base.answers import MixLine, StepSheet, Takes
from finishsched.workshop.base.mixed_words import (
    coarse_words,
    gives_words,
    makes_words,
    readings,
)
from finishsched.workshop.base.shown import cut_words, shown_of


class Work(NamedTuple):
    """One step on one piece, or on several that are worked as one."""

    steps: Sequence[Step]
    """All of the schedule's."""
    step: Step
    area_m2: float
    species: str = ""


NO_USES: OwnUses = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Habit:
    """What coats take here, and how long ago each pad was used; nothing known to begin with."""

    own: OwnUses = field(default_factory=lambda: NO_USES)
    since_s: Mapping[MethodKey, float] = field(default_factory=lambda: NO_PADS)


NO_HABIT = Habit()

LEAST_LET_DOWN_PERCENT = 0.5
"""Less alcohol in a coat than that nobody adds (our assumption)."""


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
        product=_product_words(step, product, shop),
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


def with_amounts(
    sheet: StepSheet,
    work: Work,
    products: Mapping[str, Product],
    shop: Shop,
    habit: Habit = NO_HABIT,
) -> StepSheet:
    """Return the sheet with what its coat takes, and what to mix for it and those like it.

    By the account that a job's need is reckoned by: losses, a dry pad's charge, what bare wood
    drinks, and what coats take here by what was logged.
    """
    product = products.get(sheet.step.product or "")
    coats = _coats_alike(work, products, habit)
    if product is None or not coats:
        return sheet
    first = coats[0]
    by_mass = first.mixture.by_mass
    whole = sum(coat.from_jar.likely for coat in coats)
    # Told upwards, so that what was mixed as told is enough for every coat.
    shown, cut_g_per_l = shown_of(shop), first.mixture.cut_g_per_l
    jar = None if by_mass else to_mix(first.mixture, whole, products, shop, shown.measured_up)
    really = jar.really if jar else None
    takes = Takes(first.amount, by_mass, first.pad_ml)
    taken = shown.volume(whole) if jar else shown.weight(whole)
    makes = makes_words(jar, cut_g_per_l, shop) if jar else taken
    return sheet._replace(
        mix=_mix(jar, product, whole, products, shop),
        mix_makes=_makes_words(makes, takes, coats, work.area_m2, shop),
        mix_gives=gives_words(really.cut, shop) if really else "",
        mix_warnings=tuple(coarse_words(really.coarse, shop)) if really else (),
        jar_holds=makes,
        taken=_makes_words(taken, takes, coats, work.area_m2, shop),
        coats_ml=() if by_mass else tuple(coat.from_jar.likely for coat in coats),
        takes=takes,
        jar_cut_g_per_l=cut_g_per_l,
    )


def coat_ahead(work: Work, products: Mapping[str, Product], habit: Habit) -> Coat | None:
    """Return the one coat that a step lays; None where it lays nothing or no amount is known."""
    left = frozenset([work.step.key])
    piece = PieceWork("", work.area_m2, work.species, tuple(work.steps), left)
    coats = with_pads(coats_of(piece, products, habit.own)[0], habit.since_s)
    return coats[0] if coats else None


def habits_along(
    steps: Sequence[Step], species: str, products: Mapping[str, Product], own: OwnUses
) -> dict[str, Habit]:
    """Return by step key how the pads are when each coat of a schedule is laid, one by one."""
    every = frozenset(step.key for step in steps)
    coats, _ = coats_of(PieceWork("", 1.0, species, tuple(steps), every), products, own)
    last_s: dict[MethodKey, float] = {}
    found: dict[str, Habit] = {}
    for coat in coats:
        since_s = {pad: coat.after_s - used_s for pad, used_s in last_s.items()}
        found[coat.step.key] = Habit(own, since_s)
        last_s[coat.mixture.product, coat.step.verb] = coat.after_s
    return found


def _coats_alike(work: Work, products: Mapping[str, Product], habit: Habit) -> tuple[Coat, ...]:
    """Return this coat and those after it that come from the same jar."""
    step = work.step
    alike = [one.key for one in work.steps[step.number - 1 :] if _same_jar(one, step)]
    piece = PieceWork("", work.area_m2, work.species, tuple(work.steps), frozenset(alike))
    coats, _ = coats_of(piece, products, habit.own)
    return with_pads(coats, habit.since_s)


def mixing_reasons(sheet: StepSheet, area_m2: float, shop: Shop) -> list[str]:
    """Return in words how the sheet's amounts came about."""
    step, takes, shown = sheet.step, sheet.takes, shown_of(shop)
    if not sheet.mix or takes is None:
        return []
    laid = "what coats took here"
    if step.spread is not None:
        laid = _spread_words(step.spread, shop)
    loss = 100 * step.verb.does.lost_share
    lost = f", {loss:g} % lost on the way (coatings texts)" if loss else ""
    held = (
        f", {shown.volume(takes.pad_ml)} for the dry pad (our assumption)" if takes.pad_ml else ""
    )
    area = show(area_m2, AREA, shop.units.area, digits=2)
    return [
        (
            f"amount: {laid} laid on {area}{lost}{held}: likely {takes.words(shown)}, "
            f"{takes.between(shown)}, as finishsched need reckons it; never less than "
            f"{shown.volume(SMALLEST_BATCH_ML)} is mixed, which can just be measured"
        ),
        *_rule_of_the_mix(step),
    ]


def _spread_words(spread: Spread, shop: Shop) -> str:
    """Return an amount for an area, in the shop's own units."""
    if spread.ml_per_m2 is not None:
        unit = f"{shop.units.volume}/{shop.units.area}"
        return show(spread.ml_per_m2, SPREAD, unit, digits=2)
    unit = f"{shop.units.mass}/{shop.units.area}"
    return show(spread.g_per_m2 or 0.0, SPREAD_MASS, unit, digits=2)


def _rule_of_the_mix(step: Step) -> list[str]:
    if step.cut_g_per_l is not None:
        rule = "flakes per volume of alcohol by the exact balance"
        return [f"mix: {rule} (Federal Specification TT-S-300A)"]
    if step.thinned_percent:
        return [f"mix: {step.thinned_percent:g} % of the whole is thinner, by volume"]
    return []


def _same_jar(other: Step, step: Step) -> bool:
    """Tell whether ``other`` is a coat of the same step and round out of the same jar.

    Coats of a cut that grow weaker come from one jar, let down at the bench.
    """
    same_step = other.key.rpartition(".")[0] == step.key.rpartition(".")[0]
    return same_step and other.thinned_percent == step.thinned_percent


def _mix(
    jar: ToMix | None,
    product: Product,
    whole_g: float,
    products: Mapping[str, Product],
    shop: Shop,
) -> tuple[MixLine, ...]:
    """Return what goes into a jar; of what is weighed, so many grams of the product itself."""
    if jar is None:
        return (MixLine(shown_of(shop).mass(whole_g), product.title),)
    thinner = products.get(product.thinner or "")
    if jar.really is not None:
        read = readings(jar.really, shown_of(shop))
        return (
            MixLine(read.flakes, product.title),
            MixLine(read.alcohol, thinner.title if thinner else "alcohol"),
        )
    parts, volume = jar.parts, shown_of(shop).volume
    if parts.product_ml is not None and parts.thinner_ml is not None:
        return (
            MixLine(volume(parts.product_ml), product.title),
            MixLine(volume(parts.thinner_ml), thinner.title if thinner else "thinner"),
        )
    return (MixLine(volume(jar.makes_ml), product.title),)


def _makes_words(
    amount: str, takes: Takes, coats: Sequence[Coat], area_m2: float, shop: Shop
) -> str:
    """Return how much a jar is to hold for coats, and what the first of them takes of it."""
    this_one = takes.words(shown_of(shop))
    area = show(area_m2, AREA, shop.units.area, digits=2)
    how_many = "this coat" if len(coats) == 1 else f"{len(coats)} coats"
    let_down = _let_down_words(coats, shop)
    apart = f"; this one takes {this_one}" if let_down or this_one != amount else ""
    return f"{amount} for {how_many} on {area}{let_down}{apart}"


def _let_down_words(coats: Sequence[Coat], shop: Shop) -> str:
    """Say that coats come out of a stronger jar, and how much alcohol the first of them wants."""
    jar, first = coats[0].mixture.cut_g_per_l, coats[0]
    if jar is None or not any(coat.let_down_ml > 0 for coat in coats):
        return ""
    percent = 100 * first.let_down_ml / first.amount.likely
    now = f", this one with {percent:.0f} % of it" if percent >= LEAST_LET_DOWN_PERCENT else ""
    return f", of {cut_words(jar, shop.units)} let down with alcohol coat by coat{now}"


def _product_words(step: Step, product: Product | None, shop: Shop) -> str:
    if product is None:
        return step.product or ""
    if step.cut_g_per_l is not None:
        return f"{product.title}, {cut_words(step.cut_g_per_l, shop.units)}"
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
