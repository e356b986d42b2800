"""What weighings and gauge readings teach."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.film.learning import FILM_SD, gauge_sd, method_of, methods
from finishsched.mixing.learnt_use import ERROR_SD, SPREAD_SD, By, Seen, factor
from finishsched.model.schedule import Verb

PAD = ("shellac", Verb.PAD)


def _seen(ratio, by=By.WEIGHED):
    return Seen(PAD, ratio, by, ERROR_SD.get(by, 0.2))


def test_nothing_seen_is_the_start():
    """With no reading the factor is 1, from 0.7 to 1.4 as assumed, and counts none."""
    start = factor([], SPREAD_SD)
    assert start.readings == 0
    assert start.range.likely == 1
    assert start.range.high == pytest.approx(1.4)
    assert start.range.low == pytest.approx(1 / 1.4)
    assert factor([], FILM_SD).range.high == pytest.approx(1.3)


def test_one_weighing_by_the_formula():
    """A normal prior of sd 0.2045 and one error of sd 0.15: the mean moves by 0.65 of the way."""
    share = (1 / 0.15**2) / (1 / 0.15**2 + 1 / SPREAD_SD**2)
    found = factor([_seen(1.5)], SPREAD_SD).range.likely
    assert math.log(found) == pytest.approx(share * math.log(1.5))
    assert share == pytest.approx(0.65, abs=0.005)


@given(st.lists(st.floats(0.2, 5), min_size=1, max_size=30))
def test_the_middle_lies_between_the_start_and_what_was_found(ratios):
    """However the readings scatter, the factor stays within them and 1, and never widens."""
    learned = factor([_seen(ratio) for ratio in ratios], SPREAD_SD)
    lowest, highest = min([1.0, *ratios]), max([1.0, *ratios])
    assert lowest * (1 - 1e-9) <= learned.range.likely <= highest * (1 + 1e-9)
    assert learned.range.low <= learned.range.likely <= learned.range.high
    fewer = factor([_seen(ratio) for ratio in ratios[:-1]], SPREAD_SD)
    wide = fewer.range.high / fewer.range.low
    assert learned.range.high / learned.range.low <= wide * (1 + 1e-9)


def test_many_readings_fix_it_and_a_slip_teaches_nothing():
    """Thirty weighings at 1.8 bring the factor there; one 50 times too large changes nothing."""
    many = [_seen(1.8)] * 30
    assert factor(many, SPREAD_SD).range.likely == pytest.approx(1.8, rel=0.02)
    assert factor([*many, _seen(50.0)], SPREAD_SD) == factor(many, SPREAD_SD)


def test_amounts_and_gauges_teach_each_their_own():
    """A weighing moves the amount only, a gauge the film only, each for its own method."""
    known = methods(
        [_seen(1.5), _seen(0.7, By.GAUGED), Seen(("oil", Verb.WIPE), 2.0, By.LOGGED, 1)]
    )
    pad = method_of(known, PAD)
    assert pad.spread.readings == pad.film.readings == 1
    assert pad.spread.range.likely > 1 > pad.film.range.likely
    assert method_of(known, ("oil", Verb.WIPE)).film.readings == 0
    assert method_of(known, ("never", Verb.SPRAY)).spread.range.likely == 1


def test_a_gauge_tells_more_of_a_thick_film():
    """The same error in um is less of a thick film; places differ however thick it is."""
    assert gauge_sd(100.0, 5.0) < gauge_sd(10.0, 5.0)
    assert gauge_sd(10000.0, 5.0) >= 0.10
