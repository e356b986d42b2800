"""The packs that hold an amount best, against every other way to buy it."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.mixing.materials import Material, purchase
from finishsched.mixing.packs import best_cover, jars_for
from finishsched.model.product import Product, ProductKind
from finishsched.model.shop import Alcohol, Pack, Price, Shop

PRODUCTS = {
    "flakes": Product("flakes", "Flakes", ProductKind.FLAKES),
    "spirit": Product("spirit", "Spirit", ProductKind.ALCOHOL),
    "glue": Product("glue", "Glue", ProductKind.GLUE),
}


def _every_cover(amount, sizes):
    """Give every cover from which no pack of the last size can be left out: no other is better."""
    *others, last = sizes
    for counts in itertools.product(*(range(math.ceil(amount / size) + 1) for size in others)):
        held = sum(size * n for size, n in zip(others, counts, strict=True))
        more = max(0, math.ceil((amount - held) / last))
        yield (*counts, more), held + more * last


tenths = st.integers(1, 1200).map(lambda n: n / 10)
packs = st.lists(st.integers(1, 40), min_size=1, max_size=3, unique=True)


@settings(deadline=None)
@given(tenths, packs)
def test_packs_cover_and_none_leaves_less_over(amount, sizes):
    """Without prices: of all covers none has less left over, and of those none has fewer packs."""
    counts = best_cover(amount, sizes)
    held = sum(size * n for size, n in zip(sizes, counts, strict=True))
    assert held >= amount * (1 - 1e-9)
    least = min(total for _, total in _every_cover(amount, sizes))
    assert held == least
    fewest = min(sum(c) for c, total in _every_cover(amount, sizes) if total == least)
    assert sum(counts) == fewest


@settings(deadline=None)
@given(tenths, packs, st.data())
def test_packs_cover_and_none_is_cheaper(amount, sizes, data):
    """With prices: of all covers there are, none costs less."""
    prices = [float(data.draw(st.integers(1, 60))) for _ in sizes]
    counts = best_cover(amount, sizes, prices)
    held = sum(size * n for size, n in zip(sizes, counts, strict=True))
    cost = sum(price * n for price, n in zip(prices, counts, strict=True))
    assert held >= amount * (1 - 1e-9)
    every = _every_cover(amount, sizes)
    cheapest = min(sum(p * n for p, n in zip(prices, c, strict=True)) for c, _ in every)
    assert cost == pytest.approx(cheapest)


@given(st.floats(0.001, 1e7), st.lists(st.floats(0.01, 2e4), min_size=1, max_size=8))
@settings(deadline=None, max_examples=25)
def test_packs_cover_any_amount_in_a_moment(amount, sizes):
    """However odd the sizes and however large the amount, it is covered."""
    counts = best_cover(amount, sizes)
    assert sum(s * n for s, n in zip(sizes, counts, strict=True)) >= amount * (1 - 1e-9)


def test_sizes_that_hold_nothing_are_refused():
    """No size, or one of nothing, cannot hold anything."""
    for sizes in ([], [0.0], [100.0, -1.0], [float("nan")]):
        with pytest.raises(ValueError, match="above zero"):
            best_cover(10.0, sizes)


def test_jars_are_as_few_and_then_as_small_as_can_be():
    """One larger jar goes before two smaller ones, and the smallest that does before a larger."""
    assert jars_for(300.0, [250.0, 500.0, 1000.0]) == (500.0,)
    assert jars_for(700.0, [250.0, 500.0]) == (500.0, 250.0)


def _material(product, amount, *, by_mass=True):
    return Material(product, by_mass=by_mass, amount=amount, in_stock=0.0)


def test_packs_are_bought_by_cost_only_where_every_price_is_known():
    """One pack without a price, or in another currency, and the least left over decides."""

    def _bought(*prices):
        sizes = (250.0, 1000.0)
        packs_ = tuple(Pack("flakes", s, price=p) for s, p in zip(sizes, prices, strict=True))
        found = purchase(_material("flakes", 700.0), PRODUCTS, Shop("s", packs=packs_))
        return [(pack.size_g, n) for pack, n in found.packs], found.cost

    assert _bought(Price(20, "EUR"), Price(50, "EUR")) == ([(1000.0, 1)], Price(50, "EUR"))
    assert _bought(Price(20, "EUR"), None) == ([(250.0, 3)], Price(60, "EUR"))
    assert _bought(None, None) == ([(250.0, 3)], None)
    assert _bought(Price(20, "EUR"), Price(5, "USD")) == ([(250.0, 3)], Price(60, "EUR"))


def test_a_pack_by_volume_serves_a_need_by_weight_where_a_density_tells():
    """Alcohol's density is known; where none is, the amount is given without packs."""
    shop = Shop(
        "s",
        alcohol=Alcohol(95, 20),
        packs=(Pack("spirit", size_g=1000.0), Pack("glue", size_ml=500.0)),
    )
    spirit = purchase(_material("spirit", 1200.0, by_mass=False), PRODUCTS, shop)
    assert [n for _, n in spirit.packs] == [1]
    assert purchase(_material("glue", 100.0), PRODUCTS, shop).packs == ()


def test_one_large_pack_goes_before_small_ones_that_come_to_the_same():
    """A kilogram in one pack or in four, at one price and with nothing over: it is one pack."""
    assert best_cover(1000.0, [250.0, 1000.0]) == (0, 1)
    assert best_cover(1000.0, [250.0, 1000.0], [5.0, 20.0]) == (0, 1)
