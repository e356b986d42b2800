"""Weights of spirits against the United States gauging manual, 27 CFR part 30.

The manual weighs in air, and its proof and its gallon are those at 60 degF.
"""

import math

import pytest

from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.cut import mix_for_alcohol
from finishsched.model.shop import Alcohol

AT_60_F, AT_75_F = (60 - 32) / 1.8, (75 - 32) / 1.8
GALLON_ML, LB_G = 3785.411784, 453.59237
AIR_G_PER_ML, BRASS_G_PER_ML = 0.00122, 8.4
"""Air at 60 degF and one atmosphere, and the weights of a balance (from memory)."""


def _gal_per_lb(density_g_per_ml):
    """Return gallons for a pound as a balance shows it, buoyed by the air."""
    shown = (density_g_per_ml - AIR_G_PER_ML) / (1 - AIR_G_PER_ML / BRASS_G_PER_ML)
    return LB_G / (shown * GALLON_ML)


@pytest.mark.parametrize(
    ("proof", "printed"),
    [
        (0, 0.120074),  # 30.41: the wine gallons per pound for water at 60 degF
        (190, 0.14718),  # 30.64, first example
        (200, 302.58 / 1000 / 2),  # 30.64, second example: 1,000 lb are 302.58 proof gallons
    ],
)
def test_gallons_for_a_pound(proof, printed):
    """27 CFR 30.41 and 30.64, within 0.02 % (its tables are older than ours)."""
    assert _gal_per_lb(alcohol_g_per_ml(proof / 2, AT_60_F)) == pytest.approx(printed, rel=2e-4)


@pytest.mark.parametrize(
    ("proof", "gallons", "pounds", "ounces"),
    [
        (190, 1, 6, 13),
        (190, 2, 13, 10),
        (190, 5, 34, 0),
        (190, 10, 68, 0),
        (192, 2, 13, 9),
        (192, 5, 33, 13),
        (192, 10, 67, 10),
        (200, 1, 6, 10),
        (200, 2, 13, 4),
        (200, 5, 33, 1),
        (200, 10, 66, 2),
    ],
)
def test_weights_of_containers(proof, gallons, pounds, ounces):
    """27 CFR 30.44 (b): contents by weight, any part of an ounce counted as a whole one."""
    exact_oz = 16 * gallons / _gal_per_lb(alcohol_g_per_ml(proof / 2, AT_60_F))
    assert math.ceil(exact_oz * (1 - 2e-4)) <= 16 * pounds + ounces
    assert math.ceil(exact_oz * (1 + 2e-4)) >= 16 * pounds + ounces


def test_water_to_bring_200_proof_to_190():
    """27 CFR 30.64, second example: 1,000 lb of 200 proof take 82.03 lb of water."""
    ethanol_lb_per_gal = 1 / _gal_per_lb(alcohol_g_per_ml(100, AT_60_F))
    gallons = 1000 / ethanol_lb_per_gal / 0.95  # ethanol is conserved, by its own volume
    after_lb = gallons / _gal_per_lb(alcohol_g_per_ml(95, AT_60_F))
    assert after_lb - 1000 == pytest.approx(82.03, abs=0.15)


def test_a_warm_hydrometer():
    """27 CFR 30.61: a hydrometer that reads 193 at 75 degF floats in spirit of 189.5 proof.

    It reads 193 where the spirit is as dense as 193 proof at 60 degF. A tenth of a proof is
    0.0002 g/ml; its glass, grown by 0.02 %, is as much again.
    """
    warm = alcohol_g_per_ml(189.5 / 2, AT_75_F)
    assert warm == pytest.approx(alcohol_g_per_ml(193 / 2, AT_60_F), abs=4e-4)


def test_a_gallon_on_the_bench_weighs_what_the_manual_says():
    """27 CFR 30.64 by way of a batch: its gallon of 190 proof weighs the printed pounds in air."""
    batch = mix_for_alcohol(240, GALLON_ML, Alcohol(95.0, AT_60_F))
    gallons = _gal_per_lb(batch.alcohol_g / batch.alcohol_ml)
    assert gallons == pytest.approx(0.14718, rel=2e-4)
