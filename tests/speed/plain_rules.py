"""The plain rules that a sensible maker plans by, written apart from the planners.

Time runs forward. Whenever somebody is free, whoever is does the first thing in the rule's order
that can be done at that very minute: its waits are over, it ends inside the hours, no dust meets a
wet coat, and the rack has room. Nothing of the planners is used; only the problem is read.

Windows that have a remedy are missed where it comes so, and mended. Of coats that must follow one
another the first is begun only while the hours hold them all, and until the last is laid hands take
up nothing else that would keep them from the next: so does whoever has a pad in hand.
"""

from __future__ import annotations

from bisect import bisect_right, insort
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from finishsched.planning.problem import Activity, Hands, Lag, Miss, Placed, Plan, Problem

FAR = 1 << 40
Order = Callable[[Activity, "Look"], tuple[int, ...]]


@dataclass
class Look:
    """What a rule may look at."""

    due: dict[str, int]
    chain: dict[str, int]
    """By activity, the minutes of work and waits from its start to the end of its piece."""


def _by_due(activity: Activity, look: Look) -> tuple[int, ...]:
    return look.due.get(activity.goal, FAR), -look.chain[activity.key]


def _by_slack(activity: Activity, look: Look) -> tuple[int, ...]:
    return (look.due.get(activity.goal, FAR) - look.chain[activity.key],)


def _by_remaining(activity: Activity, look: Look) -> tuple[int, ...]:
    return (-look.chain[activity.key],)


PLAIN_RULES: dict[str, Order] = {
    "due date": _by_due,
    "slack": _by_slack,
    "longest remaining": _by_remaining,
}


@dataclass
class _State:
    problem: Problem
    ends: dict[str, int] = field(default_factory=dict)
    placed: list[Placed] = field(default_factory=list)
    free_from: dict[str, int] = field(default_factory=dict)
    stirred: dict[str, list[tuple[int, int]]] = field(default_factory=lambda: defaultdict(list))
    wet: dict[str, list[tuple[int, int]]] = field(default_factory=lambda: defaultdict(list))
    held: dict[str, list[tuple[int, int, int]]] = field(default_factory=lambda: defaultdict(list))
    misses: list[Miss] = field(default_factory=list)
    runs: Mapping[str, int] = field(default_factory=dict)
    """By activity, the minutes from its start to the end of what must follow it at once."""
    must: Mapping[str, list[Lag]] = field(default_factory=dict)
    """By activity, what must follow it."""
    promised: dict[str, int] = field(default_factory=dict)
    """By activity that must follow, the last minute at which it can begin."""


def plain_plan(problem: Problem, rule: str) -> Plan:
    """Return the plan that a plain rule makes."""
    due = {goal.key: goal.due_min for goal in problem.goals if goal.due_min is not None}
    before: dict[str, list[Lag]] = defaultdict(list)
    after: dict[str, list[Lag]] = defaultdict(list)
    for lag in problem.lags:
        before[lag.after].append(lag)
        after[lag.before].append(lag)
    activities = {activity.key: activity for activity in problem.activities}
    look = Look(due, _chains(activities, after))
    state = _begun(problem, activities)
    left = [a for a in problem.activities if a.key not in state.ends]
    state.must = {key: [each for each in lags if _must(each)] for key, lags in after.items()}
    state.runs = _runs(activities, state.must)
    follows = {lag.after for lags in state.must.values() for lag in lags}
    place_in_order = {
        a.key: (a.key not in follows, PLAIN_RULES[rule](a, look), at) for at, a in enumerate(left)
    }
    opened: list[tuple[tuple[bool, tuple[int, ...], int], int, Activity]] = []

    def open_up(candidates: list[Activity]) -> None:
        for activity in candidates:
            ready = _ready(state, activity, before[activity.key], problem.now_min)
            if ready is not None:
                insort(opened, (place_in_order[activity.key], ready, activity), key=lambda o: o[0])

    open_up(left)
    now = problem.now_min
    while opened:
        at = 0
        while at < len(opened):
            _, ready, activity = opened[at]
            lags = before[activity.key]
            if ready <= now and _can_begin(state, activity, lags, now):
                minutes = activity.minutes + _mending(state, lags, now)
                hands = _hands(state, activity, now, minutes)
                _place(state, activity, (now, minutes, hands), lags)
                del opened[at]
                open_up([activities[lag.after] for lag in after[activity.key]])
                at = 0
            else:
                at += 1
        times = [_next_event(state, now), *(ready for _, ready, _ in opened if ready > now)]
        now = min([*times, *(at for _, _, each in opened for at in _slots(state, each, now))])
        if now >= FAR:
            break
    state.placed.sort(key=lambda each: (each.start_min, each.key))
    there = {each.key for each in state.placed}
    left_out = tuple(a.key for a in left if a.key not in there)
    return Plan(tuple(state.placed), tuple(state.misses), left_out)


