"""What going on by a plan costs: steady, so that people can count on it, and not stubborn.

A plan that goes on has its price, in minutes: lateness, split sittings, the end of all, the ends of
the pieces in the mean, and something for every start that moves, more for one that is near.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.factors import DAY_MIN
from finishsched.planning.numbers.inner import NOT
from finishsched.planning.problem import Plan, Problem, Score
from finishsched.planning.quick.cost import Cost
from finishsched.planning.score import score
from finishsched.planning.window import Window

NEAR_DAYS = 7
"""What begins within so many days is near: people have looked at it, and count on it."""
MOVED_MIN = 15
"""A start that moves by less costs nothing (our assumption)."""
NOTICED_MIN = 60
"""Within one stretch of hours a move by less is not told: nobody notices (our assumption)."""
STUBBORN_MIN = 720
"""Half a day: what can stay as it is, and costs more than this, does not (our assumption)."""
WORTH_KEEPING = 1 / 3
"""So much of the work of the next week is kept wherever that makes nothing later, whatever else it
costs: people count on it (our assumption)."""
IDLE_MIN = 30
"""Hands that idle so long this evening, with something ready, are a cause too (our assumption)."""


@dataclass(frozen=True, slots=True)
class Steadiness:
    """What a start that moves costs, in minutes of lateness (our assumption)."""

    near_min: int = 60
    """One that was shown for the next seven days."""
    far_min: int = 10
    """Any other."""


LOOSELY_STEADY = Steadiness(15, 3)
USUALLY_STEADY = Steadiness()
FIRMLY_STEADY = Steadiness(240, 40)
"""What people may ask for (our assumption)."""


@dataclass(frozen=True, slots=True)
class Gone:
    """A plan to go on by, and what it costs."""

    plan: Plan
    score: Score
    price_min: float
    """All that it costs in minutes, split sittings too; what is spoilt is counted apart."""
    kept_share: float
    """How much of the next week's work nobody notices to have moved, from 0 to 1."""


class Promise(NamedTuple):
    """What of a plan is promised to others; compared field by field, less is better."""

    left_out: int
    spoilt_min: int
    """Minutes past windows after which something is spoilt: a mix gone off, glue that skinned."""
    late_min: int
    """Minutes by which goals are late, and what it is worth to split no sitting in them."""


IN_TIME = Promise(0, 0, 0)
"""Nothing is left out, missed or late."""


class Noticing:
    """Tells which moves somebody notices who works by the plan."""

    def __init__(self, problem: Problem) -> None:
        """Know the stretches of hours, of all hands together."""
        self._begins: list[int] = []
        """The minutes at which each stretch begins."""
        windows = [window for hands in problem.hands for window in hands.windows]
        end = NOT
        for window in sorted(windows):
            if window.start_min > end:
                self._begins.append(window.start_min)
            end = max(end, window.end_min)

    def is_noticed(self, was_min: int, is_min: int) -> bool:
        """Tell whether a start lies in another stretch of hours, or is far from where it was."""
        if abs(is_min - was_min) >= NOTICED_MIN:
            return True
        was_in = bisect_right(self._begins, was_min)
        is_in = bisect_right(self._begins, is_min)
        return was_in != is_in


def _price_min(problem: Problem, old: Plan, found: Score, plan: Plan, steady: Steadiness) -> float:
    """Return what a plan costs beside the old one, in minutes, what is spoilt apart.

    Args:
        problem: what the plan is of.
        old: the plan that there was.
        found: the score of the plan.
        plan: the plan itself.
        steady: what a start that moves costs.

    """
    end_in_the_mean = found.goals_min / max(1, len(problem.goals))
    late_min = promise_of(found).late_min
    moves_min = 0
    for near in _moved(problem, old, plan):
        moves_min += steady.near_min if near else steady.far_min
    return late_min + found.finish_min + end_in_the_mean + moves_min


