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
    """When those were done that are, by key."""
    past: dict[str, Activity]
    """The activities that are done or running, by key."""
    goals: dict[str, Goal]
    """By key."""
    hands: dict[str, Hands]
    """By name."""
    lags: tuple[Lag, ...]
    """Those from one open activity to another."""
    earliest_min: dict[str, int]
    """The least start of each open activity that now, releases, lags and rooms allow."""
    deadlines: tuple[Deadline, ...]
    set_ups: dict[str, SetUpMinutes]
    """By each kind of work that takes any beside other work."""
    at_end_min: dict[str, int]
    """By each kind of work that is over some minutes before the hours end."""


def facts_of(problem: Problem, left_out: Collection[str]) -> Facts:
    """Look up everything about a problem without some of its activities.

    Args:
        problem: what is planned.
        left_out: the keys of activities that are not in the model at all.

    """
    done = {item.key: item for item in problem.done}
    gone = done.keys() | set(left_out)
    open_: dict[str, Activity] = {}
    past: dict[str, Activity] = {}
    for activity in problem.activities:
        if activity.key in done:
            past[activity.key] = activity
        elif activity.key not in gone:
            open_[activity.key] = activity
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
    taking_time = {kind: takes for kind, takes in set_ups.items() if takes.before or takes.after}
    at_end_min = {kind: takes.at_end for kind, takes in set_ups.items() if takes.at_end}
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
        set_ups=taking_time,
        at_end_min=at_end_min,
    )
    _push_earliest(facts, [*between_open, *from_past])
    return facts


def _deadlines(from_past: Iterable[Lag], done: dict[str, Done]) -> Iterator[Deadline]:
    """Give the windows that began with something done.

    Args:
        from_past: lags that begin with it, with a window or without.
        done: when it was, by key.

    """
    for lag in from_past:
        if lag.most_min is not None:
            began_min = done[lag.before].end_min
            latest_min = began_min + lag.most_min
            yield Deadline(lag, latest_min)


def _push_earliest(facts: Facts, lags: list[Lag]) -> None:
    """Note the least start of each open activity.

    Starts are pushed along the lags, no more often than there are activities: a cycle may not end.

    Args:
        facts: takes what is found.
        lags: to open activities, from open ones or from done ones.

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
    """Return when an activity could start if it waited for nothing.

    Args:
        facts: knows what time it is, and what is done.
        activity: one that is open.

    """
    now_min = facts.problem.now_min
    release_min = activity.release_min or now_min
    return max(now_min, release_min, _room_free(facts, activity))


def _least_end(facts: Facts, key: str) -> int:
    """Return when something done ended, or when an open activity ends at the earliest.

    Args:
        facts: what is done, and the least starts of the others so far.
        key: the activity.

    """
    if key in facts.done:
        return facts.done[key].end_min
    return facts.earliest_min[key] + facts.open[key].minutes


def _room_free(facts: Facts, activity: Activity) -> int:
    """Return when the room has got over what happened in it, as far as ``activity`` minds.

    Args:
        facts: knows the rules of rooms, and what is done.
        activity: one that is open.

    """
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
    took_time = there.end_min > there.start_min
    stirred = rule.stirs in other.stirs and took_time
    bare_min = [activity.minutes + after_min for after_min in bare_for(activity, rule.stirs)]
    if stirred and any(bare_min):
        settled_min = there.end_min + rule.settle_min
        over_min = max(over_min, settled_min)
    if rule.stirs in activity.stirs and activity.minutes:
        for after_min in bare_for(other, rule.stirs):
            covered_min = there.end_min + after_min
            over_min = max(over_min, covered_min)
    return over_min


def bare_for(activity: Activity, stirs: str) -> tuple[int, ...]:
    """Return for how many minutes after its end an activity minds what is stirred up.

    Args:
        activity: what may lie bare.
        stirs: what is stirred up, such as dust.

    Returns:
        One figure for each time that it is said.

    """
    after_min = [bare.after_min for bare in activity.bare if bare.stirred == stirs]
    return tuple(after_min)


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
    latest = max(0, problem.now_min)
    for hands in problem.hands:
        if hands.windows:
            latest = max(latest, hands.windows[-1].end_min)
    for earliest_min in facts.earliest_min.values():
        latest = max(latest, earliest_min)
    return latest + _all_minutes(facts)


def _all_minutes(facts: Facts) -> int:
    """Return all the minutes that anything could take, one after the other."""
    total = 0
    for rule in facts.problem.rules:
        total += rule.settle_min
    for activity in facts.open.values():
        bare_min = [bare.after_min for bare in activity.bare]
        hold_min = [use.hold_min for use in activity.uses]
        total += activity.minutes + activity.tail_min
        total += max(bare_min, default=0)
        total += sum(hold_min)
    for lag in facts.problem.lags:
        mending_min = lag.remedy_min or 0
        total += max(lag.least_min, 0) + mending_min
    return total
