"""Out of which batch a coat came, with its lots and what it was made of, in words."""

from __future__ import annotations

from collections.abc import Mapping

from finishsched.model.product import Product
from finishsched.model.recipe import Weighed
from finishsched.model.shop import ShownUnits
from finishsched.model.stock import Batch
from finishsched.units import MASS, VOLUME, show


def batch_words(batch: Batch, products: Mapping[str, Product], units: ShownUnits) -> str:
    """Return a batch with its lots and, by its recipe, its parts: to be matched years later."""
    lots = f" (lots {', '.join(batch.lots)})" if batch.lots else ""
    parts = [f"{_amount(one, units)} {_title(one.product, products)}" for one in batch.parts]
    return f"{batch.name}{lots}" + (f", made of {', '.join(parts)}" if parts else "")


def _title(name: str, products: Mapping[str, Product]) -> str:
    return products[name].title if name in products else name


def _amount(part: Weighed, units: ShownUnits) -> str:
    if part.grams is not None:
        return show(part.grams, MASS, units.mass, digits=3)
    return show(part.ml or 0.0, VOLUME, units.volume, digits=3)
