"""A plan in sentences: the same on every face."""

from __future__ import annotations

from datetime import datetime

from finishsched.workshop.plan_answers import PlanAnswer, PlannedPiece
from finishsched.workshop.spans import span, today


def piece_words(piece: PlannedPiece, plan: PlanAnswer) -> str:
    """Say when a piece is finished, and what becomes of its due date."""
    if piece.finish is None:
        return f"! {piece.ref}: not all of it can be planned"
    mark = "!" if piece.late_min else " "
    words = f"{mark} {piece.ref}: finished {when_words(piece.finish, plan)}"
    if piece.due is None:
        return words
    day = date_words(piece.due_at or piece.finish, plan)
    if piece.late_min:
        return f"{words}, due {day}: {span(piece.late_min * 60)} late"
    odds = ""
    if piece.late_odds:
        odds = f"; late {odds_words(piece.late_odds)}"
    spare = span((piece.slack_min or 0) * 60)
    return f"{words}, due {day}: {spare} to spare{odds}"


def odds_words(share: float) -> str:
    """Return odds no finer than the draws tell."""
    if share < 0.05:
        return "in fewer than 1 case of 20"
    if share > 0.95:
        return "in more than 19 cases of 20"
    tenths = max(1, min(9, round(share * 10)))
    return f"in {tenths} {'case' if tenths == 1 else 'cases'} of 10"


def gain_words(saves_min: int, less_late_min: int) -> str:
    """Say what is gained by another plan, or by more of something."""
    parts = []
    if less_late_min > 0:
        parts.append(f"{span(less_late_min * 60)} less late")
    if saves_min > 0:
        parts.append(f"all finished {span(saves_min * 60)} sooner")
    return ", ".join(parts) or "less mending and fewer late pieces"


def when_words(at: datetime, plan: PlanAnswer) -> str:
    """Return the local date and time of an instant: ``Wed 25 Nov 18:42``."""
    return f"{date_words(at, plan)} {at.astimezone(plan.zone):%H:%M}"


def date_words(at: datetime, plan: PlanAnswer) -> str:
    """Return its local date with the weekday."""
    return today(at, plan.zone)


def promises(plan: PlanAnswer) -> str:
    """Return what becomes of the due dates; a piece not all planned is promised nothing."""
    due = [piece for piece in plan.pieces if piece.due]
    if not due:
        return "nothing has a due date"
    late = sum(piece.late_min > 0 for piece in due)
    open_ = sum(piece.finish is None for piece in due)
    told = []
    if late:
        told.append(f"{late} of {len(due)} due dates missed")
    if open_:
        told.append(f"{open_} of {len(due)} due dates without a plan")
    return ", ".join(told) or "every due date met"
