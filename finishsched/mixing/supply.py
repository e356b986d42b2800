"""From what a job takes to what is to be mixed and bought: stock off, into jars, into packs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from finishsched.mixing.into_jar import (
    Parts,
    ToMix,
    is_mixed,
    parts_of,
    recipe_of,
    to_mix,
)
from finishsched.mixing.keeping import life_of
from finishsched.mixing.materials import (
    LEAST_AMOUNT,
    PLAIN_ALCOHOL,
    Material,
    OpenLot,
    Purchase,
    as_bought_g_per_ml,
    purchase,
    still_wanted,
    take,
)
from finishsched.mixing.need import WATER, Coat, Mixture, MixtureNeed, needs_of
from finishsched.mixing.packs import jars_for
from finishsched.model.product import Product
from finishsched.model.recipe import Weighed, weighed
from finishsched.model.shop import Alcohol, Shop
from finishsched.model.stock import SAME_STRENGTH, Batch, Lot


@dataclass(frozen=True, slots=True)
class Supplied:
    """What a job takes of one mixture, and how much of it stands ready."""

    need: MixtureNeed
    parts: Parts
    """Of all that is needed, stock or not."""
    in_stock: float
    """No more than is needed; in ml, or g for a mixture by mass."""
    taken_from: tuple[str, ...] = ()
    """The batches that hold it."""

    @property
    def to_make(self) -> float:
        """What is still to be mixed or bought, in ml, or g for a mixture by mass."""
        return still_wanted(self.need.amount.likely, self.in_stock)


@dataclass(frozen=True, slots=True)
class PlannedBatch:
    """One jar to mix."""

    mixture: Mixture
    makes_ml: float
    jar_ml: float | None
    """None when the shop lists no jars."""
    after_s: float
    """When it is first wanted, from the beginning of the work."""
    parts: Parts
    jar: ToMix
    """The same with the cut that the tools really give."""
    serves: tuple[Coat, ...] = ()
    """The coats that it is for, with other jars of the same mix where one is too small."""


@dataclass(frozen=True, slots=True)
class Supply:
    """Everything that a job takes, and where it is to come from."""

    mixtures: tuple[Supplied, ...]
    batches: tuple[PlannedBatch, ...]
    materials: tuple[Material, ...]
    purchases: tuple[Purchase, ...]


def supply(
    coats: Sequence[Coat],
    products: Mapping[str, Product],
    shop: Shop,
    batches: Iterable[Batch] = (),
    lots: Iterable[Lot] = (),
    told_up: Callable[[float], float] = float,
) -> Supply:
    """Return where the material for ``coats`` is to come from.

    ``batches`` and ``lots`` are those of the shelf that may still be used; batches go first. What
    is to be mixed is ``told_up``: the least volume that can be told and is enough.
    """
    mixtures = _less_batches(needs_of(coats), batches, products, shop.alcohol)
    planned = _planned(mixtures, coats, _Mixing(products, shop, told_up))
    materials = _materials_of(mixtures, planned, products, shop.alcohol, lots)
    missing = [material for material in materials if material.to_buy > 0]
    return Supply(
        mixtures=_less_lots(mixtures, materials, products),
        batches=tuple(planned),
        materials=materials,
        purchases=tuple(purchase(material, products, shop) for material in missing),
    )


def jars_to_mix(
    coats: Sequence[Coat],
    products: Mapping[str, Product],
    shop: Shop,
    batches: Iterable[Batch] = (),
    told_up: Callable[[float], float] = float,
) -> tuple[PlannedBatch, ...]:
    """Return the jars that are to be mixed for ``coats``, as ``supply`` reckons them.

    Source: our assumption; as late and as few as the life of what is mixed allows.

    Args:
        coats: in ml each, with its time in s from now, 0 or more.
        products: by id.
        shop: its alcohol, its tools and its jars.
        batches: those of the shelf that may still be used; they go first.
        told_up: the least volume in ml that can be told and is enough.

    Raises:
        ValueError: for alcohol outside the ranges of its density.

    """
    mixtures = _less_batches(needs_of(coats), batches, products, shop.alcohol)
    return _planned(mixtures, coats, _Mixing(products, shop, told_up))


def _planned(
    mixtures: Iterable[Supplied], coats: Sequence[Coat], mixing: _Mixing
) -> tuple[PlannedBatch, ...]:
    of: dict[Mixture, list[Coat]] = defaultdict(list)
    for coat in coats:
        of[coat.mixture].append(coat)
    return tuple(
        batch
        for supplied in mixtures
        for batch in _batches_for(supplied, of[supplied.need.mixture], mixing)
    )


def _less_batches(
    needs: Iterable[MixtureNeed],
    batches: Iterable[Batch],
    products: Mapping[str, Product],
    alcohol: Alcohol,
) -> tuple[Supplied, ...]:
    """Take what is needed from ``batches`` of the same product and strength, the oldest first."""
    shelf = sorted((one for one in batches if one.left_ml > 0), key=lambda one: one.mixed_at)
    left_ml = {batch.name: batch.left_ml for batch in shelf}
    found = []
    for need in needs:
        wanted_ml, taken_from = need.amount.likely, []
        for batch in shelf:
            taken_ml = min(wanted_ml, left_ml[batch.name])
            if taken_ml > 0 and _serves(batch, need.mixture):
                left_ml[batch.name] -= taken_ml
                wanted_ml -= taken_ml
                taken_from.append(batch.name)
        parts = parts_of(need.mixture, need.amount.likely, products, alcohol)
        in_stock_ml = need.amount.likely - wanted_ml
        found.append(Supplied(need, parts, in_stock_ml, tuple(taken_from)))
    return tuple(found)


def surely_keeps_s(mixture: Mixture, products: Mapping[str, Product]) -> float | None:
    """Return how long a jar of ``mixture`` keeps at the least, in seconds; None for no limit."""
    life = life_of(products.get(mixture.product), mixed=True)
    return life.test_from_s or life.typical_s


class _Mixing(NamedTuple):
    """What jars are mixed of, by whom, and how they are told."""

    products: Mapping[str, Product]
    shop: Shop
    told_up: Callable[[float], float]


def _batches_for(
    supplied: Supplied, coats: Iterable[Coat], mixing: _Mixing
) -> Iterator[PlannedBatch]:
    """Give the jars to mix for a mixture's ``coats``: each is used up in its life, and holds it."""
    mixture, products, shop = supplied.need.mixture, mixing.products, mixing.shop
    if not is_mixed(mixture, products):
        return
    wanted = sorted(coats, key=lambda coat: coat.after_s)
    for serves in _by_life(
        _later_than_stock(wanted, supplied.in_stock), surely_keeps_s(mixture, products)
    ):
        left_ml = volume_ml = sum(wanted_ml for wanted_ml, _ in serves)
        for jar_ml in jars_for(volume_ml, shop.jars_ml) if shop.jars_ml else (None,):
            wanted_ml = left_ml if jar_ml is None else min(jar_ml, left_ml)
            left_ml -= wanted_ml
            jar = to_mix(mixture, wanted_ml, products, shop, mixing.told_up, jar_ml)
            of = tuple(coat for _, coat in serves)
            yield PlannedBatch(mixture, jar.makes_ml, jar_ml, of[0].after_s, jar.parts, jar, of)


