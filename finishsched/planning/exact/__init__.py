"""The exact planner: better plans than the quick planner's, or proof that there is none.

It needs the optional solver, which is loaded only when a plan is asked for.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from importlib.util import find_spec

from finishsched.planning.exact.answer import ExactAnswer, ExactStatus, SolverMissingError
from finishsched.planning.exact.worker import ExactWorker, WorkerFault, WorkerNews
from finishsched.planning.problem import Plan, Problem

__all__ = [
    "ExactAnswer",
    "ExactStatus",
    "ExactWorker",
    "SolverMissingError",
    "WorkerFault",
    "WorkerNews",
    "exact_plan",
    "solver_is_there",
]


def solver_is_there() -> bool:
    """Return whether the optional solver is installed, without loading it."""
    return find_spec("ortools") is not None


def exact_plan(
    problem: Problem,
    start: Plan,
    *,
    limit_s: float,
    stop: Callable[[], bool] = lambda: False,
    workers: int | None = None,
    seed: int = 0,
    on_better: Callable[[Plan], None] | None = None,
) -> ExactAnswer:
    """Look for better plans than ``start``, by a solver that can prove that there is none.

    Args:
        problem: one without faults that planning cannot mend.
        start: a plan of it, where the search begins; what it leaves out stays left out, unless
            everything can be placed.
        limit_s: seconds after which to answer, more or less.
        stop: asked every few hundredths of a second; True ends the search.
        workers: how many cores to use; all when None.
        seed: for the solver's choices. With more than one worker runs differ all the same.
        on_better: is called with each better plan as it is found, from another thread.

    Returns:
        A plan that is never worse than ``start`` and passes the checker if it is another.

    Raises:
        SolverMissingError: when the optional solver is not installed.

    """
    ends_s = time.monotonic() + limit_s
    if not solver_is_there():
        raise SolverMissingError
    from finishsched.planning.exact.planner import plan_exactly  # noqa: PLC0415  # loads the solver
    from finishsched.planning.exact.search import Search  # noqa: PLC0415

    return plan_exactly(Search(problem, start, ends_s, stop, on_better), workers, seed)
