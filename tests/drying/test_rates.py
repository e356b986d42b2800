"""Warmth and the pace of a reaction."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.drying.rates import pot_life_reason, pot_life_s, time_factor

warmths = st.floats(-20, 60)


@given(warmths, warmths, warmths, st.floats(1, 120))
def test_going_by_a_warmth_between_changes_nothing(one, between, other, energy):
    """Factors multiply along the way, and there and back is nowhere."""
    direct = time_factor(other, one, energy)
    assert direct == pytest.approx(
        time_factor(other, between, energy) * time_factor(between, one, energy)
    )
    assert direct * time_factor(one, other, energy) == pytest.approx(1)


@given(warmths, st.floats(0.1, 30), st.floats(60, 86400))
def test_warmer_is_sooner(at_c, warmer_k, published_s):
    """A pot life never grows with warmth."""
    assert pot_life_s(published_s, at_c, at_c + warmer_k) < published_s


def test_a_pot_life_says_why():
    """The reason names its source, and the data sheet's pot life in minutes."""
    assert "UFGS" in pot_life_reason(1800, 22, 27).source
    assert "30 min" in str(pot_life_reason(1800, 22, 27).inputs[0])
