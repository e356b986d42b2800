"""What stands on the shelf that burns: every lot and batch by class, against what is allowed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from finishsched.model.product import Product
from finishsched.model.solvent import FlameClass
from finishsched.safety.storage import (
    STORAGE_DEFERRAL,
    ClassTotal,
    Container,
    Held,
    class_of,
    totals,
)
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.stock.shop_stock import shop_stock
from finishsched.workshop.stock.stock import BatchRow, LotRow, StockState

UNKNOWN_DENSITY_G_PER_ML = 0.8
"""A light solvent's, for a lot kept by weight whose density is not known: more volume, not less."""


@dataclass(frozen=True, slots=True)
class StorageAnswer:
    """What burns on the shelf, by jar and by class."""

    held: tuple[Held, ...]
    """The readiest to burn first, then the fullest."""
    totals: tuple[ClassTotal, ...]
    stated: bool
    """True when the shop's document says how much may stand there."""
    unknown: tuple[str, ...]
    """Lots and batches of products that no document tells of."""
    deferral: str = STORAGE_DEFERRAL

    @property
    def over(self) -> bool:
        """True when more is there than the document allows, or a container holds too much."""
        return any(total.over for total in self.totals) or any(one.too_big for one in self.held)


def storage_answer(workshop: Workshop, now: datetime) -> StorageAnswer:
    """Return what stands on the shelf at ``now`` that burns, and how much of it may."""
    stock, papers = shop_stock(workshop, now), workshop.papers
    every: tuple[BatchRow | LotRow, ...] = (*stock.batches, *stock.lots)
    rows = [row for row in every if row.state is not StockState.EMPTY]
    held = [one for row in rows if (one := _held(row, papers)) is not None]
    classes = list(FlameClass)
    held.sort(key=lambda one: (classes.index(one.flame_class), -one.left_ml, one.name))
    limits = papers.shop.storage
    return StorageAnswer(
        held=tuple(held),
        totals=totals(held, limits),
        stated=bool(limits),
        unknown=tuple(_unknown(rows, papers)),
    )


def _unknown(rows: list[BatchRow | LotRow], papers: Papers) -> Iterator[str]:
    for row in rows:
        thing = row.batch if isinstance(row, BatchRow) else row.lot
        if thing.product not in papers.products:
            yield one_line(thing.name)


def _held(row: BatchRow | LotRow, papers: Papers) -> Held | None:
    """Return a row as something that burns; None for what does not."""
    if isinstance(row, BatchRow):
        batch = row.batch
        found = _batch_class(papers.products.get(batch.product), papers)
        amounts = batch.left_ml, batch.made_ml
        name, container = batch.name, Container.GLASS
    else:
        lot = row.lot
        product = papers.products.get(lot.product)
        found = class_of(product) if product else None
        per_ml = (product.density_g_per_ml if product else None) or UNKNOWN_DENSITY_G_PER_ML
        by_weight = lot.left_g is not None
        amounts = (lot.left / per_ml, lot.had / per_ml) if by_weight else (lot.left, lot.had)
        name, container = lot.name, Container.CAN
    if found is None:
        return None
    return Held(one_line(name), one_line(row.title), found, *amounts, container)


def _batch_class(product: Product | None, papers: Papers) -> FlameClass | None:
    """Return the class of what is mixed of ``product``: its own, or its thinner's if readier."""
    if product is None:
        return None
    thinner = papers.products.get(product.thinner or "")
    classes = [class_of(one) for one in (product, thinner) if one is not None]
    known = [one for one in classes if one is not None]
    return min(known, key=list(FlameClass).index, default=None)
