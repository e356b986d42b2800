"""The doors of the quick planner."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from finishsched.planning.checker import check
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.cost import Cost
from finishsched.planning.quick.forward import Forward
from finishsched.planning.quick.inner import NEVER
from finishsched.planning.quick.numbering import inner_of
from finishsched.planning.quick.ordering import in_order
from finishsched.planning.quick.search import Search
from finishsched.planning.score import score

ROUNDS = 300


def first_plan(problem: Problem) -> Plan:
    """Return a plan after a few passes, for a screen that waits; not later than a plain rule's."""
    return plan_of(problem, Search(inner_of(problem), 0).first())


def re_decode(problem: Problem, order: Sequence[str], *, reasons: bool = True) -> Plan:
    """Return the plan in which activities are placed in this order, each as early as it fits.

    Keys that the problem does not know or that are done are passed over; what is not named comes
    last. Activities tied by a window that must not be missed are placed together, at the turn of
    the one that lies bare in its room, or of the first. What held back each start is left open
    where nobody asks for ``reasons``.
    """
    inner = inner_of(problem)
    index = inner.index
    numbers = [index[key] for key in order if key in index]
    return plan_of(
        problem, in_order(inner, blocks_of(inner, keep_soft=False), numbers), reasons=reasons
    )


def orderly_plan(problem: Problem) -> Plan:
    """Return the plan of the first rule forward in time: dry work first, wet last, like with like.

    It is what a maker would do; another plan has to pay for being less plain.
    """
    forward, _, keys = Search(inner_of(problem), 0).main_forward()
    return plan_of(problem, forward.place(keys).placing, reasons=False)


def in_turn(problem: Problem, order: Sequence[str]) -> Plan:
    """Return the plan in which work goes on forward in time, what comes first in the order first.

    Whoever is free does the first of what can begin; what the order does not name comes last.
    """
    inner = inner_of(problem)
    blocks = blocks_of(inner, keep_soft=False)
    forward = Forward(inner, blocks)
    places = {key: place for place, key in enumerate(order)}
    keys = [places.get(inner.keys[number], len(places)) for number in forward.first]
    return plan_of(problem, forward.place(keys).placing, reasons=False)


@dataclass(frozen=True, slots=True)
class Enough:
    """A plan that keeps all windows, is late by no more than this and ends no later will do."""

    late_min: int
    finish_min: int
    goals_min: int = NEVER
    """The finishes of the goals, added up."""

    def is_met(self, cost: Cost) -> bool:
        """Tell whether a plan of this cost will do."""
        left_out, hard, late, _, finish, _, goals = cost
        whole = not left_out and not hard
        in_time = late <= self.late_min and finish <= self.finish_min
        return whole and in_time and goals <= self.goals_min


def quick_plan(
    problem: Problem,
    *,
    seed: int = 0,
    rounds: int = ROUNDS,
    stop: Callable[[], bool] | None = None,
    start: Plan | None = None,
    enough: Enough | None = None,
) -> Plan:
    """Return the best plan found in so many rounds, or until ``stop`` says so or one is ``enough``.

    The same seed and the same rounds give the same plan. A ``start`` that can be carried out is
    returned itself unless a better plan is found.
    """
    search = Search(inner_of(problem), seed)

    def stopped() -> bool:
        will_do = enough is not None and enough.is_met(search.best_cost)
        return will_do or (stop is not None and stop())

    if start is not None:
        index = search.inner.index
        search.by_order([index[p.key] for p in start.placed if p.key in index])
    search.begin(rounds, stopped)
    search.improve(rounds, stopped)
    plan = plan_of(problem, search.best or search.first())
    if start is not None and score(problem, start) <= score(problem, plan):
        return plan if check(problem, start) else start
    return plan