def _begun(problem: Problem, activities: dict[str, Activity]) -> _State:
    """Return what is done already."""
    state = _State(problem)
    for done in problem.done:
        state.ends[done.key] = done.end_min
        if done.by is not None:
            state.free_from[done.by] = max(state.free_from.get(done.by, 0), done.end_min)
        _mark(state, activities[done.key], done.start_min, done.end_min)
    return state


def _can_begin(state: _State, activity: Activity, lags: list[Lag], now: int) -> bool:
    minutes = activity.minutes + _mending(state, lags, now)
    if activity.by and _hands(state, activity, now, minutes) is None:
        return False
    if not _keeps_promises(state, activity, now + minutes):
        return False
    return _room(state, activity, now, minutes) and _rack(state, activity, now, minutes)


def _must(lag: Lag) -> bool:
    return lag.most_min is not None and lag.hard


def _runs(activities: Mapping[str, Activity], must: Mapping[str, list[Lag]]) -> dict[str, int]:
    runs: dict[str, int] = {}
    stack = list(activities)
    while stack:
        key = stack[-1]
        coming = must.get(key, [])
        missing = [lag.after for lag in coming if lag.after not in runs]
        if missing:
            stack.extend(missing)
            continue
        stack.pop()
        rest = [lag.least_min + runs[lag.after] for lag in coming]
        runs[key] = activities[key].minutes + max(rest, default=0)
    return runs


def _keeps_promises(state: _State, activity: Activity, end: int) -> bool:
    """Return whether what must follow something else can still begin in time after ``end``."""
    if activity.key in state.promised:
        return True
    settles = [rule.settle_min for rule in state.problem.rules if rule.stirs in activity.stirs]
    free_from = end + max(settles, default=0)
    return all(free_from <= latest for latest in state.promised.values())


def _slots(state: _State, activity: Activity, now: int) -> Iterator[int]:
    """Give when it could begin so as to end just as a place in its store becomes free."""
    for use in activity.uses:
        for _, end, _ in state.held[use.store]:
            if not use.from_start and end - activity.minutes > now:
                yield end - activity.minutes


def _chains(activities: dict[str, Activity], after: dict[str, list[Lag]]) -> dict[str, int]:
    chains: dict[str, int] = {}

    def chain(key: str) -> int:
        stack = [key]
        while stack:
            top = stack[-1]
            missing = [lag.after for lag in after[top] if lag.after not in chains]
            if missing:
                stack.extend(missing)
                continue
            stack.pop()
            rest = [lag.least_min + chains[lag.after] for lag in after[top]]
            activity = activities[top]
            chains[top] = activity.minutes + max([activity.tail_min, *rest])
        return chains[key]

    return {key: chain(key) for key in activities}


def _ready(state: _State, activity: Activity, lags: list[Lag], now: int) -> int | None:
    if any(lag.before not in state.ends for lag in lags):
        return None
    ready = [state.ends[lag.before] + lag.least_min for lag in lags]
    return max([now, activity.release_min or 0, *ready])


def _mending(state: _State, lags: list[Lag], now: int) -> int:
    return sum(
        lag.remedy_min or 0
        for lag in lags
        if lag.most_min is not None and now > state.ends[lag.before] + lag.most_min
    )


