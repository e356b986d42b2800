"""Laws of gauging: it turns mixing round, and its range holds the truth."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from finishsched.mixing.cut import mix_for_alcohol
from finishsched.mixing.gauge import NOT_STATED, gauge_by_drying, gauge_by_weight
from finishsched.model.shop import Alcohol, Tools

TOOLS = Tools()
cuts = st.floats(5, 1200)
amounts = st.floats(5, 5_000)
alcohols = st.builds(Alcohol, st.floats(60, 100), st.floats(-5, 35))
moistures = st.floats(0, 20)


@given(cuts, amounts, alcohols, moistures)
def test_a_weighed_volume_gives_back_the_cut_that_was_mixed(cut, alcohol_ml, alcohol, moisture):
    """gauge(mix(x)) = x by a weighed volume, and the other figures are the batch's."""
    batch = mix_for_alcohol(cut, alcohol_ml, alcohol, moisture)
    weighs_g = batch.makes_ml * batch.density_g_per_ml
    gauged = gauge_by_weight(batch.makes_ml, weighs_g, alcohol, TOOLS, moisture)
    assert gauged.cut.g_per_l == pytest.approx(cut, rel=1e-6)
    assert gauged.mass_percent == pytest.approx(batch.mass_percent, rel=1e-6)
    assert gauged.density_g_per_ml == pytest.approx(batch.density_g_per_ml, rel=1e-6)


@given(cuts, amounts, alcohols, moistures)
def test_a_dried_sample_gives_back_the_cut_that_was_mixed(cut, alcohol_ml, alcohol, moisture):
    """gauge(mix(x)) = x by a dried sample, flakes with moisture too."""
    batch = mix_for_alcohol(cut, alcohol_ml, alcohol, moisture)
    wet_g = batch.flakes_g + batch.alcohol_g
    gauged = gauge_by_drying(wet_g, wet_g * batch.mass_percent / 100, alcohol, TOOLS, moisture)
    assert gauged.cut.g_per_l == pytest.approx(cut, rel=1e-6)
    assert gauged.mass_percent == pytest.approx(batch.mass_percent, rel=1e-6)


@given(st.floats(60, 900), st.floats(20, 500), st.floats(-1, 1), st.floats(-1, 1))
def test_what_the_tools_misread_stays_in_the_range(cut, volume_ml, scale_error, measure_error):
    """A reading that is out by no more than the tools are has the true cut in its range."""
    alcohol = Alcohol()
    batch = mix_for_alcohol(cut, 100, alcohol)
    out_ml = max(TOOLS.measure_ml / 2, volume_ml * TOOLS.measure_error_percent / 100)
    true_ml = volume_ml + measure_error * out_ml
    weighs_g = true_ml * batch.density_g_per_ml + scale_error * TOOLS.scale_g / 2
    density = weighs_g / volume_ml
    assume(0.812 < density < 1.19)
    found = gauge_by_weight(volume_ml, weighs_g, alcohol, TOOLS).cut
    assert found.low_g_per_l <= cut * (1 + 1e-9)
    assert found.high_g_per_l is None or cut <= found.high_g_per_l * (1 + 1e-9)


@given(st.floats(60, 900), st.floats(10, 500), st.floats(-2, 2), st.floats(-2, 2))
def test_a_misread_sample_stays_in_the_range(cut, wet_g, wet_error, dry_error):
    """The same by drying: half a step of the scale on either weighing, and on that of its dish."""
    share = mix_for_alcohol(cut, 100, Alcohol()).mass_percent / 100
    read_wet_g = wet_g + wet_error * TOOLS.scale_g / 2
    read_dry_g = wet_g * share + dry_error * TOOLS.scale_g / 2
    assume(0 < read_dry_g < read_wet_g)
    found = gauge_by_drying(read_wet_g, read_dry_g, Alcohol(), TOOLS).cut
    assert found.low_g_per_l <= cut * (1 + 1e-9)
    assert found.high_g_per_l is None or cut <= found.high_g_per_l * (1 + 1e-9)


