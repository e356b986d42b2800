"""The plan as it stands: the one that was shown, made anew where it no longer holds.

Where none was shown yet it is the first one, as ``plan`` makes it at the same moment, so that what
now and the first plan name the same. What was made anew is kept beside the one that was shown:
until something is logged or written it is asked for again and again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from finishsched.planning.hours import instant_of
from finishsched.workshop.base.place import PLAN_FILE, PLAN_NOW_FILE
from finishsched.workshop.base.workshop import Workshop

if TYPE_CHECKING:
    from finishsched.planning.problem import Placed
    from finishsched.workshop.plan.memory import Remembered

GRACE = timedelta(minutes=15)
"""Work that is not begun so long after its time makes a plan old (our assumption)."""


def plan_as_it_stands(workshop: Workshop, now: datetime) -> Mapping[str, Placed]:
    """Return by key what is planned: as shown, or as it comes out now where that is out of date.

    Empty where none comes out right.
    """
    from finishsched.workshop.plan.memory import recall  # noqa: PLC0415  # not on the way of a log

    shown = recall(workshop.folder)
    if shown is not None and not _is_old(workshop, shown, now, PLAN_FILE):
        return _by_key(shown.plan.placed)
    made = recall(workshop.folder, PLAN_NOW_FILE)
    if made is not None and _still_follows(workshop, made, now):
        return _by_key(made.plan.placed)
    return _by_key(_anew(workshop, shown, now))


def _by_key(placed: Sequence[Placed]) -> Mapping[str, Placed]:
    return {each.key: each for each in placed}


def _still_follows(workshop: Workshop, made: Remembered, now: datetime) -> bool:
    """Tell whether what was made anew still holds: it follows the plan shown, and is not old."""
    plan, own = (workshop.folder / name for name in (PLAN_FILE, PLAN_NOW_FILE))
    if instant_of(made.shown_min) > now + timedelta(minutes=1):
        return False
    if plan.is_file() and plan.stat().st_mtime_ns > own.stat().st_mtime_ns:
        return False
    return not _is_old(workshop, made, now, PLAN_NOW_FILE)


def _anew(workshop: Workshop, shown: Remembered | None, now: datetime) -> Sequence[Placed]:
    """Return what is planned now, with what the plan shown is taken to have under way."""
    # The planners are dear to load, and seldom wanted here.
    from finishsched.planning.problem import Plan  # noqa: PLC0415
    from finishsched.planning.replan import NoPlanError, replan  # noqa: PLC0415
    from finishsched.workshop.plan.memory import Remembered, remember  # noqa: PLC0415
    from finishsched.workshop.plan.plans import shop_sound, steadiness_of  # noqa: PLC0415
    from finishsched.workshop.plan.regrouped import regrouped  # noqa: PLC0415

    last_seq = workshop.book().last_seq
    try:
        shop, whole = shop_sound(workshop, now)
        before = regrouped(workshop, shown.plan, shop.problem) if shown is not None else None
        plan = replan(whole.problem, before, steady=steadiness_of(workshop)).plan
    except NoPlanError:
        return ()
    under_way = shop.under_way
    going_on = [each for each in before.placed if each.key in under_way] if before else []
    placed = (*going_on, *plan.placed)
    kept = Remembered(Plan(placed), whole.problem.now_min, last_seq)
    remember(workshop.folder, kept, PLAN_NOW_FILE)
    return placed


def _is_old(workshop: Workshop, shown: Remembered, now: datetime, name: str) -> bool:
    """Tell whether anything was logged or written since, or planned work was not begun."""
    if shown.logged_since(workshop.book()):
        return True
    if any(instant_of(placed.start_min) < now - GRACE for placed in shown.plan.placed):
        return True
    written_ns = (workshop.folder / name).stat().st_mtime_ns
    return any(stamp_ns > written_ns for _, stamp_ns, _ in workshop.stamps)
