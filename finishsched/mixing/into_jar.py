"""What goes into a jar: of any amount exactly, and of one to be mixed as the tools read it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.mixing.amount import SMALLEST_BATCH_ML
from finishsched.mixing.cut import mix_for_volume
from finishsched.mixing.measure import OnTools, weighable
from finishsched.mixing.need import Mixture
from finishsched.model.product import Product, ProductKind
from finishsched.model.recipe import Recipe, Weighed, weighed
from finishsched.model.shop import Alcohol, Shop


@dataclass(frozen=True, slots=True)
class Parts:
    """What goes into a mixture: flakes and alcohol for a cut, product and thinner for the rest.

    All None for what is used as bought.
    """

    flakes_g: float | None = None
    alcohol_ml: float | None = None
    alcohol_g: float | None = None
    product_ml: float | None = None
    thinner_ml: float | None = None
    of: tuple[Weighed, ...] = ()
    """For what has a recipe: each of its parts."""


class ToMix(NamedTuple):
    """A jar as it is to be mixed."""

    makes_ml: float
    parts: Parts
    really: OnTools | None = None
    """What the tools read of a cut, and the cut that this gives; None for what has none."""


def to_mix(
    mixture: Mixture,
    wanted_ml: float,
    products: Mapping[str, Product],
    shop: Shop,
    told_up: Callable[[float], float] = float,
    most_ml: float | None = None,
) -> ToMix:
    """Return the jar to mix where ``wanted_ml`` is wanted at the least.

    Source: TT-S-300A, Shellac, Cut, 1977, for a cut; what can just be measured, our assumption.

    Args:
        mixture: a cut, or a product thinned or by its recipe.
        wanted_ml: ml, above 0.
        products: by id.
        shop: its alcohol and its tools.
        told_up: the least volume in ml that can be told and is enough.
        most_ml: ml that the jar holds, above 0; None for any.

    Raises:
        ValueError: for alcohol outside the ranges of its density.

    """
    least_ml = told_up(max(SMALLEST_BATCH_ML, wanted_ml))
    if most_ml is not None:
        least_ml = min(least_ml, most_ml)
    exact = parts_of(mixture, least_ml, products, shop.alcohol)
    if exact.flakes_g is None or mixture.cut_g_per_l is None:
        return ToMix(least_ml, exact)
    really = weighable(mixture.cut_g_per_l, least_ml, shop.alcohol, shop.tools, most_ml)
    return ToMix(really.batch.makes_ml, as_read(really), really)


def as_read(really: OnTools) -> Parts:
    """Return what goes in by what scale and measure show."""
    return Parts(really.weigh_flakes_g, really.measure_alcohol_ml, really.weigh_alcohol_g)


def parts_of(
    mixture: Mixture, amount: float, products: Mapping[str, Product], alcohol: Alcohol
) -> Parts:
    """Return what goes into ``amount`` of ``mixture``.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        mixture: a cut, or a product thinned.
        amount: ml, above 0; nothing goes into 0 or less.
        products: by id.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.

    Raises:
        ValueError: for alcohol outside those ranges.

    """
    if amount <= 0 or not is_mixed(mixture, products):
        return Parts()
    recipe = recipe_of(mixture.product, products)
    if mixture.thinned_percent is not None:
        thinner_ml = amount * mixture.thinned_percent / 100
        of = weighed(recipe, amount - thinner_ml, products) if recipe else ()
        return Parts(product_ml=amount - thinner_ml, thinner_ml=thinner_ml, of=of)
    if recipe is not None:
        return Parts(of=weighed(recipe, amount, products))
    assert mixture.cut_g_per_l is not None  # noqa: S101
    batch = mix_for_volume(mixture.cut_g_per_l, amount, alcohol)
    return Parts(batch.flakes_g, batch.alcohol_ml, batch.alcohol_g)


def is_mixed(mixture: Mixture, products: Mapping[str, Product]) -> bool:
    """Tell whether the shop makes the mixture itself: by a recipe, from flakes, or by thinning."""
    if recipe_of(mixture.product, products) is not None and not mixture.by_mass:
        return True
    product = products.get(mixture.product)
    dissolves = product is None or product.kind is ProductKind.FLAKES
    return mixture.thinned_percent is not None or (mixture.cut_g_per_l is not None and dissolves)


def recipe_of(name: str, products: Mapping[str, Product]) -> Recipe | None:
    """Return what a product is made of; None for what is bought."""
    product = products.get(name)
    return product.recipe if product is not None else None
