"""A plan made anew around what can stay of the old one, where that cannot be carried out.

All that can stays, or only what begins within two weeks, a week, two days, or nothing. Then, in the
order of the least late plan, as much as can is kept of the next week with nothing getting later for
it (`near_kept.py`). Of the plans that are as little late as planning from nothing, what goes on is
the cheapest (`steady.py`) of those that keep a third of that week, or else what keeps most of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import islice
from typing import NamedTuple, TypeAlias, TypeVar

from finishsched.factors import DAY_MIN
from finishsched.planning.going_on.around import Around, Laid
from finishsched.planning.going_on.near_kept import near_kept
from finishsched.planning.going_on.steady import (
    Gone,
    Promise,
    Steadiness,
    gone_by,
    keeps_or_costs,
    promise_of,
)
from finishsched.planning.judging.checker import is_sound
from finishsched.planning.problem import Plan, Problem
from finishsched.planning.quick.search import Search

T = TypeVar("T")
FromNothing: TypeAlias = Callable[[Search], Plan]
"""Makes a plan of which nothing has to stay, the best that a search finds."""

KEPT_DAYS = (60, 14, 7, 4, 2, 0)
"""How far ahead starts are kept, in turn; after these nothing is."""
LATER_MIN = 30
"""By so little more lateness nobody is put out, if more can stay for it (our assumption)."""
RUNG_STEPS, LEAST_RUNGS = 100_000, 4
"""How many steps are placed, all plans together, around what begins soon; and how many plans."""


class Remade(NamedTuple):
    """What is made anew."""

    gone: Gone
    """The cheapest of the plans that are as little late as one can be."""
    most: Promise
    """What nobody is put out by, beside the least late of all."""


def remade(
    around: Around,
    steady: Steadiness,
    from_nothing: FromNothing | None = None,
) -> Remade | None:
    """Return the cheapest plan around what stays of the old one, None where none is sound.

    Args:
        around: places what does not stay of the old plan.
        steady: what a start that moves costs.
        from_nothing: makes a plan of which nothing has to stay; the one returned is later than
            that by half an hour at the most.

    """
    problem, old = around.problem, around.old
    made = [] if from_nothing is None else [from_nothing(around.search)]
    anew = _sound(problem, old, made, steady)
    # The best of a few plans from nothing may move less than the best of many, and be as good.
    laid = [*_few_rungs(around), around.laid(around.search.first())]
    most = min([_put_out(_promise(gone)) for gone in anew], default=None)
    # To write a plan out and judge it takes longer than to place it: none is that is too late.
    will_do = [each for each in laid if most is None or promise_of(each.cost) <= most]
    found = anew + _sound(problem, old, [each.plan() for each in will_do], steady)
    if not found:
        return None
    least_late = min(found, key=_promise)
    if most is None:
        most = _put_out(_promise(least_late))
    else:
        aim = _put_out(_promise(least_late))
        near = near_kept(around, least_late.plan, aim, most)
        found += _sound(problem, old, near, steady)
    return Remade(_cheapest(found, most), most)


def cheapest_of_least_late(found: Sequence[Gone]) -> Gone:
    """Return the cheapest of those plans that are later than the least late by next to nothing."""
    return min(as_little_late(found, _promise), key=keeps_or_costs)


def as_little_late(found: Sequence[T], promised: Callable[[T], Promise]) -> list[T]:
    """Return those plans that are later than the least late by next to nothing.

    Args:
        found: the plans.
        promised: tells what each promises.

    """
    most = _put_out(min(map(promised, found))) if found else None
    return [each for each in found if most is None or promised(each) <= most]


def _cheapest(found: Iterable[Gone], most: Promise) -> Gone:
    """Return the cheapest of those plans that promise no less than ``most``."""
    as_good = [gone for gone in found if _promise(gone) <= most]
    return min(as_good, key=keeps_or_costs)


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
    return [gone_by(problem, old, plan, steady) for plan in plans if is_sound(problem, plan)]


def _promise(gone: Gone) -> Promise:
    """Return what of a plan is promised to others."""
    return promise_of(gone.score)


def _put_out(promise: Promise) -> Promise:
    """Return what nobody is put out by, who was promised this."""
    return promise._replace(late_min=promise.late_min + LATER_MIN)


def _few_rungs(around: Around) -> Iterator[Laid]:
    """Give as many of the rungs as the size of the shop leaves time for."""
    steps = max(1, len(around.inner.keys))
    return islice(_rungs(around), max(LEAST_RUNGS, RUNG_STEPS // steps))


def _rungs(around: Around) -> Iterator[Laid]:
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
            yield around.laid(around.placed(keys, kept))
