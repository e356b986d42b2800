"""Strokes of a hand, and the drawing of a section, to the letter."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.film.dishing import BLOCK_MM2, STROKE_MM
from finishsched.film.drawing import AIR, FILM, WOOD, Section, cross_section
from finishsched.film.materials import FILM as SHELLAC
from finishsched.film.materials import wood_of
from finishsched.film.strokes import depth_um, passes, rate_of, strokes_for
from finishsched.model.grades import grade_of
from finishsched.model.ranges import Range

# -- strokes


@given(st.floats(0.5, 3000), st.sampled_from([SHELLAC, wood_of("maple")]), st.booleans())
def test_strokes_for_a_depth_take_that_depth(count, material, wet):
    """Reckoned there and back it is the same count."""
    deep = depth_um(material, grade_of("P400"), count, 60_000.0, wet=wet)
    again = strokes_for(material, grade_of("P400"), deep, 60_000.0, wet=wet)
    assert again == pytest.approx(count, rel=1e-6)


def test_paper_dulls_and_wet_paper_lasts():
    """The first ten strokes take the most; on film 200 take more wet than dry, ten take less."""
    grade, area = grade_of("P400"), 60_000.0
    ten, hundred = (depth_um(SHELLAC, grade, n, area) for n in (10, 100))
    assert ten < hundred < 10 * ten
    assert depth_um(SHELLAC, grade, 10, area, wet=True) < ten
    assert depth_um(SHELLAC, grade, 200, area, wet=True) > depth_um(SHELLAC, grade, 200, area)
    # Worked from the formula: fresh paper, ten strokes of 150 mm under 10 N over 60,000 mm2.
    g = min(1.0, grade.grain_um / 100) ** 0.6
    run_m, x0_m = 1.5, 10.0
    path_m = 0.3 * run_m + 0.7 * x0_m * (1 - math.exp(-run_m / x0_m))
    assert ten == pytest.approx(1000 * 0.59 * g * 10 * path_m / area)
    x0_m = 40.0
    path_m = 0.3 * run_m + 0.7 * x0_m * (1 - math.exp(-run_m / x0_m))
    wet = depth_um(SHELLAC, grade, 10, area, wet=True)
    assert wet == pytest.approx(0.8 * 1000 * 0.59 * g * 10 * path_m / area)


def test_strokes_go_over_a_face_so_often():
    """A block of 50 cm2 over 150 mm covers 70.7 by 150 mm; a smaller face counts as that."""
    one = math.sqrt(BLOCK_MM2) * STROKE_MM
    assert passes(12, 4 * one) == pytest.approx(3.0)
    assert passes(12, one / 2) == pytest.approx(12.0)


@given(st.lists(st.floats(0.2, 5), max_size=20))
def test_a_hand_s_tests_bring_its_rate_between_the_model_and_them(ratios):
    """No test leaves 1 within the spread; each test narrows, and the middle stays among them."""
    found = rate_of(ratios, 4.0)
    assert found.tests == len(ratios)
    around = [1.0, *ratios]
    assert min(around) * (1 - 1e-9) <= found.factor.likely <= max(around) * (1 + 1e-9)
    wider = rate_of(ratios[:-1], 4.0).factor
    assert found.factor.high / found.factor.low <= wider.high / wider.low * (1 + 1e-9)
    if not ratios:
        assert found.factor == Range(0.25, 1.0, pytest.approx(4.0))


# -- drawing


def test_the_hollow_is_drawn_in_the_middle_a_quarter_wide():
    """Of 40 signs ten in the middle are hollow; ground stands as wide on either side of them."""
    lines = cross_section(Section(0.0, 100.0, 100.0, 100.0, None), 60, 12, "{:.0f} um".format)
    top = next(line for line in lines if WOOD in line)
    columns = 60 - len("  to fill 100 um") - 1
    row = top[:columns]
    hollow = columns // 4
    left = (columns - hollow) // 2
    assert row == WOOD * left + AIR * hollow + WOOD * (columns - hollow - left)


def test_film_and_hollow_share_the_height_by_their_depth():
    """Film half as thick as the hollow is deep takes a third of the rows, the hollow two."""
    lines = cross_section(Section(50.0, 100.0, 100.0, 100.0, None), 60, 12, "{:.0f} um".format)
    side = [line[0] for line in lines]
    above = 12 - 12 // 3
    assert side.count(AIR) == 1
    film, wood = side.count(FILM), side[:above].count(WOOD)
    assert film + wood == above - 1
    assert film == pytest.approx((above - 1) / 3, abs=1)
