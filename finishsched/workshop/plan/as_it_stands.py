"""The plan as it stands: the one that was shown, made anew where it no longer holds.

Where none was shown yet it is the first one, as ``plan`` makes it at the same moment, so that what
now and the first plan name the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from finishsched.planning.hours import instant_of
from finishsched.workshop.base.documents import stamps
from finishsched.workshop.base.place import PLAN_FILE
from finishsched.workshop.base.workshop import Workshop

if TYPE_CHECKING:
    from finishsched.planning.problem import Placed
    from finishsched.workshop.plan.memory import Remembered

GRACE = timedelta(minutes=15)
"""Work that is not begun so long after its time makes a plan old (our assumption)."""


def plan_as_it_stands(workshop: Workshop, now: datetime) -> Mapping[str, Placed]:
    """Return by key what is planned: as shown, or as it comes out now where that is out of date.

    Empty where none comes out right. Nothing is kept.
    """
    from finishsched.workshop.plan.memory import recall  # noqa: PLC0415  # not on the way of a log

    shown = recall(workshop.folder)
    if shown is not None and not _is_old(workshop, shown, now):
        placed: Sequence[Placed] = shown.plan.placed
    else:
        placed = _anew(workshop, shown, now)
    return {each.key: each for each in placed}


def _anew(workshop: Workshop, shown: Remembered | None, now: datetime) -> Sequence[Placed]:
    """Return what is planned now, with what the plan shown is taken to have under way."""
    # The planners are dear to load, and seldom wanted here.
    from finishsched.planning.replan import NoPlanError, replan  # noqa: PLC0415
    from finishsched.workshop.plan.plans import shop_sound, steadiness_of  # noqa: PLC0415

    try:
        shop, whole = shop_sound(workshop, now)
        before = shown.plan if shown is not None else None
        plan = replan(whole.problem, before, steady=steadiness_of(workshop)).plan
    except NoPlanError:
        return ()
    going_on = [each for each in before.placed if each.key in shop.under_way] if before else []
    return (*going_on, *plan.placed)


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
