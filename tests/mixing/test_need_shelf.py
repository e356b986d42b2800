"""What is on the shelf is needed no more: batches and lots."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st
from need_cases import (
    GLUE,
    GLUED,
    MADE,
    POUND,
    PRODUCTS,
    a_pad,
    a_piece,
    a_varnish,
    close,
    coats_on,
    pieces,
)

from finishsched.mixing.cut import DISSOLVED_G_PER_ML
from finishsched.mixing.materials import PLAIN_ALCOHOL
from finishsched.mixing.need import Mixture, coats_of
from finishsched.mixing.supply import supply, surely_keeps_s, thinner_of
from finishsched.model.schedule import (
    Spread,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.shop import Shop
from finishsched.model.stock import Batch, Lot


def _batch(left_ml, cut=2 * POUND, name="jar", **more):
    return Batch(name, "flakes", MADE, left_ml, left_ml, cut, **more)


@given(pieces, st.floats(0, 400), st.floats(0, 400))
def test_batches_reduce_the_need_one_to_one_and_never_below_zero(piece, one_ml, other_ml):
    """Every millilitre on the shelf saves one, down to nothing; other cuts save none."""
    batches = [_batch(one_ml), _batch(other_ml, cut=POUND, name="weak")]
    held = {2 * POUND: one_ml, POUND: other_ml}
    coats = coats_on(piece)
    for with_stock, without in zip(
        supply(coats, PRODUCTS, Shop("s"), batches).mixtures,
        supply(coats, PRODUCTS, Shop("s")).mixtures,
        strict=True,
    ):
        stock_ml = held.get(with_stock.need.mixture.cut_g_per_l, 0.0)
        assert with_stock.to_make == pytest.approx(max(0.0, without.to_make - stock_ml), **close)


@given(pieces, st.floats(0.01, 400), st.floats(0.01, 400))
def test_lots_reduce_what_is_bought_one_to_one_and_never_below_zero(piece, flakes_g, varnish_ml):
    """What stands on the shelf as bought is not bought again."""
    lots = [
        Lot("a", "flakes", MADE, flakes_g, flakes_g),
        Lot("b", "varnish", MADE, had_ml=varnish_ml, left_ml=varnish_ml),
    ]
    held = {"flakes": flakes_g, "varnish": varnish_ml}
    coats = coats_on(piece)
    found = supply(coats, PRODUCTS, Shop("s"), lots=lots)
    for material in found.materials:
        wanted = material.amount - held.get(material.product, 0.0)
        assert material.to_buy == pytest.approx(max(0.0, wanted), **close)
    bought = {one.material.product for one in found.purchases}
    assert bought == {one.product for one in found.materials if one.to_buy > 0}


def test_a_lot_is_never_counted_twice():
    """A lot that serves by weight and by volume gives in all no more than it holds."""
    by_volume = StepPlan("f", Verb.FILL, "", product="glue", spread=Spread(ml_per_m2=100.0))
    dense = {**PRODUCTS, "glue": dataclasses.replace(GLUE, density_g_per_ml=1.25)}
    coats, _ = coats_of(a_piece(GLUED, by_volume, area_m2=1.0), dense, {})
    found = supply(coats, dense, Shop("s"), lots=[Lot("tub", "glue", MADE, 200.0, 200.0)])
    taken_g = sum(one.in_stock * (1 if one.by_mass else 1.25) for one in found.materials)
    assert taken_g == pytest.approx(200.0)


def test_a_lot_serves_what_is_used_as_bought():
    """Varnish used from the tin counts the tin on the shelf as its stock."""
    lot = Lot("tin", "varnish", MADE, had_ml=500.0, left_ml=3.0)
    found = supply(coats_on(a_piece(a_varnish(), species="oak")), PRODUCTS, Shop("s"), lots=[lot])
    (made,) = found.mixtures
    assert made.in_stock == pytest.approx(3.0)
    assert made.to_make == pytest.approx(made.need.amount.likely - 3.0)
    assert not found.batches


jar_lists = st.lists(st.sampled_from([30.0, 100.0, 250.0, 473.176, 500.0]), max_size=4).map(tuple)


@given(st.lists(pieces, min_size=1, max_size=3), jar_lists, st.floats(0, 200))
def test_batches_cover_what_is_to_be_mixed_and_fit_their_jars(several, jars_ml, stock_ml):
    """For each mixture the jars hold together what is missing, and none more than itself.

    A full jar may want the last step of the scale.
    """
    shop = Shop("s", jars_ml=jars_ml)
    found = supply(coats_on(*several), PRODUCTS, shop, [_batch(stock_ml)])
    for batch in found.batches:
        assert batch.makes_ml > 0
        assert (batch.jar_ml is None) == (not jars_ml)
        assert batch.jar_ml is None or batch.makes_ml <= batch.jar_ml + 1e-9
    for made in found.mixtures:
        mixture = made.need.mixture
        mixed = sum(b.makes_ml for b in found.batches if b.mixture == mixture)
        is_mixed = mixture.cut_g_per_l is not None or mixture.thinned_percent is not None
        jars = [b for b in found.batches if b.mixture == mixture and jars_ml]
        cut_g_per_l = mixture.cut_g_per_l or 1000.0
        step_ml = shop.tools.scale_g * (1000 / cut_g_per_l + 1 / DISSOLVED_G_PER_ML)
        least_ml = made.to_make - 2 * step_ml * len(jars) if is_mixed else 0.0
        assert mixed >= least_ml * (1 - 1e-9)
        assert is_mixed or mixed == 0


def test_a_batch_is_used_up_within_its_life():
    """With four months between two coats of one cut, each coat has its own fresh jar."""
    month_s = 30 * 86400.0
    waits = Waits(after=Wait(month_s, 4 * month_s))
    piece = a_piece(a_pad(coats=1, waits=waits), a_pad("later", coats=1, waits=waits))
    found = supply(coats_on(piece), PRODUCTS, Shop("s"))
    life_s = surely_keeps_s(found.batches[0].mixture, PRODUCTS)
    assert life_s == pytest.approx(3 * month_s)
    assert [batch.after_s for batch in found.batches] == [0.0, 4 * month_s]
    soon = a_piece(a_pad(coats=1), a_pad("later", coats=1))
    assert len(supply(coats_on(soon), PRODUCTS, Shop("s")).batches) == 1


def test_what_names_no_thinner_is_thinned_with_what_its_kind_takes():
    """What has a cut is let down with alcohol, and a varnish with the thinner on its tin."""
    assert thinner_of(Mixture("strange", 2 * POUND), {}) == PLAIN_ALCOHOL
    assert thinner_of(Mixture("strange", thinned_percent=10.0), {}) == "thinner"
    assert thinner_of(Mixture("varnish", thinned_percent=10.0), PRODUCTS) == "turps"


@pytest.mark.parametrize("stock_ml", [0.0, 100.0, 250.0])
def test_no_more_is_mixed_than_the_shelf_lacks(stock_ml):
    """A jar that reaches into a coat leaves its rest to mix: what is missing, to whole grams."""
    coats = coats_on(a_piece(a_pad(coats=2), area_m2=10.0))
    wanted_ml = sum(coat.from_jar.likely for coat in coats)
    found = supply(coats, PRODUCTS, Shop("s"), [_batch(stock_ml)] if stock_ml else [])
    mixed_ml = sum(batch.makes_ml for batch in found.batches)
    assert mixed_ml == pytest.approx(wanted_ml - stock_ml, rel=0.03)
