"""The doors of the quick planner."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from finishsched.planning.checker import check
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.forward import Forward
from finishsched.planning.quick.numbering import inner_of
from finishsched.planning.quick.placing import in_order
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


def quick_plan(
    problem: Problem,
    *,
    seed: int = 0,
    rounds: int = ROUNDS,
    stop: Callable[[], bool] | None = None,
    start: Plan | None = None,
) -> Plan:
    """Return the best plan found in so many rounds, or until ``stop`` says so.

    The same seed and the same rounds give the same plan. A ``start`` that can be carried out is
    returned itself unless a better plan is found.
    """
    search = Search(inner_of(problem), seed)
    stopped = stop or _never
    if start is not None:
        index = search.inner.index
        search.by_order([index[p.key] for p in start.placed if p.key in index])
    search.begin(rounds, stopped)
    search.improve(rounds, stopped)
    plan = plan_of(problem, search.best or search.first())
    if start is not None and score(problem, start) <= score(problem, plan):
        return plan if check(problem, start) else start
    return plan


def _never() -> bool:
    return False
