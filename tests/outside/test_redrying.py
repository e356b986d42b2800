"""Wetted wood and its movement against handbook figures and the exact series."""

import math

import pytest

from finishsched.drying.redry import (
    Layer,
    ideal_s,
    share_left,
    taus_until,
)
from finishsched.model.woods import by_name


@pytest.mark.parametrize("taus", [0.001, 0.02, 0.099, 0.101, 0.5, 1, 3])
def test_the_plane_sheet_against_its_series(taus):
    """Crank, The Mathematics of Diffusion: the series summed to 10,000 terms, within 0.01 %."""
    series = sum(math.exp(-(n**2) * taus) / n**2 for n in range(1, 20_000, 2))
    assert share_left(taus) == pytest.approx(8 / math.pi**2 * series, rel=1e-4)


@pytest.mark.parametrize("left", [0.5, 0.2, 0.1, 0.01])
def test_times_of_the_plane_sheet(left):
    """The time found leaves the share asked for in the exact series, to 2 % and better."""
    taus = taus_until(left)
    series = sum(math.exp(-(n**2) * taus) / n**2 for n in range(1, 20_000, 2))
    assert 8 / math.pi**2 * series == pytest.approx(left, rel=0.02)


def test_a_veneer_leaf():
    """0.6 mm with one open face is 90 % dry again in 51 min (computed by hand from the series)."""
    assert ideal_s(Layer(0.6), 90) / 60 == pytest.approx(51, rel=0.02)


def test_half_the_change_is_the_text_book_time():
    """J. Crank, The Mathematics of Diffusion, Oxford University Press, 1975.

    Half of the change is through at D t/l^2 = 0.049 of a sheet of thickness l.
    """
    layer = Layer(2.0, open_faces=2)
    assert ideal_s(layer, 50) * 1.0e-10 / 0.002**2 == pytest.approx(0.049, rel=0.02)


def test_coefficients_of_movement():
    """Wood Handbook, table 13-5, tangential, USDA Forest Products Laboratory, 2010."""
    assert by_name()["black walnut"].moves_per_percent == 0.00274
    assert by_name()["red oak"].moves_per_percent == 0.00369
