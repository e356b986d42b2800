"""Mixing to the letter: what counts twice, what serves what, ranges without an end, refusals."""

from __future__ import annotations

from datetime import UTC, date, datetime
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.mixing.amount import used_amount, used_range
from finishsched.mixing.blend import blend_to
from finishsched.mixing.cut import (
    mix_for_alcohol_mass,
    mix_for_flakes,
    mix_for_volume,
)
from finishsched.mixing.gauge import gauge_by_drying, gauge_by_weight
from finishsched.mixing.let_down import as_laid
from finishsched.mixing.materials import OpenLot, take
from finishsched.mixing.measure import on_tools
from finishsched.mixing.need import PieceWork, coats_of, with_pads
from finishsched.mixing.packs import best_cover
from finishsched.mixing.pouring import reachable_share
from finishsched.mixing.supply import supply
from finishsched.model.product import Product, ProductKind
from finishsched.model.ranges import Range
from finishsched.model.schedule import (
    Schedule,
    Spread,
    Stage,
    StageName,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.shop import Alcohol, Shop, Tools
from finishsched.model.step import steps_of
from finishsched.model.stock import Batch, Lot

POUND = 453.59237 / 3.785411784
MADE = datetime(2026, 11, 1, tzinfo=UTC)
WEEK_S = 7 * 86400.0

PRODUCTS = {
    product.id: product
    for product in (
        Product("flakes", "Flakes", ProductKind.FLAKES, thinner="spirit"),
        Product("spirit", "Spirit", ProductKind.ALCOHOL),
        Product("varnish", "Varnish", ProductKind.VARNISH, thinner="turps"),
    )
}


def coats(*plans, area_m2=1.0):
    """Return the coats of a piece of maple."""
    steps = steps_of(Schedule("s", "S", (Stage(StageName.BODY, plans),)))
    piece = PieceWork("p", area_m2, "maple", steps, frozenset(step.key for step in steps))
    return coats_of(piece, PRODUCTS, {})[0]


def padded(id_="pad", count=1, **more):
    """Return a padded step of a 2-lb cut."""
    more = {"cut_g_per_l": (2 * POUND,), "spread": Spread(ml_per_m2=15.0)} | more
    return StepPlan(id_, Verb.PAD, "ovals", product="flakes", coats=(count,), **more)


def brushed(**more):
    """Return a brushed step of varnish."""
    spread = Spread(ml_per_m2=80.0)
    return StepPlan("v", Verb.BRUSH, "flow on", product="varnish", spread=spread, **more)


@given(st.floats(1, 100), st.floats(0.01, 5), st.sampled_from([v for v in Verb if v.lays_coats]))
def test_the_least_used_is_with_the_least_lost(laid, area_m2, verb):
    """The range of what is used has its likely value from the account, its low from less loss."""
    found = used_range(Range(laid, laid, laid), area_m2, verb)
    assert found.likely == pytest.approx(used_amount(laid, area_m2, 1, verb))
    assert found.low * (1 - verb.does.least_lost_share) == pytest.approx(laid * area_m2)
    assert found.low <= found.likely <= found.high


def test_alcohol_that_lets_a_coat_down_is_bought_too():
    """Thinner for the jar and thinner at the bench are one need of one product."""
    wanted = coats(padded(count=4, thin_to_g_per_l=0.5 * POUND))
    found = supply(wanted, PRODUCTS, Shop("s"))
    let_down_ml = sum(coat.let_down_ml for coat in wanted)
    assert let_down_ml > 0
    (made,) = found.mixtures
    (batch,) = found.batches
    assert batch.makes_ml >= made.to_make
    spirit = next(one for one in found.materials if one.product == "spirit")
    assert spirit.amount == pytest.approx(batch.parts.alcohol_ml + let_down_ml)


@pytest.mark.parametrize(
    ("batch", "thinned", "serves"),
    [
        (Batch("jar", "varnish", MADE, 10.0, 10.0, None, thinned_percent=10.0), 10.0, True),
        (Batch("jar", "varnish", MADE, 10.0, 10.0, None, thinned_percent=20.0), 10.0, False),
        (Batch("jar", "varnish", MADE, 10.0, 10.0, 100.0, thinned_percent=10.0), 10.0, False),
        (Batch("jar", "flakes", MADE, 10.0, 10.0, None), None, False),
        (Batch("jar", "flakes", MADE, 10.0, 10.0, 2 * POUND), None, True),
    ],
)
def test_a_jar_serves_only_what_is_mixed_alike(batch, thinned, serves):
    """By its product, how far it was thinned, and its cut; one that nobody knows serves no cut."""
    step = brushed(thinned_percent=(thinned,)) if thinned else padded()
    (made,) = supply(coats(step), PRODUCTS, Shop("s"), [batch]).mixtures
    assert made.in_stock == pytest.approx(10.0 if serves else 0.0)


def test_an_amount_is_taken_lot_by_lot():
    """150 g out of two lots of 100 g leave 50 g, and nobody gets more than there is."""
    shelf = [OpenLot(Lot(name, "flakes", MADE, 100.0, 100.0), None) for name in ("a", "b")]
    assert take(shelf, "flakes", 150.0, by_mass=True) == pytest.approx(150.0)
    assert take(shelf, "flakes", 150.0, by_mass=True) == pytest.approx(50.0)
    assert take(shelf, "flakes", 150.0, by_mass=True) == 0.0


def test_a_pad_is_charged_by_the_time_since_it_was_used_last():
    """Two coats an hour apart share a pad, however long after the first work they come."""
    rest = Waits(after=Wait(3 * WEEK_S, 3 * WEEK_S))
    hour = Waits(after=Wait(3600.0, 3600.0))
    found = with_pads(coats(padded("a", waits=rest), padded("b", waits=hour), padded("c")))
    assert [coat.pad_ml for coat in found] == [10, 10, 0]


def test_a_coat_let_down_in_its_sitting_is_as_weak_as_it_was_told():
    """From the sitting's own jar of 2 lb the last coat is 1 lb; from a jar of 3 lb it is 3 lb."""
    steps = steps_of(
        Schedule(
            "s", "S",
            (Stage(StageName.BODY, (
                padded("other", cut_g_per_l=(3 * POUND,)),
                padded("pad", 3, thin_to_g_per_l=POUND),
            )),),
        )
    )  # fmt: skip
    last = steps[-1]
    assert last.cut_g_per_l == pytest.approx(POUND)
    assert as_laid(last, steps, 2 * POUND) == pytest.approx(POUND)
    assert as_laid(last, steps, 3 * POUND) == pytest.approx(3 * POUND)
    assert as_laid(last, steps, None) == pytest.approx(POUND)


@pytest.mark.parametrize("make", [mix_for_flakes, mix_for_volume, mix_for_alcohol_mass])
@pytest.mark.parametrize(("cut", "amount"), [(0.0, 100.0), (240.0, 0.0), (240.0, -1.0)])
def test_a_batch_of_nothing_is_refused(make, cut, amount):
    """No cut, no flakes, no volume and no alcohol make no batch, by whichever it is asked."""
    with pytest.raises(ValueError, match="more than zero"):
        make(cut, amount, Alcohol())


def test_a_batch_by_its_flakes_has_its_cut():
    """48 g for 240 g a litre of alcohol want 200 ml of it."""
    batch = mix_for_flakes(240.0, 48.0, Alcohol())
    assert (batch.flakes_g, batch.alcohol_ml) == (pytest.approx(48.0), pytest.approx(200.0))


def test_no_jars_make_no_blend():
    """There has to be something to pour from."""
    with pytest.raises(ValueError, match="jar"):
        blend_to([], 240.0, 100.0, Alcohol(), date(2026, 11, 25))


@pytest.mark.parametrize(("held", "share"), [((1, 1), 1), ((1, 4), Fraction(1, 4))])
def test_jars_reach_a_share_of_what_is_wanted(held, share):
    """Half a millilitre and half a gram out of a jar with less of both: the share it has."""
    jar = (Fraction(held[0], 2 * held[1]), Fraction(held[0], 2 * held[1]))
    wanted = (Fraction(1, 2), Fraction(1, 2))
    assert reachable_share([jar], wanted) == share


def test_a_drop_in_a_coarse_measure_has_no_upper_end():
    """1 ml in a measure marked every 10 may be nothing at all: the range ends nowhere, and says so.

    What was dried of less than the scale can tell is no better.
    """
    tools = Tools(scale_g=1.0, measure_ml=10.0, measure_error_percent=5.0)
    found = gauge_by_weight(1.0, 0.9, Alcohol(), tools)
    assert found.cut.high_g_per_l is None
    assert found.cut.blunt
    dried = gauge_by_drying(0.4, 0.1, Alcohol(), tools)
    assert dried.cut.high_g_per_l is None
    assert dried.cut.low_g_per_l == 0.0


def test_a_dried_sample_says_what_it_was_reckoned_from():
    """Its share, the moisture taken, the alcohol's density, the scale, and the standard."""
    (reason,) = gauge_by_drying(20.0, 5.0, Alcohol(95.0, 20.0), Tools(), 3.0).reasons
    assert reason.inputs[:2] == ("dry share 25.00 %", "moisture and insolubles 3 %")
    density = reason.inputs[2]
    assert density.form == "alcohol {}"
    assert (round(density.parts[0].value, 4), density.parts[0].unit) == (0.8114, "g/ml")
    assert "ASTM D360" in reason.source


def test_what_has_an_end_is_narrower_than_what_has_none():
    """1 g of alcohol is lost in a measure marked every 20 ml; a scale of 0.01 g weighs it well."""
    drop = mix_for_volume(240.0, 1.0, Alcohol())
    by_scale = on_tools(drop, Tools(scale_g=0.01, measure_ml=20.0, measure_error_percent=5.0))
    assert by_scale.better_to_weigh
    shut = on_tools(drop, Tools(scale_g=0.01, measure_ml=1.0, measure_error_percent=100.0))
    assert shut.measured.high_g_per_l is None
    assert shut.better_to_weigh
    by_measure = on_tools(drop, Tools(scale_g=0.1, measure_ml=0.01, measure_error_percent=1.0))
    assert not by_measure.better_to_weigh


@given(st.data(), st.sampled_from([(40, 39), (10, 7, 3), (25, 20)]))
def test_up_to_twelve_times_the_largest_no_cover_leaves_less_over(data, sizes):
    """What is left over is no more than the least that any sums of the sizes leave."""
    amount = data.draw(st.integers(1, 12 * max(sizes)))
    counts = best_cover(float(amount), [float(size) for size in sizes])
    held = sum(size * count for size, count in zip(sizes, counts, strict=True))
    sums = {0}
    for total in range(amount):
        if total in sums:
            sums |= {total + size for size in sizes}
    assert held == min(total for total in sums if total >= amount)
