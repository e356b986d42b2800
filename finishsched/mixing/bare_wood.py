"""What the first coat loses into bare wood: which coat that is, and how thirsty the wood is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from finishsched.mixing.amount import BARE_WOOD_TAKES_ML_PER_M2, NOTHING, Pores, Range, pores_of
from finishsched.model.doing import Lays
from finishsched.model.product import Product, ProductKind
from finishsched.model.step import Step


def first_into_wood(steps: Iterable[Step], products: Mapping[str, Product]) -> Step | None:
    """Return the first coat, unless it is an oil, whose stated amount is what soaks in."""
    first = next((step for step in steps if step.verb.lays_coats and step.product), None)
    if first is None:
        return None
    product = products.get(first.product or "")
    return None if product is not None and product.kind is ProductKind.OIL else first


def pores_met(
    step: Step, steps: Iterable[Step], species: str, products: Mapping[str, Product]
) -> Pores | None:
    """Return how open the wood is that ``step``, one of ``steps``, is laid into; None for film."""
    steps = tuple(steps)
    if step != first_into_wood(steps, products):
        return None
    filled = any(one.verb.does.lays is Lays.FILLER and one.number < step.number for one in steps)
    return Pores.CLOSED if filled else pores_of(species)


def soaks_of(
    step: Step, steps: Iterable[Step], species: str, products: Mapping[str, Product]
) -> Range:
    """Return what the wood drinks of a coat besides what lies on it, in ml for a square metre."""
    pores = pores_met(step, steps, species, products)
    return NOTHING if pores is None else BARE_WOOD_TAKES_ML_PER_M2[pores]
