"""Products as bought: how much of each is wanted, what the shelf has, which packs to buy."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.packs import best_cover
from finishsched.model.product import Product, ProductKind
from finishsched.model.shop import Alcohol, Pack, Price, Shop
from finishsched.model.stock import Lot

LEAST_AMOUNT = 1e-6
"""In g or ml: less than this is nothing."""

PLAIN_ALCOHOL = "alcohol"
"""Stands for the thinner of flakes whose document names none."""


@dataclass(frozen=True, slots=True)
class Material:
    """One product as bought: what is wanted of it, less what stands on the shelf."""

    product: str
    by_mass: bool
    amount: float
    """In g or ml."""
    in_stock: float
    """No more than is wanted."""

    @property
    def to_buy(self) -> float:
        """What is still missing, in g or ml."""
        return still_wanted(self.amount, self.in_stock)


@dataclass(frozen=True, slots=True)
class Purchase:
    """What to buy of one product: in packs where the shop lists some, else the plain amount."""

    material: Material
    packs: tuple[tuple[Pack, int], ...]
    cost: Price | None


@dataclass(slots=True)
class OpenLot:
    """A lot while it is being taken from."""

    lot: Lot
    density_g_per_ml: float | None
    share_left: float = 1.0

    def take(self, amount: float, *, by_mass: bool) -> float:
        """Take up to ``amount``, and return how much there was."""
        lot = self.lot
        left = _in_unit(lot.left_g, lot.left_ml, self.density_g_per_ml, by_mass=by_mass)
        taken = max(0.0, min(amount, left * self.share_left))
        if taken > 0:
            self.share_left -= taken / left
        return taken


def purchase(material: Material, products: Mapping[str, Product], shop: Shop) -> Purchase:
    """Return the packs that hold what is to buy: at the least cost, or with the least left over.

    By cost only when every pack of the product has its price, all in one currency.
    """
    density = as_bought_g_per_ml(material.product, products, shop.alcohol)
    sized = [
        (pack, size)
        for pack in shop.packs
        if pack.product == material.product
        and (size := _in_unit(pack.size_g, pack.size_ml, density, by_mass=material.by_mass))
    ]
    if not sized:
        return Purchase(material, (), None)
    prices = [pack.price.amount for pack, _ in sized if pack.price is not None]
    currencies = {pack.price.currency if pack.price else "" for pack, _ in sized}
    comparable = len(currencies) == 1 and len(prices) == len(sized)
    sizes = [size for _, size in sized]
    counts = best_cover(material.to_buy, sizes, prices if comparable else None)
    bought = tuple((pack, n) for (pack, _), n in zip(sized, counts, strict=True) if n)
    return Purchase(material, bought, _cost(bought))


def as_bought_g_per_ml(
    product_id: str, products: Mapping[str, Product], alcohol: Alcohol
) -> float | None:
    """Return the density of a product as bought; None when nobody states it."""
    product = products.get(product_id)
    if product_id == PLAIN_ALCOHOL or (product and product.kind is ProductKind.ALCOHOL):
        return alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    return product.density_g_per_ml if product else None


def still_wanted(amount: float, in_stock: float) -> float:
    """Return what is missing, 0 or more; a trace that rounding left is nothing.

    Source: a difference, by definition.

    Args:
        amount: ml or g, 0 or more.
        in_stock: in the same unit, 0 or more.

    """
    left = amount - in_stock
    return left if left > LEAST_AMOUNT else 0.0


def take(shelf: Iterable[OpenLot], product: str, amount: float, *, by_mass: bool) -> float:
    """Take up to ``amount`` of ``product`` off the shelf, and return how much there was.

    Source: a sum, by definition.

    Args:
        shelf: the open lots, the first to be used first; each is drawn from.
        product: its id.
        amount: g where ``by_mass``, else ml; 0 or more.
        by_mass: True for weight.

    """
    taken = 0.0
    for lot in shelf:
        if lot.lot.product == product:
            taken += lot.take(amount - taken, by_mass=by_mass)
    return taken


def _in_unit(
    mass_g: float | None, volume_ml: float | None, density: float | None, *, by_mass: bool
) -> float:
    """Return an amount in g or ml, whichever it was stated in; 0 where no density tells."""
    if by_mass:
        from_volume = volume_ml * density if volume_ml is not None and density else 0.0
        return mass_g if mass_g is not None else from_volume
    from_mass = mass_g / density if mass_g is not None and density else 0.0
    return volume_ml if volume_ml is not None else from_mass


def _cost(bought: Iterable[tuple[Pack, int]]) -> Price | None:
    prices = [(pack.price, count) for pack, count in bought]
    currencies = {price.currency if price else "" for price, _ in prices}
    if len(currencies) != 1 or "" in currencies:
        return None
    amount = sum(price.amount * count for price, count in prices if price)
    return Price(amount, currencies.pop())
