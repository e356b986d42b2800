"""How soon a film's solvent has left it: the laws of the flux, and films that are known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.drying.airing import ETHANOL_RATE, flux_g_per_m2_s, leaves_in_s
from finishsched.drying.evaporation import ETHANOL, WATER

MINUTE_S = 60.0
amounts, areas = st.floats(0.1, 100), st.floats(0.01, 2)


@given(amounts, areas, st.floats(1.1, 5))
def test_twice_the_film_takes_twice_as_long(ml, area_m2, factor):
    """The flux is constant, so the time grows as the amount on the face does."""
    once = leaves_in_s(ml, area_m2, ETHANOL_RATE, 20.0)
    assert leaves_in_s(ml * factor, area_m2, ETHANOL_RATE, 20.0) == pytest.approx(once * factor)


@given(amounts, areas, st.floats(0.05, 1), st.floats(1.1, 5))
def test_moving_air_and_quick_solvents_shorten_it(ml, area_m2, movement, factor):
    """By the root of the air's speed (laminar plate), and by the published rate itself."""
    still = leaves_in_s(ml, area_m2, 1.0, 20.0, movement)
    moved = leaves_in_s(ml, area_m2, 1.0, 20.0, movement * factor)
    assert moved == pytest.approx(still / factor**0.5)
    assert leaves_in_s(ml, area_m2, factor, 20.0, movement) == pytest.approx(still / factor)


def test_a_padded_coat_is_gone_in_minutes_and_spirits_in_hours():
    """Common practice, no source: a padded coat flashes in minutes, spirits smell for hours."""
    pad_s = leaves_in_s(1.2, 0.1, ETHANOL_RATE, 20.0)
    assert 0.5 * MINUTE_S < pad_s < 5 * MINUTE_S
    varnish_s = leaves_in_s(3.0, 0.1, 0.1, 20.0)
    assert 30 * MINUTE_S < varnish_s < 4 * 60 * MINUTE_S


def test_water_leaves_slower_than_alcohol():
    """At 20 degC in clean, dry air, by mass: tables of rates put ethanol 4 to 5 times before it."""
    ethanol = flux_g_per_m2_s(ETHANOL, 20.0, 0.1, 0.3)
    water = flux_g_per_m2_s(WATER, 20.0, 0.1, 0.3)
    assert 2 < ethanol / water < 6
