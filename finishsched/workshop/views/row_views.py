"""Pieces worked together as they are shown: one row, with one sheet for all of them.

The bench lists these, ``due`` tells them, and one entry by the row's name logs them all. A plan
that wants pieces alike as one block of hands-on work takes its blocks from here as well: the set-up
once, the hands-on minutes of ``sheet``, which are for all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from finishsched.model.step import Step
from finishsched.workshop.amounts.amounts import Amounts, amounts_of
from finishsched.workshop.amounts.one_jar import by_turns
from finishsched.workshop.base.answers import PieceView, StepSheet
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.sheets import made_of, step_sheet
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.together import Row, rows_of
from finishsched.workshop.standing.where import by_ref


class RowView(NamedTuple):
    """One row of what is shown."""

    row: Row
    view: PieceView
    """As of one piece: of several the one that is ready last, with their name, title and sheet."""
    each: tuple[PieceView, ...]
    """Every piece of it as it stands."""


def row_views(workshop: Workshop, views: Sequence[PieceView], now: datetime) -> tuple[RowView, ...]:
    """Return ``views`` by the rows that they are worked in, in the order of the first of each."""
    shown = {view.ref: view for view in views}
    known = by_ref(workshop, shown)
    rows = rows_of([known[ref] for ref in shown], workshop.book(), now)
    amounts = amounts_of(workshop, now)
    place = {ref: at for at, ref in enumerate(shown)}
    found = [_row_view(workshop, row, shown, known, amounts) for row in rows]
    found.sort(key=lambda one: min(place[ref] for ref in one.row.refs))
    told = by_turns((one.view for one in found), amounts.jars)
    return tuple(one._replace(view=view) for one, view in zip(found, told, strict=True))


def _row_view(
    workshop: Workshop,
    row: Row,
    shown: dict[str, PieceView],
    known: dict[str, Standing],
    amounts: Amounts,
) -> RowView:
    each = tuple(shown[ref] for ref in row.refs)
    if row.count == 1:
        return RowView(row, each[0], each)
    last = max(each, key=_ready_at)
    members = [known[ref] for ref in row.refs]
    warnings = tuple(dict.fromkeys(text for view in each for text in view.warnings))
    view = last._replace(ref=row.name, title=row.title, warnings=warnings)
    return RowView(row, _with_sheet_for_all(workshop, view, members, amounts), each)


def _with_sheet_for_all(
    workshop: Workshop, view: PieceView, members: Sequence[Standing], amounts: Amounts
) -> PieceView:
    """Return the view with one batch and one pad for all, and the hands-on minutes of all."""
    if view.step is None or view.sheet is None:
        return view
    for_all = _bare_sheet(workshop, view.step, members)
    told = amounts.told(for_all, members)
    how_much = amounts.reasons(told, members) if view.clock is None else ()
    next_sheet = view.next_sheet
    if next_sheet is not None and view.clock is not None:
        bare = _bare_sheet(workshop, next_sheet.step, members)
        next_sheet = amounts.told(bare, members, view.clock.likely_at)
    return view._replace(sheet=told, next_sheet=next_sheet, how_much=how_much)


def _bare_sheet(workshop: Workshop, step: Step, members: Sequence[Standing]) -> StepSheet:
    """Return the sheet of ``step`` on all of ``members``, each picked up and put down by itself."""
    papers = workshop.papers
    area_m2 = sum(one.piece.area_m2 for one in members)
    woods = " ".join(dict.fromkeys(made_of(one.piece) for one in members))
    sheet = step_sheet(members[0].steps, step, area_m2, papers.products, papers.shop, woods)
    return sheet._replace(
        hands_on_min=sum(step.hands_on.minutes(one.piece.area_m2) for one in members)
    )


def _ready_at(view: PieceView) -> float:
    return view.clock.likely_at.timestamp() if view.clock is not None else 0.0
