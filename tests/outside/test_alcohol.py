"""Density of alcohol against the international tables."""

import pytest

from finishsched.mixing.alcohol import alcohol_g_per_ml, mass_fraction_of, mixture_density_kg_per_m3

# OIML R 22:1975, general formula, computed with its coefficients by another program; the column
# at 20 degC agrees with published tables. %vol at 20 degC, mass %, kg/m3 at 15, 20, 25 degC.
ROWS = [
    (0, 0.0, 999.10, 998.20, 997.04),
    (40, 33.300, 951.33, 948.05, 944.67),
    (60, 52.088, 913.09, 909.11, 905.08),
    (80, 73.480, 863.52, 859.27, 854.97),
    (90, 85.665, 833.50, 829.18, 824.82),
    (95, 92.408, 815.70, 811.38, 807.03),
    (100, 100.0, 793.51, 789.24, 784.95),
]


@pytest.mark.parametrize(("vol", "mass", "at_15", "at_20", "at_25"), ROWS)
def test_density_rows(vol, mass, at_15, at_20, at_25):
    """Mass share and density agree with OIML R 22 to 0.05 kg/m3."""
    assert 100 * mass_fraction_of(vol) == pytest.approx(mass, abs=0.002)
    for at_c, density in ((15, at_15), (20, at_20), (25, at_25)):
        assert 1000 * alcohol_g_per_ml(vol, at_c) == pytest.approx(density, abs=0.05)


@pytest.mark.parametrize(("at_c", "density"), [(15, 793.689), (20, 789.421), (25, 785.133)])
def test_pure_ethanol_against_a_reference_library(at_c, density):
    """CoolProp 8.0.0, pure ethanol: within 0.03 %."""
    assert mixture_density_kg_per_m3(1.0, at_c) == pytest.approx(density, rel=3e-4)


def test_water_without_alcohol():
    """BIPM's recommended density of water, Metrologia 38, 2001: 998.207 at 20 degC (from memory).

    The general formula takes the older 998.201.
    """
    assert mixture_density_kg_per_m3(0.0, 20) == pytest.approx(998.207, abs=0.01)


def test_weight_of_a_gallon():
    """27 CFR 30.64: a gallon of 190 proof weighs 1/0.14718 lb in air at 60 degF.

    Air lifts the weighing by about 0.12 % (density of air 1.2 kg/m3, from memory).
    """
    in_vacuum = alcohol_g_per_ml(95.0, (60 - 32) / 1.8) * 3785.411784 / 453.59237
    assert in_vacuum * (1 - 0.0012 / 0.8157 + 0.00015) == pytest.approx(1 / 0.14718, rel=5e-4)


def test_alcohol_swells_by_a_thousandth_per_degree():
    """Measured at 30 degC a volume holds about 1.5 % less alcohol than at 60 degF (computed)."""
    warm, cool = alcohol_g_per_ml(95.0, 30.0), alcohol_g_per_ml(95.0, (60 - 32) / 1.8)
    assert 1 - warm / cool == pytest.approx(0.0155, abs=0.0010)


@pytest.mark.parametrize(("mass", "at_c"), [(-0.1, 20), (1.1, 20), (0.5, -21), (0.5, 41)])
def test_outside_the_formula_is_refused(mass, at_c):
    """Outside the range it was made for the formula gives no figure."""
    with pytest.raises(ValueError, match=r"0 to 1|-20 to 40"):
        mixture_density_kg_per_m3(mass, at_c)