def _moved(problem: Problem, old: Plan, plan: Plan) -> Iterator[bool]:
    """Give for each start that moved whether it was near.

    What takes no time, and what moved by a little with the same hands, does not count.
    """
    was = {placed.key: placed for placed in old.placed}
    until = problem.now_min + NEAR_DAYS * DAY_MIN
    for placed in plan.placed:
        before = was.get(placed.key)
        if before is None or before.start_min == before.end_min:
            continue
        moved_min = abs(placed.start_min - before.start_min)
        other_hands = placed.by != before.by
        if moved_min > MOVED_MIN or other_hands:
            yield before.start_min < until


def gone_by(problem: Problem, old: Plan, plan: Plan, steady: Steadiness) -> Gone:
    """Return a plan with its price.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        plan: the plan to go on by.
        steady: what a start that moves costs.

    """
    found = score(problem, plan)
    price_min = _price_min(problem, old, found, plan, steady)
    return Gone(plan, found, price_min, kept_share(problem, old, plan))


class NearStarts(NamedTuple):
    """The starts of work that were shown for the next seven days from now on."""

    moved: int
    """So many of them lie elsewhere, and somebody notices."""
    shown: int


def near_starts(problem: Problem, was: Mapping[str, int], plan: Plan) -> NearStarts:
    """Return how many starts of work were shown for the next week, and how many of them moved.

    What was to begin before now is none of them: it could not stay. Other hands alone move no
    start, and are not counted here: they are told, and counted, apart.

    Args:
        problem: what is to do now.
        was: by key, the minute at which each began in the plan that was shown.
        plan: the plan to go on by.

    """
    until = problem.now_min + NEAR_DAYS * DAY_MIN
    noticing = Noticing(problem)
    shown = moved = 0
    for placed in plan.placed:
        was_min = was.get(placed.key, until)
        is_work = placed.by is not None and placed.end_min > placed.start_min
        if is_work and problem.now_min <= was_min < until:
            shown += 1
            moved += noticing.is_noticed(was_min, placed.start_min)
    return NearStarts(moved, shown)


def kept_share(problem: Problem, old: Plan, plan: Plan) -> float:
    """Return how much of the next week's work nobody notices to have moved, from 0 to 1.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        plan: the plan to go on by.

    """
    was = {placed.key: placed.start_min for placed in old.placed}
    moved, shown = near_starts(problem, was, plan)
    return (shown - moved) / shown if shown else 1.0


def cheaper(one: Gone, other: Gone, by_min: float = 0.0) -> bool:
    """Tell whether a plan is cheaper than another, by more than so many minutes.

    What is left out counts first, then what is spoilt, whatever the price.

    Args:
        one: the plan.
        other: the other.
        by_min: by more than so many minutes it has to be cheaper.

    """
    *ours, our_price = _rank(one)
    *theirs, their_price = _rank(other)
    if ours != theirs:
        return ours < theirs
    return our_price + by_min < their_price


def keeps_or_costs(gone: Gone) -> tuple[float, float]:
    """Return what a plan lacks of what is always worth keeping, then its price: less is better."""
    return max(0.0, WORTH_KEEPING - gone.kept_share), gone.price_min


def promise_of(found: Score | Cost) -> Promise:
    """Return what of a plan is promised to others: all of it, its hard windows, its due dates."""
    return Promise(found.left_out, found.spoilt_min, found.late_and_split_min)


def _rank(gone: Gone) -> tuple[int, int, float]:
    """Return what a plan leaves out, by how much it lets things spoil, and its price."""
    promised = promise_of(gone.score)
    return promised.left_out, promised.spoilt_min, gone.price_min


def work_tonight_min(problem: Problem, plan: Plan) -> int:
    """Return the minutes of work in the hours that are open now, or open next within a day."""
    total = 0
    tomorrow_min = problem.now_min + DAY_MIN
    for hands in problem.hands:
        ahead = [window for window in hands.windows if window.end_min > problem.now_min]
        if ahead and ahead[0].start_min < tomorrow_min:
            total += _work_in(plan, hands.name, ahead[0])
    return total


def _work_in(plan: Plan, name: str, window: Window) -> int:
    """Return the minutes of work that one pair of hands begins in a window."""
    total = 0
    for placed in plan.placed:
        if placed.by == name and window.start_min <= placed.start_min < window.end_min:
            total += placed.end_min - placed.start_min
    return total
