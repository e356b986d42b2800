"""Pieces or strips side by side, as a sheet to print and lay beside the board."""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.reports.pages import page
from finishsched.safety.deferring import IN_PRINT
from finishsched.workshop.base.words import one_line
from finishsched.workshop.papers.compared import Compared, table


def compare_page(rows: Sequence[Compared], name: str) -> str:
    """Return the page: a column a piece, a line a fact, and room to write a judgement."""
    return page(
        "compare.html",
        name=one_line(name),
        titles=[one_line(row.title) for row in rows],
        lines=[(fact, [one_line(cell) for cell in cells]) for fact, cells in table(rows)],
        deferral=IN_PRINT,
    )
