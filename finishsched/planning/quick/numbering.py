"""From a problem to numbered lists: activities that are not done, hands, stores, rooms, goals."""

from __future__ import annotations

from collections.abc import Iterable

from finishsched.planning.problem import Activity, Bare, Done, Lag, Problem, Use
from finishsched.planning.quick.inner import LOOSE, NEVER, NOT, Held, Inner

_Tracks = tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int], ...]]


def inner_of(problem: Problem) -> Inner:
    """Return the problem in numbers."""
    done = {there.key: there for there in problem.done}
    activities = {activity.key: activity for activity in problem.activities}
    todo = [activity for activity in problem.activities if activity.key not in done]
    past = [activities[key] for key in done]
    kinds = {set_up.kind: number for number, set_up in enumerate(problem.set_ups, 1)}
    inner = _empty(problem, todo)
    _add_activities(inner, problem, todo, kinds)
    _add_lags(inner, problem.lags, done)
    _add_rules(inner, problem, todo, past, done)
    _add_uses(inner, problem, todo, past, done)
    _add_hours(inner, problem, activities, kinds)
    _add_reached(inner, problem, past, done)
    inner.line = _in_line(inner)
    _add_what_follows(inner)
    return inner


def _empty(problem: Problem, todo: list[Activity]) -> Inner:
    """Return the lists, as long as they will be and with nothing in them."""
    count = len(todo)
    return Inner(
        keys=[activity.key for activity in todo],
        index={activity.key: number for number, activity in enumerate(todo)},
        minutes=[activity.minutes for activity in todo],
        release=[problem.now_min] * count,
        tail=[activity.tail_min for activity in todo],
        goal=[-1] * count,
        by=[()] * count,
        kind=[0] * count,
        avoids=[()] * count,
        marks=[()] * count,
        uses=[[] for _ in todo],
        ends_uses=[[] for _ in todo],
        before=[[] for _ in todo],
        after=[[] for _ in todo],
        windows=[[] for _ in todo],
        ties=[[] for _ in todo],
        tied=[0] * count,
        deadlines=[[] for _ in todo],
        needs_out=[False] * count,
        gap_starts=[],
        gap_ends=[],
        gap_left=[],
        gap_right=[],
        set_up_before=[0, *(set_up.before_min for set_up in problem.set_ups)],
        set_up_after=[0, *(set_up.after_min for set_up in problem.set_ups)],
        tracks=[[] for _ in range(2 * len(problem.rules))],
        capacity=[store.capacity for store in problem.stores],
        store_base=[[] for _ in problem.stores],
        open_base=[],
        due=[NEVER if goal.due_min is None else goal.due_min for goal in problem.goals],
        goal_floor=[NOT] * len(problem.goals),
        floor_min=NOT,
        now_min=problem.now_min,
    )


def _add_activities(
    inner: Inner, problem: Problem, todo: list[Activity], kinds: dict[str, int]
) -> None:
    """Note whose work each is, of which goal, of what kind, and from when on it may begin."""
    names = {hands.name: number for number, hands in enumerate(problem.hands)}
    goals = {goal.key: number for number, goal in enumerate(problem.goals)}
    numbers: dict[tuple[str, ...], tuple[int, ...]] = {}
    for group in {activity.by for activity in todo}:
        numbers[group] = tuple([names[name] for name in group if name in names])
    for number, activity in enumerate(todo):
        if activity.release_min is not None:
            inner.release[number] = max(problem.now_min, activity.release_min)
        inner.goal[number] = goals.get(activity.goal, -1)
        inner.kind[number] = kinds.get(activity.kind, 0)
        by = inner.by[number] = numbers[activity.by]
        inner.needs_out[number] = bool(activity.by) and not by


def _add_reached(
    inner: Inner, problem: Problem, past: list[Activity], done: dict[str, Done]
) -> None:
    """Note when goals are reached as far as they are done."""
    goals = {goal.key: number for number, goal in enumerate(problem.goals)}
    for activity in past:
        reached = done[activity.key].end_min + activity.tail_min
        inner.floor_min = max(inner.floor_min, reached)
        goal = goals.get(activity.goal, -1)
        if goal >= 0:
            inner.goal_floor[goal] = max(inner.goal_floor[goal], reached)


