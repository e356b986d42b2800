"""Coverage against values worked by hand from exact units; no text with a title was at hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.mixing.coverage import dry_film_um, dry_from_wet_um, needed_ml, spread_m2_per_l

MIL_UM, GALLON_L, SQFT_M2 = 25.4, 3.785411784, 0.3048**2
M2_PER_L_IN_SQFT_PER_GAL = GALLON_L / SQFT_M2


def test_a_gallon_a_mil_thick():
    """1 US gal at 1 mil covers 1604.17 sq ft: exact by the units, NIST SP 811, 2008."""
    spread = spread_m2_per_l(100, MIL_UM) * M2_PER_L_IN_SQFT_PER_GAL
    assert spread == pytest.approx(1604.17, abs=0.01)


@pytest.mark.parametrize(
    ("solids", "film_um", "printed", "step"),
    [(65, 125, 5.2, 0.05), (50, 25, 20.0, 0.05), (50, 50, 10.0, 0.05)],
)
def test_worked_values_in_metric(solids, film_um, printed, step):
    """m2 per litre = 10 x volume solids % / film in um: ISO 3233 counts so; values by hand."""
    assert spread_m2_per_l(solids, film_um) == pytest.approx(printed, abs=step)


def test_worked_value_in_feet_and_gallons():
    """VS 65 %, 5 mil: 208.5 sq ft/gal, by hand from 1604.17 x 0.65 / 5."""
    spread = spread_m2_per_l(65, 5 * MIL_UM) * M2_PER_L_IN_SQFT_PER_GAL
    assert spread == pytest.approx(208.5, abs=0.05)


@given(st.floats(1, 100), st.floats(1, 500), st.floats(0, 90), st.floats(0.01, 100))
def test_coverage_and_film_are_one_law(solids, film_um, loss, area_m2):
    """Area from film and film from area undo each other, and the volume needed follows."""
    spread = spread_m2_per_l(solids, film_um, loss)
    assert dry_film_um(solids, spread, loss) == pytest.approx(film_um)
    assert needed_ml(area_m2, solids, film_um, loss) == pytest.approx(1000 * area_m2 / spread)
    wet_um = film_um / (solids / 100)
    assert dry_from_wet_um(wet_um, solids) == pytest.approx(film_um)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_nonsense_is_refused(bad):
    """No film, no area, no solids and more loss than there is are refused."""
    with pytest.raises(ValueError, match="more than"):
        spread_m2_per_l(50, bad)
    with pytest.raises(ValueError, match="more than"):
        dry_film_um(50, bad)
    with pytest.raises(ValueError, match="more than 0"):
        spread_m2_per_l(bad, 25)
    with pytest.raises(ValueError, match="0 to under 100"):
        spread_m2_per_l(50, 25, 100)
    with pytest.raises(ValueError, match="m2; it must be more than zero"):
        needed_ml(bad, 50, 25)
    with pytest.raises(ValueError, match="0 to under 100"):
        spread_m2_per_l(50, 25, -1)
    with pytest.raises(ValueError, match="up to 100 %"):
        spread_m2_per_l(100.5, 25)


@pytest.mark.parametrize(("loss", "kept"), [(0, 1.0), (25, 0.75), (50, 0.5)])
def test_what_is_lost_covers_nothing(loss, kept):
    """A quarter lost leaves three quarters of the area, and of the film (arithmetic)."""
    assert spread_m2_per_l(50, 50, loss) == pytest.approx(10.0 * kept)
    assert dry_film_um(50, 10, loss) == pytest.approx(50.0 * kept)
