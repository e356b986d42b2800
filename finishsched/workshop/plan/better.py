"""A better plan looked for beside the work: first quickly, then by the solver where there is one.

It is found for a plan that is shown and offered, never kept here. Whoever looks gives it a little
time again and again, and can end it from another thread at any moment.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import Enum, auto
from pathlib import Path

from finishsched.planning.exact import ExactWorker, WorkerFault, solver_is_there
from finishsched.planning.judging.checker import is_sound
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick import quick_plan
from finishsched.planning.replan import (
    none_worth_offering,
    replan,
    usual_rounds,
    worth_offering,
)
from finishsched.planning.score import score
from finishsched.workshop.base.place import PLAN_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import Better
from finishsched.workshop.plan.lateness import late_by_piece
from finishsched.workshop.plan.memory import recall
from finishsched.workshop.plan.plans import better_by, shop_sound
from finishsched.workshop.plan.regrouped import regrouped

EXACT_S = 10.0
"""For how long the solver may look (our assumption)."""
SPARED_CORES = 1
"""How many cores the solver leaves to everything else, where there are more."""


class Stage(Enum):
    """How far a search has come."""

    QUICK = auto()
    """It was told to stop, and goes on where it is asked again."""
    EXACT = auto()
    """The solver is looking."""
    OVER = auto()


@dataclass(frozen=True, slots=True)
class Sought:
    """What a search has found so far."""

    stage: Stage
    better: Better | None = None
    late_min: Mapping[str, int] | None = None
    """By piece that the plan as it stands has after its due date: by how much; None where no plan
    was looked at."""

    @property
    def is_over(self) -> bool:
        """True when nothing more is to come."""
        return self.stage is Stage.OVER


class PlanSearch:
    """One search; for one thread, but that any may cancel it."""

    def __init__(
        self,
        now: datetime,
        offered: Plan | None = None,
        *,
        exact_s: float = EXACT_S,
        worker: Callable[..., ExactWorker] | None = None,
    ) -> None:
        """``offered`` is a better plan that was found before, to begin from."""
        self._now = now
        self._offered = offered
        self._exact_s = exact_s
        if worker is None and solver_is_there():
            worker = ExactWorker
        self._new_worker = worker
        self._worker: ExactWorker | None = None
        self._stage = Stage.QUICK
        self._cancelled = False
        self._problem: Problem | None = None
        self._shown: Plan = Plan((), ())
        self._best: Plan = self._shown
        self._better: Better | None = None
        self._late_min: Mapping[str, int] | None = None
        self._stamp: tuple[int, int] | None = None
        self._remembered: frozenset[tuple[str, int, str | None]] = frozenset()

    @property
    def cancelled(self) -> bool:
        """Whether it was told to end."""
        return self._cancelled

    def cancel(self) -> None:
        """End it, and the solver's process with it; once is as good as twice."""
        self._cancelled = True
        if self._worker is not None:
            self._worker.cancel()

    def go_on(self, workshop: Workshop, stop: Callable[[], bool]) -> Sought:
        """Look on until told to stop, or until only the solver is at work; wait for nothing.

        Raises:
            NoPlanError: when no plan comes out right.

        """
        if self._problem is None:
            self._begin(workshop)
        elif self._is_another_shown(workshop.folder):
            self.cancel()
        if self._cancelled:
            self._stage = Stage.OVER
        elif self._stage is Stage.QUICK:
            self._look_quickly(lambda: self._cancelled or stop())
        elif self._stage is Stage.EXACT:
            self._hear_solver()
        return Sought(self._stage, None if self._cancelled else self._better, self._late_min)

    def _begin(self, workshop: Workshop) -> None:
        self._stamp = _stamp(workshop.folder)
        shown = recall(workshop.folder)
        if shown is None:
            self.cancel()
            return
        shop, sound = shop_sound(workshop, self._now)
        problem = sound.problem
        plan = regrouped(workshop, shown.plan, shop.problem)
        self._shown = self._best = replan(problem, plan).plan
        self._late_min = late_by_piece(shop.works, problem, self._shown)
        self._problem, self._remembered = problem, _places(shown.plan)
        if self._offered is not None:
            self._take(replan(problem, self._offered).plan)
        if not self._shown.placed or none_worth_offering(problem, self._shown):
            self.cancel()

    def _is_another_shown(self, folder: Path) -> bool:
        """Tell whether another plan was kept since; the same may be again, less what is done."""
        stamp = _stamp(folder)
        if stamp == self._stamp:
            return False
        self._stamp, shown = stamp, recall(folder)
        return shown is None or not _places(shown.plan) <= self._remembered

    def _look_quickly(self, stop: Callable[[], bool]) -> None:
        assert self._problem is not None  # noqa: S101
        problem, rounds = self._problem, usual_rounds(self._problem)
        self._take(quick_plan(problem, rounds=rounds, start=self._best, stop=stop))
        if stop():
            return
        proven = none_worth_offering(problem, self._best)
        self._stage = Stage.OVER if proven else self._start_solver(problem)

    def _start_solver(self, problem: Problem) -> Stage:
        if self._new_worker is None or self._exact_s <= 0:
            return Stage.OVER
        cores = max(1, (os.cpu_count() or 1) - SPARED_CORES)
        worker = self._new_worker(problem, self._best, limit_s=self._exact_s, workers=cores)
        self._worker = worker
        try:
            worker.start()
        except OSError:
            return Stage.OVER  # no process to be had: the quick planner's word stands
        if self._cancelled:  # meanwhile, perhaps before there was a process to end
            worker.cancel()
        return Stage.EXACT

    def _hear_solver(self) -> None:
        assert self._worker is not None  # noqa: S101
        try:
            news = self._worker.poll()
        except WorkerFault:
            self._stage = Stage.OVER
            return
        if news.better is not None:
            self._take(news.better)
        if news.answer is not None:
            self._take(news.answer.plan)
            self._stage = Stage.OVER

    def _take(self, found: Plan) -> None:
        assert self._problem is not None  # noqa: S101
        problem = self._problem
        if score(problem, found) >= score(problem, self._best):
            return
        if worth_offering(problem, self._shown, found):
            self._best, self._better = found, better_by(problem, self._shown, found)
        elif self._better is None and is_sound(problem, found):
            self._best = found


def _places(plan: Plan) -> frozenset[tuple[str, int, str | None]]:
    return frozenset((placed.key, placed.start_min, placed.by) for placed in plan.placed)


def _stamp(folder: Path) -> tuple[int, int] | None:
    """Return what changes when another plan is kept."""
    try:
        status = (folder / PLAN_FILE).stat()
    except OSError:
        return None
    return status.st_mtime_ns, status.st_ino
