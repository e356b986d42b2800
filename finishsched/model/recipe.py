"""A product that the shop makes of others: its recipe, and what follows from its parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from finishsched.model.kinds import COLOURS
from finishsched.model.solvent import SolventShare

if TYPE_CHECKING:
    from finishsched.model.product import Product


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One part of a recipe: exactly one of its amounts is given, each above zero."""

    product: str
    grams: float | None = None
    ml: float | None = None
    g_per_l: float | None = None
    """A dye's or a pigment's strength: grams in a litre of what is made."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """What goes together, and how much it makes: as measured once, not as a sum of volumes."""

    makes_ml: float
    parts: tuple[Ingredient, ...]


@dataclass(frozen=True, slots=True)
class Weighed:
    """One part of so much of a mix: by weight, by volume, or both where its density is known."""

    product: str
    grams: float | None
    ml: float | None


def weighed(
    recipe: Recipe, makes_ml: float, products: Mapping[str, Product]
) -> tuple[Weighed, ...]:
    """Return what of each part goes into ``makes_ml`` (above zero), in the recipe's order."""
    return tuple(_weighed(part, recipe, makes_ml, products) for part in recipe.parts)


def made_of_products(product: Product, products: Mapping[str, Product]) -> Product:
    """Return ``product`` with what its recipe tells of it where its own document says nothing.

    Hazards of all parts, the worst rags, their cautions, and their solvents as shares of the whole:
    nothing is diluted away. A part that there is not, or that is made of the product itself, tells
    nothing. A product without a recipe is returned as it is.
    """
    return _made(product, products, frozenset())


class WithRecipes(Mapping[str, "Product"]):
    """Products by their id, each of those that are made of others told by its parts."""

    def __init__(self, products: Mapping[str, Product]) -> None:
        """``products`` stay as they are."""
        self._products = products
        self._told: dict[str, Product] = {}

    def __getitem__(self, name: str) -> Product:
        told = self._told.get(name)
        if told is None:  # they are asked for thousands of times
            product = self._products[name]
            has_parts = product.recipe is not None
            told = made_of_products(product, self._products) if has_parts else product
            self._told[name] = told
        return told

    def __iter__(self) -> Iterator[str]:
        return iter(self._products)

    def __len__(self) -> int:
        return len(self._products)

    def __contains__(self, name: object) -> bool:
        return name in self._products


def is_tinted(product: Product, products: Mapping[str, Product]) -> bool:
    """Tell whether dye, pigment or stain went into ``product``, straight or through its parts."""
    parts = (products.get(name) for name in _parts_of(product, products))
    return any(part is not None and part.kind in COLOURS for part in parts)


def in_a_circle(product: Product, products: Mapping[str, Product]) -> bool:
    """Tell whether a recipe needs, somewhere among its parts, the product itself."""
    return product.id in _parts_of(product, products)


def _parts_of(product: Product, products: Mapping[str, Product]) -> set[str]:
    """Return the id of everything that goes into ``product``, the parts of its parts too."""
    seen: set[str] = set()
    todo = [part.product for part in product.recipe.parts] if product.recipe else []
    while todo:
        name = todo.pop()
        if name in seen:
            continue
        seen.add(name)
        recipe = products[name].recipe if name in products else None
        todo += [part.product for part in recipe.parts] if recipe else []
    return seen


def _made(product: Product, products: Mapping[str, Product], above: frozenset[str]) -> Product:
    """Return a product with what its parts say of it, where it says nothing itself.

    Args:
        product: one with a recipe, or without.
        products: all there are, by name.
        above: those that this one is a part of; none of them is a part of it again.

    """
    recipe = product.recipe
    if recipe is None:
        return product
    above = above | {product.id}
    parts = [
        (_made(products[one.product], products, above), one)
        for one in weighed(recipe, recipe.makes_ml, products)
        if one.product in products and one.product not in above
    ]
    own = [part for part, _ in parts]
    everything = [product, *own]
    mass_g = _total([one.grams for _, one in parts])
    hazards = {code for one in everything for code in one.hazards}
    cautions = [said for one in everything for said in one.cautions]
    solvents = product.solvents
    if solvents is None:
        solvents = _solvents(parts, recipe.makes_ml, mass_g)
    waxy = product.waxy
    if waxy is None:
        waxy = any(one.waxy for one in own)
    parts_keep_s = [one.keeps_s for one in own if one.keeps_s]
    return replace(
        product,
        hazards=tuple(sorted(hazards)),
        rags=max([one.rags for one in everything], key=lambda rags: rags.gravity),
        solvents=solvents,
        cautions=tuple(dict.fromkeys(cautions)),
        waxy=waxy,
        density_g_per_ml=product.density_g_per_ml or (mass_g and mass_g / recipe.makes_ml),
        volume_solids_percent=product.volume_solids_percent or _solids(parts, recipe),
        keeps_s=product.keeps_s or min(parts_keep_s, default=None),
        sources=product.sources or MappingProxyType({"hazards": "the parts of its recipe"}),
    )


def _weighed(
    part: Ingredient, recipe: Recipe, makes_ml: float, products: Mapping[str, Product]
) -> Weighed:
    share = makes_ml / recipe.makes_ml
    grams = part.g_per_l * makes_ml / 1000 if part.g_per_l is not None else None
    if part.grams is not None:
        grams = part.grams * share
    ml = None if part.ml is None else part.ml * share
    known = products.get(part.product)
    density = known.density_g_per_ml if known else None
    if density and grams is None and ml is not None:
        grams = ml * density
    elif density and ml is None and grams is not None:
        ml = grams / density
    return Weighed(part.product, grams, ml)


def _solvents(
    parts: list[tuple[Product, Weighed]], makes_ml: float, mass_g: float | None
) -> tuple[SolventShare, ...] | None:
    """Return the liquids as shares of the whole; None where a share cannot be told."""
    found = []
    for product, amount in parts:
        if product.solvents is None:
            return None
        for share in product.solvents:
            if share.by_volume_percent is not None and amount.ml is not None:
                percent = share.by_volume_percent * amount.ml / makes_ml
                found.append(SolventShare(share.liquid, by_volume_percent=min(100.0, percent)))
            elif share.by_mass_percent is not None and amount.grams is not None and mass_g:
                percent = share.by_mass_percent * amount.grams / mass_g
                found.append(SolventShare(share.liquid, by_mass_percent=min(100.0, percent)))
            else:
                return None
    return tuple(found)


def _solids(parts: list[tuple[Product, Weighed]], recipe: Recipe) -> float | None:
    """Return what stays as film by volume, from flakes by weight and liquids by their solids."""
    solid_ml = 0.0
    for product, amount in parts:
        if product.dissolved_density_g_per_ml and amount.grams is not None:
            solid_ml += amount.grams / product.dissolved_density_g_per_ml
        elif product.volume_solids_percent and amount.ml is not None:
            solid_ml += amount.ml * product.volume_solids_percent / 100
    return min(100.0, 100 * solid_ml / recipe.makes_ml) if solid_ml else None


def _total(amounts: list[float | None]) -> float | None:
    known = [amount for amount in amounts if amount is not None]
    return sum(known) if known and len(known) == len(amounts) else None
