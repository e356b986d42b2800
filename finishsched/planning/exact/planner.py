"""The exact planner's way through one problem, once the solver is known to be there."""

from __future__ import annotations

import os
import time
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class _Attempt:
    """What is given up from the start, so that there can be a plan."""

    left_out: tuple[str, ...]
    """The keys of what is not in the model at all."""
    lenient: bool
    """Whether hard windows may be missed."""


@dataclass(frozen=True, slots=True)
class _Proof:
    """How far all attempts together came."""

    staged: Staged
    """How the last attempt ended."""
    exact: Grid | None
    """Its ruler, where no plan is lost on that; else None."""
    impossible: bool
    """Whether it is proven that something has to be broken."""


def plan_exactly(search: Search, workers: int | None, seed: int) -> ExactAnswer:
    """Look for better plans than the search's own until its time is up.

    Args:
        search: the problem, the plan to begin from, and when to end.
        workers: how many cores to use; all when None.
        seed: for the solver's choices.

    """
    if not search.start.placed and not search.start.left_out:
        return ExactAnswer(
            search.start,
            proven=True,
            bound_min=search.best_score.finish_min,
            status=ExactStatus.OPTIMAL,
        )
    bound_min = lower_bound(search.problem)
    cores = workers or os.cpu_count() or 1
    proof = _tried(search, bound_min, cores, seed)
    if search.best is not search.start:
        # Laid once more in its own order, to the minute, nothing starts later than it could.
        order = [placed.key for placed in search.best.placed]
        search.offer(re_decode(search.problem, order))
    return _answer(search, proof, bound_min)


def _tried(search: Search, bound_min: int, workers: int, seed: int) -> _Proof:
    """Make one attempt after the other, until one has found a plan.

    Args:
        search: the problem, and the best plan up to now.
        bound_min: a proven least finish.
        workers: how many cores to use.
        seed: for the solver's choices.

    """
    fine = Grid(search.problem.now_min, common_unit_min(search.problem))
    staged = Staged(Outcome.UNKNOWN)
    impossible = lossless = False
    for attempt in _attempts(search):
        solver = Solver(workers, seed, _ends_s(search, attempt))
        draft, aims = _drawn(search, attempt, bound_min)
        lossless = draft.grid == fine
        staged = solve_stages(search, draft, aims, attempt.left_out, solver)
        if staged.outcome in {Outcome.PROVEN, Outcome.FOUND} or search.stop():
            break
        there_is_none = staged.outcome is Outcome.NONE
        impossible = impossible or (there_is_none and lossless and not attempt.lenient)
    return _Proof(staged, fine if lossless else None, impossible)


def _ends_s(search: Search, attempt: _Attempt) -> float:
    """Return until when to make an attempt, on the monotonic clock."""
    is_the_last = attempt.lenient or search.whole
    share = 1.0 if is_the_last else STRICT_SHARE
    now_s = time.monotonic()
    left_s = max(search.ends_s - now_s, 0.0)
    return now_s + left_s * share


def _attempts(search: Search) -> list[_Attempt]:
    """Return the attempts, in the order to make them.

    A start that breaks neither is only made better. Otherwise it is first asked whether anything
    has to be broken.
    """
    strict = _Attempt((), lenient=False)
    if search.whole:
        return [strict]
    as_broken_as_the_start = _Attempt(search.start.left_out, lenient=True)
    return [strict, as_broken_as_the_start]


def _drawn(search: Search, attempt: _Attempt, bound_min: int) -> tuple[Draft, list[Drawn]]:
    """Draw the model on the coarsest ruler that the start fits on; a broken start fits on none.

    A coarse ruler makes a small model, on which a large shop is looked through much quicker.

    Args:
        search: the problem, and the best plan up to now.
        attempt: what is given up.
        bound_min: a proven least finish.

    """
    rulers = _rulers(search.problem)
    for grid in rulers:
        draft = draft_of(search, grid, attempt.left_out, lenient=attempt.lenient)
        aims = draw_aims(draft, bound_min)
        is_broken = not search.whole and not attempt.lenient
        fits = not is_broken and lay_start(draft, search.best)
        if fits or grid == rulers[-1]:
            break
    return draft, aims


def _rulers(problem: Problem) -> list[Grid]:
    """Return the rulers to try; the last, and it alone, is sure to hold a best plan."""
    fine = Grid(problem.now_min, common_unit_min(problem))
    if fine.unit_min >= COARSE_MIN:
        return [fine]
    to_place = len(problem.activities) - len(problem.done)
    if to_place <= FINE_ACTIVITIES:
        return [fine]
    past_a_mark_min = problem.now_min % COARSE_MIN
    coarse = Grid(problem.now_min - past_a_mark_min, COARSE_MIN)
    return [coarse, fine]


def _answer(search: Search, proof: _Proof, bound_min: int) -> ExactAnswer:
    """Return the best plan, and what is proven of it.

    Args:
        search: the best plan, and what there was to look for.
        proof: how far all attempts came.
        bound_min: a least finish that was proven before.

    """
    points = search.best_score
    staged = proof.staged
    if proof.exact is not None and staged.bound is not None:
        bound_min = max(bound_min, proof.exact.time_min(staged.bound))
    proven = proof.exact is not None and staged.promises_proven and not _may_split(search)
    if search.whole and not points.late_min:
        proven = proven or points.finish_min == bound_min
    return ExactAnswer(
        plan=search.best,
        proven=proven,
        bound_min=bound_min,
        status=_status(search, proof),
    )


def _may_split(search: Search) -> bool:
    """Tell whether a plan that splits a sitting may be better: the strict model knows of none."""
    has_sittings = any(lag.in_one_sitting for lag in search.problem.lags)
    return search.whole and search.best_score.late_min > 0 and has_sittings


def _status(search: Search, proof: _Proof) -> ExactStatus:
    """Return how far it came, in a word."""
    if proof.impossible:
        return ExactStatus.INFEASIBLE
    if search.stop():
        return ExactStatus.STOPPED
    if proof.exact is not None and proof.staged.outcome is Outcome.PROVEN:
        return ExactStatus.OPTIMAL
    return ExactStatus.NO_BETTER if search.best is search.start else ExactStatus.BETTER
