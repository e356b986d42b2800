"""Going on by a plan: steady, so that people can count on it, and not stubborn.

Where the plan cannot be carried out as it stands, it is made anew around what stays of it: all that
can, or only what begins within two weeks, a week, two days, or nothing. Each has its price, in
minutes: lateness, the end of all, the ends of the pieces in the mean, and something for every start
that moves, more for one that is near. The cheapest is what goes on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from finishsched.planning.checker import check
from finishsched.planning.problem import Plan, Problem, Score
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.forward import Forward
from finishsched.planning.quick.inner import Inner
from finishsched.planning.quick.keeping import kept_of
from finishsched.planning.quick.numbering import inner_of
from finishsched.planning.quick.search import Search
from finishsched.planning.score import score

DAY_MIN = 1440
KEPT_DAYS = (60, 14, 7, 4, 2, 0)
"""How far ahead starts are kept, in turn; after these nothing is."""
NEAR_DAYS = 7
MOVED_MIN = 15
"""A start that moves by less is not felt as moved (our assumption)."""
STUBBORN_MIN = 720
"""Half a day: what can stay as it is, and costs more than this, does not (our assumption)."""
IDLE_MIN = 30
"""Hands that idle so long this evening, with something ready, are a cause too (our assumption)."""


@dataclass(frozen=True, slots=True)
class Steadiness:
    """What a start that moves costs, in minutes of lateness (our assumption)."""

    near_min: int = 60
    """One that was shown for the next seven days."""
    far_min: int = 10


LOOSELY_STEADY = Steadiness(15, 3)
USUALLY_STEADY = Steadiness()
FIRMLY_STEADY = Steadiness(240, 40)


@dataclass(frozen=True, slots=True)
class Gone:
    """A plan to go on by, and what it costs."""

    plan: Plan
    score: Score
    price_min: float


def price_min(problem: Problem, old: Plan, found: Score, plan: Plan, steady: Steadiness) -> float:
    """Return what a plan costs beside the old one, in minutes, hard windows apart."""
    ends = found.goals_min / max(1, len(problem.goals))
    moved = sum(steady.near_min if near else steady.far_min for near in _moved(problem, old, plan))
    return found.late_min + found.finish_min + ends + moved


def _moved(problem: Problem, old: Plan, plan: Plan) -> Iterator[bool]:
    """Give for each start that moved whether it was near."""
    was = {placed.key: placed for placed in old.placed}
    for placed in plan.placed:
        before = was.get(placed.key)
        if before is None or before.start_min == before.end_min:
            continue
        if abs(placed.start_min - before.start_min) > MOVED_MIN or placed.by != before.by:
            yield before.start_min < problem.now_min + NEAR_DAYS * DAY_MIN


def remade(problem: Problem, old: Plan, steady: Steadiness) -> Gone | None:
    """Return the cheapest plan around what stays of the old one, None where none is sound."""
    best: Gone | None = None
    inner = inner_of(problem)
    for plan in _around(problem, old, inner):
        gone = gone_by(problem, old, plan, steady)
        if best is None or _rank(gone) < _rank(best):
            if check(problem, plan):
                continue
            best = gone
    return best


def gone_by(problem: Problem, old: Plan, plan: Plan, steady: Steadiness) -> Gone:
    """Return a plan with its price."""
    found = score(problem, plan)
    return Gone(plan, found, price_min(problem, old, found, plan, steady))


def cheaper(one: Gone, other: Gone, by_min: float = 0.0) -> bool:
    """Tell whether a plan is cheaper than another, by more than so many minutes."""
    ours, theirs = _rank(one), _rank(other)
    return ours[:2] < theirs[:2] or (ours[:2] == theirs[:2] and ours[2] + by_min < theirs[2])


def _rank(gone: Gone) -> tuple[int, int, float]:
    return gone.score.left_out, gone.score.hard_late_min, gone.price_min


def _around(problem: Problem, old: Plan, inner: Inner) -> Iterator[Plan]:
    """Give the plans around more and less of what stays; those that keep as much are made once."""
    search = Search(inner, 0)
    hands = {each.name: number for number, each in enumerate(problem.hands)}
    forward, blocks, keys = search.main_forward()
    in_old_order = _in_old_order(forward, inner, old)
    counts: set[int] = set()
    for days in KEPT_DAYS:
        until = problem.now_min + days * DAY_MIN
        if len(kept_of(inner, blocks, old, hands, until).blocks) in counts:
            continue
        for goes_first in (keys, in_old_order):
            kept = kept_of(inner, blocks, old, hands, until)
            counts.add(len(kept.blocks))
            placing = forward.place_around(goes_first, kept).placing
            yield plan_of(problem, placing, reasons=False)
    yield plan_of(problem, search.first(), reasons=False)


def _in_old_order(forward: Forward, inner: Inner, old: Plan) -> list[int]:
    """Return keys by which what was to begin first goes first."""
    was = {placed.key: placed.start_min for placed in old.placed}
    last = max(was.values(), default=0)
    return [was.get(inner.keys[number], last) for number in forward.first]


def work_tonight_min(problem: Problem, plan: Plan) -> int:
    """Return the minutes of work in the hours that are open now, or open next within a day."""
    total = 0
    for hands in problem.hands:
        window = next((w for w in hands.windows if w.end_min > problem.now_min), None)
        if window is None or window.start_min >= problem.now_min + DAY_MIN:
            continue
        total += sum(
            placed.end_min - placed.start_min
            for placed in plan.placed
            if placed.by == hands.name and window.start_min <= placed.start_min < window.end_min
        )
    return total
