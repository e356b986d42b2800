"""A plan made anew around what can stay of the old one, where that cannot be carried out.

All that can stays, or only what begins within two weeks, a week, two days, or nothing. Then, in the
order of the least late plan, piece after piece keeps what it had of the next week, as long as
nothing gets later for it. Of the plans that are as little late as planning from nothing, the
cheapest (`steady.py`) is what goes on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import islice

from finishsched.planning.around import Around
from finishsched.planning.checker import check
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.placing import Placing
from finishsched.planning.steady import (
    DAY_MIN,
    NEAR_DAYS,
    Gone,
    Promise,
    Steadiness,
    gone_by,
    promise_of,
)

KEPT_DAYS = (60, 14, 7, 4, 2, 0)
"""How far ahead starts are kept, in turn; after these nothing is."""
LATER_MIN = 30
"""By so little more lateness nobody is put out, if more can stay for it (our assumption)."""
PLACED_STEPS, LEAST_TRIES = 20_000, 2
"""How many steps are placed, all tries together, to let piece after piece keep what it had."""
RUNG_STEPS, LEAST_RUNGS = 100_000, 4
"""The same for the plans around what begins soon, so that nobody waits long in a large shop."""


def remade(
    problem: Problem,
    old: Plan,
    steady: Steadiness,
    from_nothing: Callable[[], Plan] | None = None,
) -> Gone | None:
    """Return the cheapest plan around what stays of the old one, None where none is sound.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        steady: what a start that moves costs.
        from_nothing: makes a plan of which nothing has to stay; the one returned is later than
            that by half an hour at the most.

    """
    around = Around(problem, old)
    plans = [*_few_rungs(around), around.plan(around.search.first())]
    if from_nothing is not None:
        plans.append(from_nothing())
    found = _sound(problem, old, plans, steady)
    if not found:
        return None
    if from_nothing is not None:
        least_late = min(found, key=_promise)
        found += _sound(problem, old, _piece_by_piece(around, least_late), steady)
    most = _put_out(min(map(_promise, found)))
    as_good = [gone for gone in found if _promise(gone) <= most]
    return min(as_good, key=lambda gone: gone.price_min)


def _sound(
    problem: Problem,
    old: Plan,
    plans: Iterable[Plan],
    steady: Steadiness,
) -> list[Gone]:
    """Return what each plan costs that passes the checker.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        plans: some that may go on from it.
        steady: what a start that moves costs.

    """
    return [gone_by(problem, old, plan, steady) for plan in plans if not check(problem, plan)]


def _promise(gone: Gone) -> Promise:
    """Return what of a plan is promised to others."""
    return promise_of(gone.score)


def _put_out(promise: Promise) -> Promise:
    """Return what nobody is put out by, who was promised this."""
    return promise._replace(late_min=promise.late_min + LATER_MIN)


def _few_rungs(around: Around) -> Iterator[Plan]:
    """Give as many of the rungs as the size of the shop leaves time for."""
    return islice(_rungs(around), _tries(around, RUNG_STEPS, LEAST_RUNGS))


def _tries(around: Around, steps: int, least: int) -> int:
    """Return how many plans to make with so many steps placed together, and some at least."""
    return max(least, steps // max(1, len(around.inner.keys)))


def _rungs(around: Around) -> Iterator[Plan]:
    """Give the plans around what begins soon; those that keep as much are made once."""
    in_old_order = around.in_order_of(around.old)
    counts: set[int] = set()
    for days in KEPT_DAYS:
        until = around.problem.now_min + days * DAY_MIN

        def stays(_block: int, begun: int, until: int = until) -> bool:
            return begun < until

        if len(around.kept(stays).blocks) in counts:
            continue
        # The old order keeps what is far too; the search's own is better where much changed.
        for keys in (around.keys, in_old_order):
            kept = around.kept(stays)
            counts.add(len(kept.blocks))
            yield around.plan(around.placed(keys, kept))


def _piece_by_piece(around: Around, least: Gone) -> Iterator[Plan]:
    """Give the plan that keeps near starts of as many pieces as leave it no later.

    All are tried at once first; where that is too late each half is tried by itself, and so on.
    """
    until = around.problem.now_min + NEAR_DAYS * DAY_MIN
    keys = around.in_order_of(least.plan)
    goal_of = [around.inner.goal[number] for number in around.forward.first]
    most = _put_out(_promise(least))
    tries = _tries(around, PLACED_STEPS, LEAST_TRIES)
    kept_goals: set[int] = set()
    best: Placing | None = None
    groups = [_goals_with_most_first(around, until)]
    while groups and tries:
        group = groups.pop()
        wanted = kept_goals | set(group)

        def stays(block: int, begun: int, wanted: set[int] = wanted) -> bool:
            return goal_of[block] in wanted and begun < until

        placing = around.placed(keys, around.kept(stays))
        tries -= 1
        cost = around.search.costing.cost_of(placing)
        if (cost.left_out, cost.hard_min, cost.late_min) <= most:
            kept_goals = wanted
            best = placing
        elif len(group) > 1:
            # Too late with all of these: each half is tried by itself, the first one first.
            half = len(group) // 2
            groups += [group[half:], group[:half]]
    if best is not None:
        yield around.plan(best)


def _goals_with_most_first(around: Around, until: int) -> list[int]:
    """Return the goals with starts before a minute, those with the most of them first."""
    inner = around.inner
    counts: dict[int, int] = {}
    for placed in around.old.placed:
        number = inner.index.get(placed.key)
        if number is not None and placed.start_min < until:
            goal = inner.goal[number]
            counts[goal] = counts.get(goal, 0) + 1
    return sorted(counts, key=lambda goal: (-counts[goal], goal))
