"""The plan made anew after an entry: kept as far as can be, and what it did to the work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from finishsched.planning.problem import Plan
from finishsched.planning.replan import changes
from finishsched.workshop.base import documents as shop_folder
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import PlanAnswer
from finishsched.workshop.plan.change_sentences import NO_CHANGE, Changed, changed_since
from finishsched.workshop.plan.memory import recall
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.regrouped import regrouped


@dataclass(frozen=True, slots=True)
class Mark:
    """How far the journal and the documents had come."""

    last_seq: int
    stamps: tuple[tuple[str, int, int], ...]


@dataclass(frozen=True, slots=True)
class Followed:
    """The plan that follows, or None where the one shown last still stands."""

    mark: Mark
    answer: PlanAnswer | None = None
    changed: Changed = NO_CHANGE


def follow_plan(
    workshop: Workshop,
    now: datetime,
    since: Mark | None,
    *,
    known: Plan | None = None,
    offered: Plan | None = None,
    changed: Callable[[], object] = lambda: None,
) -> Followed:
    """Make and keep a plan where something was logged or written since a mark, and only there.

    Without a mark it is where nothing was planned before, or something was logged since.

    Args:
        workshop: the shop.
        now: when.
        since: the mark of the last time.
        known: the plan that whoever asks saw last, to tell what changed since; another program
            may have kept a newer one. The one kept last when None.
        offered: a better plan that was found before; offered again while it still is better.
        changed: is called before the planning.

    Raises:
        NoPlanError: when no plan comes out right.

    """
    mark = Mark(workshop.book().last_seq, shop_folder.stamps(workshop.folder))
    if mark == since or (since is None and not _is_out_of_date(workshop)):
        return Followed(mark)
    changed()
    asked = Asked(insight=False, keep=True, offered=offered)
    answer = plan_answer(workshop, now, asked)
    answer = answer if known is None else _since(regrouped(workshop, known, answer.problem), answer)
    return Followed(mark, answer, changed_since(answer))


def _since(known: Plan, answer: PlanAnswer) -> PlanAnswer:
    under_way = {step.key for step in answer.steps if step.under_way}
    moved = changes(known, answer.plan, answer.problem)
    return replace(answer, changes=tuple(c for c in moved if c.key not in under_way))


def _is_out_of_date(workshop: Workshop) -> bool:
    """Tell whether there is no plan, or something was logged since."""
    shown = recall(workshop.folder)
    return shown is None or shown.logged_since(workshop.book())
