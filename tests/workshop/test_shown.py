"""Amounts are told in the shop's units, and no finer than its scale reads."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.model.shop import UNIT_SETS, ShownUnits
from finishsched.units import MASS, VOLUME, UnitFaultError, read
from finishsched.workshop.base.mixed_words import Readings
from finishsched.workshop.base.shown import Shown
from finishsched.workshop.base.typed import read_amount
from finishsched.workshop.base.words import amount_words

OUNCES = Shown(UNIT_SETS["us"], scale_g=2.835)


@pytest.mark.parametrize(
    ("grams", "scale_g", "words"),
    [
        (1.16, 0.1, "1.2 g"),
        (1.16, 1.0, "1 g"),
        (1.6, 0.5, "1.5 g"),
        (0.4, 1.0, "under 1 g"),
        (12.4, 0.1, "12 g"),
        (453.6, 1.0, "454 g"),
        (0.0, 1.0, "0 g"),
        (1.16, 0.0, "1.2 g"),
    ],
)
def test_a_mass_is_no_finer_than_the_scale(grams, scale_g, words):
    """Whole steps of the scale, to two digits; what it cannot show is told as under its step."""
    assert Shown(scale_g=scale_g).mass(grams) == words


def test_ounces_are_told_in_tenths_on_a_scale_of_tenths():
    """A tenth of an ounce is 2.8 g: what is weighed on such a scale has one place."""
    assert OUNCES.mass(13.3) == "0.5 oz"
    assert OUNCES.mass(453.59237) == "16 oz"


def test_an_ounce_is_an_ounce_on_a_scale_of_grams():
    """What was typed is not moved to whole grams, and no digits are told that these do not hold."""
    shown = Shown(ShownUnits(mass="oz"), scale_g=0.5)
    assert shown.mass(28.349523, 3) == "1 oz"
    assert shown.mass(13.0, 3) == "0.46 oz"


def test_a_volume_in_ounces_has_two_digits():
    """The scale does not matter to it."""
    assert OUNCES.volume(6.7) == "0.23 floz"


def test_spoons_are_told_as_the_same_amount_and_not_as_more():
    """One fluid ounce and two spoons read as a sum, and twice the alcohol went into the jar."""
    read = Readings("0.126 oz", "0.853 oz", "1 floz", better_to_weigh=True, spoons="2 tbsp")
    assert read.alcohol == "weigh 0.853 oz (or measure 1 floz, that is 2 tbsp)"


@given(st.floats(0.2, 5000), st.sampled_from(["ml", "floz", "l"]))
def test_what_is_told_to_be_mixed_is_enough(ml, unit):
    """Rounded upwards to two digits or two drops, and by no more than a tenth and those drops."""
    shown = Shown(ShownUnits(volume=unit))
    told = read(shown.volume(shown.measured_up(ml)), VOLUME)
    assert told >= ml * (1 - 1e-3)
    assert told <= 1.11 * ml + 0.1


@given(st.floats(0.2, 5000))
def test_what_is_told_reads_back(grams):
    """A mass as told is within half of the scale's step, or a twentieth."""
    told = read(Shown(scale_g=0.1).mass(grams), MASS)
    assert abs(told - grams) <= max(0.051, 0.05 * grams)


def test_an_amount_that_nobody_told_says_so():
    """What was reckoned is 'about', and coarser than what somebody told."""
    assert amount_words(6.74, None, OUNCES) == "0.228 floz"
    assert amount_words(6.74, None, OUNCES, reckoned=True) == "about 0.23 floz"
    assert amount_words(None, None, OUNCES) == ""


def test_an_ounce_that_is_a_weight_reads_back():
    """What is told by weight in ounces is taken as such; a bare ounce could be either."""
    told = OUNCES.weight(13.3)
    assert told == "0.5 oz by weight"
    assert read_amount(told).mass_g == pytest.approx(0.5 * 28.349523)
    assert Shown().weight(9.0) == "9 g"
    with pytest.raises(UnitFaultError, match="could be a weight or a volume"):
        read_amount("0.5 oz")
