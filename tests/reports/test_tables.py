"""Tables for spreadsheets: nothing in them is taken for a formula."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.reports.tables import BYTE_ORDER_MARK, csv_text, write_tables
from finishsched.workshop.tables import Table

FORMULAS = ("=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "＝1+1")


def read(text):
    """Return the cells as an independent reader sees them."""
    return list(csv.reader(io.StringIO(text.removeprefix(BYTE_ORDER_MARK), newline="")))


@pytest.mark.parametrize("text", FORMULAS)
def test_a_text_that_looks_like_a_formula_is_disarmed(text):
    """A cell that a spreadsheet would work out begins with an apostrophe instead."""
    (_, (cell,)) = read(csv_text(Table("t", ("note",), ((text,),))))
    assert cell.startswith("'")


def test_a_negative_number_stays_a_number():
    """A figure below zero is no formula, and is written so that it can be added up."""
    assert read(csv_text(Table("t", ("t",), ((-3.5,), (2,), (None,)))))[1:] == [
        ["-3.5"],
        ["2"],
        [""],
    ]


@given(st.lists(st.lists(st.text(), min_size=2, max_size=2).map(tuple)))
def test_every_row_comes_back_with_as_many_cells(rows):
    """Whatever people write, a row stays one row and a cell one cell, none of them a formula."""
    back = read(csv_text(Table("t", ("a", "b"), tuple(rows))))
    assert [len(row) for row in back] == [2] * (len(rows) + 1)
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in back for cell in row)


def test_tables_are_files_of_their_names(tmp_path):
    """Each table becomes one file in the folder, which is made when it is not there."""
    written = write_tables((Table("air", ("t",), ((1.0,),)),), tmp_path / "out")
    assert [path.name for path in written] == ["air.csv"]
    assert written[0].read_bytes().endswith(b"t\r\n1\r\n")
