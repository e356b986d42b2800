"""Tables for spreadsheets: nothing in them is taken for a formula."""

from __future__ import annotations

import csv
import errno
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.reports.tables import (
    BYTE_ORDER_MARK,
    NotOurTableError,
    csv_text,
    write_tables,
)
from finishsched.workshop.papers.tables import Table

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


@pytest.mark.parametrize("there", [b"mine,notes\r\n1,2\r\n", b"t", b"", b"\xff\xfe,x\n", None])
def test_nothing_is_written_over_but_tables_of_ours(tmp_path, there):
    """A file of a table's name that is something else stops all of them; none is begun."""
    tables = (
        Table("air", ("t", "rh"), ((1.0, 50.0),)),
        Table("stock", ("name", "what"), ()),
    )
    if there is None:
        (tmp_path / "stock.csv").mkdir()
    else:
        (tmp_path / "stock.csv").write_bytes(there)
    with pytest.raises((NotOurTableError, IsADirectoryError)):
        write_tables(tables, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["stock.csv"]


def test_tables_of_ours_are_brought_up_to_date(tmp_path):
    """Written again it is the newest, over one of an earlier program with fewer columns too."""
    older = Table("air", ("t", "rh"), ((1.0, 50.0),))
    newer = Table("air", ("t", "rh", "v"), ((2.0, 60.0, 0.1),))
    write_tables((older,), tmp_path)
    for table in (older, newer, newer):
        (path,) = write_tables((table,), tmp_path)
        assert path.read_bytes().decode() == csv_text(table)


def test_tables_are_files_of_their_names(tmp_path):
    """Each table becomes one file in the folder, which is made when it is not there."""
    written = write_tables((Table("air", ("t",), ((1.0,),)),), tmp_path / "out")
    assert [path.name for path in written] == ["air.csv"]
    assert written[0].read_bytes().endswith(b"t\r\n1\r\n")


def test_a_disk_that_is_full_leaves_no_folder_of_tables(tmp_path, monkeypatch):
    """Where not one table could be written, the folder made for them is gone again."""

    def full(*_args, **_named):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("finishsched.reports.tables.write_whole", full)
    with pytest.raises(OSError, match="No space left"):
        write_tables([Table("coats", ("piece",), ())], tmp_path / "tables")
    assert not (tmp_path / "tables").exists()