def bought_for(
    parts: Iterable[Weighed], products: Mapping[str, Product], above: frozenset[str] = frozenset()
) -> Iterator[tuple[str, bool, float]]:
    """Give what is bought for the parts of a recipe, the parts of its parts among them.

    Each with whether it is counted by mass, and how much, in g or ml.
    """
    for part in parts:
        recipe = recipe_of(part.product, products)
        if recipe is not None and part.ml is not None and part.product not in above:
            inner = weighed(recipe, part.ml, products)
            yield from bought_for(inner, products, above | {part.product})
        elif part.ml is not None and not _is_weighed(part, products):
            yield part.product, False, part.ml
        else:
            yield part.product, True, part.grams or 0.0


def _is_weighed(part: Weighed, products: Mapping[str, Product]) -> bool:
    """Tell whether a part is a solid, which is bought by weight."""
    product = products.get(part.product)
    return product is not None and product.kind.row.is_solid


def _materials_of(
    mixtures: Iterable[Supplied],
    planned: Sequence[PlannedBatch],
    products: Mapping[str, Product],
    alcohol: Alcohol,
    lots: Iterable[Lot] = (),
) -> tuple[Material, ...]:
    """Return what goes into what is to be mixed, less what the ``lots`` hold."""
    wanted: dict[tuple[str, bool], float] = defaultdict(float)
    for supplied in mixtures:
        jars = [batch.parts for batch in planned if batch.mixture == supplied.need.mixture]
        for product, by_mass, amount in _ingredients(supplied, jars, products):
            wanted[product, by_mass] += amount
    shelf = [OpenLot(lot, as_bought_g_per_ml(lot.product, products, alcohol)) for lot in lots]
    return tuple(
        Material(product, by_mass, amount, take(shelf, product, amount, by_mass=by_mass))
        for (product, by_mass), amount in wanted.items()
        if amount > 0 and product != WATER
    )


