"""Tables as CSV (RFC 4180), safe to open in a spreadsheet.

A cell that a spreadsheet would take for a formula begins with an apostrophe, which it hides; a
cell that is a plain number stays one.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from pathlib import Path

from finishsched.reports.pages import write_whole
from finishsched.workshop.tables import Cell, Table
from finishsched.workshop.words import one_line

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""How a formula begins; the wide signs are taken for the plain ones by some spreadsheets."""

BYTE_ORDER_MARK = "\ufeff"
"""Without it some spreadsheets take UTF-8 for an old code page."""


def csv_text(table: Table) -> str:
    """Return a table as CSV."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_MINIMAL, lineterminator="\r\n")
    writer.writerow(table.headings)
    writer.writerows([_cell(value) for value in row] for row in table.rows)
    return BYTE_ORDER_MARK + out.getvalue()


def write_tables(tables: Iterable[Table], folder: Path) -> tuple[Path, ...]:
    """Write each table to a file of its name in ``folder``, each whole or not at all.

    Raises:
        OSError: when one cannot be written.

    """
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for table in tables:
        path = folder / f"{table.name}.csv"
        write_whole(path, csv_text(table), newline="")
        written.append(path)
    return tuple(written)


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, int):
        return str(value)
    text = one_line(value)
    return f"'{text}" if value.startswith(_FORMULA) or text.startswith(_FORMULA) else text
