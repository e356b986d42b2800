"""What a batch takes from the lots on the shelf: how much of each, and from which."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from finishsched.journal.events import Draw
from finishsched.journal.shelf import ROUNDING, Shelf
from finishsched.mixing.cut import mix_for_volume
from finishsched.mixing.keeping import life_of
from finishsched.mixing.materials import as_bought_g_per_ml
from finishsched.model.product import Product, ProductKind
from finishsched.model.recipe import Weighed, weighed
from finishsched.model.shop import Shop
from finishsched.model.stock import Lot, Thing
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.shown import Shown
from finishsched.workshop.stock.shelf_entries import Mixed

AS_TOLD = 0.02
"""Share of what is wanted that may be missing: amounts are told rounded, and scales have steps."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """How much of one product a batch takes, in whichever units it is known."""

    product: str
    kind: ProductKind | None
    title: str
    g: float | None
    ml: float | None

    def takes(self, lot: Lot, products: Mapping[str, Product]) -> bool:
        """Tell whether ``lot`` will do: the same product, or for alcohol another alcohol."""
        if lot.product == self.product:
            return True
        held = products.get(lot.product)
        return held is not None and held.kind is self.kind is ProductKind.ALCOHOL

    def in_unit_of(self, lot: Lot, products: Mapping[str, Product]) -> float | None:
        """Return how much is wanted as ``lot`` is kept; None when that cannot be said."""
        amount = self.g if lot.left_g is not None else self.ml
        if amount is not None:
            return amount
        held = products.get(lot.product)
        density = held.density_g_per_ml if held else None
        if density is None:
            return None
        return (self.ml or 0.0) * density if lot.left_g is not None else (self.g or 0.0) / density


def wanted_for(
    entry: Mixed, product: Product, products: Mapping[str, Product], shop: Shop
) -> tuple[Wanted, ...]:
    """Return what goes into the batch: the product, and what thins it.

    Raises:
        RefusedError: when such a batch cannot be made of the product.

    """
    thinner = products.get(product.thinner or "")
    if product.recipe is not None and entry.cut_g_per_l is None:
        return wanted_parts(parts_for(entry, product, products), products)
    if entry.cut_g_per_l is not None:
        if product.kind is not ProductKind.FLAKES:
            raise RefusedError(
                f"{product.id} is {product.kind.value}, and only flakes are mixed to a cut",
                "write --thinned with the share of thinner, or name flakes",
            )
        batch = mix_for_volume(entry.cut_g_per_l, entry.makes_ml, shop.alcohol)
        return (
            Wanted(product.id, product.kind, product.title, batch.flakes_g, None),
            _solvent(product, thinner, batch.alcohol_g, batch.alcohol_ml),
        )
    return _thinned(entry, product, thinner)


def parts_for(
    entry: Mixed, product: Product, products: Mapping[str, Product]
) -> tuple[Weighed, ...]:
    """Return what goes into a batch by the recipe of ``product``; nothing for one without.

    Raises:
        RefusedError: when it is to be thinned too, which is a second batch.

    """
    if product.recipe is None or entry.cut_g_per_l is not None:
        return ()
    if entry.thinned_percent:
        raise RefusedError(
            f"{product.id} is made by its recipe", "log it first, and thin it where it is used"
        )
    return weighed(product.recipe, entry.makes_ml, products)


def wanted_parts(parts: Iterable[Weighed], products: Mapping[str, Product]) -> tuple[Wanted, ...]:
    """Return what the parts of a recipe ask of the shelf."""
    found = []
    for part in parts:
        held = products.get(part.product)
        kind, title = (held.kind, held.title) if held else (None, part.product)
        found.append(Wanted(part.product, kind, title, part.grams, part.ml))
    return tuple(found)


def _solvent(product: Product, thinner: Product | None, grams: float | None, ml: float) -> Wanted:
    if thinner is None:
        return Wanted(product.thinner or "alcohol", ProductKind.ALCOHOL, "alcohol", grams, ml)
    return Wanted(thinner.id, thinner.kind, thinner.title, grams, ml)


def _thinned(entry: Mixed, product: Product, thinner: Product | None) -> tuple[Wanted, ...]:
    percent = entry.thinned_percent or 0.0
    if product.kind is ProductKind.FLAKES:
        raise RefusedError(f"{product.id} is flakes, which are mixed to a cut", "write --cut")
    thinner_ml = entry.makes_ml * percent / 100
    itself = Wanted(product.id, product.kind, product.title, None, entry.makes_ml - thinner_ml)
    if thinner_ml == 0:
        return (itself,)
    if product.thinner is None:
        raise RefusedError(
            f"{product.id} names no thinner", "leave --thinned at 0 %, or add it to the product"
        )
    return itself, _solvent(product, thinner, None, thinner_ml)


def chosen_lots(
    wanted: Iterable[Wanted],
    named: Sequence[Lot],
    shelf: Shelf,
    products: Mapping[str, Product],
    at: datetime,
    zone: tzinfo,
) -> dict[str, tuple[Lot, ...]]:
    """Return for each wanted product the lots to draw from, in order.

    Those that were named; for a product of which none was named, all that were bought by the day
    of ``at`` and are not past their life, the oldest first.
    """
    day = at.astimezone(zone).date()

    def there(lot: Lot) -> bool:
        life = life_of(products.get(lot.product), mixed=False)
        past = life.over_s is not None and (at - lot.bought_at).total_seconds() > life.over_s
        return lot.bought_at.astimezone(zone).date() <= day and not past

    found = {}
    for one in wanted:
        mine = [lot for lot in named if one.takes(lot, products)]
        usable = [lot for lot in shelf.lots if lot.product == one.product and there(lot)]
        found[one.product] = tuple(mine or usable)
    return found


def draws_for(
    batch: str,
    wanted: Iterable[Wanted],
    chosen: Mapping[str, Sequence[Lot]],
    products: Mapping[str, Product],
    shown: Shown,
) -> tuple[Draw, ...]:
    """Return what is taken from each lot; of a product without any lot nothing is.

    Raises:
        RefusedError: when there is not enough left.

    """
    draws: list[Draw] = []
    for one in wanted:
        draws += _draws(batch, one, chosen[one.product], products, shown)
    return tuple(draws)


def _draws(
    batch: str,
    one: Wanted,
    lots: Sequence[Lot],
    products: Mapping[str, Product],
    shown: Shown,
) -> list[Draw]:
    draws: list[Draw] = []
    share = 1.0
    for lot in lots:
        whole = one.in_unit_of(lot, products)
        if whole is None:
            raise RefusedError(
                f"{lot.name!r} is kept in another unit than {one.title} is mixed by, and its "
                "density is not known",
                "name another lot with --from, or give the product its density",
            )
        amount = min(lot.left, whole * share)
        if amount > ROUNDING:
            share -= amount / whole
            by_weight = lot.left_g is not None
            draws.append(
                Draw(lot.name, amount if by_weight else None, None if by_weight else amount)
            )
    if lots and share > AS_TOLD:
        raise _too_little(batch, one, lots, products, shown)
    return draws


def _too_little(
    batch: str,
    one: Wanted,
    lots: Sequence[Lot],
    products: Mapping[str, Product],
    shown: Shown,
) -> RefusedError:
    whole = one.in_unit_of(lots[0], products) or 0.0
    left = " and ".join(f"{_as_kept(lot.left, lot, shown)} in {lot.name!r}" for lot in lots)
    return RefusedError(
        f"{batch!r} takes {_as_kept(whole, lots[0], shown)} of {one.title}, and there is {left}",
        "mix less, log what was bought, or count what is left with stock --left",
    )


def _as_kept(amount: float, lot: Lot, shown: Shown) -> str:
    """Return an amount in words, by weight or by volume as the lot is kept."""
    return shown.mass(amount, 3) if lot.left_g is not None else shown.volume(amount, 3)


def density_g_per_ml(thing: Thing, products: Mapping[str, Product], shop: Shop) -> float | None:
    """Return how heavy a lot or batch is, or None when nothing tells."""
    if not isinstance(thing, Lot) and thing.cut_g_per_l is not None:
        return mix_for_volume(thing.cut_g_per_l, 100.0, shop.alcohol).density_g_per_ml
    if not isinstance(thing, Lot) and thing.thinned_percent:
        return None
    return as_bought_g_per_ml(thing.product, products, shop.alcohol)
