"""Pieces that are worked as one stand on the bench as one, by the name of the first of them."""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.workshop.base.answers import BenchView, LogLine, PieceView
from finishsched.workshop.views.row_views import RowView


def gathered(view: BenchView, rows: Sequence[RowView]) -> BenchView:
    """Return ``view`` with one piece for each of ``rows``."""
    return view._replace(pieces=tuple(_as_one(row) for row in rows))


def _as_one(row: RowView) -> PieceView:
    """Return several as one, which has the first one's entries and the first due date."""
    dues = [piece.due for piece in row.each if piece.due is not None]
    first = next(piece for piece in row.each if piece.ref == row.row.refs[0])
    return row.view._replace(
        ref=first.ref,
        due=min(dues, default=None),
        coats_ahead=min(piece.coats_ahead for piece in row.each),
        log=_log_of(first, len(row.each)),
    )


def _log_of(first: PieceView, pieces: int) -> tuple[LogLine, ...]:
    """Return the first one's entries; of several without what it alone took of a jar."""
    if pieces == 1:
        return first.log
    return tuple(line._replace(text=line.of_all or line.text) for line in first.log)