def _hands(state: _State, activity: Activity, now: int, minutes: int) -> str | None:
    for hands in state.problem.hands:
        if hands.name not in activity.by or state.free_from.get(hands.name, 0) > now:
            continue
        at = bisect_right(hands.windows, now, key=lambda window: window.start_min) - 1
        rest = _rest(state, activity, hands)
        over_by = now + minutes + rest + _cleaning(state.problem, activity, alone=not rest)
        if at >= 0 and over_by <= hands.windows[at].end_min:
            return hands.name
    return None


def _cleaning(problem: Problem, activity: Activity, *, alone: bool) -> int:
    """Return the minutes for its tool before the hours end; for a run those of any tool."""
    kept_free = {each.kind: each.at_end_min for each in problem.set_ups}
    return kept_free.get(activity.kind, 0) if alone else max(kept_free.values(), default=0)


def _rest(state: _State, activity: Activity, hands: Hands) -> int:
    """Return the minutes that must follow it in the same hours, where any hours hold them."""
    run = state.runs[activity.key]
    longest = max((window.end_min - window.start_min for window in hands.windows), default=0)
    begun = activity.key in state.promised
    return run - activity.minutes if run <= longest and not begun else 0


def _room(state: _State, activity: Activity, now: int, minutes: int) -> bool:
    for rule in state.problem.rules:
        if rule.room != activity.room:
            continue
        if rule.stirs in activity.stirs:
            end = now + minutes + rule.settle_min
            if any(s < end and now < e for s, e in state.wet[rule.room]):
                return False
        for bare in activity.bare:
            end = now + minutes + bare.after_min
            if bare.stirred == rule.stirs and any(
                s < end and now < e for s, e in state.stirred[rule.room]
            ):
                return False
    return True


def _rack(state: _State, activity: Activity, now: int, minutes: int) -> bool:
    capacity = {store.name: store.capacity for store in state.problem.stores}
    for use in activity.uses:
        first = now if use.from_start else now + minutes
        there = sum(n for s, e, n in state.held[use.store] if s <= first < e)
        if there + use.amount > capacity[use.store]:
            return False
    return True


def _mark(state: _State, activity: Activity, start: int, end: int) -> None:
    for rule in state.problem.rules:
        if rule.room == activity.room:
            if rule.stirs in activity.stirs:
                state.stirred[rule.room].append((start, end + rule.settle_min))
            for bare in activity.bare:
                state.wet[rule.room].append((start, end + bare.after_min))
    for use in activity.uses:
        first = start if use.from_start else end
        state.held[use.store].append((first, end + use.hold_min, use.amount))


def _place(
    state: _State, activity: Activity, where: tuple[int, int, str | None], lags: list[Lag]
) -> None:
    start, minutes, hands = where
    end = start + minutes
    state.ends[activity.key] = end
    state.placed.append(Placed(activity.key, start, end, hands))
    if hands is not None:
        state.free_from[hands] = end
    _mark(state, activity, start, end)
    state.promised.pop(activity.key, None)
    for lag in state.must.get(activity.key, ()):
        state.promised[lag.after] = end + (lag.most_min or 0)
    for lag in lags:
        if lag.most_min is not None and start > state.ends[lag.before] + lag.most_min:
            late = start - state.ends[lag.before] - lag.most_min
            state.misses.append(Miss(lag.before, lag.after, late, lag.hard))


def _next_event(state: _State, now: int) -> int:
    """Return the next minute at which something can become possible that was not."""
    times = [time for time in state.free_from.values() if time > now]
    for hands in state.problem.hands:
        at = bisect_right(hands.windows, now, key=lambda window: window.start_min)
        times += [window.start_min for window in hands.windows[at : at + 1]]
    for marks in (state.stirred, state.wet):
        for room, stretches in marks.items():
            marks[room] = [each for each in stretches if each[1] > now]
            times += [end for _, end in marks[room]]
    for store, held in state.held.items():
        state.held[store] = [each for each in held if each[1] > now]
        times += [end for _, end, _ in state.held[store] if end > now]
    return min(times, default=FAR)
