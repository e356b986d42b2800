"""The doors of the quick planner."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from finishsched.planning.judging.checker import is_sound
from finishsched.planning.numbers.inner import NEVER
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.cost import Cost
from finishsched.planning.quick.forward import Forward
from finishsched.planning.quick.ordering import in_order
from finishsched.planning.quick.search import Search
from finishsched.planning.quick.ways import orderly
from finishsched.planning.score import score

ROUNDS = 300
"""How many plans are made where nobody says."""


def first_plan(problem: Problem) -> Plan:
    """Return a plan after a few passes, for a screen that waits; not later than a plain rule's."""
    return plan_of(problem, Search(inner_of(problem), 0).first())


def re_decode(problem: Problem, order: Sequence[str], *, reasons: bool = True) -> Plan:
    """Return the plan in which activities are placed in this order, each as early as it fits.

    Activities tied by a window that must not be missed are placed together, at the turn of the one
    that lies bare in its room, or of the first.

    Args:
        problem: what to plan.
        order: keys; those that the problem does not know or that are done are passed over, and
            what is not named comes last.
        reasons: whether to say what held back each start.

    """
    inner = inner_of(problem)
    index = inner.index
    numbers = [index[key] for key in order if key in index]
    blocks = blocks_of(inner, keep_soft=False)
    placing = in_order(inner, blocks, numbers)
    return plan_of(problem, placing, reasons=reasons)


def orderly_plan(problem: Problem) -> Plan:
    """Return the plan of the first rule forward in time: dry work first, wet last, like with like.

    It is what a maker would do; another plan has to pay for being less plain.
    """
    plainest = orderly(inner_of(problem))
    placing = plainest.forward.place(plainest.keys).placing
    return plan_of(problem, placing, reasons=False)


def in_turn(problem: Problem, order: Sequence[str]) -> Plan:
    """Return the plan in which work goes on forward in time, what comes first in the order first.

    Whoever is free does the first of what can begin; what the order does not name comes last.

    Args:
        problem: what to plan.
        order: keys, what comes first first.

    """
    inner = inner_of(problem)
    blocks = blocks_of(inner, keep_soft=False)
    forward = Forward(inner, blocks)
    places = {key: place for place, key in enumerate(order)}
    last = len(places)
    keys = [places.get(inner.keys[number], last) for number in forward.first]
    placing = forward.place(keys).placing
    return plan_of(problem, placing, reasons=False)


@dataclass(frozen=True, slots=True)
class Enough:
    """A plan that lets nothing spoil, is late by no more than this and ends no later will do."""

    late_min: int
    finish_min: int
    goals_min: int = NEVER
    """The finishes of the goals, added up."""

    def is_met(self, cost: Cost) -> bool:
        """Tell whether a plan of this cost will do."""
        whole = not cost.left_out and not cost.spoilt_min
        in_time = cost.late_and_split_min <= self.late_min
        soon_over = cost.finish_min <= self.finish_min
        is_compact = cost.goals_min <= self.goals_min
        return whole and in_time and soon_over and is_compact


def quick_plan(
    problem: Problem,
    *,
    seed: int = 0,
    rounds: int = ROUNDS,
    stop: Callable[[], bool] | None = None,
    start: Plan | None = None,
    enough: Enough | None = None,
    search: Search | None = None,
) -> Plan:
    """Return the best plan found in so many rounds, or until ``stop`` says so or one is ``enough``.

    The same seed and the same rounds give the same plan.

    Args:
        problem: what to plan.
        seed: for all that is left to chance.
        rounds: how many plans are made, more or less.
        stop: asked after each of them; True ends it.
        start: where to begin from; it is returned itself, if it can be carried out, unless a
            better plan is found.
        enough: no more is looked for once a plan is as good as this.
        search: of this problem, to go on with; with nothing begun where it is None.

    """
    search = search or Search(inner_of(problem), seed)

    def stopped() -> bool:
        """Tell whether a plan is good enough, or somebody says stop."""
        will_do = enough is not None and enough.is_met(search.best_cost)
        return will_do or (stop is not None and stop())

    if start is not None:
        index = search.inner.index
        known = [placed.key for placed in start.placed if placed.key in index]
        search.by_order([index[key] for key in known])
    search.begin(rounds, stopped)
    search.improve(rounds, stopped)
    plan = plan_of(problem, search.best or search.first())
    if start is not None and score(problem, start) <= score(problem, plan):
        return start if is_sound(problem, start) else plan
    return plan
