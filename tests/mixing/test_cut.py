"""Laws of mixing and reducing, for every sensible batch."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.mixing.cut import (
    DISSOLVED_G_PER_ML,
    mix_for_alcohol,
    mix_for_alcohol_mass,
    mix_for_flakes,
    mix_for_volume,
    reduce_from,
    reduce_to_make,
    thin_by,
)
from finishsched.model.shop import Alcohol

cuts = st.floats(10, 960)
amounts = st.floats(0.5, 50_000)
alcohols = st.builds(Alcohol, st.floats(60, 100), st.floats(-5, 35))
close = {"rel": 1e-9}


@given(cuts, amounts, alcohols, st.floats(0, 20))
def test_mass_is_conserved(cut, alcohol_ml, alcohol, moisture):
    """What goes into the jar weighs what is in it, and the dry share is the resin's."""
    batch = mix_for_alcohol(cut, alcohol_ml, alcohol, moisture)
    whole_g = batch.density_g_per_ml * batch.makes_ml
    assert whole_g == pytest.approx(batch.flakes_g + batch.alcohol_g, **close)
    resin_g = batch.flakes_g * (1 - moisture / 100)
    assert whole_g * batch.mass_percent / 100 == pytest.approx(resin_g, **close)
    assert batch.alcohol_g == pytest.approx(
        alcohol_ml * alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c), **close
    )


@given(cuts, amounts, alcohols)
def test_every_way_of_asking_gives_the_same_batch(cut, makes_ml, alcohol):
    """A batch asked for by solution, alcohol by volume or weight, or flakes is one batch."""
    batch = mix_for_volume(cut, makes_ml, alcohol)
    assert batch.makes_ml == pytest.approx(makes_ml, **close)
    for other in (
        mix_for_alcohol(cut, batch.alcohol_ml, alcohol),
        mix_for_alcohol_mass(cut, batch.alcohol_g, alcohol),
        mix_for_flakes(cut, batch.flakes_g, alcohol),
    ):
        assert other.makes_ml == pytest.approx(makes_ml, **close)
        assert other.flakes_g == pytest.approx(batch.flakes_g, **close)


@given(cuts, amounts, alcohols, st.floats(0.1, 100))
def test_batches_scale(cut, alcohol_ml, alcohol, times):
    """So many times the alcohol is so many times the batch, at the same strength."""
    one, many = (mix_for_alcohol(cut, ml, alcohol) for ml in (alcohol_ml, alcohol_ml * times))
    assert many.flakes_g == pytest.approx(one.flakes_g * times, **close)
    assert many.mass_percent == pytest.approx(one.mass_percent, **close)


def _contents(cut, volume_ml):
    """Return resin in g and alcohol in ml of a solution."""
    alcohol_ml = volume_ml / (1 + cut / 1000 / DISSOLVED_G_PER_ML)
    return cut * alcohol_ml / 1000, alcohol_ml


@given(cuts, cuts, amounts, alcohols)
def test_reducing_conserves_resin_and_alcohol(start, target, have_ml, alcohol):
    """What is in the jar after is what was in it before and what was added, no more, no less."""
    change = reduce_from(start, target, have_ml, alcohol)
    resin_before, alcohol_before = _contents(start, have_ml)
    resin_after, alcohol_after = _contents(target, change.makes_ml)
    assert resin_after == pytest.approx(resin_before + change.add_flakes_g, rel=1e-7)
    assert alcohol_after == pytest.approx(alcohol_before + change.add_alcohol_ml, rel=1e-7)
    assert min(change.add_flakes_g, change.add_alcohol_ml) == 0


