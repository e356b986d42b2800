"""One mix for several: what is done from one kind of pot is brought into one life where it pays.

Two mixes of one kind are taken, the nearest in time first. All that is done from them is tied into
one life, and everything is placed again in the order of the plan: once with the first mix waiting
for the second, once with the second hurried to the first. That stands where nothing gets later that
is due, the end of all stays, and the pieces together wait no longer than a mix is worth.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

from finishsched.factors import DAY_MIN
from finishsched.planning.judging.checker import is_sound
from finishsched.planning.pots import all_mixed
from finishsched.planning.problem import Done, Lag, Mixed, Placed, Plan, Problem, Score
from finishsched.planning.quick import in_turn, re_decode
from finishsched.planning.score import goal_finishes, score
from finishsched.planning.whole_plan import whole_plan

A_MIX_MIN = 2 * DAY_MIN
"""For so long, all pieces together, one waits to save a mix: an evening or two (our assumption)."""
TO_SPARE_MIN = DAY_MIN
"""What is due keeps a day to spare, where it had one (our assumption)."""
APART_MIN = 7 * DAY_MIN
"""Mixes further apart are not brought together."""
SHARED_STEPS, LEAST_PAIRS = 12_000, 6
"""How many steps are placed, all tries together, and how many pairs are tried at least."""


class _Pair(NamedTuple):
    """Two mixes of one pot that might be one."""

    apart_min: int
    """The minutes from when the first is begun to when the second is."""
    first: Mixed
    second: Mixed


def with_shared_pots(problem: Problem, plan: Plan) -> Plan:
    """Return the plan with as few pots mixed as comes without a cost; the plan itself for none.

    Args:
        problem: what is planned.
        plan: one that can be carried out.

    """
    if not problem.pots:
        return plan
    steps = max(1, len(plan.placed))
    pairs_left = max(LEAST_PAIRS, SHARED_STEPS // steps)
    in_vain: set[frozenset[str]] = set()
    best = plan
    while pairs_left > 0:
        pair = _next_pair(problem, best, in_vain)
        if pair is None:
            return best
        pairs_left -= 1
        found = _as_one(problem, best, pair)
        if found is None:
            in_vain.add(_keys_of(pair))
        else:
            best = found
    return best


def _next_pair(problem: Problem, plan: Plan, in_vain: set[frozenset[str]]) -> _Pair | None:
    """Return the two mixes nearest in time that have not been tried together, None for none.

    Args:
        problem: what is planned.
        plan: has the mixes.
        in_vain: by what is done from both, the pairs of which nothing came.

    """
    nearest: _Pair | None = None
    for pair in _pairs(problem, plan):
        if _keys_of(pair) in in_vain:
            continue
        if nearest is None or pair.apart_min < nearest.apart_min:
            nearest = pair
    return nearest


def _keys_of(pair: _Pair) -> frozenset[str]:
    """Return all that is done from two mixes."""
    return frozenset((*pair.first.keys, *pair.second.keys))


def _pairs(problem: Problem, plan: Plan) -> Iterator[_Pair]:
    """Give each two mixes of a plan whose work fits into one life, and that lie near enough.

    Args:
        problem: says how long a mix is good.
        plan: has the mixes.

    """
    minutes = {activity.key: activity.minutes for activity in problem.activities}
    lives = {pot.name: pot.life_min for pot in problem.pots}
    begun = _begun(problem, plan)
    # In the order in which they are begun, so that the first of two is the sooner one.
    mixes = all_mixed(problem, plan.placed)
    for first, second in combinations(mixes, 2):
        if first.pot != second.pot:
            continue
        served = [*first.keys, *second.keys]
        work_min = sum([minutes[key] for key in served])
        first_begun = begun[first.keys[0]]
        second_begun = begun[second.keys[0]]
        apart_min = second_begun - first_begun
        fits_one_life = work_min <= lives[first.pot]
        if fits_one_life and apart_min <= APART_MIN:
            yield _Pair(apart_min, first, second)


def _begun(problem: Problem, plan: Plan) -> dict[str, int]:
    """Return by key when each activity was begun, or is to be.

    Args:
        problem: has what is done.
        plan: has the rest.

    """
    everything: tuple[Done | Placed, ...] = (*problem.done, *plan.placed)
    return {each.key: each.start_min for each in everything}


def _as_one(problem: Problem, plan: Plan, pair: _Pair) -> Plan | None:
    """Return the plan with two mixes made one; None where that costs more than it is worth.

    Args:
        problem: what is planned.
        plan: the one that there is.
        pair: the two mixes.

    """
    tied = _tied(problem, plan, pair)
    for order in _orders(plan, pair):
        for place in (re_decode, in_turn):
            laid = place(tied, order)
            # Told by the problem itself, without the windows that tie the two mixes.
            found = whole_plan(problem, laid.placed, laid.left_out)
            if _pays(problem, plan, found) and is_sound(problem, found):
                return found
    return None


def _tied(problem: Problem, plan: Plan, pair: _Pair) -> Problem:
    """Return the problem with all that shares a mix, and these two, held inside one life.

    Args:
        problem: what is planned.
        plan: has the mixes that are shared already.
        pair: the two that are to be one.

    """
    served = (*pair.first.keys, *pair.second.keys)
    joined = Mixed(pair.first.pot, served)
    taken = _keys_of(pair)
    others = [mixed for mixed in plan.mixed if taken.isdisjoint(mixed.keys)]
    minutes = {activity.key: activity.minutes for activity in problem.activities}
    lives = {pot.name: pot.life_min for pot in problem.pots}
    lags: list[Lag] = []
    for mixed in (*others, joined):
        first, *rest = mixed.keys
        # From the end of the first, so much of the life of the mix is left.
        left_min = lives[mixed.pot] - minutes[first]
        for key in rest:
            latest_min = left_min - minutes[key]
            lags.append(Lag(first, key, least_min=0, most_min=latest_min))
    return replace(problem, lags=(*problem.lags, *lags))


def _orders(plan: Plan, pair: _Pair) -> Iterator[Sequence[str]]:
    """Give the orders to try: the second mix hurried to the first, the first put off to it.

    Args:
        plan: has all activities, in the order of their starts.
        pair: the two mixes.

    """
    order = [placed.key for placed in plan.placed]
    yield order
    put_off = set(pair.first.keys)
    waiting = [key for key in order if key in put_off]
    rest = [key for key in order if key not in put_off]
    turn = rest.index(pair.second.keys[0])
    before_it, from_it_on = rest[:turn], rest[turn:]
    yield [*before_it, *waiting, *from_it_on]


def _pays(problem: Problem, plan: Plan, found: Plan) -> bool:
    """Tell whether fewer pots are mixed, and nothing that counts for more is worse for it.

    Args:
        problem: what is planned.
        plan: the one that there is.
        found: the one with fewer pots.

    """
    was, now = score(problem, plan), score(problem, found)
    saved = was.pots - now.pots
    if saved <= 0 or _before_pots(now) > _before_pots(was):
        return False
    waited_min = now.goals_min - was.goals_min
    is_worth_it = waited_min <= A_MIX_MIN * saved
    return is_worth_it and _keeps_spare(problem, plan, found)


def _before_pots(found: Score) -> tuple[int, ...]:
    """Return what of a score counts for more than how many pots are mixed."""
    return (
        found.left_out,
        found.spoilt_min,
        found.late_and_split_min,
        found.latest_min,
        found.finish_min,
        found.remedies_min,
    )


def _keeps_spare(problem: Problem, plan: Plan, found: Plan) -> bool:
    """Tell whether whatever is due keeps a day to spare, or as much of it as it had.

    Args:
        problem: says when each piece is due.
        plan: the one that there is.
        found: the one with fewer pots.

    """
    was = goal_finishes(problem, plan)
    now = goal_finishes(problem, found)
    for goal in problem.goals:
        if goal.due_min is None or goal.key not in now:
            continue
        spare_until = goal.due_min - TO_SPARE_MIN
        if now[goal.key] > max(was[goal.key], spare_until):
            return False
    return True
