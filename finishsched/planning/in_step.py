"""Pieces kept in step: of work that goes on without a break, like goes with like.

Who sands five pieces takes the same paper to all of them before changing it. A planner that looks
at waits and due dates alone lays such work in any order; here each run of work is laid again so
that the paper, the pad or the mix changes as seldom as its waits allow, the first of the plan
first. It stands where nothing of the plan gets worse by more than the changes saved are worth.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from finishsched.planning.lags_around import LagsAround
from finishsched.planning.misses import misses_of
from finishsched.planning.pots import mixed_of
from finishsched.planning.problem import Done, Placed, Plan, Problem, Score
from finishsched.planning.score import score
from finishsched.planning.touched import Touched

A_CHANGE_MIN = 15
"""So much later, all pieces together, one may be for one change less (our assumption)."""
LEAST_RUN = 3
"""Of two there is nothing to sort."""
CHECKED_STEPS, LEAST_TRIES = 20_000, 2
"""How many steps are checked, all tries together, and how many tries there are at least."""

LONG_STEPS, NEAR_MIN = 5000, 14 * 1440
"""With more steps than that only what begins within two weeks is sorted."""


def in_step(problem: Problem, plan: Plan, old: Plan | None = None) -> Plan:
    """Return the plan with like work brought together; the plan itself where nothing is gained.

    Args:
        problem: what is planned.
        plan: one that can be carried out.
        old: the plan up to now; a run of which anything stays where it was is left alone.

    """
    lags = LagsAround(problem)
    sorting = _Sorting(problem, plan, lags)
    was = {} if old is None else {each.key: each.start_min for each in old.placed}
    runs = [run for run in _worth_sorting(problem, plan) if not _stays(run, was)]
    again = [sorting.again(run) for run in runs]
    changed = [run for run in again if run is not None]
    tries = max(LEAST_TRIES, CHECKED_STEPS // max(1, len(plan.placed)))
    groups = [changed] if changed else []
    touched = Touched(problem, lags)
    best = _Scored(plan, score(problem, plan))
    while groups and tries:
        tries -= 1
        group = groups.pop()
        found = _laid(problem, best.plan, group)
        now = _Scored(found, score(problem, found))
        saved = sum([run.saved for run in group])
        moved = [each.key for run in group for each in run.works]
        if _pays(best.score, now.score, saved) and not touched.broken(best.plan, found, moved):
            best = now
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
    """Tell whether anything of a run lies where it lay."""
    return any(was.get(each.key) == each.start_min for each in run)


def _worth_sorting(problem: Problem, plan: Plan) -> Iterator[list[Placed]]:
    """Give the runs of a plan; of a long one those that are near, since that takes its time."""
    until = problem.now_min + NEAR_MIN
    is_long = len(plan.placed) > LONG_STEPS
    for run in _runs(plan):
        if run and not (is_long and run[0].start_min > until):
            yield run


class _Sorting:
    """Sorts the work of a run."""

    def __init__(self, problem: Problem, plan: Plan, lags: LagsAround) -> None:
        self.like = {activity.key: activity.like for activity in problem.activities}
        self._release = {each.key: each.release_min or 0 for each in problem.activities}
        everything: tuple[Done | Placed, ...] = (*problem.done, *plan.placed)
        self._ends = {each.key: each.end_min for each in everything}
        self._starts = {each.key: each.start_min for each in everything}
        self._lags = lags

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
                later = self._starts.get(lag.after)
                if lag.after in latest:
                    later = latest[lag.after] - self._ends[lag.after] + self._starts[lag.after]
                if later is not None:
                    end = min(end, later - lag.least_min)
            latest[each.key] = end
        return latest

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
        last = self.like[again[-1].key] if again else ""
        ready = [each for each in left if self._is_ready(each.key, ends, time)]
        alike = [each for each in ready if self.like[each.key] == last]
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
            lies = lag.before in ends
            if not lies or ends[lag.before] + lag.least_min > time:
                return False
        return True

    def _changes(self, run: Sequence[Placed]) -> int:
        """Return how often one work of a run is followed by another that is not like it."""
        alike = [self.like[one.key] == self.like[other.key] for one, other in pairwise(run)]
        return alike.count(False)


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
    """Return the plan with some of its runs laid again."""
    moved = {each.key: each for run in runs for each in run.works}
    placed = [moved.get(each.key, each) for each in plan.placed]
    placed.sort(key=lambda each: (each.start_min, each.key))
    return Plan(tuple(placed), misses_of(problem, placed), plan.left_out, mixed_of(problem, placed))


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
