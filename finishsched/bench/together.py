"""Pieces that are worked as one stand on the bench as one, by the name of the first of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from finishsched.workshop.base.answers import BenchView, PieceView, StepSheet
from finishsched.workshop.standing.together import Row


def gathered(view: BenchView, rows: Sequence[Row]) -> BenchView:
    """Return ``view`` with one piece for each of ``rows``, in the order of the most urgent."""
    pieces = {piece.ref: piece for piece in view.pieces}
    by_first = {row.refs[0]: row for row in rows if row.count > 1}
    hidden = {ref for row in by_first.values() for ref in row.refs[1:]}
    shown = tuple(
        _as_one(by_first[piece.ref], pieces) if piece.ref in by_first else piece
        for piece in view.pieces
        if piece.ref not in hidden
    )
    return replace(view, pieces=shown)


def _as_one(row: Row, pieces: Mapping[str, PieceView]) -> PieceView:
    """Return several as one: as far as the slowest of them, and as much work as all."""
    members = [pieces[ref] for ref in row.refs]
    last = max(members, key=_likely)
    dues = [piece.due for piece in members if piece.due is not None]
    return replace(
        last,
        ref=row.refs[0],
        title=row.title,
        due=min(dues, default=None),
        sheet=_for_all(last.sheet, row.count),
        next_sheet=_for_all(last.next_sheet, row.count),
        coats_ahead=min(piece.coats_ahead for piece in members),
        log=pieces[row.refs[0]].log,
    )


def _likely(piece: PieceView) -> float:
    return piece.clock.likely_at.timestamp() if piece.clock is not None else 0.0


def _for_all(sheet: StepSheet | None, count: int) -> StepSheet | None:
    if sheet is None:
        return None
    makes = f"{sheet.mix_makes}, for each of {count}" if sheet.mix_makes else ""
    return replace(sheet, hands_on_min=sheet.hands_on_min * count, mix_makes=makes)
