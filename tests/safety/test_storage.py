"""What may stand on the shelf, by class and by container."""

from __future__ import annotations

import pytest

from finishsched.model.product import Product, ProductKind
from finishsched.model.solvent import FlameClass, Liquid, SolventShare, StorageLimit
from finishsched.safety.storage import (
    GALLON_ML,
    QUART_ML,
    Container,
    Held,
    class_of,
    most_in_ml,
    totals,
)


def held(flame, left_ml, holds_ml=None, container=Container.GLASS):
    """Return a jar of a class."""
    return Held("jar", "Something", flame, left_ml, holds_ml or left_ml, container)


@pytest.mark.parametrize(
    ("flame", "most_gallons"),
    [
        (FlameClass.IA, (1 / 8, 1, 2)),
        (FlameClass.IB, (1 / 4, 5, 5)),
        (FlameClass.IC, (1, 5, 5)),
        (FlameClass.II, (1, 5, 5)),
        (FlameClass.IIIA, (1, 5, 5)),
    ],
)
def test_containers_as_published(flame, most_gallons):
    """29 CFR 1910.106, OSHA, 1974, table H-12: glass, metal, safety can; IB as reprinted.

    The other rows are from memory.
    """
    found = [most_in_ml(flame, container) for container in Container]
    assert found == pytest.approx([gallons * GALLON_ML for gallons in most_gallons])


def test_too_much_for_a_jar():
    """A quart of alcohol in glass is allowed, and a litre and a half is not."""
    assert not held(FlameClass.IB, 900).too_big
    assert held(FlameClass.IB, 100, 1500).too_big
    assert held(FlameClass.IB, 100, 1.01 * QUART_ML).too_big
    assert not held(FlameClass.IB, 100, QUART_ML).too_big
    assert not held(FlameClass.IIIB, 100_000).too_big


def test_totals_by_class_against_what_is_stated():
    """Limits of one class add up over the places; all together has its own."""
    limits = (
        StorageLimit("steel", 3000, FlameClass.IB),
        StorageLimit("wood", 500, FlameClass.IB),
        StorageLimit("steel", 9000),
    )
    found = totals([held(FlameClass.II, 2000), held(FlameClass.IB, 3600)], limits)
    assert [total.flame_class for total in found] == [FlameClass.IB, FlameClass.II, None]
    assert [total.allowed_ml for total in found] == [3500, None, 9000]
    assert [total.over for total in found] == [True, False, False]
    assert found[-1].there_ml == 5600


def test_what_is_limited_is_told_though_none_of_it_is_there():
    """A class that the document names has its row, of nothing; no other has."""
    found = totals([], (StorageLimit("steel", 3000, FlameClass.IB), StorageLimit("steel", 9000)))
    told = [(total.flame_class, total.there_ml, total.allowed_ml) for total in found]
    assert told == [(FlameClass.IB, 0.0, 3000), (None, 0.0, 9000)]


def test_the_class_of_a_blend_is_that_of_its_readiest_liquid():
    """Cautious: the data sheet of the blend may say better."""
    blend = Product(
        "x",
        "X",
        ProductKind.LACQUER,
        solvents=(
            SolventShare(Liquid.MINERAL_SPIRITS, by_volume_percent=50),
            SolventShare(Liquid.TOLUENE, by_volume_percent=5),
        ),
    )
    assert class_of(blend) is FlameClass.IB
    assert class_of(Product("o", "Oil", ProductKind.OIL, solvents=())) is None
