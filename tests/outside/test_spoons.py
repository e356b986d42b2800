"""Spoons and cups by NIST Handbook 44 (2024), Appendix C, General Tables of Units."""

import pytest

from finishsched.model.shop import ShownUnits
from finishsched.units import VOLUME, convert
from finishsched.workshop.base.shown import Shown
from finishsched.workshop.base.spoons import spoons

IN_A_FLOZ = {"tsp": 6, "tbsp": 2}
"""1 fluid ounce is 6 teaspoons or 2 tablespoons; 1 cup is 8 fluid ounces (the same tables)."""


@pytest.mark.parametrize(
    ("floz", "said"),
    [
        (2 / 6, "2 tsp"),
        (1 / 24, "1/4 tsp"),
        (0.25, "1 1/2 tsp"),
        (0.5, "1 tbsp"),
        (5 / 6, "1 tbsp + 2 tsp"),
        (1.0, "2 tbsp"),
        (7 / 6, "2 tbsp + 1 tsp"),
        (2.0, "1/4 cup"),
        (8.0 / 3, "1/3 cup"),
        (10.0, "1 1/4 cups"),
        (0.53, ""),
    ],
)
def test_a_volume_is_told_by_the_measures_that_hold_it(floz, said):
    """By the tables every one is exact; what no set of spoons holds is told by none."""
    assert spoons(floz * 29.5735295625, 1e-6) == said


def test_spoons_are_those_of_the_table_of_units():
    """A teaspoon and a tablespoon are the same where a person types them."""
    for unit, in_a_floz in IN_A_FLOZ.items():
        assert convert(1.0, VOLUME, unit) * 29.5735295625 == pytest.approx(in_a_floz)


def test_what_is_near_says_so_and_metric_shops_hear_none():
    """A trusted measure's own error makes 'about'; a shop of millilitres is told no spoons."""
    us = Shown(ShownUnits(volume="floz"), trust=0.05)
    assert us.spooned(0.34 * 29.5735) == "about 2 tsp"
    assert us.spooned(29.5735295625 / 3) == "2 tsp"
    assert Shown(trust=0.05).spooned(5.0) == ""
