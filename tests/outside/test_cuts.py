"""Cuts against published tables and definitions."""

import pytest

from finishsched.factors import G_PER_L_IN_A_POUND_CUT as POUND
from finishsched.mixing.cut import (
    mix_for_alcohol,
    mix_for_flakes,
    reduce_from,
)
from finishsched.model.shop import Alcohol

ALCOHOL = Alcohol(strength_percent_vol=95.0, at_c=20.0)
GALLON_ML = 3785.411784
QUART_ML, PINT_ML, CUP_ML = GALLON_ML / 4, GALLON_ML / 8, GALLON_ML / 16
LB_G, OZ_G = 453.59237, 28.349523125

# Fine Woodworking magazine, 'Shellac Conversion Ratios', read in a quotation: parts of alcohol to
# one part of solution. Printed as kitchen fractions, so held to the larger of 8 % and half a
# printed step (1/8 part up to two parts, 1/4 part above).
REDUCING_TABLE = [
    (1, 0.5, 7 / 8),
    (3, 0.5, 3.75),
    (3, 1, 1.5),
    (3, 1.5, 0.75),
    (4, 0.5, 5.0),
    (4, 1, 2.0),
    (4, 1.5, 1.25),
    (4, 2, 0.75),
    (4, 3, 0.25),
]


@pytest.mark.parametrize(("start", "target", "printed"), REDUCING_TABLE)
def test_reducing_agrees_with_the_printed_table(start, target, printed):
    """'Shellac Conversion Ratios', Fine Woodworking, undated: each row within its rounding."""
    parts = reduce_from(start * POUND, target * POUND, 1000, ALCOHOL).parts_alcohol_per_part
    step = 1 / 8 if printed <= 2 else 1 / 4
    assert parts == pytest.approx(printed, abs=max(0.08 * printed, step / 2))


def test_the_exact_balance_is_nearer_to_the_table_than_the_short_rule():
    """Forgetting the resin's own volume is several times further from the printed table."""
    exact = short = 0.0
    for start, target, printed in REDUCING_TABLE:
        parts = reduce_from(start * POUND, target * POUND, 1000, ALCOHOL).parts_alcohol_per_part
        exact += abs(parts - printed)
        short += abs(start / target - 1 - printed)
    assert short > 3 * exact


@pytest.mark.parametrize(
    ("flakes_lb", "alcohol_gal", "makes_gal"),
    [
        (10, 2, 3),  # a recipe 'Shellac Varnish' of old print, no publisher or year at hand
        (31, 10.25, 13 + 1 / 3),  # a US Government formula in old print, no title or year at hand
        (2, 1, 1.2),  # Fine Woodworking magazine, 'Shellac Conversion Ratios'
        (3, 1, 1.3),  # the same
    ],
)
def test_published_yields(flakes_lb, alcohol_gal, makes_gal):
    """Flakes and alcohol together make the volume named beside each row, to half a percent."""
    batch = mix_for_alcohol(flakes_lb / alcohol_gal * POUND, alcohol_gal * GALLON_ML, ALCOHOL)
    assert batch.flakes_g == pytest.approx(flakes_lb * LB_G)
    assert batch.makes_ml / GALLON_ML == pytest.approx(makes_gal, rel=0.005)


@pytest.mark.parametrize("pounds", [1, 1.5, 2, 3])
def test_so_many_ounces_to_the_cup(pounds):
    """An N-pound cut takes N ounces of flakes to a cup of alcohol (common practice, in print)."""
    assert mix_for_alcohol(pounds * POUND, CUP_ML, ALCOHOL).flakes_g == pytest.approx(pounds * OZ_G)


def test_one_pound_cut_to_a_pint_and_a_quart():
    """Grams to a pint and a quart, computed from the pound and the gallon of 231 cubic inches."""
    assert mix_for_alcohol(POUND, PINT_ML, ALCOHOL).flakes_g == pytest.approx(56.699, abs=5e-4)
    assert mix_for_alcohol(POUND, QUART_ML, ALCOHOL).flakes_g == pytest.approx(113.398, abs=5e-4)


def test_a_cut_counts_alcohol_not_solution():
    """Federal Specification TT-S-300A, 1977, 1.2 note 1: pounds in one gallon of alcohol."""
    batch = mix_for_alcohol(4 * POUND, GALLON_ML, ALCOHOL)
    assert batch.flakes_g == pytest.approx(4 * LB_G)
    assert batch.makes_ml > 1.3 * GALLON_ML


def test_formula_45_is_a_three_pound_cut():
    """27 CFR 21.80, formula 45: 300 pounds of resin to 100 gallons of alcohol."""
    batch = mix_for_flakes(3 * POUND, 300 * LB_G, ALCOHOL)
    assert batch.alcohol_ml == pytest.approx(100 * GALLON_ML)
    assert batch.cut_lb_per_gal == pytest.approx(3)


@pytest.mark.parametrize(
    ("start", "solution_parts", "alcohol_parts", "makes"),
    [
        (3, 5, 2, 1.97),  # 'five parts of 3-lb with two of alcohol makes a 1.97-lb cut'
        (5, 1, 1, 1.99),  # 'a 5-lb cut with alcohol one to one makes 1.98 to 2.00 lb'
    ],
)
def test_mixtures_in_print(start, solution_parts, alcohol_parts, makes):
    """Asked for the cut that trade print gives (no title at hand), it gives its parts to 1 %."""
    parts = reduce_from(start * POUND, makes * POUND, 1000, ALCOHOL).parts_alcohol_per_part
    assert parts == pytest.approx(alcohol_parts / solution_parts, rel=0.01)


@pytest.mark.parametrize(
    ("pounds", "least_percent"),
    [(3, 28.5), (4, 35.0), (5, 40.0)],
)
def test_dried_sample_agrees_with_the_standard(pounds, least_percent):
    """ASTM D360-89 (2001), 6.1: least non-volatile by mass of orange grades, with 6 % moisture.

    Alcohol of 6.788 lb/gal (27 CFR 21.161, denatured formula 1); ours at 60 degF weighs 6.801.
    """
    at_60_f = Alcohol(95.0, (60 - 32) / 1.8)
    batch = mix_for_alcohol(pounds * POUND, GALLON_ML, at_60_f, moisture_percent=6.0)
    assert batch.mass_percent == pytest.approx(least_percent, abs=0.35)


@pytest.mark.parametrize(
    ("pounds", "percent"), [(1, 9.1), (2, 16.7), (3, 23.1), (4, 28.6), (5, 33.3)]
)
def test_volume_solids(pounds, percent):
    """Share of the solution that stays as film, c v / (1 + c v) with v = 0.1 gal/lb (computed)."""
    batch = mix_for_alcohol(pounds * POUND, 1000, ALCOHOL)
    assert batch.volume_solids_percent == pytest.approx(percent, abs=0.06)
