"""A plan in sentences: the same on every face."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from finishsched.numerals import counted
from finishsched.planning.replan import WORTH_MIN
from finishsched.workshop.base.spans import span, weekday_of
from finishsched.workshop.plan.answers import MadeAnew, PlanAnswer, PlannedPiece

AT_RISK = 0.05
"""From which share of the drawn cases on a promise is told as at risk (our assumption)."""
_NAMED = 4
"""So many steps are named where there are more."""
_TOLD = ((60, 20, 10), (30, 10, 5), (15, 5, 4))
"""From how many draws on what is rare is told as less than one case of so many, and what is not in
parts of so many. What none of the draws shows is, 19 in 20 sure, rarer than one in a third of them
(the rule of three)."""
_LEAST_TOLD = [3, 3]


def at_risk(pieces: Iterable[PlannedPiece]) -> list[PlannedPiece]:
    """Return the pieces that miss their due date or may well do so, the worst first."""
    risky = [each for each in pieces if each.late_min or (each.late_odds or 0.0) >= AT_RISK]
    return sorted(risky, key=lambda each: (-each.late_min, -(each.late_odds or 0.0)))


def piece_words(piece: PlannedPiece, plan: PlanAnswer) -> str:
    """Say when a piece is finished, and what becomes of its due date."""
    if piece.finish is None:
        return f"! {piece.ref}: not all of it can be planned"
    mark = "!" if piece.late_min else " "
    words = f"{mark} {piece.ref}: finished {when_words(piece.finish, plan)}"
    if piece.due is None:
        return words
    day = due_words(piece.due, plan)
    if piece.late_min:
        return f"{words}, due {day}: {span(piece.late_min * 60)} late"
    odds = ""
    if piece.late_odds or (piece.late_odds is not None and piece.late_latest_min):
        odds = f"; late {odds_words(piece.late_odds, piece.late_draws)}"
    spare = span((piece.slack_min or 0) * 60)
    return f"{words}, due {day}: {spare} to spare{odds}"


def due_words(due: date, plan: PlanAnswer) -> str:
    """Return a due date as it is written, with its weekday: ``Sat 31 Oct``."""
    return weekday_of(due, plan.now.astimezone(plan.zone).date())


def past_due_words(ref: str, due: date, today: date) -> str:
    """Say since when a piece that is not finished was due, by the days of the calendar."""
    days = (today - due).days
    ago = f"{counted(days, 'day')} ago" if days > 0 else "today"
    return f"{ref} was due {weekday_of(due, today)}, {ago}, and is not finished"


def odds_words(share: float, draws: int) -> str:
    """Return odds no finer than so many draws tell: none of 40 is not never."""
    rare, parts = next((told for least, *told in _TOLD if draws >= least), _LEAST_TOLD)
    if share < 1 / rare:
        return f"in fewer than 1 case of {rare}"
    if share > 1 - 1 / rare:
        return f"in more than {rare - 1} cases of {rare}"
    cases = max(1, min(parts - 1, round(share * parts)))
    return f"in {counted(cases, 'case')} of {parts}"


def gain_words(saves_min: int, less_late_min: int) -> str:
    """Say what is gained by another plan, or by more of something."""
    parts = []
    if less_late_min > 0:
        parts.append(f"{span(less_late_min * 60)} less late")
    if saves_min > 0:
        parts.append(f"all finished {span(saves_min * 60)} sooner")
    return ", ".join(parts) or "less mending and fewer late pieces"


def made_anew_words(anew: MadeAnew) -> str:
    """Say in one line what moved of a plan that was made anew, what that gains, what it costs."""
    moved = f"{anew.near_moved} of the {anew.near} starts of the next 7 days moved"
    if not anew.near_moved:
        moved = "nothing of the next 7 days moved"
    gain = gain_words(anew.saves_min, anew.less_late_min)
    if anew.saves_min <= -WORTH_MIN:
        gain += f", but all finished {span(-anew.saves_min * 60)} later"
    return f"the plan is made anew: {moved}; against holding on to it: {gain}"


def searched_words(steps: int, plans: int | None) -> str:
    """Say how little was looked for where there are many steps; None for the plain rules alone."""
    tried = "the plain rules were" if plans is None else f"{plans} plans were"
    return (
        f"{steps} steps are many: no more than {tried} tried; "
        "plan --until-better 60 looks for a minute"
    )


def not_found_words(names: list[str]) -> str:
    """Say that no plan was found for some steps, and what may find one."""
    more = ", ..." if len(names) > _NAMED else ""
    few = ", ".join(names[:_NAMED]) + more
    return (
        f"no plan found by rules for {few}: their windows tie them in a circle; "
        "plan --until-better 60 looks for a minute"
    )


def when_words(at: datetime, plan: PlanAnswer) -> str:
    """Return the local date and time of an instant: ``Wed 25 Nov 18:42``."""
    return f"{date_words(at, plan)} {at.astimezone(plan.zone):%H:%M}"


def date_words(at: datetime, plan: PlanAnswer) -> str:
    """Return its local date with the weekday, and its year where that is not this one."""
    return weekday_of(at.astimezone(plan.zone).date(), plan.now.astimezone(plan.zone).date())


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
    said = ", ".join(told) or "every due date met"
    risky = sum(not piece.late_min and piece.finish is not None for piece in at_risk(due))
    return f"{said}, {risky} at risk" if risky else said
