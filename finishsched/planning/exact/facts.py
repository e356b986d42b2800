"""What of a problem is still open, looked up once: for building the exact model."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from finishsched.planning.problem import Activity, Done, Goal, Hands, Lag, Problem
from finishsched.planning.window import Window


@dataclass(frozen=True, slots=True)
class Facts:
    """The activities to place, and what the past leaves them."""

    problem: Problem
    open: dict[str, Activity]
    """Those to place, by key."""
    done: dict[str, Done]
    past: dict[str, Activity]
    """The activities that are done or running, by key."""
    goals: dict[str, Goal]
    hands: dict[str, Hands]
    lags: tuple[Lag, ...]
    """Those from one open activity to another."""
    earliest_min: dict[str, int]
    """The least start of each open activity that now, releases, lags and rooms allow."""
    deadlines: tuple[tuple[Lag, int], ...]
    """Windows that began with something done, with their end."""
    set_ups: dict[str, tuple[int, int]]
    """The minutes before and after each kind of work that has any."""


def facts_of(problem: Problem, left_out: Collection[str]) -> Facts:
    """Look up everything about ``problem`` without the activities ``left_out``."""
    done = {item.key: item for item in problem.done}
    gone = done.keys() | set(left_out)
    open_ = {item.key: item for item in problem.activities if item.key not in gone}
    past = {item.key: item for item in problem.activities if item.key in done}
    from_past = [lag for lag in problem.lags if lag.before in done and lag.after in open_]
    lags = tuple(lag for lag in problem.lags if lag.before in open_ and lag.after in open_)
    return Facts(
        problem,
        open_,
        done,
        past,
        {goal.key: goal for goal in problem.goals},
        {hands.name: hands for hands in problem.hands},
        lags,
        _earliest(problem, open_, past, done, [*lags, *from_past]),
        tuple(
            (lag, done[lag.before].end_min + lag.most_min)
            for lag in from_past
            if lag.most_min is not None
        ),
        {
            item.kind: (item.before_min, item.after_min)
            for item in problem.set_ups
            if item.before_min or item.after_min
        },
    )


def _earliest(
    problem: Problem,
    open_: dict[str, Activity],
    past: dict[str, Activity],
    done: dict[str, Done],
    lags: Iterable[Lag],
) -> dict[str, int]:
    """Push starts along the lags, no more often than there are activities: a cycle may not end."""
    earliest = {
        key: max(
            problem.now_min,
            item.release_min or problem.now_min,
            _room_free(problem, item, past, done),
        )
        for key, item in open_.items()
    }
    lags = list(lags)
    for _round in range(len(open_) + 1):
        moved = False
        for lag in lags:
            before = lag.before
            end = (
                done[before].end_min if before in done else earliest[before] + open_[before].minutes
            )
            if end + lag.least_min > earliest[lag.after]:
                earliest[lag.after] = end + lag.least_min
                moved = True
        if not moved:
            break
    return earliest


def _room_free(
    problem: Problem, item: Activity, past: dict[str, Activity], done: dict[str, Done]
) -> int:
    """Return when the room has got over what happened in it, as far as ``item`` minds."""
    free = problem.now_min
    for rule in problem.rules:
        if rule.room != item.room:
            continue
        for key, other in past.items():
            if other.room != rule.room:
                continue
            stirred = rule.stirs in other.stirs and done[key].end_min > done[key].start_min
            if stirred and any(item.minutes + after for after in bare_for(item, rule.stirs)):
                free = max(free, done[key].end_min + rule.settle_min)
            if rule.stirs in item.stirs and item.minutes:
                free = max([free, *(done[key].end_min + m for m in bare_for(other, rule.stirs))])
    return free


def bare_for(activity: Activity, stirs: str) -> tuple[int, ...]:
    """Return for how long after its end ``activity`` minds ``stirs``, for each time it is said."""
    return tuple(bare.after_min for bare in activity.bare if bare.stirred == stirs)


def closed(
    windows: Iterable[Window], taken: Iterable[Window], from_min: int, to_min: int
) -> list[Window]:
    """Return when hands cannot begin anything between the two times: outside hours, or at work.

    What is ``taken`` may lie outside the hours; the answer is joined up, so that it never meets
    itself.
    """
    joined: list[Window] = []
    for block in sorted([*_between(windows, from_min, to_min), *taken]):
        if block.end_min <= from_min or block.start_min >= to_min:
            continue
        if joined and block.start_min <= joined[-1].end_min:
            last = joined.pop()
            joined.append(Window(last.start_min, max(last.end_min, block.end_min)))
        else:
            joined.append(block)
    return joined


def _between(windows: Iterable[Window], from_min: int, to_min: int) -> list[Window]:
    gaps, at = [], from_min
    for window in windows:
        if window.end_min <= from_min:
            continue
        if window.start_min > at:
            gaps.append(Window(at, min(window.start_min, to_min)))
        at = window.end_min
        if at >= to_min:
            return gaps
    gaps.append(Window(at, to_min))
    return gaps


def horizon_min(facts: Facts) -> int:
    """Return a time by which everything can be over, however badly it is planned."""
    problem = facts.problem
    last = max((hands.windows[-1].end_min for hands in problem.hands if hands.windows), default=0)
    start = max(problem.now_min, last, *facts.earliest_min.values(), 0)
    return start + _all_minutes(facts)


def _all_minutes(facts: Facts) -> int:
    total = sum(rule.settle_min for rule in facts.problem.rules)
    for item in facts.open.values():
        total += item.minutes + item.tail_min
        total += max((bare.after_min for bare in item.bare), default=0)
        total += sum(use.hold_min for use in item.uses)
    for lag in facts.problem.lags:
        total += max(lag.least_min, 0) + (lag.remedy_min or 0)
    return total
