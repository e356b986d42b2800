"""Looking for a better plan for as long as somebody asks: quickly, and by the solver beside it.

The time that was asked is used, but where nothing can be better; what was found by then is kept
when it is cut short.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from finishsched.planning.bounds import Bound, bound
from finishsched.planning.exact import ExactAnswer, ExactWorker, WorkerFault, solver_is_there
from finishsched.planning.judging.checker import is_sound
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import Plan, Problem, Score
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.cost import Cost
from finishsched.planning.quick.search import Search
from finishsched.planning.score import score

NO_END = 1 << 40
"""So many plans that nobody waits for the last: the time ends a look, not their number."""
ALONE_SHARE, ALONE_S = 0.3, 2.0
"""How long the quick planner looks alone, so that the solver begins from something good."""
LEAST_SOLVING_S = 1.0
"""With less time left the solver is not begun: it takes as long to load."""
HEAR_S = 0.2
"""How often the solver is heard, and progress told."""


@dataclass(frozen=True, slots=True)
class HowFar:
    """How far it has come."""

    seconds: float
    """Since it began."""
    best: Score
    """How good the best plan is."""
    bound: Bound
    """What no plan can be better than."""


@dataclass(frozen=True, slots=True)
class Looked:
    """The best plan found, and what was done for it."""

    plan: Plan
    proven: bool
    """That nothing is left out or late by less, and nothing then ends earlier."""
    seconds: float
    """How long it was looked for."""
    with_solver: bool
    """Whether the solver was set to work."""
    cut_short: bool
    """True where somebody stopped it before its time."""


class Looking:
    """One look for a better plan."""

    def __init__(
        self,
        problem: Problem,
        start: Plan,
        seconds: float,
        *,
        tell: Callable[[HowFar], None] | None = None,
        clock: Callable[[], float] = time.monotonic,
        solver: bool | None = None,
    ) -> None:
        """Prepare to look.

        Args:
            problem: what to plan.
            start: the plan to be better than.
            seconds: how long to look.
            tell: is told now and then how far it has come.
            clock: tells the time, in seconds.
            solver: whether to use it; None takes it where it is installed.

        """
        self._problem = problem
        self._best = start
        self._best_score = score(problem, start)
        self._sound = is_sound(problem, start)
        """Whether the best plan can be carried out."""
        self._bound = bound(problem)
        self._clock = clock
        self._tell = tell
        self._with_solver = solver_is_there() if solver is None else solver
        self._begun = clock()
        self._ends = self._begun + seconds
        self._solver_from = self._begun + min(ALONE_S, seconds * ALONE_SHARE)
        self._heard = self._begun
        """When the solver was last heard."""
        self._worker: ExactWorker | None = None
        self._seed = 0
        """For the solver: another one each time that it begins."""
        self._proven = self._at_bound()
        self._search = Search(inner_of(problem), 0)

    def look(self) -> Looked:
        """Look until the time is up, a best plan is proven, or the keyboard interrupts."""
        cut_short = False
        try:
            self._go()
        except KeyboardInterrupt:
            cut_short = True
        finally:
            if self._worker is not None:
                self._worker.cancel()
        self._take_quick()
        return Looked(
            plan=self._best,
            proven=self._proven,
            seconds=self._clock() - self._begun,
            with_solver=self._seed > 0,
            cut_short=cut_short,
        )

    def _go(self) -> None:
        """Look by the quick planner, which asks now and then whether the time is over."""
        search = self._search
        index = search.inner.index
        known = [placed.key for placed in self._best.placed if placed.key in index]
        search.by_order([index[key] for key in known])
        search.begin(NO_END, self._over)
        search.improve(NO_END, self._over)
        if search.given_up:
            self._hand_over()
        while self._worker is not None and not self._over():
            time.sleep(HEAR_S)  # too small for the quick planner: the solver goes on alone

    def _hand_over(self) -> None:
        """Set the solver to work at once, where there is one: rules find no plan."""
        left_s = self._ends - self._clock()
        if self._with_solver and self._worker is None and left_s >= LEAST_SOLVING_S:
            self._start_solver(left_s)

    def _over(self) -> bool:
        """Tell whether to stop; on the way hear the solver, and tell how far it has come."""
        now = self._clock()
        if now >= self._ends or self._proven:
            return True
        if now - self._heard >= HEAR_S:
            self._heard = now
            self._take_quick()
            self._hear(now)
            if self._tell is not None:
                so_far = HowFar(
                    seconds=now - self._begun,
                    best=self._best_score,
                    bound=self._bound,
                )
                self._tell(so_far)
        return self._proven

    def _hear(self, now: float) -> None:
        """Start the solver when its time has come, and take what it has found."""
        if self._worker is None:
            left_s = self._ends - now
            its_time_has_come = now >= self._solver_from and left_s >= LEAST_SOLVING_S
            if self._with_solver and its_time_has_come:
                self._start_solver(left_s)
            return
        try:
            news = self._worker.poll()
        except WorkerFault:
            self._worker = None
            self._with_solver = False
            return
        if news.better is not None:
            self._take(news.better)
        if news.answer is not None:
            self._take_answer(news.answer)

    def _take_answer(self, answer: ExactAnswer) -> None:
        """Take the solver's last word; it begins again from the best plan where time is left."""
        self._take(answer.plan)
        is_the_best = score(self._problem, answer.plan) <= self._best_score
        if answer.proven and is_the_best:
            self._proven = True
        self._worker = None

    def _start_solver(self, left_s: float) -> None:
        """Set the solver to work for so many seconds, from the best plan so far."""
        worker = ExactWorker(self._problem, self._best, limit_s=left_s, seed=self._seed)
        try:
            worker.start()
        except OSError:
            self._with_solver = False
            return
        self._worker = worker
        self._seed += 1

    def _take_quick(self) -> None:
        """Take the quick planner's best where it is better."""
        search = self._search
        if search.best is not None and search.best_cost < _cost(self._best_score):
            self._take(plan_of(self._problem, search.best))

    def _take(self, plan: Plan) -> None:
        """Take a plan that is better and passes the checker."""
        found = score(self._problem, plan)
        is_wanted = found < self._best_score or not self._sound
        if is_wanted and is_sound(self._problem, plan):
            self._best = plan
            self._best_score = found
            self._sound = True
            self._proven = self._at_bound()

    def _at_bound(self) -> bool:
        """Tell whether the bound alone shows that nothing can be better."""
        found = self._best_score
        least = self._bound
        whole = not found.left_out and not found.hard_late_min
        in_time = found.late_min <= least.late_min
        ends_then = found.finish_min <= least.finish_min
        return whole and in_time and ends_then


def _cost(found: Score) -> Cost:
    """Return a score as the quick planner counts."""
    return Cost(
        left_out=found.left_out,
        spoilt_min=found.spoilt_min,
        late_and_split_min=found.late_and_split_min,
        latest_min=found.latest_min,
        finish_min=found.finish_min,
        remedies_min=found.remedies_min,
        goals_min=found.goals_min,
    )