def _add_what_follows(inner: Inner) -> None:
    """Note what can be told of each activity once all the rest is there."""
    ended = {until for until, _ in inner.open_base}
    for number, ends in enumerate(inner.ends_uses):
        inner.frees.append(bool(ends) or number in ended)
        inner.windowed.append(bool(inner.windows[number] or inner.deadlines[number]))
    for number, uses in enumerate(inner.uses):
        touches = uses or inner.frees[number]
        inner.touches.append(_touched(inner, number) if touches else ())


def _add_lags(inner: Inner, lags: Iterable[Lag], done: dict[str, Done]) -> None:
    index, release = inner.index, inner.release
    before, after, windows = inner.before, inner.after, inner.windows
    for lag in lags:
        second = index.get(lag.after)
        if second is None:
            continue
        first = index.get(lag.before)
        remedy = LOOSE if lag.remedy_min is None else lag.remedy_min
        if first is not None:
            before[second].append((first, lag.least_min))
            after[first].append((second, lag.least_min))
            if lag.most_min is not None:
                windows[second].append((first, lag.most_min, remedy))
                if remedy == LOOSE:
                    inner.ties[first].append(second)
                    inner.tied[second] += 1
        elif lag.before in done:
            end = done[lag.before].end_min
            release[second] = max(release[second], end + lag.least_min)
            if lag.most_min is not None:
                inner.deadlines[second].append((end + lag.most_min, remedy))


def _in_line(inner: Inner) -> list[int] | None:
    count = len(inner.keys)
    waits = [len(before) for before in inner.before]
    line = [number for number in range(count) if not waits[number]]
    for number in line:
        for second, _ in inner.after[number]:
            waits[second] -= 1
            if not waits[second]:
                line.append(second)
    return line if len(line) == count else None


def _add_rules(
    inner: Inner,
    problem: Problem,
    todo: list[Activity],
    past: list[Activity],
    done: dict[str, Done],
) -> None:
    """Each rule has two tracks: when the room is stirred up, and when something is bare in it."""
    rules: dict[str, list[tuple[int, str, int]]] = {}
    for number, rule in enumerate(problem.rules):
        rules.setdefault(rule.room, []).append((number, rule.stirs, rule.settle_min))
    if not rules:
        return
    known: dict[tuple[str, bool, tuple[str, ...], tuple[Bare, ...]], _Tracks] = {}
    for number, activity in enumerate(todo):
        if (activity.stirs or activity.bare) and activity.room in rules:
            lasts = bool(activity.minutes or inner.windows[number] or inner.deadlines[number])
            like = (activity.room, lasts, activity.stirs, activity.bare)
            if like not in known:
                marks = _marks(activity, rules[activity.room], lasts=lasts)
                known[like] = marks, tuple([(track ^ 1, longer) for track, longer in marks])
            inner.marks[number], inner.avoids[number] = known[like]
    for activity in past:
        there = done[activity.key]
        lasted = there.end_min > there.start_min
        for track, longer in _marks(activity, rules.get(activity.room, []), lasts=lasted):
            inner.tracks[track].append((there.start_min, there.end_min + longer))


def _marks(
    activity: Activity, rules: list[tuple[int, str, int]], *, lasts: bool
) -> tuple[tuple[int, int], ...]:
    """Return what an activity marks; one that takes no time stirs up nothing."""
    found = [
        (2 * number, settle) for number, stirs, settle in rules if stirs in activity.stirs and lasts
    ]
    for number, stirs, _ in rules:
        longest = [bare.after_min for bare in activity.bare if bare.stirred == stirs]
        if longest and (lasts or max(longest)):
            found.append((2 * number + 1, max(longest)))
    return tuple(found)


