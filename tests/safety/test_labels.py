"""Hazard statements in our words, and the pictograms that they call for."""

from __future__ import annotations

import pytest

from finishsched.documents.library import shipped_products
from finishsched.safety.labels import NOT_LISTED, Pictogram, hazard_lines, pictograms


@pytest.mark.parametrize("name", sorted(shipped_products()))
def test_every_code_of_a_shipped_product_has_a_meaning(name):
    """No shipped label ever says to look a code up."""
    for line in hazard_lines(shipped_products()[name].hazards):
        assert line.meaning
        assert line.meaning != NOT_LISTED


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        # UN GHS, annex 1, allocation of label elements, and CLP 1272/2008, annex V, as printed in
        # a summary for carriers: flammable liquids 1 to 3 the flame; skin and eye irritation,
        # skin sensitisers, acute toxicity 4, narcosis and airways the exclamation mark; aspiration,
        # respiratory sensitisers, reproductive harm and target organs 1 and 2 the health hazard;
        # skin corrosion and eye damage the corrosion.
        ("H224", Pictogram.FLAME), ("H225", Pictogram.FLAME), ("H226", Pictogram.FLAME),
        ("H302", Pictogram.EXCLAMATION), ("H312", Pictogram.EXCLAMATION),
        ("H315", Pictogram.EXCLAMATION), ("H317", Pictogram.EXCLAMATION),
        ("H319", Pictogram.EXCLAMATION), ("H335", Pictogram.EXCLAMATION),
        ("H336", Pictogram.EXCLAMATION), ("H304", Pictogram.HEALTH), ("H334", Pictogram.HEALTH),
        ("H361d", Pictogram.HEALTH), ("H370", Pictogram.HEALTH), ("H371", Pictogram.HEALTH),
        ("H373", Pictogram.HEALTH), ("H314", Pictogram.CORROSION), ("H318", Pictogram.CORROSION),
        # Acute toxicity 1 to 3 the skull: the same annexes (from memory).
        ("H301", Pictogram.SKULL), ("H311", Pictogram.SKULL), ("H331", Pictogram.SKULL),
    ],
)  # fmt: skip
def test_pictograms_are_those_of_the_open_standard(code, expected):
    """Each statement calls for the pictogram of its hazard class."""
    assert pictograms([code]) == (expected,)


def test_a_code_that_is_not_listed_is_never_left_out():
    """An unknown code stands on the label, and says where to look."""
    (line,) = hazard_lines(["H299"])
    assert (line.code, line.meaning) == ("H299", NOT_LISTED)
    assert pictograms(["H299"]) == ()


def test_each_statement_and_each_pictogram_is_there_once_in_order():
    """Two solvents in one jar do not double its label."""
    codes = ["H319", "H225", "H226", "H319"]
    assert [line.code for line in hazard_lines(codes)] == ["H225", "H226", "H319"]
    assert [shape.value for shape in pictograms(codes)] == ["GHS02", "GHS07"]
    assert all(shape.shows for shape in Pictogram)