@given(cuts, st.floats(0.1, 0.95), amounts, alcohols)
def test_adding_what_a_reduction_tells_gives_its_cut(start, share, have_ml, alcohol):
    """Who pours in the alcohol that was told has the cut, the volume and the weight told for it."""
    told = reduce_from(start, start * share, have_ml, alcohol)
    thinned = thin_by(start, have_ml, told.add_alcohol_ml, alcohol)
    assert thinned.to_g_per_l == pytest.approx(start * share, **close)
    assert thinned.makes_ml == pytest.approx(told.makes_ml, **close)
    assert thinned.add_alcohol_g == pytest.approx(told.add_alcohol_g, **close)


@given(st.lists(cuts, min_size=3, max_size=3), amounts, alcohols)
def test_reducing_twice_is_reducing_once(three, have_ml, alcohol):
    """Thinning by way of a cut between takes the same alcohol and ends with the same volume."""
    strong, between, weak = sorted(three, reverse=True)
    once = reduce_from(strong, weak, have_ml, alcohol)
    first = reduce_from(strong, between, have_ml, alcohol)
    second = reduce_from(between, weak, first.makes_ml, alcohol)
    assert second.makes_ml == pytest.approx(once.makes_ml, rel=1e-9)
    both_ml = first.add_alcohol_ml + second.add_alcohol_ml
    assert both_ml == pytest.approx(once.add_alcohol_ml, rel=1e-6, abs=1e-6)


@given(cuts, cuts, amounts, alcohols)
def test_reducing_to_an_end_volume_reaches_it(start, target, makes_ml, alcohol):
    """Asked for an end volume, that is what start and addition make."""
    change = reduce_to_make(start, target, makes_ml, alcohol)
    assert change.makes_ml == pytest.approx(makes_ml, **close)
    assert change.have_ml <= makes_ml * (1 + 1e-12)


@pytest.mark.parametrize("amount", [0.0, -1.0, math.nan, math.inf])
def test_nothing_and_nonsense_are_refused(amount):
    """A batch of nothing, less than nothing or no number is refused."""
    with pytest.raises(ValueError, match="more than zero"):
        mix_for_alcohol(240, amount, Alcohol())
    with pytest.raises(ValueError, match="more than zero"):
        reduce_from(amount, 120, 100, Alcohol())


@pytest.mark.parametrize("moisture", [-1.0, 100.0, math.nan])
def test_flakes_without_resin_are_refused(moisture):
    """Moisture must leave some resin."""
    with pytest.raises(ValueError, match="0 to under 100"):
        mix_for_alcohol(240, 100, Alcohol(), moisture)


def test_a_cut_beyond_the_named_ones_warns():
    """Eight pounds is the heaviest named cut (TT-S-300A 1.2); twelve gets a warning."""
    assert not mix_for_alcohol(8 * G_PER_L_IN_A_POUND_CUT, 100, Alcohol()).warnings
    assert mix_for_alcohol(12 * G_PER_L_IN_A_POUND_CUT, 100, Alcohol()).warnings


def test_a_batch_says_why():
    """Each figure's rule names its source."""
    reasons = mix_for_alcohol(240, 100, Alcohol()).reasons
    assert all(reason.rule and reason.source for reason in reasons)
    assert any("OIML R 22" in reason.source for reason in reasons)


def test_weak_alcohol_warns():
    """Shellac dissolves badly in alcohol that is much water (common practice, no source)."""
    assert mix_for_alcohol(240, 100, Alcohol(40.0)).warnings
    assert not mix_for_alcohol(240, 100, Alcohol(90.0)).warnings


def test_pounds_are_told_by_the_gallon():
    """By definition: 119.8 g/l are a pound in a US gallon; 240 let down to half is 1 lb."""
    told = reduce_from(2 * G_PER_L_IN_A_POUND_CUT, G_PER_L_IN_A_POUND_CUT, 100.0, Alcohol())
    assert told.to_lb_per_gal == pytest.approx(1.0)
    assert pytest.approx(119.826, abs=0.001) == G_PER_L_IN_A_POUND_CUT
    assert told.parts_alcohol_per_part == pytest.approx(told.add_alcohol_ml / 100.0)
