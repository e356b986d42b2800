"""What may stand on the shelf: liquids that burn, by class, and the jars that they may stand in.

Containers: 29 CFR 1910.106 table H-12, of which ethanol's row was found reprinted and the others
are from memory. Outside a cabinet 25 gal of class IA and 120 gal of IB to III per fire area, 60 gal
in a cabinet: 1910.106, as reprinted, for trade; a home holds far less, and the local code decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from finishsched.model.product import Product
from finishsched.model.solvent import FlameClass, StorageLimit
from finishsched.safety.contents import parts_of_product
from finishsched.safety.solvents import flame_class

PINT_ML, QUART_ML, GALLON_ML = 473.176473, 946.352946, 3785.411784

STORAGE_DEFERRAL = (
    "The container limits are US trade rules. The product's safety data sheet and local codes come "
    "first; the fire marshal decides, and a home may hold far less."
)


class Container(StrEnum):
    """What a liquid stands in."""

    GLASS = "glass or plastic jar"
    CAN = "metal can"
    SAFETY_CAN = "safety can"


_MOST_ML = {
    FlameClass.IA: (PINT_ML, GALLON_ML, 2 * GALLON_ML),
    FlameClass.IB: (QUART_ML, 5 * GALLON_ML, 5 * GALLON_ML),
    FlameClass.IC: (GALLON_ML, 5 * GALLON_ML, 5 * GALLON_ML),
    FlameClass.II: (GALLON_ML, 5 * GALLON_ML, 5 * GALLON_ML),
    FlameClass.IIIA: (GALLON_ML, 5 * GALLON_ML, 5 * GALLON_ML),
}


def most_in_ml(found: FlameClass, container: Container) -> float | None:
    """Return the most that one container may hold of a class, in ml; None where no limit is set."""
    limits = _MOST_ML.get(found)
    return None if limits is None else limits[list(Container).index(container)]


def class_of(product: Product) -> FlameClass | None:
    """Return the class of a product by what leaves it; None for one that does not burn as vapour.

    The lowest flash point and the lowest boiling point of its liquids: a blend may stand in a
    milder class, which its data sheet says.
    """
    parts = parts_of_product(product, ml=1.0)
    if not parts:
        return None
    flash_c = min(part.solvent.flash_c for part in parts)
    return flame_class(flash_c, min(part.solvent.boils_c for part in parts))


@dataclass(frozen=True, slots=True)
class Held:
    """One jar, can or lot that holds something that burns."""

    name: str
    title: str
    flame_class: FlameClass
    left_ml: float
    holds_ml: float
    """How much the container was filled with."""
    container: Container

    @property
    def most_ml(self) -> float | None:
        """The most that such a container may hold."""
        return most_in_ml(self.flame_class, self.container)

    @property
    def too_big(self) -> bool:
        """True when more was filled into it than such a container may hold."""
        return self.most_ml is not None and self.holds_ml > self.most_ml * 1.001


@dataclass(frozen=True, slots=True)
class ClassTotal:
    """What stands there of one class, or of all together, against what the shop allows."""

    flame_class: FlameClass | None
    """None for all classes together."""
    there_ml: float
    allowed_ml: float | None
    """None where the shop's document sets no limit."""
    places: tuple[str, ...] = ()

    @property
    def over(self) -> bool:
        """True when more is there than the document allows."""
        return self.allowed_ml is not None and self.there_ml > self.allowed_ml


def totals(held: Iterable[Held], limits: Sequence[StorageLimit]) -> tuple[ClassTotal, ...]:
    """Return what stands there by class, the readiest to burn first, and all of it at the end.

    Where each jar stands is in no journal, so the limits of all places of one class add up.
    """
    there: dict[FlameClass, float] = {}
    for one in held:
        there[one.flame_class] = there.get(one.flame_class, 0.0) + one.left_ml
    named = {limit.flame_class for limit in limits if limit.flame_class is not None}
    found = [
        _total(flame, there.get(flame, 0.0), limits)
        for flame in FlameClass
        if flame in there or flame in named
    ]
    return (*found, _total(None, sum(there.values()), limits))


def _total(flame: FlameClass | None, there_ml: float, limits: Iterable[StorageLimit]) -> ClassTotal:
    mine = [limit for limit in limits if limit.flame_class is flame]
    allowed = sum(limit.most_ml for limit in mine) if mine else None
    return ClassTotal(flame, there_ml, allowed, tuple(limit.place for limit in mine))
