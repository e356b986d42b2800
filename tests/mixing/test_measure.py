"""Rounding to what tools read, and how far the cut can be trusted."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from finishsched.factors import G_PER_L_IN_A_POUND_CUT as POUND
from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.cut import (
    DISSOLVED_G_PER_ML,
    mix_for_alcohol,
    mix_for_flakes,
    mix_for_volume,
)
from finishsched.mixing.into_jar import parts_of, to_mix
from finishsched.mixing.measure import (
    NEAR_ENOUGH,
    measured_range_ml,
    nearest_step,
    on_tools,
    weighable,
    weighed_range_g,
)
from finishsched.mixing.need import Mixture
from finishsched.model.product import Product, ProductKind
from finishsched.model.shop import UNIT_SETS, Alcohol, Shop, Tools
from finishsched.units import VOLUME, read
from finishsched.workshop.base.mixed_words import coarse_words, makes_words

OUNCE_G, FLUID_OUNCE_ML = 28.349523125, 29.5735295625
"""International yard and pound agreement, 1959; NIST Handbook 44, appendix C (from memory)."""

ALCOHOL = Alcohol()
amounts = st.floats(0.01, 20_000)
tools = st.builds(Tools, st.floats(0.01, 10), st.floats(0.1, 50), st.floats(0, 30))


def test_a_kitchens_tools_on_a_two_pound_cut():
    """Worked by hand: 48 g +- 0.5 g in 200 ml +- 5 % is from 47.5/210 to 48.5/190 g/ml."""
    really = on_tools(mix_for_alcohol(2 * POUND, 200, ALCOHOL), Tools(1.0, 5.0, 5.0))
    assert (really.weigh_flakes_g, really.measure_alcohol_ml) == (48.0, 200.0)
    assert really.weigh_alcohol_g == 162.0
    assert really.measured.g_per_l == pytest.approx(240.0)
    assert really.measured.low_g_per_l == pytest.approx(1000 * 47.5 / 210)
    assert really.measured.high_g_per_l == pytest.approx(1000 * 48.5 / 190)
    low, high = really.measured.in_pounds[1:]
    assert (round(low, 1), round(high, 1)) == (1.9, 2.1)
    assert really.better_to_weigh


@given(amounts, st.floats(0.001, 50))
def test_a_reading_is_whole_steps_and_the_nearest(amount, step):
    """A reading is a whole number of steps, one at least, and no other is nearer."""
    reading = nearest_step(amount, step)
    assert reading / step == pytest.approx(round(reading / step), abs=1e-5)
    assert reading >= step * (1 - 1e-6)
    if amount > step:
        assert abs(reading - amount) <= step / 2 * (1 + 1e-6) + 1e-9


@given(st.floats(20, 900), st.floats(0.5, 20_000), tools)
def test_the_cut_lies_in_its_range(cut, makes_ml, tools):
    """What the rounded amounts give lies between the worst cases, by either way."""
    really = on_tools(mix_for_volume(cut, makes_ml, ALCOHOL), tools)
    for found in (really.measured, really.weighed):
        assert 0 < found.low_g_per_l <= found.g_per_l
        assert found.high_g_per_l is None or found.g_per_l <= found.high_g_per_l


@given(st.floats(20, 900), tools, st.floats(-1, 1), st.floats(-1, 1))
def test_no_error_within_the_tools_leaves_the_range(cut, tools, scale_error, measure_error):
    """Whatever the tools are out by, as far as they are trusted, the cut stays in the range."""
    really = on_tools(mix_for_volume(cut, 500, ALCOHOL), tools)
    flakes_g = really.weigh_flakes_g + scale_error * tools.scale_g / 2
    low_ml, high_ml = measured_range_ml(really.measure_alcohol_ml, tools)
    alcohol_ml = (low_ml + high_ml) / 2 + measure_error * (high_ml - low_ml) / 2
    true = 1000 * flakes_g / alcohol_ml
    assert true >= really.measured.low_g_per_l * (1 - 1e-9)
    assert true <= really.measured.high_g_per_l * (1 + 1e-9)


def test_finer_tools_give_a_narrower_range():
    """The range closes on the cut itself as the tools get finer."""
    batch = mix_for_volume(2 * POUND, 250, ALCOHOL)
    fine = on_tools(batch, Tools(0.001, 0.01, 0.001))
    for found in (fine.measured, fine.weighed):
        assert found.low_g_per_l == pytest.approx(batch.cut_g_per_l, rel=2e-4)
        assert found.high_g_per_l == pytest.approx(batch.cut_g_per_l, rel=2e-4)


def test_a_small_measure_is_out_by_half_a_mark():
    """Five percent of 10 ml is less than half a 5 ml mark, so the mark decides."""
    assert measured_range_ml(10, Tools(1, 5, 5)) == (7.5, 12.5)
    assert measured_range_ml(1000, Tools(1, 5, 5)) == (950, 1050)
    assert weighed_range_g(0.2, Tools(1, 5, 5)) == (0.0, 0.7)


def test_a_scale_too_coarse_for_the_flakes_is_said():
    """Four grams on a scale of whole grams warn; the batch that the warning names does not."""
    coarse = on_tools(mix_for_volume(2 * POUND, 20, ALCOHOL), Tools())
    (words,) = coarse_words(coarse.coarse, Shop(""))
    assert "make 50 ml or more, or weigh on one that reads 0.1 g" in words
    assert not on_tools(mix_for_volume(2 * POUND, 50.2, ALCOHOL), Tools()).coarse
    assert not on_tools(mix_for_volume(2 * POUND, 20, ALCOHOL), Tools(scale_g=0.1)).coarse


def test_a_coarse_scale_is_told_in_the_units_of_the_shop():
    """Who weighs in ounces hears of ounces and fluid ounces: 0.05 oz are too coarse for 0.1 oz."""
    tools = Tools(scale_g=0.05 * OUNCE_G)
    coarse = on_tools(mix_for_volume(1.5 * POUND, 0.6 * FLUID_OUNCE_ML, ALCOHOL), tools).coarse
    (words,) = coarse_words(coarse, Shop("", units=UNIT_SETS["us"], tools=tools))
    assert words == (
        "a scale that reads 0.05 oz weighs 0.098 oz of flakes only roughly: where the cut matters "
        "make 3.1 floz or more, or weigh on one that reads 0.005 oz"
    )


@given(st.floats(0.2, 8), st.floats(10, 5000), tools)
def test_what_is_to_be_mixed_is_enough_of_its_cut_and_whole_steps(pounds, least_ml, tools):
    """It makes no less than is wanted, its flakes are whole steps, and it is near its cut.

    Far from it only where no few steps more would bring it near.
    """
    cut = pounds * POUND
    really = weighable(cut, least_ml, ALCOHOL, tools)
    steps = really.weigh_flakes_g / tools.scale_g
    assert steps == pytest.approx(round(steps), abs=1e-5)
    near = abs(really.cut.g_per_l / cut - 1) <= NEAR_ENOUGH
    assert really.makes_ml >= least_ml * (1 - 1e-6) or not near
    more = range(round(steps), round(steps) + 40)
    batches = (on_tools(mix_for_flakes(cut, n * tools.scale_g, ALCOHOL), tools) for n in more)
    assert near or not any(
        abs(one.cut.g_per_l / cut - 1) <= NEAR_ENOUGH and one.makes_ml >= least_ml
        for one in batches
    )


@given(
    st.sampled_from([0.5, 0.75, 1, 1.5, 2, 3]),
    st.floats(10, 900),
    st.sampled_from(["metric", "us"]),
)
@example(pounds=1, wanted_ml=533.0, units="metric")
@example(pounds=0.75, wanted_ml=101.25, units="us")
@example(pounds=3, wanted_ml=25.185860055894125, units="metric")
def test_what_is_told_weighs_out_the_same_when_it_is_asked_for(pounds, wanted_ml, units):
    """The cut and the volume of a sheet, typed into the calculator, are weighed out alike."""
    tools = Tools() if units == "metric" else Tools(0.05 * OUNCE_G, FLUID_OUNCE_ML / 6)
    shop = Shop("", units=UNIT_SETS[units], tools=tools)
    flakes = Product("flakes", "flakes", ProductKind.FLAKES)
    jar = to_mix(Mixture("flakes", pounds * POUND), wanted_ml, {"flakes": flakes}, shop)
    told_ml = read(makes_words(jar, pounds * POUND, shop), VOLUME)
    again = on_tools(mix_for_volume(pounds * POUND, told_ml, shop.alcohol), tools)
    assert again.readings == jar.really.readings
    assert told_ml >= wanted_ml * 0.995


def test_a_jar_that_is_full_holds_no_more():
    """Where whole steps would make more than the jar holds, fewer go in."""
    full = weighable(2 * POUND, 100.0, ALCOHOL, Tools(), most_ml=100.0)
    assert full.makes_ml <= 100.0
    assert weighable(2 * POUND, 100.0, ALCOHOL, Tools()).makes_ml >= 100.0


def test_a_jar_takes_the_most_whole_steps_that_fit():
    """A small jar that holds what one gram makes gets one gram, not the two that were wanted."""
    small = weighable(2 * POUND, 5.2, ALCOHOL, Tools(1.0, 5.0, 5.0), most_ml=5.2)
    assert small.weigh_flakes_g == 1.0
    assert small.makes_ml <= 5.2


def test_what_just_fills_its_jar_goes_into_it():
    """A jar as large as what is made takes it all; one a hundredth smaller takes less."""
    made = on_tools(mix_for_alcohol(240.0, 200.0, ALCOHOL), Tools())
    most_ml = max(made.makes_ml, made.batch.makes_ml)
    full, less = (
        weighable(240.0, made.makes_ml, ALCOHOL, Tools(), most_ml=share * most_ml)
        for share in (1.0, 0.99)
    )
    assert full.weigh_flakes_g == made.weigh_flakes_g == 48.0
    assert less.weigh_flakes_g < 48.0


def test_readings_make_their_alcohol_and_the_room_that_resin_takes():
    """Worked by hand: 48 g of flakes in 162 g of alcohol are that alcohol and 48 / 1.2 ml."""
    really = on_tools(mix_for_alcohol(2 * POUND, 200, ALCOHOL), Tools(1.0, 5.0, 5.0))
    alcohol_ml = 162.0 / alcohol_g_per_ml(ALCOHOL.strength_percent_vol, ALCOHOL.at_c)
    assert really.makes_ml == pytest.approx(alcohol_ml + 48.0 / DISSOLVED_G_PER_ML)


def test_a_thinned_varnish_is_so_many_parts_of_a_hundred_thinner():
    """Worked by hand: 200 ml thinned by 15 % are 170 ml of varnish and 30 ml of thinner."""
    varnish = Product("varnish", "Varnish", ProductKind.VARNISH)
    mixture = Mixture("varnish", thinned_percent=15.0)
    parts = parts_of(mixture, 200.0, {"varnish": varnish}, ALCOHOL)
    assert (parts.product_ml, parts.thinner_ml) == pytest.approx((170.0, 30.0))


def test_what_is_bought_dissolved_is_not_weighed_out():
    """A shellac from a tin has a cut, and no flakes are to be weighed for it."""
    bought = Product("tin", "From a tin", ProductKind.VARNISH)
    mixed = to_mix(Mixture("tin", 240.0), 100.0, {"tin": bought}, Shop("s"), told_up=float)
    assert mixed.really is None
    assert mixed.parts.flakes_g is None
