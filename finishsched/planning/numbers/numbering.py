"""From a problem to numbered lists: activities that are not done, their waits, windows and goals.

What the activities share is numbered by `shared.py`, free hours by `hours.py`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from finishsched.planning.numbers.hours import add_hours
from finishsched.planning.numbers.inner import LOOSE, MOST_IN_VAIN, NEVER, NOT, Inner
from finishsched.planning.numbers.shared import add_rules, add_uses, touched_stores
from finishsched.planning.problem import Activity, Done, Lag, Problem, SetUp

NO_SET_UP = 0
"""The minutes for work of no kind that needs any: the kind with the number 0."""


@dataclass(frozen=True, slots=True)
class _Sorted:
    """The activities of a problem, told apart by whether they are done."""

    by_key: dict[str, Activity]
    """All of them, by key."""
    todo: list[Activity]
    """Those that are not done, in the order of the problem: their places are their numbers."""
    past: list[Activity]
    """Those that are done, or running."""
    done: dict[str, Done]
    """When those were done, by key."""


_KNOWN = 2
"""So many problems are kept in numbers: one asks for the same again and again."""
_known: list[tuple[Problem, Inner]] = []


def inner_of(problem: Problem) -> Inner:
    """Return the problem in numbers.

    Args:
        problem: one in which every name stands for something that is there.

    Returns:
        Lists in which an activity, a goal, a store and a pair of hands are each known by their
        place: to look something up there is what the planner does most, and nothing is quicker.

    """
    # By identity: nothing of a problem can change, and to compare it would take longer.
    for other, inner in tuple(_known):
        if other is problem:
            return replace(inner, vain_left=MOST_IN_VAIN)
    inner = _numbered(problem)
    _known.insert(0, (problem, inner))
    del _known[_KNOWN:]
    return replace(inner)


def _numbered(problem: Problem) -> Inner:
    """Return the problem in numbers, worked out.

    Each step fills some of the lists; the last two look at what the others have filled.
    """
    sorted_ = _sorted(problem)
    # Work that takes no set-up has the number 0.
    kinds = {set_up.kind: number for number, set_up in enumerate(_beside_work(problem), 1)}
    inner = _empty(problem, sorted_.todo)
    _add_activities(inner, problem, sorted_.todo, kinds)
    _add_lags(inner, problem.lags, sorted_.done)
    add_rules(inner, problem, sorted_.todo, sorted_.past, sorted_.done)
    add_uses(inner, problem, sorted_.todo, sorted_.past, sorted_.done)
    add_hours(inner, problem, sorted_.by_key, kinds)
    _add_reached(inner, problem, sorted_)
    inner.line = _in_line(inner)
    _add_what_follows(inner)
    return inner


def _beside_work(problem: Problem) -> list[SetUp]:
    """Return the set-ups that take time beside other work, not only at the end of the hours."""
    return [each for each in problem.set_ups if each.before_min or each.after_min]


def _sorted(problem: Problem) -> _Sorted:
    """Tell apart what is done and what is to be done."""
    by_key = {activity.key: activity for activity in problem.activities}
    done = {there.key: there for there in problem.done}
    todo = [activity for activity in problem.activities if activity.key not in done]
    past = [by_key[key] for key in done]
    return _Sorted(by_key=by_key, todo=todo, past=past, done=done)


def _empty(problem: Problem, todo: list[Activity]) -> Inner:
    """Return the lists, as long as they will be and with nothing in them.

    What the problem says outright of each activity, goal, store and kind of work is there already.

    Args:
        problem: has goals, stores, kinds of work and rules of rooms.
        todo: the activities that are not done, in the order of their numbers.

    """
    count = len(todo)
    get_ready_min = [set_up.before_min for set_up in _beside_work(problem)]
    clear_up_min = [set_up.after_min for set_up in _beside_work(problem)]
    at_end_min = {set_up.kind: set_up.at_end_min for set_up in problem.set_ups}
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
        in_one_sitting=[False] * count,
        needs_out=[False] * count,
        gap_starts=[],
        gap_ends=[],
        gap_left=[],
        gap_right=[],
        set_up_before=[NO_SET_UP, *get_ready_min],
        set_up_after=[NO_SET_UP, *clear_up_min],
        at_end=[at_end_min.get(each.kind, 0) if each.minutes else 0 for each in todo],
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
    inner: Inner,
    problem: Problem,
    todo: list[Activity],
    kinds: dict[str, int],
) -> None:
    """Note whose work each is, of which goal, of what kind, and from when on it may begin.

    Args:
        inner: takes what is found.
        problem: has hands and goals.
        todo: the activities that are not done, in the order of their numbers.
        kinds: the number of each kind of work that has a set-up.

    """
    goals = _goal_numbers(problem)
    hands = _hands_numbers(problem, todo)
    for number, activity in enumerate(todo):
        if activity.release_min is not None:
            inner.release[number] = max(problem.now_min, activity.release_min)
        inner.goal[number] = goals.get(activity.goal, -1)
        inner.kind[number] = kinds.get(activity.kind, 0)
        by = hands[activity.by]
        inner.by[number] = by
        nobody_is_there = bool(activity.by) and not by
        inner.needs_out[number] = nobody_is_there


def _goal_numbers(problem: Problem) -> dict[str, int]:
    """Return the number of each goal, by its key."""
    return {goal.key: number for number, goal in enumerate(problem.goals)}


def _hands_numbers(
    problem: Problem,
    todo: list[Activity],
) -> dict[tuple[str, ...], tuple[int, ...]]:
    """Return the numbers of each group of hands that is named; unknown names are passed over.

    Args:
        problem: has the hands.
        todo: the activities that are not done.

    """
    numbers = {hands.name: number for number, hands in enumerate(problem.hands)}
    groups = {activity.by for activity in todo}
    found: dict[tuple[str, ...], tuple[int, ...]] = {}
    for group in groups:
        known = [name for name in group if name in numbers]
        found[group] = tuple([numbers[name] for name in known])
    return found


def _add_lags(inner: Inner, lags: Iterable[Lag], done: dict[str, Done]) -> None:
    """Note waits and windows; those that begin with something done become releases and deadlines.

    What follows something that is neither to be done nor done is held by nothing.

    Args:
        inner: takes what is found.
        lags: all of the problem.
        done: what is done, by key.

    """
    for lag in lags:
        second = inner.index.get(lag.after)
        if second is None:
            continue
        if lag.hard and lag.in_one_sitting:
            inner.in_one_sitting[second] = True
        first = inner.index.get(lag.before)
        if first is not None:
            _add_open_lag(inner, lag, first, second)
        elif lag.before in done:
            _add_lag_from_past(inner, lag, done[lag.before].end_min, second)


def _add_open_lag(inner: Inner, lag: Lag, first: int, second: int) -> None:
    """Note a lag between two activities that are both to be done.

    A window that must not be missed ties the two: what is loose may wait, what is tied may not.

    Args:
        inner: takes what is found.
        lag: the wait between them, and its window.
        first: the number of the one before.
        second: the number of the one after.

    """
    inner.before[second].append((first, lag.least_min))
    inner.after[first].append((second, lag.least_min))
    if lag.most_min is None:
        return
    remedy = _remedy_of(lag)
    inner.windows[second].append((first, lag.most_min, remedy))
    if remedy == LOOSE:
        inner.ties[first].append(second)
        inner.tied[second] += 1


def _add_lag_from_past(inner: Inner, lag: Lag, ended_min: int, second: int) -> None:
    """Note a lag that runs since something done ended.

    Args:
        inner: takes what is found.
        lag: the wait, and its window.
        ended_min: when the one before ended.
        second: the number of the one after.

    """
    earliest = ended_min + lag.least_min
    inner.release[second] = max(inner.release[second], earliest)
    if lag.most_min is not None:
        latest = ended_min + lag.most_min
        inner.deadlines[second].append((latest, _remedy_of(lag)))


def _remedy_of(lag: Lag) -> int:
    """Return the minutes that mend a missed window, or LOOSE where nothing does."""
    return LOOSE if lag.remedy_min is None else lag.remedy_min


def _add_reached(inner: Inner, problem: Problem, sorted_: _Sorted) -> None:
    """Note when goals are reached as far as they are done.

    Args:
        inner: takes what is found.
        problem: has the goals.
        sorted_: the activities that are done, and when they were.

    """
    goals = _goal_numbers(problem)
    for activity in sorted_.past:
        ended_min = sorted_.done[activity.key].end_min
        reached = ended_min + activity.tail_min
        inner.floor_min = max(inner.floor_min, reached)
        goal = goals.get(activity.goal, -1)
        if goal >= 0:
            last_so_far = inner.goal_floor[goal]
            inner.goal_floor[goal] = max(last_so_far, reached)


def _in_line(inner: Inner) -> list[int] | None:
    """Return all activities so that each stands after those it waits for; None for a circle.

    The line grows while it is gone through: whoever has nothing left to wait for joins its end.
    What waits in a circle never does.
    """
    count = len(inner.keys)
    open_waits = [len(before) for before in inner.before]
    line = [number for number in range(count) if not open_waits[number]]
    for number in line:
        for second, _ in inner.after[number]:
            open_waits[second] -= 1
            if not open_waits[second]:
                line.append(second)
    return line if len(line) == count else None


def _add_what_follows(inner: Inner) -> None:
    """Note what can be told of each activity once all the rest is there."""
    ended = {until for until, _ in inner.open_base}
    for number, ends in enumerate(inner.ends_uses):
        frees = bool(ends) or number in ended
        inner.frees.append(frees)
        can_miss = inner.windows[number] or inner.deadlines[number]
        inner.windowed.append(bool(can_miss))
    for number, uses in enumerate(inner.uses):
        changes_stores = bool(uses) or inner.frees[number]
        stores = touched_stores(inner, number) if changes_stores else ()
        inner.touches.append(stores)
