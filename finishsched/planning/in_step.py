"""Pieces kept in step: of work that goes on without a break, like goes with like.

Who sands five pieces takes the same paper to all of them before changing it. A planner that looks
at waits and due dates alone lays such work in any order; here each run of work is laid again so
that the paper, the pad or the mix changes as seldom as its waits allow, the first of the plan
first. It stands where nothing of the plan gets worse by more than the changes saved are worth.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from finishsched.factors import DAY_MIN
from finishsched.planning.judging.touched import Touched
from finishsched.planning.lags_around import LagsAround
from finishsched.planning.problem import Done, Placed, Plan, Problem, Score
from finishsched.planning.score import score
from finishsched.planning.whole_plan import whole_plan

A_CHANGE_MIN = 15
"""So much later, all pieces together, one may be for one change less (our assumption)."""
LEAST_RUN = 3
"""Of two there is nothing to sort."""
CHECKED_STEPS, LEAST_TRIES = 20_000, 2
"""How many steps are checked, all tries together, and how many tries there are at least."""

LONG_STEPS, NEAR_MIN = 5000, 14 * DAY_MIN
"""With more steps than that only what begins within two weeks is sorted."""


def in_step(problem: Problem, plan: Plan, old: Plan | None = None) -> Plan:
    """Return the plan with like work brought together; the plan itself where nothing is gained.

    Args:
        problem: what is planned.
        plan: one that can be carried out.
        old: the plan up to now; a run of which anything stays where it was is left alone.

    """
    lags = LagsAround(problem)
    changed = list(_sorted_runs(problem, plan, old, lags))
    steps = max(1, len(plan.placed))
    tries_left = max(LEAST_TRIES, CHECKED_STEPS // steps)
    groups = [changed] if changed else []
    touched = Touched(problem, lags)
    best = _Scored(plan, score(problem, plan))
    while groups and tries_left:
        tries_left -= 1
        group = groups.pop()
        better = _better_with(problem, best, group, touched)
        if better is not None:
            best = better
        elif len(group) > 1:
            # Worse with all of these: each half is tried by itself, the sooner one first.
            half = len(group) // 2
            groups += [group[half:], group[:half]]
    return best.plan


class _Scored(NamedTuple):
    """A plan, and how good it is."""

    plan: Plan
    score: Score


class _Again(NamedTuple):
    """A run of work laid again."""

    works: list[Placed]
    saved: int
    """How many changes fewer there are in it."""


def _sorted_runs(
    problem: Problem,
    plan: Plan,
    old: Plan | None,
    lags: LagsAround,
) -> Iterator[_Again]:
    """Give each run of the plan that has fewer changes when it is laid again.

    Args:
        problem: what is planned.
        plan: the one that there is.
        old: the plan up to now; a run of which anything stays where it was is left alone.
        lags: the waits of the problem, by activity.

    """
    sorting = _Sorting(problem, plan, lags)
    was: dict[str, int] = {}
    if old is not None:
        was = {each.key: each.start_min for each in old.placed}
    for run in _worth_sorting(problem, plan):
        again = None if _stays(run, was) else sorting.again(run)
        if again is not None:
            yield again


def _better_with(
    problem: Problem,
    best: _Scored,
    group: Sequence[_Again],
    touched: Touched,
) -> _Scored | None:
    """Return the best plan with some runs laid again; None where that costs more than it is worth.

    Args:
        problem: what is planned.
        best: the plan that there is.
        group: the runs.
        touched: judges what was moved.

    """
    plan = _laid(problem, best.plan, group)
    found = _Scored(plan, score(problem, plan))
    saved = sum([run.saved for run in group])
    if not _pays(best.score, found.score, saved):
        return None
    moved = [each.key for run in group for each in run.works]
    return None if touched.broken(best.plan, plan, moved) else found


def _runs(plan: Plan) -> Iterator[list[Placed]]:
    """Give each run of work that one pair of hands does without a break, in the order of time."""
    by_hands: dict[str, list[Placed]] = {}
    for each in plan.placed:
        if each.by is not None and each.end_min > each.start_min:
            by_hands.setdefault(each.by, []).append(each)
    for works in by_hands.values():
        run = works[:1]
        for before, each in pairwise(works):
            if before.end_min != each.start_min:
                yield run
                run = []
            run.append(each)
        yield run


def _stays(run: Sequence[Placed], was: dict[str, int]) -> bool:
    """Tell whether anything of a run lies where it lay.

    Args:
        run: work of one pair of hands without a break.
        was: by activity, when it started in the plan up to now.

    """
    return any(was.get(each.key) == each.start_min for each in run)


def _worth_sorting(problem: Problem, plan: Plan) -> Iterator[list[Placed]]:
    """Give the runs of a plan; of a long one those that are near, since that takes its time.

    Args:
        problem: says what time it is.
        plan: the one that there is.

    """
    until = problem.now_min + NEAR_MIN
    is_long = len(plan.placed) > LONG_STEPS
    for run in _runs(plan):
        if not run:
            continue
        is_far = run[0].start_min > until
        if not (is_long and is_far):
            yield run


class _Sorting:
    """Sorts the work of a run."""

    def __init__(self, problem: Problem, plan: Plan, lags: LagsAround) -> None:
        self._lags = lags
        self._like: dict[str, str] = {}
        """By activity, which paper, pad or mix it needs."""
        self._release: dict[str, int] = {}
        """By activity, the minute before which it cannot start."""
        for activity in problem.activities:
            self._like[activity.key] = activity.like
            self._release[activity.key] = activity.release_min or 0
        self._starts: dict[str, int] = {}
        """By activity, when it starts in the plan, or did."""
        self._ends: dict[str, int] = {}
        """By activity, when it ends in the plan, or did."""
        everything: tuple[Done | Placed, ...] = (*problem.done, *plan.placed)
        for each in everything:
            self._starts[each.key] = each.start_min
            self._ends[each.key] = each.end_min

    def again(self, run: Sequence[Placed]) -> _Again | None:
        """Return the work of a run with like after like; None where that gains nothing."""
        if len(run) < LEAST_RUN:
            return None
        ends = dict(self._ends)
        for each in run:
            del ends[each.key]
        latest = self._latest_ends(run)
        left = list(run)
        again: list[Placed] = []
        time = run[0].start_min
        while left:
            chosen = self._next(left, again, ends, latest, time)
            if chosen is None:
                return None
            left.remove(chosen)
            end = time + _length(chosen)
            again.append(replace(chosen, start_min=time, end_min=end))
            ends[chosen.key] = time = end
        saved = self._changes(run) - self._changes(again)
        return _Again(again, saved) if saved > 0 else None

    def _latest_ends(self, run: Sequence[Placed]) -> dict[str, int]:
        """Return by when each work of a run must be over, so that nothing after it moves."""
        latest: dict[str, int] = {}
        last = run[-1].end_min
        for each in reversed(run):
            end = last
            for lag in self._lags.after(each.key):
                start = self._latest_start(lag.after, latest)
                if start is not None:
                    end = min(end, start - lag.least_min)
            latest[each.key] = end
        return latest

    def _latest_start(self, key: str, latest: Mapping[str, int]) -> int | None:
        """Return by when an activity must start: where it lies, unless it moves with its run.

        Args:
            key: the activity; None is returned for one that lies nowhere.
            latest: by when those of the run must be over, as far as that is known.

        """
        if key not in latest:
            return self._starts.get(key)
        length = self._ends[key] - self._starts[key]
        return latest[key] - length

    def _next(
        self,
        left: Sequence[Placed],
        again: Sequence[Placed],
        ends: dict[str, int],
        latest: dict[str, int],
        time: int,
    ) -> Placed | None:
        """Return what goes next: what is like the last if the rest is in time, or else the first.

        Args:
            left: the work that has no place yet, in the order of the plan.
            again: what lies already.
            ends: when each ends that lies already.
            latest: by when each must be over.
            time: the minute at which the next begins.

        """
        last = self._like[again[-1].key] if again else ""
        ready = [each for each in left if self._is_ready(each.key, ends, time)]
        alike = [each for each in ready if self._like[each.key] == last]
        pressing = sorted(left, key=lambda each: latest[each.key])
        for each in (*alike, *ready):
            if _in_time(each, pressing, latest, time):
                return each
        return None

    def _is_ready(self, key: str, ends: dict[str, int], time: int) -> bool:
        """Tell whether the waits of an activity are over at a minute.

        Args:
            key: the activity.
            ends: when each ends that lies already.
            time: the minute.

        """
        if self._release[key] > time:
            return False
        for lag in self._lags.before(key):
            if lag.before not in ends:
                return False
            waited_until = ends[lag.before] + lag.least_min
            if waited_until > time:
                return False
        return True

    def _changes(self, run: Sequence[Placed]) -> int:
        """Return how often one work of a run is followed by another that is not like it."""
        likes = [self._like[each.key] for each in run]
        return sum(one != other for one, other in pairwise(likes))


def _length(placed: Placed) -> int:
    """Return how many minutes a work takes."""
    return placed.end_min - placed.start_min


def _in_time(
    first: Placed,
    pressing: Sequence[Placed],
    latest: dict[str, int],
    time: int,
) -> bool:
    """Tell whether all can be over in time if one of them goes first and then what presses most.

    Args:
        first: the one.
        pressing: all of them, the most pressing first.
        latest: by when each must be over.
        time: the minute at which the first begins.

    """
    end = time + _length(first)
    if end > latest[first.key]:
        return False
    for each in pressing:
        if each is first:
            continue
        end += _length(each)
        if end > latest[each.key]:
            return False
    return True


def _laid(problem: Problem, plan: Plan, runs: Sequence[_Again]) -> Plan:
    """Return the plan with some of its runs laid again.

    Args:
        problem: what is planned.
        plan: the one that there is.
        runs: those to lay again; no activity is in two of them.

    """
    moved: dict[str, Placed] = {}
    for run in runs:
        moved.update({each.key: each for each in run.works})
    placed = [moved.get(each.key, each) for each in plan.placed]
    placed.sort(key=lambda each: (each.start_min, each.key))
    return whole_plan(problem, placed, plan.left_out)


def _pays(was: Score, now: Score, saved: int) -> bool:
    """Tell whether a plan is no worse than the changes saved are worth.

    Args:
        was: the score of the plan that there is.
        now: that of the one with like work together.
        saved: how many changes fewer there are in it.

    """
    later_min = now.goals_min - was.goals_min
    same = replace(now, goals_min=0) <= replace(was, goals_min=0)
    return same and later_min <= A_CHANGE_MIN * saved
