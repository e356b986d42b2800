"""A plan that was shown, told of the rows in which the pieces stand now.

A row is one block to a plan, by its name. Pieces that were joined for the evening, parted again or
caught up with have other names, and yet the same work: what was promised of it holds on.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from functools import cache

from finishsched.planning.problem import Placed, Plan, Problem
from finishsched.refusals import RefusalError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.memory import Remembered, recall
from finishsched.workshop.plan.step_in_shop import row_and_step
from finishsched.workshop.standing.several import find_several


def recalled(workshop: Workshop, problem: Problem) -> Remembered | None:
    """Return the plan that was last shown, in the rows of ``problem``; None where none was."""
    shown = recall(workshop.folder)
    return shown and replace(shown, plan=regrouped(workshop, shown.plan, problem))


def regrouped(workshop: Workshop, plan: Plan, problem: Problem) -> Plan:
    """Return ``plan`` with the places of rows that there are not any more given to those there are.

    Several that are one now come where the last of them was; of one that is several now each is
    where that was.
    """
    known = {activity.key for activity in problem.activities}
    without = known.difference(placed.key for placed in plan.placed)
    strange = [placed for placed in plan.placed if placed.key not in known]
    if not without or not strange:
        return plan
    refs_of = _refs_in(workshop)
    by_step: dict[str, list[Placed]] = defaultdict(list)
    for placed in strange:
        by_step[row_and_step(placed.key)[1]].append(placed)
    gone: set[str] = set()
    found: list[Placed] = []
    for key in sorted(without):
        row, step = row_and_step(key)
        old = [one for one in by_step[step] if refs_of(row) & refs_of(row_and_step(one.key)[0])]
        if old:
            gone.update(one.key for one in old)
            found.append(replace(max(old, key=lambda one: one.end_min), key=key))
    stays = [placed for placed in plan.placed if placed.key not in gone]
    in_order = sorted((*stays, *found), key=lambda placed: (placed.start_min, placed.key))
    return replace(plan, placed=tuple(in_order))


def _refs_in(workshop: Workshop) -> Callable[[str], frozenset[str]]:
    """Return what gives the pieces of a row by its name; none for one that nobody knows."""

    @cache
    def refs_of(row: str) -> frozenset[str]:
        with suppress(RefusalError):
            return frozenset(standing.ref for standing in find_several(workshop, row))
        return frozenset()

    return refs_of
