"""Laws that every drying law must keep."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.drying.figures import Phase, figures_of, mechanism_of
from finishsched.drying.laws import (
    PRODUCT_AIR,
    SCHEDULE_AIR,
    Stop,
    interval_factor,
    law_for,
    product_law,
    speed,
    stop_reason,
)
from finishsched.model.product import DryingTimes, Mechanism, Product, ProductKind
from finishsched.model.shop import Air

laws = st.builds(
    lambda mechanism, phase, at_c, film, below, first: law_for(
        mechanism, phase, Air(at_c, 50)
    ).laid(film, first_on_wood=first, film_below_um=below),
    st.sampled_from(Mechanism),
    st.sampled_from(Phase),
    st.floats(12, 30),
    st.floats(0.2, 5),
    st.floats(0, 100),
    st.booleans(),
)
airs = st.builds(Air, st.floats(-10, 50), st.floats(1, 100), st.floats(0, 2))
NEARLY = 1 + 1e-9


@pytest.mark.parametrize("mechanism", Mechanism)
@pytest.mark.parametrize("phase", Phase)
@pytest.mark.parametrize("reference", [PRODUCT_AIR, SCHEDULE_AIR, Air(8, 75)])
def test_the_stated_time_holds_in_its_own_air(mechanism, phase, reference):
    """In the air that a time is stated for, the normal film takes that time."""
    law = law_for(mechanism, phase, reference)
    assert interval_factor(law, reference) == pytest.approx(1)
    assert law.reason.source


@given(laws, airs, st.floats(0, 20))
def test_warmer_never_slows(law, air, warmer_k):
    """At one humidity, warmer air never takes longer."""
    warm = Air(air.temperature_c + warmer_k, air.humidity_percent, air.movement_m_per_s)
    assert interval_factor(law, warm) <= interval_factor(law, air) * NEARLY


@given(laws, airs, st.floats(0, 3), st.floats(0, 50))
def test_thicker_never_hastens(law, air, thicker, more_below_um):
    """A thicker film, or more film beneath, never takes less time."""
    thick = law.laid(
        law.film_ratio + thicker,
        first_on_wood=law.first_on_wood,
        film_below_um=law.film_below_um + more_below_um,
    )
    assert interval_factor(law, air) <= interval_factor(thick, air) * NEARLY


@given(laws, airs, st.floats(0, 99), st.floats(0, 2))
def test_damp_and_still_air_never_hastens(law, air, damper, wind):
    """More humidity, or less movement, never takes less time."""
    damp = Air(air.temperature_c, min(100, air.humidity_percent + damper), air.movement_m_per_s)
    windy = Air(air.temperature_c, air.humidity_percent, air.movement_m_per_s + wind)
    assert interval_factor(law, air) <= interval_factor(law, damp) * NEARLY
    assert interval_factor(law, windy) <= interval_factor(law, air) * NEARLY


@given(laws, airs)
def test_what_stops_has_no_pace_and_a_reason(law, air):
    """The pace is 0, and the time endless, just where a reason is given."""
    stopped = stop_reason(law, air) is not None
    assert (speed(law, air) == 0) is stopped
    assert math.isinf(interval_factor(law, air)) is stopped


@pytest.mark.parametrize(
    ("mechanism", "air", "stop"),
    [
        (Mechanism.COALESCING, Air(9, 50), Stop.TOO_COLD_TO_COALESCE),
        (Mechanism.COALESCING, Air(11, 50), None),
        (Mechanism.COALESCING, Air(20, 100), Stop.TOO_HUMID),
        (Mechanism.OXIDISING, Air(9, 80), Stop.COLD_AND_DAMP),
        (Mechanism.OXIDISING, Air(9, 60), None),
        (Mechanism.WATER, Air(4, 50), Stop.TOO_COLD_FOR_WATER),
        (Mechanism.SOLVENT, Air(0, 90), None),
    ],
)
def test_where_drying_stops(mechanism, air, stop):
    """Waterborne below 10 degC, oil below 10 degC and damp (data sheets), water near freezing."""
    assert stop_reason(law_for(mechanism, Phase.RECOAT), air) is stop


def test_a_time_stated_for_colder_air_moves_the_limit():
    """What its maker says dries at 8 degC is not called too cold there."""
    law = law_for(Mechanism.COALESCING, Phase.RECOAT, Air(8, 50))
    assert stop_reason(law, Air(8, 50)) is None
    assert stop_reason(law, Air(7, 50)) is Stop.TOO_COLD_TO_COALESCE


def test_the_first_coat_on_bare_wood():
    """Sooner dry to the touch, later hard (published; by how much is assumed)."""
    for phase, sooner in ((Phase.TOUCH, True), (Phase.SAND, False)):
        law = law_for(Mechanism.SOLVENT, phase)
        first = interval_factor(law.laid(first_on_wood=True), PRODUCT_AIR)
        assert (first < 1) is sooner


def test_oil_dries_slower_in_damp_air():
    """Above 70 % humidity an oil takes longer, up to twice as long (assumed)."""
    law = law_for(Mechanism.OXIDISING, Phase.RECOAT)
    assert interval_factor(law, Air(23, 70)) == pytest.approx(1)
    assert interval_factor(law, Air(23, 100)) == pytest.approx(2)


@pytest.mark.parametrize("film", [0, -1, math.inf, math.nan])
def test_no_impossible_film(film):
    """A film of nothing, or less, is refused."""
    with pytest.raises(ValueError, match="above 0"):
        law_for(Mechanism.SOLVENT, Phase.TOUCH).laid(film)
    with pytest.raises(ValueError, match="from 0"):
        law_for(Mechanism.SOLVENT, Phase.TOUCH).laid(film_below_um=-1 if film == 0 else math.nan)


def test_a_product_brings_its_own_air_and_mechanism():
    """Published times hold in the product's own air; its kind stands in for its mechanism."""
    dries = DryingTimes(recoat_s=7200, at_c=18, at_humidity_percent=60)
    varnish = Product("varnish", "Varnish", ProductKind.VARNISH, dries=dries)
    law = product_law(varnish, Phase.RECOAT)
    assert law is not None
    assert law.mechanism is Mechanism.OXIDISING
    assert (law.reference.temperature_c, law.reference.humidity_percent) == (18, 60)
    epoxy = Product("epoxy", "Epoxy", ProductKind.GLUE, mechanism=Mechanism.TWO_PART)
    assert product_law(epoxy, Phase.CLAMP) == law_for(Mechanism.TWO_PART, Phase.CLAMP)
    powder = Product("pumice", "Pumice", ProductKind.POWDER)
    assert mechanism_of(powder) is None
    assert product_law(powder, Phase.CURE) is None


def test_every_figure_says_what_it_rests_on():
    """No mechanism and no phase without figures, and no figures without their basis."""
    for mechanism in Mechanism:
        for phase in Phase:
            basis = figures_of(mechanism, phase).basis
            assert "assumed" in basis or "computed" in basis
