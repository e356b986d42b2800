"""Pot life against the published rule of thumb."""

import pytest

from finishsched.drying.rates import pot_life_s


@pytest.mark.parametrize("at_c", [10, 15, 20, 25])
def test_ten_degrees_more_halve_a_pot_life(at_c):
    """UFGS 09971, 3.7.1.3 (no year at hand): about halved for each 10 degC more, doubled for less.

    'About' is taken as 10 %.
    """
    assert pot_life_s(30 * 60, at_c, at_c + 10) == pytest.approx(15 * 60, rel=0.10)
    assert pot_life_s(30 * 60, at_c + 10, at_c) == pytest.approx(60 * 60, rel=0.10)
