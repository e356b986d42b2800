"""The week's plan as a page to print, a day after the other, with boxes to tick."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from finishsched.reports.pages import page
from finishsched.safety.deferring import IN_PRINT
from finishsched.workshop.base.spans import span, today, weekday_of
from finishsched.workshop.base.words import one_line
from finishsched.workshop.plan.answers import PlanAnswer, PlannedStep

DAYS = 7


@dataclass(frozen=True, slots=True)
class WeekRow:
    """One step to do."""

    when: str
    who: str
    piece: str
    step: str
    how: str
    """Empty where the day has said it already."""
    ready: str


@dataclass(frozen=True, slots=True)
class WeekDay:
    """One day, with its steps in order."""

    day: str
    work: str
    """How long its steps take together; empty without any."""
    rows: tuple[WeekRow, ...]


def week_page(plan: PlanAnswer, shop: str) -> str:
    """Return the HTML page with the seven days from today."""
    first = plan.now.astimezone(plan.zone).date()
    return page(
        "week.html",
        shop=one_line(shop),
        days=[_day(first + timedelta(days=number), plan) for number in range(DAYS)],
        deferral=IN_PRINT,
        hands=len(plan.people) > 1,
        made=f"{today(plan.now, plan.zone)} {plan.now.astimezone(plan.zone):%H:%M}",
    )


def _day(date: date, plan: PlanAnswer) -> WeekDay:
    steps = [
        step
        for step in plan.steps
        if step.person and step.start.astimezone(plan.zone).date() == date
    ]
    rows: list[WeekRow] = []
    said: set[tuple[str, str]] = set()
    for step in steps:
        about = (step.ref, step.step.how)
        rows.append(_row(step, plan, how="" if about in said else one_line(step.step.how)))
        said.add(about)
    length_s = sum((step.end - step.start).total_seconds() for step in steps)
    title = weekday_of(date, plan.now.astimezone(plan.zone).date())
    return WeekDay(title, span(length_s) if length_s else "", tuple(rows))


def _row(step: PlannedStep, plan: PlanAnswer, how: str) -> WeekRow:
    start, end = (at.astimezone(plan.zone) for at in (step.start, step.end))
    return WeekRow(
        when=f"{start:%H:%M}-{end:%H:%M}",
        who=one_line(step.person),
        piece=one_line(step.title),
        step=one_line(f"{step.step.number} {step.step.title}"),
        how=how,
        ready=step.ready_words(plan.zone),
    )
