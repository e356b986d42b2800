"""The stages of the exact planner: one aim after the other, each from the plan of the last."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum

from ortools.sat.python import cp_model

from finishsched.planning.exact.aims import Aim, Drawn
from finishsched.planning.exact.facts import facts_of, horizon_min
from finishsched.planning.exact.grid import Grid
from finishsched.planning.exact.laying import hints, plan_of
from finishsched.planning.exact.parts import Draft, draw_parts
from finishsched.planning.exact.resources import draw_resources
from finishsched.planning.exact.search import Search
from finishsched.planning.problem import Plan

SHARES = {
    Aim.SPOILT: 4.0,
    Aim.LATE: 10.0,
    Aim.LATEST: 1.0,
    Aim.FINISH: 7.0,
    Aim.REMEDIES: 0.3,
    Aim.GOALS: 1.0,
}
"""How the time that is left is shared out among the aims that are left: in proportion."""
LAY_S = 1.0
"""How long to work out a hint; it takes hundredths of that."""
LOOK_S = 0.02
"""How often it is asked whether to stop."""


@dataclass(frozen=True, slots=True)
class Solver:
    """How to solve: on how many cores, from which seed, until when on the monotonic clock."""

    workers: int
    """How many cores."""
    seed: int
    """For whatever it leaves to chance."""
    ends_s: float


class Outcome(StrEnum):
    """How a run of all stages ended."""

    PROVEN = "proven"
    """Every aim is at its least."""
    FOUND = "found"
    """There is a plan, perhaps not the best."""
    NONE = "none"
    """There is no plan."""
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Staged:
    """What a run of all stages came to, on its grid."""

    outcome: Outcome
    promises_proven: bool = False
    """Whether every aim up to the finish is at its least."""
    bound: int | None = None
    """The least mark of the finish, the aims before it kept as they are."""


def draft_of(search: Search, grid: Grid, left_out: Sequence[str], *, lenient: bool) -> Draft:
    """Draw the activities and rules of a problem; its aims are not yet drawn.

    Args:
        search: the problem; no more time is looked at than its best plan takes, if that is whole.
        grid: the ruler to measure with.
        left_out: activities that are not in the model at all.
        lenient: whether hard windows may be missed, at the highest price.

    """
    facts = facts_of(search.problem, left_out)
    last_min = horizon_min(facts)
    if search.whole and not search.best_score.late_min:
        last_min = min(last_min, search.best_score.finish_min)
    draft = Draft(
        facts=facts,
        grid=grid,
        horizon=grid.at_or_after(last_min),
        lenient=lenient,
    )
    draw_parts(draft)
    draw_resources(draft)
    return draft


def lay_start(draft: Draft, plan: Plan) -> bool:
    """Hint at a plan, to every variable where it fits on the ruler; return whether it does.

    A hint that leaves variables open is often not found again in seconds.

    Args:
        draft: the model, with all its rules and aims.
        plan: one of the same problem.

    """
    _hint(draft, hints(draft, plan))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = LAY_S
    solver.parameters.cp_model_presolve = False
    solver.parameters.fix_variables_to_their_hinted_value = True
    if solver.solve(draft.cp) not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return False
    _hint(draft, _values(draft, solver))
    return True


def solve_stages(
    search: Search,
    draft: Draft,
    aims: Sequence[Drawn],
    left_out: tuple[str, ...],
    solver: Solver,
) -> Staged:
    """Make each aim small in turn, keeping those before it.

    Args:
        search: takes each better plan.
        draft: the model, with all its rules.
        aims: what to make small, what counts most first.
        left_out: what is not in the model at all.
        solver: how to solve, and until when.

    """
    proven = True
    promises = solved = False
    bound: int | None = None
    for number, drawn in enumerate(aims):
        if _at_least(search, drawn.aim):
            draft.cp.add(drawn.value <= 0)
            continue
        left_s = solver.ends_s - time.monotonic()
        stage = _Stage(search, draft, left_out, drawn, solver)
        status = stage.solve(_share_s(left_s, aims[number:]))
        if status == cp_model.INFEASIBLE:
            return Staged(Outcome.NONE)
        if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
            return Staged(Outcome.FOUND if solved else Outcome.UNKNOWN, promises, bound)
        solved = True
        proven = proven and status == cp_model.OPTIMAL
        if drawn.aim is Aim.FINISH:
            promises = proven
            bound = stage.bound
        draft.cp.add(drawn.value <= stage.value)
        _hint(draft, stage.values())
    return Staged(Outcome.PROVEN if proven else Outcome.FOUND, promises, bound)


def _at_least(search: Search, aim: Aim) -> bool:
    """Return whether the best plan known leaves nothing to gain in ``aim``."""
    points = search.best_score
    none_left = {
        Aim.SPOILT: not points.spoilt_min,
        Aim.LATE: not points.late_and_split_min,
        Aim.LATEST: not points.late_min,
        Aim.REMEDIES: not points.remedies_min,
    }
    return search.placed and none_left.get(aim, False)


def _share_s(left_s: float, aims: Sequence[Drawn]) -> float:
    """Return how many of the seconds that are left go to the first of the aims that are left.

    Args:
        left_s: the seconds.
        aims: those that are left, the one to look at first.

    """
    shares = [SHARES[drawn.aim] for drawn in aims]
    return left_s * shares[0] / sum(shares)


def _hint(draft: Draft, pairs: Iterable[tuple[cp_model.IntVar, int]]) -> None:
    """Tell the solver where to begin, and nothing of what it was told before."""
    draft.cp.clear_hints()  # type: ignore[no-untyped-call]
    for variable, value in pairs:
        draft.cp.add_hint(variable, value)


def _values(draft: Draft, solver: cp_model.CpSolver) -> Iterator[tuple[cp_model.IntVar, int]]:
    """Yield every variable with its value in the plan that was found."""
    for index, value in enumerate(solver.response_proto.solution):
        yield draft.cp.get_int_var_from_proto_index(index), value


class _Stage:
    """One aim made small by the solver."""

    def __init__(
        self,
        search: Search,
        draft: Draft,
        left_out: tuple[str, ...],
        drawn: Drawn,
        solver: Solver,
    ) -> None:
        """Prepare the solver.

        Args:
            search: takes each better plan, and says when to stop.
            draft: the model, with all its rules.
            left_out: what is not in the model at all.
            drawn: the aim.
            solver: how to solve.

        """
        self._search = search
        self._draft = draft
        self._left_out = left_out
        self._aim = drawn
        self._solver = cp_model.CpSolver()
        self._solver.parameters.num_workers = solver.workers
        self._solver.parameters.random_seed = solver.seed
        if draft.machines:
            # Proofs of published job shops take a tenth of the time; shops of people gain nothing.
            self._solver.parameters.use_dynamic_precedence_in_disjunctive = True
            self._solver.parameters.use_strong_propagation_in_disjunctive = True

    @property
    def value(self) -> int:
        """How small the aim became, in units."""
        return self._solver.value(self._aim.value)

    @property
    def bound(self) -> int:
        """How small it can at most become, in units."""
        return round(self._solver.best_objective_bound)

    def solve(self, limit_s: float) -> cp_model.CpSolverStatus:
        """Look for plans for so long, offering each; return how that ended."""
        self._draft.cp.minimize(self._aim.value)
        self._solver.parameters.max_time_in_seconds = max(limit_s, 0.01)
        offers = _Offers(self._offer)
        with self._watched():
            return self._solver.solve(self._draft.cp, offers)

    def values(self) -> Iterator[tuple[cp_model.IntVar, int]]:
        """Yield every variable with its value in the best plan found."""
        return _values(self._draft, self._solver)

    def _offer(self, value: Callable[[cp_model.IntVar], int]) -> None:
        """Offer the plan that the values of the variables mean."""
        plan = plan_of(self._draft, value, self._left_out)
        self._search.offer(plan)

    @contextmanager
    def _watched(self) -> Iterator[None]:
        """Have the solver stop soon after the search is told to."""
        ended = threading.Event()

        def watch() -> None:
            """Ask again and again whether to stop."""
            while not ended.wait(LOOK_S):
                if self._search.stop():
                    self._solver.stop_search()

        watcher = threading.Thread(target=watch, daemon=True)
        watcher.start()
        try:
            yield
        finally:
            ended.set()
            watcher.join()


class _Offers(cp_model.CpSolverSolutionCallback):
    """Hand every plan on as it is found."""

    def __init__(self, offer: Callable[[Callable[[cp_model.IntVar], int]], None]) -> None:
        super().__init__()
        self._offer = offer

    def on_solution_callback(self) -> None:
        """Take the plan that the solver has just found."""
        self._offer(self.value)
