"""Tables as CSV (RFC 4180), safe to open in a spreadsheet.

A cell that a spreadsheet would take for a formula begins with an apostrophe, which it hides; a
cell that is a plain number stays one.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from finishsched.refusals import RefusalError
from finishsched.reports.pages import write_whole
from finishsched.workshop.base.words import one_line
from finishsched.workshop.papers.tables import Cell, Table

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""How a formula begins; the wide signs are taken for the plain ones by some spreadsheets."""

_LONGEST_HEADING = 4096

BYTE_ORDER_MARK = "\ufeff"
"""Without it some spreadsheets take UTF-8 for an old code page."""


def csv_text(table: Table) -> str:
    """Return a table as CSV."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_MINIMAL, lineterminator="\r\n")
    writer.writerow(table.headings)
    writer.writerows([_cell(value) for value in row] for row in table.rows)
    return BYTE_ORDER_MARK + out.getvalue()


class NotOurTableError(RefusalError):
    """A file of a table's name that is no such table; nothing was written."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path} is there already, and is no table of finishsched")


def write_tables(tables: Iterable[Table], folder: Path, *, force: bool = False) -> tuple[Path, ...]:
    """Write each table to a file of its name in ``folder``, over earlier tables of ours only.

    ``force`` writes over other files of these names too. Each is written whole or not at all.

    Raises:
        NotOurTableError: for a file that is something else; nothing is written then.
        OSError: when one cannot be written.

    """
    paths = {folder / f"{table.name}.csv": table for table in tables}
    for path, table in paths.items():
        if not force and path.exists() and not _is_ours(path, table):
            raise NotOurTableError(path)
    was_there = folder.is_dir()
    folder.mkdir(parents=True, exist_ok=True)
    try:
        for path, table in paths.items():
            write_whole(path, csv_text(table), newline="")
    except OSError:
        if not was_there:
            with suppress(OSError):  # a table that was written whole stays, and its folder
                folder.rmdir()
        raise
    return tuple(paths)


def _is_ours(path: Path, table: Table) -> bool:
    """Tell a table of this program by its headings, or by the first of them in an earlier one."""
    with path.open("rb") as file:
        first = file.readline(_LONGEST_HEADING)
    try:
        written = first.decode("utf-8-sig").strip().split(",")
    except UnicodeDecodeError:
        return False
    return len(written) > 1 and tuple(written) == table.headings[: len(written)]


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, int):
        return str(value)
    text = one_line(value)
    return f"'{text}" if value.startswith(_FORMULA) or text.startswith(_FORMULA) else text