def _add_uses(
    inner: Inner,
    problem: Problem,
    todo: list[Activity],
    past: list[Activity],
    done: dict[str, Done],
) -> None:
    stores = {store.name: number for number, store in enumerate(problem.stores)}
    for number, activity in enumerate(todo):
        for use in activity.uses:
            if not use.from_start and not use.hold_min and use.until is None:
                continue
            until, until_min, known = -1, NOT, False
            if use.until is not None:
                until = inner.index.get(use.until, -1)
                until_min = done[use.until].start_min if use.until in done else NOT
                known = until >= 0 or use.until in done
                if until >= 0:
                    inner.ends_uses[until].append((number, len(inner.uses[number])))
            inner.uses[number].append(
                Held(
                    store=stores[use.store],
                    amount=use.amount,
                    shared=use.amount
                    if len(activity.uses) == 1
                    else sum(u.amount for u in activity.uses if _meet(u, use)),
                    from_start=use.from_start,
                    hold_min=0 if known else use.hold_min,
                    until=until,
                    until_min=until_min,
                ),
            )
    _add_past_uses(inner, stores, past, done)


def _add_past_uses(
    inner: Inner, stores: dict[str, int], past: list[Activity], done: dict[str, Done]
) -> None:
    for activity in past:
        there = done[activity.key]
        for use in activity.uses:
            start = there.start_min if use.from_start else there.end_min
            end = there.end_min + use.hold_min
            if use.until in done:
                end = max(there.end_min, done[use.until].start_min)
            until = -1 if use.until is None else inner.index.get(use.until, -1)
            if until >= 0:
                open_hold = (stores[use.store], start, there.end_min, use.amount)
                inner.open_base.append((until, open_hold))
            elif end > start:
                inner.store_base[stores[use.store]].append((start, end, use.amount))


def _touched(inner: Inner, number: int) -> tuple[int, ...]:
    stores = {use.store for use in inner.uses[number]}
    if not inner.frees[number]:
        return tuple(stores) if len(stores) < 2 else tuple(sorted(stores))
    stores.update(inner.uses[holder][which].store for holder, which in inner.ends_uses[number])
    stores.update(hold[0] for until, hold in inner.open_base if until == number)
    return tuple(sorted(stores))


def _meet(one: Use, other: Use) -> bool:
    """Return whether two uses of one activity can hold the same store at the same time."""
    if one is other:
        return True
    if one.store != other.store:
        return False
    return not any(
        first.from_start and not second.from_start and not first.hold_min and first.until is None
        for first, second in ((one, other), (other, one))
    )


def _add_hours(
    inner: Inner,
    problem: Problem,
    activities: dict[str, Activity],
    kinds: dict[str, int],
) -> None:
    """Cut what is past and what is busy out of the windows; the rest is where hands are free."""
    for hands in problem.hands:
        busy = sorted(
            (there.start_min, there.end_min, kinds.get(activities[there.key].kind, 0))
            for there in problem.done
            if there.by == hands.name
        )
        starts: list[int] = []
        ends: list[int] = []
        left: list[int] = []
        right: list[int] = []
        at = 0
        for window in hands.windows:
            if window.end_min <= problem.now_min:
                continue
            start, kind = window.start_min, 0
            while at < len(busy) and busy[at][1] <= start:
                at += 1
            for busy_start, busy_end, busy_kind in busy[at:]:
                if busy_start >= window.end_min:
                    break
                if busy_start > start:
                    starts.append(start)
                    ends.append(busy_start)
                    left.append(kind)
                    right.append(busy_kind)
                inside = busy_start >= window.start_min
                clear_up = 0 if inside else inner.set_up_after[busy_kind]
                start, kind = max(start, busy_end + clear_up), busy_kind if inside else 0
            if start < window.end_min:
                starts.append(start)
                ends.append(window.end_min)
                left.append(kind)
                right.append(0)
        _cut_past(inner, problem.now_min, (starts, ends, left, right))
        inner.gap_starts.append(starts)
        inner.gap_ends.append(ends)
        inner.gap_left.append(left)
        inner.gap_right.append(right)
        inner.windows_of.append((list(starts), list(ends)))


def _cut_past(inner: Inner, now: int, gaps: tuple[list[int], ...]) -> None:
    """Leave no gap before now; nor can getting ready for another kind of work begin before."""
    starts, ends, left, right = gaps
    while ends and ends[0] <= now:
        for column in (starts, ends, left, right):
            del column[0]
    if starts and starts[0] < now:
        starts[0] = max(starts[0], now - inner.set_up_after[left[0]])
