"""What of a coat stays as film, and how dense it is as laid."""

from __future__ import annotations

from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.cut import DISSOLVED_G_PER_ML
from finishsched.model.product import Product, ProductKind
from finishsched.model.ranges import NOTHING, Range
from finishsched.model.shop import Alcohol


def carries_film(kind: ProductKind) -> bool:
    """Tell whether a coat of this kind is counted as film."""
    return kind.row.film_solids is not None


def cut_solids(cut_g_per_l: float, dissolved_g_per_ml: float = DISSOLVED_G_PER_ML) -> float:
    """Return the volume solids of a cut, a share from 0 to 1: c v / (1 + c v).

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, above 0.
        dissolved_g_per_ml: g/ml of flakes over the volume that they add, above 0.

    """
    resin_ml_per_ml = cut_g_per_l / 1000 / dissolved_g_per_ml
    return resin_ml_per_ml / (1 + resin_ml_per_ml)


def solids_of(
    product: Product, cut_g_per_l: float | None, thinned_percent: float | None
) -> tuple[Range, str]:
    """Return the share of a coat that stays as film, and what had to be assumed for it.

    Source: the product's document; where it says nothing, our assumption by its kind.

    Args:
        product: with the solids that its document states, or those usual for its kind.
        cut_g_per_l: g of flakes per litre of alcohol, above 0; or None.
        thinned_percent: percent of thinner in what is applied, 0 to under 100; or None.

    """
    share = 1 - (thinned_percent or 0.0) / 100
    if product.kind is ProductKind.FLAKES and cut_g_per_l:
        dissolved = product.dissolved_density_g_per_ml or DISSOLVED_G_PER_ML
        return _exactly(cut_solids(cut_g_per_l, dissolved) * share), ""
    if product.volume_solids_percent is not None:
        return _exactly(product.volume_solids_percent / 100 * share), ""
    usual = (product.kind.row.film_solids or NOTHING).times(share)
    return usual, f"the volume solids of {product.id} are not stated: {usual.likely:.0%} is taken"


def density_g_per_ml(product: Product, cut_g_per_l: float | None, alcohol: Alcohol) -> float:
    """Return the density of a coat as laid, in g/ml.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes; else the product's
    document, or what is usual for its kind (our assumption).

    Args:
        product: with the density that its document states.
        cut_g_per_l: g of flakes per litre of alcohol, 0 or more; or None.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.

    Raises:
        ValueError: for alcohol outside those ranges.

    """
    of_alcohol = alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    if product.kind is ProductKind.FLAKES:
        grams = (cut_g_per_l or 0.0) / 1000
        dissolved = product.dissolved_density_g_per_ml or DISSOLVED_G_PER_ML
        return (of_alcohol + grams) / (1 + grams / dissolved)
    if product.density_g_per_ml is not None:
        return product.density_g_per_ml
    return product.kind.row.density_g_per_ml or of_alcohol


def _exactly(value: float) -> Range:
    return Range(value, value, value)