def thinner_of(mixture: Mixture, products: Mapping[str, Product]) -> str:
    """Return the id of what dissolves or thins the mixture's product."""
    product = products.get(mixture.product)
    if product is not None and product.thinner:
        return product.thinner
    return PLAIN_ALCOHOL if mixture.cut_g_per_l is not None else "thinner"


def _serves(batch: Batch, mixture: Mixture) -> bool:
    if mixture.by_mass or batch.product != mixture.product:
        return False
    if (batch.thinned_percent or None) != mixture.thinned_percent:
        return False
    if batch.cut_g_per_l is None or mixture.cut_g_per_l is None:
        return batch.cut_g_per_l == mixture.cut_g_per_l
    return abs(batch.cut_g_per_l - mixture.cut_g_per_l) <= SAME_STRENGTH * mixture.cut_g_per_l


def _later_than_stock(wanted: Iterable[Coat], in_stock_ml: float) -> Iterator[tuple[float, Coat]]:
    """Give what of each coat the stock does not reach, in ml: the earliest take it."""
    for coat in wanted:
        amount_ml = coat.from_jar.likely
        from_stock_ml = min(in_stock_ml, amount_ml)
        in_stock_ml -= from_stock_ml
        if amount_ml - from_stock_ml > LEAST_AMOUNT:
            yield amount_ml - from_stock_ml, coat


def _by_life(
    wanted: Iterable[tuple[float, Coat]], life_s: float | None
) -> Iterator[list[tuple[float, Coat]]]:
    """Give what to mix together, with its coats: as late and as few as life allows."""
    found: list[tuple[float, Coat]] = []
    for amount_ml, coat in wanted:
        if found and life_s is not None and coat.after_s > found[0][1].after_s + life_s:
            yield found
            found = []
        found.append((amount_ml, coat))
    if found:
        yield found


def _ingredients(
    supplied: Supplied, jars: Iterable[Parts], products: Mapping[str, Product]
) -> Iterator[tuple[str, bool, float]]:
    """Give each product as bought that goes into a mixture: its id, whether by mass, how much."""
    mixture = supplied.need.mixture
    thinner = thinner_of(mixture, products)
    if not is_mixed(mixture, products):
        yield mixture.product, mixture.by_mass, supplied.to_make
    for parts in jars:
        yield mixture.product, True, parts.flakes_g or 0.0
        if parts.of:
            yield from bought_for(parts.of, products)
        else:
            yield mixture.product, False, parts.product_ml or 0.0
        yield thinner, False, parts.alcohol_ml or parts.thinner_ml or 0.0
    yield thinner, False, supplied.need.let_down_ml


def _less_lots(
    mixtures: Iterable[Supplied], materials: Iterable[Material], products: Mapping[str, Product]
) -> tuple[Supplied, ...]:
    """Count what the lots hold as stock of those mixtures that are used as bought."""
    held = {(material.product, material.by_mass): material.in_stock for material in materials}
    found = []
    for supplied in mixtures:
        mixture = supplied.need.mixture
        key = mixture.product, mixture.by_mass
        taken = 0.0
        if not is_mixed(mixture, products):
            taken = min(held.get(key, 0.0), supplied.to_make)
            held[key] = held.get(key, 0.0) - taken
        found.append(replace(supplied, in_stock=supplied.in_stock + taken))
    return tuple(found)
