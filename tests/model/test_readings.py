"""Readings of a surface: read from a maker's words, refused outside their scales, and named."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.model.readings import (
    ANGLES_DEG,
    LOOKS,
    PENCILS,
    Measure,
    UnreadableError,
    colour_apart,
    read_reading,
    sheen_of,
)


@pytest.mark.parametrize(
    ("said", "numbers", "angle", "grade", "where"),
    [
        ("gloss 60: 42 at the top edge", (42.0,), 60, "", "the top edge"),
        ("gloss 20=81.5 GU", (81.5,), 20, "", ""),
        ("sheen 85°: 60", (60.0,), 85, "", ""),
        ("colour L*42.1 a*18.3 b*22 on the shell", (42.1, 18.3, 22.0), None, "", "the shell"),
        ("lab 42.1, -3, 22.5", (42.1, -3.0, 22.5), None, "", ""),
        ("pencil 2h at a corner", (), None, "2H", "a corner"),
        ("hardness HB", (), None, "HB", ""),
        ("thumbnail no mark", (), None, "no mark", ""),
    ],
)
def test_what_a_maker_writes_is_read(said, numbers, angle, grade, where):
    """Numbers, angle, grade and place, in the ways that people write them."""
    found = read_reading(said)
    assert (found.numbers, found.angle_deg, found.grade, found.where) == (
        numbers, angle, grade, where,
    )  # fmt: skip


@pytest.mark.parametrize(
    "said",
    ["gloss 45: 3", "gloss 60: -1", "gloss 60: 2500", "gloss", "colour 120 0 0", "colour 3 4",
     "colour 50 200 0", "pencil 7", "pencil 10H", "thumbnail deep", "luster 60: 4", "",
     "gloss 20: 12; gloss 85: 60", "pencil 2H, gloss 60: 30"],
)  # fmt: skip
def test_what_lies_outside_its_scale_is_refused_with_what_would_do(said):
    """No guess: an angle, a number or a grade that there is not."""
    with pytest.raises(UnreadableError) as told:
        read_reading(said)
    assert told.value.remedy


@given(st.sampled_from(ANGLES_DEG), st.floats(0, 1000, width=32))
def test_gloss_comes_back_as_it_was_written(angle, units):
    """Every angle of ISO 2813 and every number on the scale."""
    found = read_reading(f"gloss {angle}: {units:f}")
    assert found.measure is Measure.GLOSS
    assert found.numbers[0] == pytest.approx(units, abs=1e-6)


@pytest.mark.parametrize(
    ("gloss", "name"),
    [(4, "flat"), (9, "velvet"), (20, "eggshell"), (30, "satin"), (50, "semi-gloss"),
     (80, "gloss"), (92, "high gloss")],
)  # fmt: skip
def test_sheens_as_class_tables_name_them(gloss, name):
    """Master Painters Institute, gloss and sheen levels, at 60 degrees, from memory of its table.

    Flat to 5, velvet to 10, eggshell 10 to 25, satin 20 to 35, semi-gloss 35 to 70, gloss 70 to 85.
    """
    assert sheen_of(gloss) == name


@given(st.floats(0, 500), st.floats(0, 500))
def test_more_gloss_is_never_a_duller_name(one, other):
    """The names are in order."""
    low, high = sorted((one, other))
    assert LOOKS.index(sheen_of(low)) <= LOOKS.index(sheen_of(high))


def test_pencils_are_those_of_the_standard():
    """ISO 15184:2020, from memory: twenty, from 9B the softest through HB and F to 9H."""
    assert len(PENCILS) == 20
    assert (PENCILS[0], PENCILS[-1]) == ("9B", "9H")
    assert PENCILS.index("HB") < PENCILS.index("F") < PENCILS.index("H")


def test_colours_lie_apart_as_the_standard_counts():
    """ISO/CIE 11664-4:2019: the root of the sum of squares of the three differences."""
    assert colour_apart((50, 0, 0), (50, 3, 4)) == pytest.approx(5.0)
