"""Laws of mixing by parts."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.mixing.parts import By, DensityNeededError, dissolve, mix_parts, thin

ratios = st.lists(st.floats(0.01, 100), min_size=2, max_size=5)
amounts = st.floats(0.1, 10_000)


def _names(ratio):
    return [f"part {number}" for number in range(len(ratio))]


@given(ratios, amounts, st.sampled_from(By), st.sampled_from(By), st.data())
def test_parts_keep_their_ratio_and_make_the_whole(ratio, amount, by, kind, data):
    """Counted as the ratio counts, parts stand as they should, and together are what was asked."""
    densities = data.draw(st.lists(st.floats(0.5, 3), min_size=len(ratio), max_size=len(ratio)))
    asked = {"makes_ml": amount} if kind is By.VOLUME else {"makes_g": amount}
    mixture = mix_parts(_names(ratio), ratio, by, densities_g_per_ml=densities, **asked)
    made = mixture.makes_ml if kind is By.VOLUME else mixture.makes_g
    assert made == pytest.approx(amount)
    counted = [part.volume_ml if by is By.VOLUME else part.mass_g for part in mixture.parts]
    for part, share in zip(counted, ratio, strict=True):
        assert part / counted[0] == pytest.approx(share / ratio[0])
    for part, density in zip(mixture.parts, densities, strict=True):
        assert part.mass_g == pytest.approx(part.volume_ml * density)


def test_by_weight_and_by_volume_differ_by_the_densities():
    """Worked by hand: 2:1 by volume of 1.10 and 0.98 g/ml is 2.2:0.98 by weight."""
    mixture = mix_parts("ab", [2, 1], By.VOLUME, makes_ml=90, densities_g_per_ml=[1.10, 0.98])
    assert [part.volume_ml for part in mixture.parts] == pytest.approx([60, 30])
    assert [part.mass_g for part in mixture.parts] == pytest.approx([66, 29.4])
    assert mixture.makes_g == pytest.approx(95.4)


def test_hide_glue_by_weight():
    """One part of dry glue to 1.8 of water, 100 g of it."""
    mixture = mix_parts(["glue", "water"], [1, 1.8], By.WEIGHT, makes_g=100)
    assert [part.mass_g for part in mixture.parts] == pytest.approx([35.714, 64.286], abs=1e-3)
    assert mixture.makes_ml is None


def test_a_density_that_is_needed_is_never_assumed():
    """Parts by volume cannot make a weight without densities, nor the other way."""
    with pytest.raises(DensityNeededError, match="without each part's density"):
        mix_parts("ab", [2, 1], By.VOLUME, makes_g=90)
    with pytest.raises(DensityNeededError, match="without each part's density"):
        mix_parts("ab", [2, 1], By.WEIGHT, makes_ml=90)


def test_thinning_counts_what_is_applied():
    """A quarter thinner is three parts of material to one."""
    material, thinner = thin(25, 100).parts
    assert (material.volume_ml, thinner.volume_ml) == (75, 25)


def test_a_dye_is_weighed_for_its_liquid():
    """Ten grams to the litre, for a quarter of one."""
    powder, liquid = dissolve(10, 250, ("dye", "water")).parts
    assert (powder.mass_g, liquid.volume_ml) == (2.5, 250)
    assert (powder.ratio, liquid.ratio) == (10, 1000)
    assert powder.volume_ml is None


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_nothing_and_nonsense_are_refused(bad):
    """Every part, amount, density and strength is finite and above zero."""
    for call in (
        lambda: mix_parts("ab", [1, bad], By.VOLUME, makes_ml=1),
        lambda: mix_parts("ab", [1, 1], By.VOLUME, makes_ml=bad),
        lambda: mix_parts("ab", [1, 1], By.VOLUME, makes_ml=1, densities_g_per_ml=[1, bad]),
        lambda: dissolve(bad, 100, "ab"),
        lambda: dissolve(10, bad, "ab"),
        lambda: thin(bad, 100),
    ):
        with pytest.raises(ValueError, match="more than"):
            call()
    for call in (
        lambda: mix_parts("a", [1], By.VOLUME, makes_ml=1),
        lambda: mix_parts("a", [1, 2], By.VOLUME, makes_ml=1),
        lambda: mix_parts("ab", [1, 2], By.VOLUME),
    ):
        with pytest.raises(ValueError, match=r"parts|how much"):
            call()