def test_plain_alcohol_is_no_cut_at_all():
    """A volume that weighs what its alcohol weighs holds no resin."""
    batch = mix_for_alcohol(1e-9, 100, Alcohol())
    gauged = gauge_by_weight(100, batch.alcohol_g, Alcohol(), TOOLS)
    assert gauged.cut.g_per_l == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("weighs_g", "said"), [(60.0, "lighter than the alcohol itself"), (121.0, "as heavy as")]
)
def test_what_no_solution_weighs_is_refused(weighs_g, said):
    """Lighter than alcohol or heavier than resin, with what to do about it."""
    with pytest.raises(ValueError, match=said):
        gauge_by_weight(100, weighs_g, Alcohol(), TOOLS)


@pytest.mark.parametrize(
    ("wet_g", "dry_g", "moisture", "said"),
    [(20, 21, 0, "no lighter"), (20, 20, 0, "no lighter"), (20, 19.5, 5, "stays when dried")],
)
def test_what_no_sample_dries_to_is_refused(wet_g, dry_g, moisture, said):
    """A sample that gains weight, or keeps more than its flakes hold."""
    with pytest.raises(ValueError, match=said):
        gauge_by_drying(wet_g, dry_g, Alcohol(), TOOLS, moisture)


@pytest.mark.parametrize("amount", [0.0, -1.0, float("nan"), float("inf")])
def test_nothing_and_nonsense_are_refused(amount):
    """Amounts are above zero and finite."""
    with pytest.raises(ValueError, match="more than zero"):
        gauge_by_weight(amount, 100, Alcohol(), TOOLS)
    with pytest.raises(ValueError, match="more than zero"):
        gauge_by_drying(100, amount, Alcohol(), TOOLS)


def test_a_kitchen_measure_is_too_blunt_and_says_so():
    """With 5 % on the volume a 2-lb cut may be nearly nothing or the double; drying is sharp."""
    blunt = gauge_by_weight(100, 88, Alcohol(), TOOLS)
    assert blunt.cut.blunt
    assert "too blunt" in blunt.warnings[0]
    sharp = gauge_by_drying(100, 23, Alcohol(), TOOLS)
    assert not sharp.cut.blunt
    assert not sharp.warnings


def test_a_sample_too_small_for_the_scale_has_no_upper_end():
    """Two grams that dry to one on a scale of whole grams may be anything from a cut upward."""
    gauged = gauge_by_drying(2, 1, Alcohol(), TOOLS)
    assert gauged.cut.high_g_per_l is None
    assert "too small for this scale" in gauged.warnings[0]


def test_a_jar_a_little_lighter_than_alcohol_is_a_cut_from_nothing_on():
    """As far as scale and measure can be out, a light reading is a weak cut, and not refused."""
    cut = gauge_by_weight(100, 80, Alcohol(), TOOLS).cut
    assert (cut.g_per_l, cut.low_g_per_l) == (0, 0)
    assert cut.high_g_per_l > 0


def test_what_nobody_stated_is_in_the_range():
    """A sample of damp flakes in weak alcohol lies in the range that states neither."""
    damp = gauge_by_drying(20, 4.4, Alcohol(90.0), TOOLS, 4.0).cut.g_per_l
    blind = gauge_by_drying(20, 4.4, Alcohol(), TOOLS, 0.0, NOT_STATED).cut
    told = gauge_by_drying(20, 4.4, Alcohol(), TOOLS).cut
    assert blind.low_g_per_l <= damp <= blind.high_g_per_l
    assert blind.low_g_per_l <= told.low_g_per_l < told.high_g_per_l < blind.high_g_per_l


def test_a_volume_below_the_first_mark_has_no_upper_end():
    """Two millilitres in a measure of 5 ml marks may be next to none, so of any strength."""
    assert gauge_by_weight(2, 1.8, Alcohol(), TOOLS).cut.high_g_per_l is None


@pytest.mark.parametrize("moisture", [2.0, 5.0, 12.0])
def test_flakes_keep_all_but_their_moisture(moisture):
    """A sample that keeps a little more than dry resin is refused, one that keeps less is not."""
    dry_g = 1000.0 - 10.0 * moisture
    assert gauge_by_drying(1000.0, dry_g - 0.2, Alcohol(), TOOLS, moisture).cut.g_per_l > 0
    with pytest.raises(ValueError, match="stays when dried"):
        gauge_by_drying(1000.0, dry_g + 0.2, Alcohol(), TOOLS, moisture)
