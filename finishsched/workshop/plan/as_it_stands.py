"""The plan as it stands: the one that was shown, made anew where it no longer holds."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from finishsched.planning.hours import instant_of
from finishsched.planning.problem import Placed, Plan
from finishsched.planning.replan import NoPlanError, replan
from finishsched.workshop.base.documents import stamps
from finishsched.workshop.base.place import PLAN_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.memory import Remembered, recall

GRACE = timedelta(minutes=15)
"""Work that is not begun so long after its time makes a plan old (our assumption)."""


def plan_as_it_stands(workshop: Workshop, now: datetime) -> Mapping[str, Placed]:
    """Return by key what is planned: as shown, or as it comes out now where that is out of date.

    Empty where no plan was ever shown, or none comes out right. Nothing is kept.
    """
    shown = recall(workshop.folder)
    if shown is None:
        return {}
    plan = shown.plan if not _is_old(workshop, shown, now) else _anew(workshop, shown, now)
    return {placed.key: placed for placed in plan.placed} if plan is not None else {}


def _anew(workshop: Workshop, shown: Remembered, now: datetime) -> Plan | None:
    from finishsched.workshop.plan.plans import shop_sound  # noqa: PLC0415  # dear, and seldom

    try:
        _, whole = shop_sound(workshop, now)
        return replan(whole.problem, shown.plan).plan
    except NoPlanError:
        return None


def _is_old(workshop: Workshop, shown: Remembered, now: datetime) -> bool:
    """Tell whether anything was logged or written since, or planned work was not begun."""
    at = instant_of(shown.shown_min)
    last = workshop.book().last_logged_at
    if last is not None and last >= at - timedelta(minutes=1):
        return True
    if any(instant_of(placed.start_min) < now - GRACE for placed in shown.plan.placed):
        return True
    written_ns = (workshop.folder / PLAN_FILE).stat().st_mtime_ns
    return any(stamp_ns > written_ns for _, stamp_ns, _ in stamps(workshop.folder))
