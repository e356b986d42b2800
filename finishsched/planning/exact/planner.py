"""The exact planner's way through one problem, once the solver is known to be there."""

from __future__ import annotations

import os
import time

from finishsched.planning.bounds import lower_bound
from finishsched.planning.exact.aims import Drawn, draw_aims
from finishsched.planning.exact.answer import ExactAnswer, ExactStatus
from finishsched.planning.exact.grid import Grid, common_unit_min
from finishsched.planning.exact.parts import Draft
from finishsched.planning.exact.search import Search
from finishsched.planning.exact.solving import (
    Outcome,
    Solver,
    Staged,
    draft_of,
    lay_start,
    solve_stages,
)
from finishsched.planning.problem import Problem
from finishsched.planning.quick import re_decode

FINE_ACTIVITIES = 150
"""Up to so many activities a plan is laid to the minute; more on a coarser ruler, if it fits."""
COARSE_MIN = 5
STRICT_SHARE = 0.5
"""How much of the time goes into asking whether anything has to be broken at all."""


def plan_exactly(search: Search, workers: int | None, seed: int) -> ExactAnswer:
    """Look for better plans than the search's own until its time is up."""
    if not search.start.placed and not search.start.left_out:
        return ExactAnswer(
            search.start,
            proven=True,
            bound_min=search.best_score.finish_min,
            status=ExactStatus.OPTIMAL,
        )
    bound_min = lower_bound(search.problem)
    fine = Grid(search.problem.now_min, common_unit_min(search.problem))
    staged, impossible, lossless = Staged(Outcome.UNKNOWN), False, False
    for left_out, lenient in _attempts(search):
        left_s = max(search.ends_s - time.monotonic(), 0.0)
        share = 1.0 if lenient or search.whole else STRICT_SHARE
        ends_s = time.monotonic() + left_s * share
        draft, aims = _drawn(search, left_out, bound_min, lenient=lenient)
        lossless = draft.grid == fine
        solver = Solver(workers or os.cpu_count() or 1, seed, ends_s)
        staged = solve_stages(search, draft, aims, left_out, solver)
        if staged.outcome in {Outcome.PROVEN, Outcome.FOUND} or search.stop():
            break
        impossible = impossible or (staged.outcome is Outcome.NONE and lossless and not lenient)
    if search.best is not search.start:
        # Laid once more in its own order, to the minute, nothing starts later than it could.
        search.offer(re_decode(search.problem, [placed.key for placed in search.best.placed]))
    return _answer(search, staged, fine if lossless else None, bound_min, impossible=impossible)


def _attempts(search: Search) -> list[tuple[tuple[str, ...], bool]]:
    """Return what to leave out and whether hard windows may be missed, in the order to try it.

    A start that breaks neither is only made better. Otherwise it is first asked whether anything
    has to be broken.
    """
    strict: tuple[tuple[str, ...], bool] = ((), False)
    return [strict] if search.whole else [strict, (search.start.left_out, True)]


def _drawn(
    search: Search, left_out: tuple[str, ...], bound_min: int | None, *, lenient: bool
) -> tuple[Draft, list[Drawn]]:
    """Draw the model on the coarsest ruler that the start fits on; a broken start fits on none."""
    rulers = _rulers(search.problem)
    for grid in rulers:
        draft = draft_of(search, grid, left_out, lenient=lenient)
        aims = draw_aims(draft, bound_min)
        broken = not search.whole and not lenient
        if (not broken and lay_start(draft, search.best)) or grid == rulers[-1]:
            break
    return draft, aims


def _rulers(problem: Problem) -> list[Grid]:
    """Return the rulers to try; the last, and it alone, is sure to hold a best plan."""
    fine = Grid(problem.now_min, common_unit_min(problem))
    if fine.unit_min >= COARSE_MIN:
        return [fine]
    if len(problem.activities) - len(problem.done) <= FINE_ACTIVITIES:
        return [fine]
    return [Grid(problem.now_min - problem.now_min % COARSE_MIN, COARSE_MIN), fine]


def _answer(
    search: Search, staged: Staged, exact: Grid | None, bound_min: int | None, *, impossible: bool
) -> ExactAnswer:
    points = search.best_score
    if exact is not None and staged.bound is not None:
        bound_min = max(bound_min or 0, exact.time_min(staged.bound))
    proven = exact is not None and staged.promises_proven
    if search.whole and not points.late_min:
        proven = proven or points.finish_min == bound_min
    status = ExactStatus.NO_BETTER if search.best is search.start else ExactStatus.BETTER
    if impossible:
        status = ExactStatus.INFEASIBLE
    elif search.stop():
        status = ExactStatus.STOPPED
    elif exact is not None and staged.outcome is Outcome.PROVEN:
        status = ExactStatus.OPTIMAL
    return ExactAnswer(search.best, proven, bound_min, status)
