"""Laws of wood that dries again."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.drying.air import emc_percent
from finishsched.drying.redry import (
    Layer,
    ideal_s,
    redrying,
    share_left,
    taus_until,
)
from finishsched.drying.species import density_kg_per_m3
from finishsched.model.shop import Air

ROOM = Air(20.0, 50.0)
layers = st.builds(Layer, st.floats(0.1, 30), st.sampled_from([1, 2]), st.floats(300, 1200))


@given(layers, st.floats(0, 40), st.floats(0, 35), st.floats(20, 90))
def test_the_range_is_in_order(layer, moisture, at_c, humidity):
    """Low <= likely <= high, none below 0, and 0 for wood that is where the room brings it to."""
    answer = redrying(layer, moisture, Air(at_c, humidity))
    assert 0 <= answer.low_s <= answer.likely_s <= answer.high_s
    settled = redrying(layer, emc_percent(at_c, humidity) + 0.9, Air(at_c, humidity))
    assert settled.high_s == 0


@given(layers, st.floats(12, 30), st.floats(0, 10))
def test_wetter_or_thicker_is_never_sooner(layer, moisture, more):
    """More water, or a thicker layer, never takes less time."""
    likely_s = redrying(layer, moisture, ROOM).likely_s
    thick = Layer(layer.thickness_mm + more, layer.open_faces, layer.density_kg_per_m3)
    assert redrying(layer, moisture + more, ROOM).likely_s >= likely_s
    assert redrying(thick, moisture, ROOM).likely_s >= likely_s


@given(st.floats(0, 10), st.floats(0, 2))
def test_what_is_left_only_falls(taus, more):
    """The share still to come begins at 1 and never grows."""
    assert share_left(0) == 1
    assert share_left(taus + more) <= share_left(taus) + 1e-12


@given(st.floats(1e-6, 1))
def test_times_and_shares_are_inverse(left):
    """The time until a share is left leaves that share."""
    assert share_left(taus_until(left)) == pytest.approx(left, rel=1e-6)


def test_the_densest_wood_of_a_pattern_is_waited_for():
    """It dries the slowest; of a wood that nobody knows a middling one is taken."""
    oak, poplar = density_kg_per_m3("oak"), density_kg_per_m3("poplar")
    assert oak > poplar
    assert density_kg_per_m3("poplar with oak lines") == oak
    assert density_kg_per_m3("unheard-of wood") == 600.0


def test_two_open_faces_take_a_quarter_of_the_time():
    """A loose leaf dries four times as fast as one on a glue line; dense wood half as fast."""
    assert Layer(0.6, 2).tau_s() == pytest.approx(Layer(0.6, 1).tau_s() / 4)
    assert Layer(0.6, 1, 900).tau_s() == pytest.approx(2 * Layer(0.6, 1, 400).tau_s())


@pytest.mark.parametrize("density", [450, 600, 650, 700, 800])
def test_a_little_denser_is_a_little_slower(density):
    """No density is a step: a kilogram per cubic metre more never changes the time by 1 %."""
    lighter, denser = Layer(0.6, 1, density - 0.5).tau_s(), Layer(0.6, 1, density + 0.5).tau_s()
    assert lighter <= denser < 1.01 * lighter
    assert Layer(0.6).tau_s(10) > Layer(0.6).tau_s(20)


def test_a_wetted_veneer_in_a_usual_room():
    """Wetted tape on 0.6 mm veneer: some hours in a real panel, overnight is safe (practice)."""
    veneer_g_per_m2 = 0.6 / 1000 * 600 * 1000
    wet_percent = 9.2 + 100 * 100 / veneer_g_per_m2
    answer = redrying(Layer(0.6), wet_percent, ROOM)
    assert answer.to_percent == pytest.approx(9.3, abs=0.2)
    assert 1 < answer.low_s / 3600 < answer.high_s / 3600 < 12


@pytest.mark.parametrize("wrong", [(0,), (math.nan,), (1, 3), (1, 1, 0)])
def test_no_impossible_layer(wrong):
    """A layer has a thickness, a density, and one or two open faces."""
    with pytest.raises(ValueError, match=r"thickness|faces"):
        Layer(*wrong)


@pytest.mark.parametrize("way", [100, 101, math.nan])
def test_all_of_the_way_takes_for_ever(way):
    """The last of it never comes, so it is refused."""
    with pytest.raises(ValueError, match="above 0"):
        ideal_s(Layer(0.6), way)
