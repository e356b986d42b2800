"""The one snapshot that everything on the board shows, of what the desk and the parts have now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.bench.at_hand.side import foremost
from finishsched.bench.screens.board import BoardFacts

if TYPE_CHECKING:
    from finishsched.bench.asking.desk import Desk
    from finishsched.bench.parts.beside import Beside
    from finishsched.bench.parts.choosing import Choosing
    from finishsched.bench.parts.plan import Plan
    from finishsched.bench.telling.notices import Notices
    from finishsched.workshop.base.answers import PieceView


class Snapshot:
    """Puts it together; the piece in large letters follows what there is to do."""

    def __init__(
        self, desk: Desk, choosing: Choosing, beside: Beside, plan: Plan, notices: Notices
    ) -> None:
        self._desk = desk
        self._choosing = choosing
        self._beside = beside
        self._plan = plan
        self._notices = notices

    def follow(self) -> None:
        """Choose anew which piece is shown large, unless somebody chose one."""
        self._choosing.large = self._desk.first_of(self._choosing.large)
        view = self._desk.view
        later = frozenset(self._beside.side.later_at(view.now))
        self._choosing.follow(view, self._foremost(), later)

    def _foremost(self) -> str:
        """Return the piece with what there is to do now."""
        side = self._beside.side
        first = foremost(self._desk.view, replace(side, first=self._desk.first_of(side.first)))
        return first.ref if first is not None else ""

    def facts(self) -> BoardFacts:
        """Return it as everything stands now."""
        view, side = self._desk.view, self._beside.side
        later = side.later_at(view.now)
        rows = self._choosing.in_order(view)
        titles = {row.ref: row.title for row in rows}
        pieces = (_called(row, titles).left_for(later.get(row.ref)) for row in rows)
        return BoardFacts(
            view=view._replace(pieces=tuple(pieces)),
            chosen=self._choosing.large,
            notices=self._notices.open,
            side=side,
            findings=self._beside.findings,
            offer=self._plan.offer_words,
            moved=self._choosing.moved,
            late_min=self._plan.late_min,
        )


def _called(row: PieceView, titles: Mapping[str, str]) -> PieceView:
    """Return a row whose warnings name other pieces as their rows do."""
    if not row.warnings:
        return row
    return row._replace(warnings=tuple(words.titled(text, titles) for text in row.warnings))
