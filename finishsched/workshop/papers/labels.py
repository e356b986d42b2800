"""What a jar's label says: content, cut, date mixed, lots, hazards."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from finishsched.model.product import Product
from finishsched.model.shop import Shop
from finishsched.model.stock import Batch
from finishsched.safety.labels import (
    LABEL_DEFERRAL,
    HazardLine,
    Pictogram,
    hazard_lines,
    pictograms,
)
from finishsched.units import plain_number
from finishsched.workshop.base.mixed_words import mixed_cut_words
from finishsched.workshop.base.words import one_line
from finishsched.workshop.stock.stock import BatchRow, StockAnswer, StockState


@dataclass(frozen=True, slots=True)
class JarLabel:
    """One label; every text is a line without signs that cannot be printed."""

    name: str
    content: str
    strength: str
    """``2-lb cut``, ``50 % thinned``; empty when neither."""
    mixed_on: date
    test_from: date | None
    not_after: date | None
    lots: tuple[str, ...]
    """Each with what it holds; empty when none was logged."""
    hazards: tuple[HazardLine, ...]
    pictograms: tuple[Pictogram, ...]
    unknown: tuple[str, ...]
    """Products in it of which no document tells, so that their hazards are not known."""
    deferral: str = LABEL_DEFERRAL


def jar_labels(stock: StockAnswer, products: Mapping[str, Product]) -> tuple[JarLabel, ...]:
    """Return a label for each batch that is not empty, in the order of the stock."""
    lots = {row.lot.name: row.lot.product for row in stock.lots}
    return tuple(
        _label(row, lots, products, stock)
        for row in stock.batches
        if row.state is not StockState.EMPTY
    )


def strength_words(batch: Batch, shop: Shop) -> str:
    """Return how strong a batch is: ``2-lb cut``, ``240 g/L cut``, ``50 % thinned``."""
    if batch.cut_g_per_l is not None:
        return mixed_cut_words(batch.cut_g_per_l, batch.made_ml, shop)
    if batch.thinned_percent:
        return f"{plain_number(batch.thinned_percent)} % thinned"
    return ""


def _label(
    row: BatchRow, lots: Mapping[str, str], products: Mapping[str, Product], stock: StockAnswer
) -> JarLabel:
    batch, life = row.batch, row.life
    inside = tuple(dict.fromkeys(_products_in(batch, lots, products)))
    codes = [code for name in inside if name in products for code in products[name].hazards]

    def day(seconds: float | None) -> date | None:
        if seconds is None:
            return None
        return (batch.mixed_at + timedelta(seconds=seconds)).astimezone(stock.zone).date()

    return JarLabel(
        name=one_line(batch.name),
        content=one_line(row.title),
        strength=strength_words(batch, stock.shop),
        mixed_on=batch.mixed_at.astimezone(stock.zone).date(),
        test_from=day(life.test_from_s),
        not_after=day(life.over_s),
        lots=tuple(_lot_words(batch, lots, products)),
        hazards=hazard_lines(codes),
        pictograms=pictograms(codes),
        unknown=tuple(one_line(name) for name in inside if name not in products),
    )


def _products_in(
    batch: Batch, lots: Mapping[str, str], products: Mapping[str, Product]
) -> Iterator[str]:
    """Give every product in the jar; a thinner of which no lot is known by the product's word."""
    yield batch.product
    drawn = [lots[name] for name in batch.lots if name in lots]
    yield from drawn
    product = products.get(batch.product)
    thins = batch.cut_g_per_l is not None or bool(batch.thinned_percent)
    if thins and product and product.thinner and not set(drawn) - {batch.product}:
        yield product.thinner


def _lot_words(
    batch: Batch, lots: Mapping[str, str], products: Mapping[str, Product]
) -> Iterator[str]:
    """Name each lot, with what it holds where that is not the batch's own content."""
    for name in batch.lots:
        held = products.get(lots.get(name, ""))
        other = held is not None and held.id != batch.product
        yield one_line(f"{name} ({held.title})" if held and other else name)
