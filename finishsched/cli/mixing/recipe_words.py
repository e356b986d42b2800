"""``mix --recipe``: what goes into so much of a product that the shop makes of others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from finishsched.cli.faults import Words
from finishsched.units import MASS, VOLUME, show
from finishsched.workshop.base.shown import shown_of

if TYPE_CHECKING:
    from finishsched.model.product import Product
    from finishsched.model.recipe import Weighed
    from finishsched.model.shop import Shop
    from finishsched.safety.solvents import Part


def mix_recipe(
    words: Words,
    name: str,
    makes: str | None,
    of: str | None,
    products: Mapping[str, Product],
    shop: Shop,
    *,
    as_json: bool,
) -> None:
    """Answer for the recipe ``name``: for ``makes``, or for as much as ``of`` ('PART: AMOUNT')."""
    from finishsched.cli.safety.caution_words import answer_minding
    from finishsched.model.recipe import weighed
    from finishsched.safety.cautions import mixing_cautions
    from finishsched.safety.contents import parts_of_product

    product = _known(words, name, products)
    makes_ml = _makes_ml(words, product, makes, of, products) if product else 1.0
    words.settle()
    assert product is not None  # noqa: S101  # settled
    assert product.recipe is not None  # noqa: S101
    parts = weighed(product.recipe, makes_ml, products)
    methanol = shop.alcohol.methanol_percent
    vapour = parts_of_product(product, ml=makes_ml, methanol_percent=methanol)
    answer_minding(
        mixing_cautions([product]),
        lambda: _data(product, makes_ml, parts, vapour),
        lambda: _lines(product, makes_ml, parts, vapour, products, shop),
        as_json=as_json,
    )


def _known(words: Words, name: str, products: Mapping[str, Product]) -> Product | None:
    from finishsched.near import nearest

    made = [one for one in products if products[one].recipe is not None]
    product = products.get(name)
    if product is None:
        near = nearest(name, made)
        words.fault(f"--recipe: no product {name!r}; " + _known_words(near, made))
    elif product.recipe is None:
        words.fault(f"--recipe: {name!r} has no recipe; add 'recipe:' to its document")
        product = None
    return product


def _known_words(near: str | None, made: list[str]) -> str:
    if near:
        return f"did you mean {near!r}?"
    return f"those with a recipe are {', '.join(made)}" if made else "write one with a 'recipe:'"


def _makes_ml(
    words: Words,
    product: Product,
    makes: str | None,
    of: str | None,
    products: Mapping[str, Product],
) -> float:
    assert product.recipe is not None  # noqa: S101
    if (makes is None) == (of is None):
        words.fault("--recipe goes with one of --makes '500 ml' and --of 'PART: AMOUNT'")
        return 1.0
    if makes is not None:
        return words.need("--makes", makes, VOLUME)
    from finishsched.model.recipe import weighed

    part, colon, amount = (of or "").rpartition(":")
    whole = weighed(product.recipe, product.recipe.makes_ml, products)
    found = next((one for one in whole if one.product == part.strip()), None)
    if not colon or found is None:
        names = ", ".join(one.product for one in whole)
        words.fault(f"--of: {of!r} is no part with its amount; its parts are {names}")
        return 1.0
    measure, value = words.read_any("--of", amount.strip(), (MASS, VOLUME))
    has = found.grams if measure is MASS else found.ml
    if not has:
        kept = "weight" if found.grams is None else "volume"
        words.fault(f"--of: {found.product} has no known {kept} here; write it the other way")
        return 1.0
    return product.recipe.makes_ml * value / has


def _data(
    product: Product, makes_ml: float, parts: Iterable[Weighed], vapour: Iterable[Part]
) -> dict[str, Any]:
    return {
        "product": product.id,
        "makes_ml": makes_ml,
        "parts": [
            {"product": one.product, "mass_g": one.grams, "volume_ml": one.ml} for one in parts
        ],
        "volume_solids_percent": product.volume_solids_percent,
        "density_g_per_ml": product.density_g_per_ml,
        "hazards": list(product.hazards),
        "solvents": [{"solvent": one.solvent.liquid.value, "mass_g": one.grams} for one in vapour],
    }


def _lines(
    product: Product,
    makes_ml: float,
    parts: Iterable[Weighed],
    vapour: Iterable[Part],
    products: Mapping[str, Product],
    shop: Shop,
) -> Iterable[str]:
    units, shown = shop.units, shown_of(shop)
    yield f"{product.title}, makes {show(makes_ml, VOLUME, units.volume)}"
    parts = tuple(parts)
    titles = [products[one.product].title if one.product in products else one.product
              for one in parts]  # fmt: skip
    width = max(map(len, titles))
    for title, one in zip(titles, parts, strict=True):
        weight = shown.mass(one.grams, 3) if one.grams is not None else ""
        volume = show(one.ml, VOLUME, units.volume) if one.ml is not None else ""
        yield f"  {title:<{width}}  {'  or measure '.join(filter(None, (weight, volume)))}"
    if product.volume_solids_percent is not None:
        yield f"  about {product.volume_solids_percent:.1f} % of it stays as film"
    leaves = ", ".join(f"{shown.mass(one.grams)} {one.solvent.title}" for one in vapour)
    if leaves:
        yield f"  gives off as it dries: {leaves}"
    if product.hazards:
        yield f"  hazards of all its parts: {', '.join(product.hazards)}"
    yield f"  log it: finishsched stock --mixed NAME --product {product.id} --makes '...'"
