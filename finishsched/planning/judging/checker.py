"""Hold a plan against its problem: the judge of every planner, which shares no code with any.

It asks of each rule by itself whether the plan keeps it, from nothing but the two. What is done is
judged by no rule, but everything else is judged against it. Hands are judged in `hands.py`,
stores and rooms in `shared.py`, what is mixed once for several in `pots.py`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from finishsched.planning.judging.hands import hands_broken
from finishsched.planning.judging.pots import pots_broken
from finishsched.planning.judging.shared import rooms_broken, stores_broken
from finishsched.planning.judging.violations import Broken, Scene, Violation
from finishsched.planning.problem import Lag, Placed, Plan, Problem

__all__ = ["Broken", "Violation", "check", "is_sound"]


def check(problem: Problem, plan: Plan) -> tuple[Violation, ...]:
    """Return everything that is wrong with a plan; nothing when it can be carried out.

    A plan that speaks of what there is not, or of something twice, is judged no further.

    Args:
        problem: what was to be planned.
        plan: what is said to be a plan of it.

    """
    return tuple(_wrong_with(problem, plan))


def is_sound(problem: Problem, plan: Plan) -> bool:
    """Tell whether nothing is wrong with a plan; it is judged no further than the first fault.

    Args:
        problem: what was to be planned.
        plan: what is said to be a plan of it.

    """
    return next(_wrong_with(problem, plan), None) is None


def _wrong_with(problem: Problem, plan: Plan) -> Iterator[Violation]:
    """Give everything that is wrong with a plan, what is soonest found first."""
    wrong = tuple(_bookkeeping(problem, plan))
    yield from wrong
    kinds = {each.kind for each in wrong}
    if not kinds.isdisjoint((Broken.UNKNOWN, Broken.TWICE, Broken.PAST)):
        return
    # From here on everything that the plan names is there, once.
    scene = Scene(problem, plan)
    yield from _times(scene)
    yield from _lags(scene)
    yield from hands_broken(scene)
    yield from stores_broken(scene)
    yield from rooms_broken(scene)
    yield from pots_broken(scene)


def _bookkeeping(problem: Problem, plan: Plan) -> Iterator[Violation]:
    """Find what the plan forgets, names twice, or names though it should not, and its order.

    Args:
        problem: knows all activities, and which are done.
        plan: has to name each of the others once.

    """
    known = {activity.key for activity in problem.activities}
    done = {each.key for each in problem.done}
    placed_keys = [placed.key for placed in plan.placed]
    # How often the plan names each, as placed or as left out.
    named = Counter([*placed_keys, *plan.left_out])
    for key, times in named.items():
        if key not in known:
            yield _wrong(Broken.UNKNOWN, f"there is no activity {key}", key)
        elif times > 1:
            yield _wrong(Broken.TWICE, f"{key} is there {times} times", key)
        elif key in done:
            yield _wrong(Broken.PAST, f"{key} is done and is planned again", key)
    forgotten = known - done - named.keys()
    for key in sorted(forgotten):
        yield _wrong(Broken.UNPLACED, f"{key} is neither placed nor left out", key)
    yield from _out_of_order(plan)


def _out_of_order(plan: Plan) -> Iterator[Violation]:
    """Find what stands after something that starts later, or at once and has a later key."""
    for first, second in pairwise(plan.placed):
        first_rank = (first.start_min, first.key)
        second_rank = (second.start_min, second.key)
        if first_rank > second_rank:
            sentence = f"{second.key} stands after {first.key}"
            yield _wrong(Broken.ORDER, sentence, first.key, second.key)


def _wrong(kind: Broken, sentence: str, *keys: str) -> Violation:
    """Return what is wrong though no figure says by how much.

    Args:
        kind: the rule that is broken.
        sentence: in what way.
        *keys: the activities that it is about.

    """
    return Violation(kind, keys, 0, sentence)


def _times(scene: Scene) -> Iterator[Violation]:
    """Find what is too long or too short, and what starts before now or before its release."""
    mending = _mending(scene)
    now_min = scene.problem.now_min
    for placed in scene.plan.placed:
        activity = scene.activities[placed.key]
        wanted = activity.minutes + mending[placed.key]
        length = placed.end_min - placed.start_min
        if length != wanted:
            yield Violation(
                Broken.LENGTH,
                (placed.key,),
                abs(length - wanted),
                f"{placed.key} has {length} minutes and takes {wanted}",
            )
        start_min, release_min = placed.start_min, activity.release_min
        if start_min < now_min:
            yield _before(placed, Broken.NOW, now_min)
        if release_min is not None and start_min < release_min:
            yield _before(placed, Broken.RELEASE, release_min)


def _before(placed: Placed, kind: Broken, bound_min: int) -> Violation:
    """Return that something starts before a minute.

    Args:
        placed: where it lies.
        kind: the rule that this breaks.
        bound_min: the minute.

    """
    short = bound_min - placed.start_min
    sentence = f"{placed.key} starts {short} minutes {kind.value}"
    return Violation(kind, (placed.key,), short, sentence)


class _Missed(NamedTuple):
    """A window that is missed, or said to be."""

    before: str
    after: str
    late_min: int
    """By how many minutes."""
    hard: bool
    """Whether there is no remedy."""


def _late_min(lag: Lag, scene: Scene) -> int:
    """Return by how much a window is missed by something placed; 0 or less when it is kept."""
    before = scene.there.get(lag.before)
    after = scene.placed.get(lag.after)
    if lag.most_min is None or before is None or after is None:
        return 0
    waited_min = after.start_min - before.end_min
    return waited_min - lag.most_min


def _mending(scene: Scene) -> Counter[str]:
    """Return for each activity the minutes of every remedy that it needs."""
    found: Counter[str] = Counter()
    for lag in scene.problem.lags:
        if lag.remedy_min and _late_min(lag, scene) > 0:
            found[lag.after] += lag.remedy_min
    return found


def _lags(scene: Scene) -> Iterator[Violation]:
    """Find waits that are cut short, and windows that are missed otherwise than the plan says."""
    missed: Counter[_Missed] = Counter()
    for lag in scene.problem.lags:
        after = scene.placed.get(lag.after)
        if after is None:
            continue
        before = scene.there.get(lag.before)
        if before is None:
            yield _after_nothing(lag)
            continue
        waited_min = after.start_min - before.end_min
        if lag.most_min is not None and waited_min > lag.most_min:
            is_hard = lag.remedy_min is None
            found = _Missed(lag.before, lag.after, waited_min - lag.most_min, is_hard)
            missed[found] += 1
        if waited_min < lag.least_min:
            yield _too_early(lag, lag.least_min - waited_min)
    told: Counter[_Missed] = Counter()
    for miss in scene.plan.misses:
        said = _Missed(miss.before, miss.after, miss.late_min, miss.hard)
        told[said] += 1
    yield from _told_otherwise(missed, told)


def _told_otherwise(missed: Counter[_Missed], told: Counter[_Missed]) -> Iterator[Violation]:
    """Find windows that are missed untold, or told to be missed and are not.

    Args:
        missed: the windows that the plan misses, and how often each.
        told: those of which it says so.

    """
    # A window may be there twice: each time that it is missed has to be told.
    for untold in (missed - told).elements():
        window = f"{untold.after} misses the window after {untold.before}"
        yield Violation(
            Broken.MISS,
            (untold.before, untold.after),
            untold.late_min,
            f"{window} by {untold.late_min} minutes, untold",
        )
    for untrue in (told - missed).elements():
        window = f"{untrue.after} is said to miss the window after {untrue.before}"
        yield Violation(
            Broken.MISS,
            (untrue.before, untrue.after),
            untrue.late_min,
            f"{window} by {untrue.late_min} minutes, and does not",
        )


def _after_nothing(lag: Lag) -> Violation:
    """Return that something is placed after something that is left out."""
    sentence = f"{lag.after} is placed, and {lag.before}, which it follows, is left out"
    return _wrong(Broken.AFTER_NOTHING, sentence, lag.before, lag.after)


def _too_early(lag: Lag, short_min: int) -> Violation:
    """Return that something starts so many minutes before its wait is over."""
    sentence = f"{lag.after} starts {short_min} minutes too early after {lag.before}"
    return Violation(Broken.EARLY, (lag.before, lag.after), short_min, sentence)
