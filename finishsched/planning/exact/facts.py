"""What of a problem is still open, looked up once: for building the exact model."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.planning.hands_work import SetUpMinutes, set_up_minutes
from finishsched.planning.problem import Activity, Done, Goal, Hands, Lag, Problem, RoomRule
from finishsched.planning.window import Window


class Deadline(NamedTuple):
    """A window that began with something done, and the latest start that keeps it."""

    lag: Lag
    latest_min: int


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
    deadlines: tuple[Deadline, ...]
    set_ups: dict[str, SetUpMinutes]
    """By each kind of work that takes any."""


def facts_of(problem: Problem, left_out: Collection[str]) -> Facts:
    """Look up everything about ``problem`` without the activities ``left_out``."""
    done = {item.key: item for item in problem.done}
    gone = done.keys() | set(left_out)
    open_ = {item.key: item for item in problem.activities if item.key not in gone}
    past = {item.key: item for item in problem.activities if item.key in done}
    between_open: list[Lag] = []
    from_past: list[Lag] = []
    for lag in problem.lags:
        if lag.after not in open_:
            continue
        if lag.before in open_:
            between_open.append(lag)
        elif lag.before in done:
            from_past.append(lag)
    set_ups = set_up_minutes(problem.set_ups)
    facts = Facts(
        problem=problem,
        open=open_,
        done=done,
        past=past,
        goals={goal.key: goal for goal in problem.goals},
        hands={hands.name: hands for hands in problem.hands},
        lags=tuple(between_open),
        earliest_min={},
        deadlines=tuple(_deadlines(from_past, done)),
        set_ups={kind: takes for kind, takes in set_ups.items() if any(takes)},
    )
    _push_earliest(facts, [*between_open, *from_past])
    return facts


def _deadlines(from_past: Iterable[Lag], done: dict[str, Done]) -> Iterator[Deadline]:
    """Give the windows that began with something done."""
    for lag in from_past:
        if lag.most_min is not None:
            began_min = done[lag.before].end_min
            yield Deadline(lag, began_min + lag.most_min)


def _push_earliest(facts: Facts, lags: list[Lag]) -> None:
    """Note the least start of each open activity.

    Starts are pushed along the lags, no more often than there are activities: a cycle may not end.
    """
    earliest = facts.earliest_min
    for key, activity in facts.open.items():
        earliest[key] = _released(facts, activity)
    for _round in range(len(facts.open) + 1):
        moved = False
        for lag in lags:
            pushed = _least_end(facts, lag.before) + lag.least_min
            if pushed > earliest[lag.after]:
                earliest[lag.after] = pushed
                moved = True
        if not moved:
            break


def _released(facts: Facts, activity: Activity) -> int:
    """Return when an activity could start if it waited for nothing."""
    now_min = facts.problem.now_min
    release_min = activity.release_min or now_min
    return max(now_min, release_min, _room_free(facts, activity))


def _least_end(facts: Facts, key: str) -> int:
    """Return when something done ended, or when an open activity ends at the earliest."""
    if key in facts.done:
        return facts.done[key].end_min
    return facts.earliest_min[key] + facts.open[key].minutes


def _room_free(facts: Facts, activity: Activity) -> int:
    """Return when the room has got over what happened in it, as far as ``activity`` minds."""
    problem = facts.problem
    free_min = problem.now_min
    rules = [rule for rule in problem.rules if rule.room == activity.room]
    for rule in rules:
        for key, other in facts.past.items():
            if other.room == rule.room:
                over_min = _over_in_room(rule, activity, other, facts.done[key])
                free_min = max(free_min, over_min)
    return free_min


def _over_in_room(rule: RoomRule, activity: Activity, other: Activity, there: Done) -> int:
    """Return when a room has got over something done, as far as an activity minds, or 0.

    Either that stirred up what the activity is bare to, or it lies bare to what this stirs up.

    Args:
        rule: a rule of the room.
        activity: what is to start.
        other: what was done in the room.
        there: when that was.

    Returns:
        The minute.

    """
    over_min = 0
    stirred = rule.stirs in other.stirs and there.end_min > there.start_min
    lies_bare = any(activity.minutes + after_min for after_min in bare_for(activity, rule.stirs))
    if stirred and lies_bare:
        over_min = max(over_min, there.end_min + rule.settle_min)
    if rule.stirs in activity.stirs and activity.minutes:
        for after_min in bare_for(other, rule.stirs):
            over_min = max(over_min, there.end_min + after_min)
    return over_min


def bare_for(activity: Activity, stirs: str) -> tuple[int, ...]:
    """Return for how long after its end ``activity`` minds ``stirs``, for each time it is said."""
    return tuple(bare.after_min for bare in activity.bare if bare.stirred == stirs)


def closed(
    windows: Iterable[Window],
    taken: Iterable[Window],
    from_min: int,
    to_min: int,
) -> list[Window]:
    """Return when hands cannot begin anything between two minutes: outside hours, or at work.

    Args:
        windows: the hours, in the order of time.
        taken: when hands are at work; it may lie outside the hours.
        from_min: what is over by then is not told.
        to_min: what begins from then on is not told.

    Returns:
        Windows that do not touch.

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
    """Return what lies between windows, from one minute up to another.

    Args:
        windows: in the order of time; they do not touch.
        from_min: what lies before is not told.
        to_min: what lies after is not told.

    """
    gaps: list[Window] = []
    at = from_min
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
    last_windows = [hands.windows[-1] for hands in problem.hands if hands.windows]
    last = max([window.end_min for window in last_windows], default=0)
    start = max(problem.now_min, last, *facts.earliest_min.values(), 0)
    return start + _all_minutes(facts)


def _all_minutes(facts: Facts) -> int:
    """Return all the minutes that anything could take, one after the other."""
    total = sum(rule.settle_min for rule in facts.problem.rules)
    for item in facts.open.values():
        total += item.minutes + item.tail_min
        total += max((bare.after_min for bare in item.bare), default=0)
        total += sum(use.hold_min for use in item.uses)
    for lag in facts.problem.lags:
        total += max(lag.least_min, 0) + (lag.remedy_min or 0)
    return total
