"""Grades: what people write, which system they mean, and how one grade follows another."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.film.grade_steps import Change, step_between
from finishsched.model.film import BareGrades
from finishsched.model.grades import (
    CAMI_UM,
    FEPA_UM,
    ROUGH_UM,
    System,
    UnknownGradeError,
    grade_of,
)

names = st.sampled_from(
    [f"P{n}" for n in FEPA_UM] + [f"CAMI {n}" for n in CAMI_UM] + list(ROUGH_UM)
)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("P400", "P400"),
        ("p400", "P400"),
        (" P 400 ", "P400"),
        ("FEPA P400", "P400"),
        ("CAMI 600", "CAMI 600"),
        ("600 CAMI", "CAMI 600"),
        ("0000", "0000 wool"),
        ("0000 steel wool", "0000 wool"),
        ("gray pad", "grey pad"),
        ("rottenstone", "rottenstone"),
    ],
)
def test_a_grade_is_read_as_people_write_it(text, name):
    """Letters, order and case do not matter, and a system that is named is never overruled."""
    assert grade_of(text, BareGrades.FEPA).name == name
    assert grade_of(text, BareGrades.CAMI).name == name


def test_a_bare_number_is_what_the_shop_means_and_says_so():
    """600 is P600 or CAMI 600 by the setting, and both are said with their micrometres."""
    fepa, cami = grade_of("600", BareGrades.FEPA), grade_of("600", BareGrades.CAMI)
    assert (fepa.name, cami.name) == ("P600", "CAMI 600")
    assert fepa.taken_by_setting
    assert cami.taken_by_setting
    assert "26 um" in str(fepa.words)
    assert "FEPA" in str(fepa.words)
    assert "16 um" in str(cami.words)
    assert "CAMI" in str(cami.words)
    assert not grade_of("P600").taken_by_setting


@pytest.mark.parametrize("text", ["P410", "CAMI 150000", "", "x", "P", "400 um", "00000", "-400"])
def test_what_is_no_grade_is_refused_with_what_would_do(text):
    """An unknown grade is refused, and the refusal names grades that there are."""
    with pytest.raises(UnknownGradeError, match=r"write for example|the nearest are"):
        grade_of(text)


@pytest.mark.parametrize("system", [FEPA_UM, CAMI_UM], ids=["FEPA", "CAMI"])
def test_a_larger_number_is_a_finer_grain(system):
    """So both standards number them; the table is in that order, and no two are alike."""
    assert list(system) == sorted(system)
    assert all(coarse > fine for coarse, fine in pairwise(system.values()))


def test_every_grade_of_the_tables_is_read_by_its_name():
    """A row more is all that a grade takes: it is read, said and set between the others."""
    for name, grain_um in ROUGH_UM.items():
        assert grade_of(name).grain_um == grain_um, name
    for number, grain_um in (*FEPA_UM.items(),):
        assert grade_of(f"P{number}").grain_um == grain_um
    for number, grain_um in CAMI_UM.items():
        assert grade_of(f"CAMI {number}").grain_um == grain_um


def test_wool_and_powders_are_rough():
    """What has no standard says so."""
    assert grade_of("0000 wool").system is System.NONE
    assert grade_of("rottenstone").rough
    assert "rough" in str(grade_of("white pad").words)


@given(names, names)
def test_a_step_and_its_reverse(before, after):
    """The ratio turns round with the step; finer one way is coarser, or the same, the other."""
    there = step_between(grade_of(before), grade_of(after))
    back = step_between(grade_of(after), grade_of(before))
    assert there.ratio * back.ratio == pytest.approx(1)
    finer = {Change.GOOD, Change.WIDE, Change.SKIPPED}
    assert (there.change in finer) == (back.change is Change.REVERSED)
    assert (there.change is Change.SAME) == (back.change is Change.SAME)


def test_what_is_passed_over_is_named():
    """A skip names the standard grades between, coarsest first."""
    steps = [step_between(*pair) for pair in pairwise(map(grade_of, ("P120", "P240", "P280")))]
    assert [step.between for step in steps] == [("P150", "P180", "P220"), ()]
    assert [step.change for step in steps] == [Change.SKIPPED, Change.GOOD]
