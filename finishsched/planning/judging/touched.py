"""What of a plan a change touches, as a plan of its own: the checker need judge no more than that.

Of a plan that can be carried out some work is moved. Whether it still can be hangs on what was
moved, what waits for it, and what lies in the same stretch of time: in its hands, its rooms, its
stores, its pots. All else is as it was. So that part is cut out, with whatever it follows as what
is done, and given to the checker, which knows nothing of this.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import TypeAlias

from finishsched.planning.judging.checker import check
from finishsched.planning.judging.violations import There, Violation
from finishsched.planning.lags_around import LagsAround
from finishsched.planning.problem import Done, Lag, Plan, Problem
from finishsched.planning.window import Window

Span: TypeAlias = tuple[int, int]
"""From one minute up to another, both counted."""
Lying: TypeAlias = Mapping[str, There]
"""Where each activity lies that is done or placed."""


class Touched:
    """Judges changes of plans of one problem."""

    def __init__(self, problem: Problem, lags: LagsAround | None = None) -> None:
        """Look up what hangs together.

        Args:
            problem: what is planned.
            lags: those of the problem, by activity, where somebody has looked them up already.

        """
        self._problem = problem
        self._lags = LagsAround(problem) if lags is None else lags
        self._activities = {activity.key: activity for activity in problem.activities}
        settles = [rule.settle_min for rule in problem.rules]
        self._settles_min = max(settles, default=0)
        """For how long anything hangs in a room at the most."""
        self._windows = {hands.name: hands.windows for hands in problem.hands}
        self._holders: dict[str, list[str]] = {}
        """By activity, what holds something until it starts."""
        for activity in problem.activities:
            for use in activity.uses:
                if use.until is not None:
                    self._holders.setdefault(use.until, []).append(activity.key)

    def broken(self, was: Plan, plan: Plan, moved: Iterable[str]) -> tuple[Violation, ...]:
        """Return what is wrong with a plan, as far as what was moved has to do with it.

        Args:
            was: where all lay before. Nothing was wrong with it, or only with what was moved.
            plan: where all lies now: the same activities, in order.
            moved: the keys of all that lies elsewhere, or is done by others.

        """
        part = self._part(was, plan, frozenset(moved))
        return check(*part)

    def _part(self, was: Plan, plan: Plan, moved: AbstractSet[str]) -> tuple[Problem, Plan]:
        """Return the part of a problem, and of its plan, that is to be judged.

        Judged is what was moved, what follows it, and what lies near in time. What these follow, or
        share a mix or a hold with, counts as done: it is there, and no rule judges it.

        Args:
            was: where all lay before.
            plan: where all lies now.
            moved: the keys of all that lies elsewhere, or is done by others.

        """
        before, there = self._lying(was), self._lying(plan)
        spans = self._spans(moved, (before, there))
        near = self._near(spans, there)
        wanted = moved | near | self._following(moved)
        placed = [each for each in plan.placed if each.key in wanted]
        judged = {each.key for each in placed}
        mixed = [mix for mix in plan.mixed if not judged.isdisjoint(mix.keys)]
        misses = [miss for miss in plan.misses if miss.after in judged]
        fixed = near | self._beside(judged)
        for mix in mixed:
            fixed.update(mix.keys)
        # What holds something until another starts holds it for as long here too.
        fixed |= self._ends_of_holds(judged | fixed)
        part = Plan(
            placed=tuple(placed),
            misses=tuple(misses),
            mixed=tuple(mixed),
        )
        return self._cut(judged, fixed - judged, there), part

    def _lying(self, plan: Plan) -> Lying:
        """Return where each activity lies in a plan, or lay if it is done."""
        there: dict[str, There] = {done.key: done for done in self._problem.done}
        there.update({placed.key: placed for placed in plan.placed})
        return there

    def _spans(self, moved: AbstractSet[str], lyings: Iterable[Lying]) -> list[Span]:
        """Return when what was moved is, or was, in anything's way, in order and apart.

        Args:
            moved: the keys of all that lies elsewhere.
            lyings: where all lay before, and where it lies now.

        """
        in_question = set(moved)
        for key in moved:
            in_question.update(self._holders.get(key, ()))
        spans: list[Span] = []
        for there in lyings:
            here = [there[key] for key in in_question if key in there]
            spans += [self._span(each, there) for each in here]
            if self._problem.set_ups:
                spans += self._hours_of([there[key] for key in moved if key in there])
        return _joined(spans)

    def _hours_of(self, those: Iterable[There]) -> Iterator[Span]:
        """Give the hours in which some work lies: set-ups hang on all that is done in them.

        Args:
            those: where the work lies.

        """
        for each in those:
            windows = self._windows.get(each.by or "", ())
            at = bisect_right(windows, each.start_min, key=_opens) - 1
            if at >= 0:
                yield windows[at].start_min, windows[at].end_min

    def _near(self, spans: list[Span], there: Lying) -> set[str]:
        """Return what can be in the way of anything in these spans.

        Args:
            spans: stretches of time, in order and apart.
            there: where all lies.

        """
        found: set[str] = set()
        ends = [last for _, last in spans]
        for key, each in there.items():
            start, last = self._span(each, there)
            at = bisect_left(ends, start)
            if at == len(spans):
                continue
            first_of_span, _ = spans[at]
            if first_of_span <= last:
                found.add(key)
        return found

    def _span(self, each: There, there: Lying) -> Span:
        """Return from when until when an activity can be in anything's way.

        Args:
            each: where it lies.
            there: where all lies.

        """
        activity = self._activities[each.key]
        end = last = each.end_min
        if activity.stirs:
            last = end + self._settles_min
        for bare in activity.bare:
            last = max(last, end + bare.after_min)
        for use in activity.uses:
            last = max(last, end + use.hold_min)
            until = there.get(use.until or "")
            if until is not None:
                last = max(last, until.start_min)
        return each.start_min, last

    def _beside(self, judged: Iterable[str]) -> set[str]:
        """Return what these follow."""
        found: set[str] = set()
        for key in judged:
            found.update([lag.before for lag in self._lags.before(key)])
        return found

    def _following(self, moved: Iterable[str]) -> set[str]:
        """Return what follows these."""
        found: set[str] = set()
        for key in moved:
            found.update([lag.after for lag in self._lags.after(key)])
        return found

    def _ends_of_holds(self, keys: Iterable[str]) -> set[str]:
        """Return what ends the holds of these."""
        found: set[str] = set()
        for key in keys:
            uses = self._activities[key].uses
            found.update([use.until for use in uses if use.until is not None])
        return found

    def _cut(self, judged: AbstractSet[str], fixed: AbstractSet[str], there: Lying) -> Problem:
        """Return the problem with nothing but some of its activities.

        Args:
            judged: the keys of those that are placed.
            fixed: the keys of those that count as done, if they lie anywhere.
            there: where all lies.

        """
        done = [_as_done(there[key]) for key in sorted(fixed) if key in there]
        known = judged | {each.key for each in done}
        activities = [self._activities[key] for key in sorted(known)]
        lags: list[Lag] = []
        for key in sorted(judged):
            lags += self._lags.before(key)
        return replace(
            self._problem,
            activities=tuple(activities),
            lags=tuple(lags),
            done=tuple(done),
        )


def _opens(window: Window) -> int:
    """Return when hours begin, by which they are found."""
    return window.start_min


def _as_done(there: There) -> Done:
    """Return what lies somewhere as if it were done, so that no rule judges it."""
    return Done(there.key, there.start_min, there.end_min, there.by)


def _joined(spans: Iterable[Span]) -> list[Span]:
    """Return spans in order, those that meet as one."""
    joined: list[Span] = []
    for start, last in sorted(spans):
        if joined and start <= joined[-1][1]:
            first_start, first_last = joined.pop()
            joined.append((first_start, max(first_last, last)))
        else:
            joined.append((start, last))
    return joined
