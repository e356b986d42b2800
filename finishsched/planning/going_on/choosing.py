"""Going on by a plan: as it was where it can be, put off, or made anew; whichever costs least."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice

from finishsched.planning.going_on.around import Around, Laid
from finishsched.planning.going_on.mending import mended
from finishsched.planning.going_on.remaking import (
    FromNothing,
    as_little_late,
    cheapest_of_least_late,
    remade,
)
from finishsched.planning.going_on.steady import (
    IDLE_MIN,
    IN_TIME,
    STUBBORN_MIN,
    Gone,
    Promise,
    Steadiness,
    cheaper,
    gone_by,
    keeps_or_costs,
    promise_of,
    work_tonight_min,
)
from finishsched.planning.judging.checker import is_sound
from finishsched.planning.problem import Activity, Placed, Plan, Problem, Score
from finishsched.planning.quick import re_decode
from finishsched.planning.quick.cost import Cost
from finishsched.planning.score import score
from finishsched.planning.whole_plan import whole_plan

WORTH_MIN = 30
"""A better plan is offered when it finishes, or is less late, by half an hour (our assumption)."""


MANY_STEPS = 1500
"""From so many steps on little is looked for, and whoever reads the plan is told; and what can stay
stays, as long as that holds what was promised."""
VERY_MANY_STEPS = 3000
"""From so many steps on room is made far ahead, and no more is tried than that and a plan from
nothing: the rest would bring next to nothing in the time that somebody waits."""


@dataclass(frozen=True, slots=True)
class GoneOn:
    """The plan to go on by."""

    plan: Plan
    keeping: Score | None = None
    """What keeping more of the old one would have cost, where that is worth a line."""
    anew: bool = False
    """Whether it is made anew, around whatever stays."""


def gone_on(
    problem: Problem,
    old: Plan,
    steady: Steadiness,
    from_nothing: FromNothing,
) -> GoneOn | None:
    """Return the plan to go on by, None where there is none that can be carried out.

    It is the old plan itself where it can be carried out, nothing else happened than it said, and
    nobody stands idle; else the cheapest of what stays as it is, what is put off, and what is made
    anew around as much as can stay.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        steady: what a start that moves costs.
        from_nothing: makes a plan of which nothing has to stay.

    """
    same = _as_it_was(problem, old)
    if same is not None and not _cause(problem, old, same):
        return GoneOn(same)
    around = Around(problem, old)
    if len(problem.activities) > MANY_STEPS:
        in_a_large_shop = _mended(around, steady, from_nothing)
        if in_a_large_shop is not None:
            return in_a_large_shop
    keeping = _keeping(problem, old, same, steady)
    made = remade(around, steady, None if same is not None else from_nothing)
    anew = None if made is None else made.gone
    if keeping is None or made is None or anew is None:
        there = keeping or anew
        return None if there is None else GoneOn(there.plan, anew=keeping is None)
    if _too_late(keeping, made.most, same) or _pays(problem, keeping, anew, same):
        tells = _tells(keeping.score, anew.score)
        return GoneOn(anew.plan, keeping.score if tells else None, anew=True)
    return GoneOn(keeping.plan)


def _mended(
    around: Around,
    steady: Steadiness,
    from_nothing: FromNothing,
) -> GoneOn | None:
    """Return a plan of a large shop with no more moved than it takes to hold what was promised.

    Where none holds that, the cheapest of the least late ones if there are so many steps that no
    more can be tried while somebody waits; else None.

    Args:
        around: places what does not stay of the old plan.
        steady: what a start that moves costs.
        from_nothing: makes a plan of which nothing has to stay.

    """
    problem, old = around.problem, around.old
    is_very_large = len(problem.activities) > VERY_MANY_STEPS
    was = _promised(problem, old)
    tried: list[Laid] = []
    for each in islice(mended(around), None if is_very_large else 1):
        # The cost is known from the board: only what holds is written out and judged.
        if _holds_what_was_promised(problem, was, each.cost):
            plan = each.plan()
            if is_sound(problem, plan):
                return GoneOn(plan)
            continue
        tried.append(each)
        if len(tried) > 1 and _as_good(promise_of(each.cost), promise_of(was)):
            # Room is made for what gets late: with nothing late, more of it only moves more.
            break
    if not is_very_large:
        return None
    return _least_late(around, steady, tried, from_nothing)


def _least_late(
    around: Around,
    steady: Steadiness,
    tried: Sequence[Laid],
    from_nothing: FromNothing,
) -> GoneOn | None:
    """Return the cheapest of the least late plans, None where none can be carried out.

    Planning from nothing is left out where one is as little late as chains of waits allow: it could
    only move more.

    Args:
        around: places what does not stay of the old plan.
        steady: what a start that moves costs.
        tried: plans with more and less moved.
        from_nothing: makes a plan of which nothing has to stay.

    """
    problem, old = around.problem, around.old
    plans = [each.plan() for each in as_little_late(tried, lambda each: promise_of(each.cost))]
    found = [gone_by(problem, old, plan, steady) for plan in plans if is_sound(problem, plan)]
    if found and _needs_to_be_so_late(around, found[0].score):
        return GoneOn(cheapest_of_least_late(found).plan)
    plan = from_nothing(around.search)
    if is_sound(problem, plan):
        found.append(gone_by(problem, old, plan, steady))
    return GoneOn(cheapest_of_least_late(found).plan, anew=True) if found else None


def _needs_to_be_so_late(around: Around, found: Score) -> bool:
    """Tell whether a plan is as little late as it can be: not at all, or as chains of waits ask."""
    promised = promise_of(found)
    if _as_good(promised, IN_TIME):
        return True
    return _as_good(promised, IN_TIME._replace(late_min=around.pressure.least_late))


def _too_late(keeping: Gone, most: Promise, same: Plan | None) -> bool:
    """Tell whether what has to be put off is put off too far, beside the least late made anew.

    Args:
        keeping: the plan that keeps as much as can be.
        most: what nobody is put out by, beside the least late; the one that is made anew may be as
            late as that already.
        same: the old plan, where all of it could stay; then nothing is put off.

    """
    return same is None and promise_of(keeping.score).late_min > most.late_min


def _pays(problem: Problem, keeping: Gone, anew: Gone, same: Plan | None) -> bool:
    """Tell whether a plan made anew is cheaper, by enough where all could stay as it is.

    Where not all can, what keeps a third of the next week goes before what keeps less, here as
    where the plan made anew was chosen.

    Args:
        problem: what is to do now.
        keeping: the plan that keeps as much as can be.
        anew: the plan made anew.
        same: the old plan, where all of it could stay.

    """
    if same is None and _loses_alike(keeping, anew):
        return keeps_or_costs(anew) < keeps_or_costs(keeping)
    worth_min = 0
    if same is not None and not _fills_evening(problem, same, anew.plan):
        worth_min = STUBBORN_MIN
    return cheaper(anew, keeping, worth_min)


def _loses_alike(one: Gone, other: Gone) -> bool:
    """Tell whether two plans leave out as much, and let as much spoil."""
    ours, theirs = promise_of(one.score), promise_of(other.score)
    return ours._replace(late_min=0) == theirs._replace(late_min=0)


def _tells(keeping: Score, anew: Score) -> bool:
    """Tell whether what is gained by making it anew is worth a line."""
    less_late = keeping.late_min - anew.late_min
    saves = keeping.finish_min - anew.finish_min
    return less_late >= WORTH_MIN or (less_late >= 0 and saves >= WORTH_MIN)


def _keeping(problem: Problem, old: Plan, same: Plan | None, steady: Steadiness) -> Gone | None:
    """Return the plan as it was, or with no more put off than has to be, in its old order.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        same: what is still open of it, where all of that can stay.
        steady: what a start that moves costs.

    """
    if same is not None:
        return gone_by(problem, old, same, steady)
    order = [placed.key for placed in old.placed]
    with_same_hands = no_sooner(problem, old, hands=True)
    with_any_hands = no_sooner(problem, old)
    found: Gone | None = None
    # Others may be free sooner, but a work that changes hands has moved for two people.
    for place in (with_same_hands, with_any_hands):
        plan = re_decode(place, order, reasons=False)
        if not is_sound(problem, plan):
            continue
        gone = gone_by(problem, old, plan, steady)
        if found is None or cheaper(gone, found):
            found = gone
    return found


def _cause(problem: Problem, old: Plan, same: Plan) -> bool:
    """Tell whether something else happened than the plan said, so that another may be better.

    Args:
        problem: what is to do now, and what is done.
        old: what the plan said.
        same: what is still open of it.

    """
    now = promise_of(score(problem, same))
    if not _as_good(now, promise_of(_promised(problem, old))):
        return True
    was = {placed.key: placed for placed in old.placed}
    for there in problem.done:
        placed = was.get(there.key)
        if placed is None:
            continue
        as_planned = placed.start_min == there.start_min and placed.end_min == there.end_min
        if not as_planned:
            return True
    return False


def _fills_evening(problem: Problem, same: Plan, anew: Plan) -> bool:
    """Tell whether another plan finds work for hands that would stand idle this evening."""
    more_min = work_tonight_min(problem, anew) - work_tonight_min(problem, same)
    return more_min >= IDLE_MIN


def no_sooner(problem: Problem, old: Plan, *, hands: bool = False) -> Problem:
    """Return the problem with nothing sooner than in the old plan.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        hands: whether everything stays with the hands that it had.

    """
    was = {placed.key: placed for placed in old.placed}
    activities: list[Activity] = []
    for activity in problem.activities:
        placed = was.get(activity.key)
        if placed is None:
            activities.append(activity)
            continue
        release_min = max(placed.start_min, activity.release_min or 0)
        by = _same_hands(activity, placed) if hands else activity.by
        activities.append(replace(activity, release_min=release_min, by=by))
    return replace(problem, activities=tuple(activities))


def _same_hands(activity: Activity, was: Placed) -> tuple[str, ...]:
    """Return the hands that had an activity, or all that can do it where these cannot."""
    return (was.by,) if was.by in activity.by else activity.by


def _promised(problem: Problem, old: Plan) -> Score:
    """Return what a plan promised of what is still open of it."""
    return score(problem, _still_open(problem, old))


def _still_open(problem: Problem, old: Plan) -> Plan:
    """Return what is still open of a plan, each where it lay."""
    to_do = _to_do(problem)
    return whole_plan(problem, [each for each in old.placed if each.key in to_do])


def _to_do(problem: Problem) -> set[str]:
    """Return the keys of the activities that are not done."""
    return {activity.key for activity in problem.activities} - {each.key for each in problem.done}


def _holds_what_was_promised(problem: Problem, was: Score, now: Cost) -> bool:
    """Tell whether nothing is newly late, and no end is later by half a day, of all or in the mean.

    Args:
        problem: what is to do now.
        was: the score that was promised of it.
        now: the cost of a plan to go on by.

    """
    all_later_min = now.finish_min - was.finish_min
    later_in_the_mean = (now.goals_min - was.goals_min) / max(1, len(problem.goals))
    ends_in_time = max(all_later_min, later_in_the_mean) < STUBBORN_MIN
    return ends_in_time and _as_good(promise_of(now), promise_of(was))


def _as_good(plan: Promise, other: Promise) -> bool:
    """Tell whether promises are kept as well but for lateness that nobody would move work for."""
    ours = (plan.left_out, plan.spoilt_min)
    theirs = (other.left_out, other.spoilt_min)
    if ours != theirs:
        return ours < theirs
    return plan.late_min < other.late_min + WORTH_MIN


def _as_it_was(problem: Problem, old: Plan) -> Plan | None:
    """Return what is still open of the old plan, each where it lay; None where that cannot be."""
    plan = _still_open(problem, old)
    if {each.key for each in plan.placed} != _to_do(problem):
        return None
    return plan if is_sound(problem, plan) else None
