"""Hold a plan against its problem: the judge of every planner, which shares no code with any.

It asks of each rule by itself whether the plan keeps it, from nothing but the two. What is done is
judged by no rule, but everything else is judged against it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TypeAlias

from finishsched.planning.problem import (
    Done,
    Hands,
    Lag,
    Placed,
    Plan,
    Problem,
    RoomRule,
    Store,
    Use,
)
from finishsched.planning.window import Window

There: TypeAlias = Placed | Done


class Broken(StrEnum):
    """Which rule a plan breaks."""

    UNKNOWN = "unknown"
    """It speaks of an activity that there is not."""
    TWICE = "twice"
    PAST = "past moved"
    """It places what is done."""
    UNPLACED = "unplaced"
    """It neither places an activity nor says that it is left out."""
    ORDER = "order"
    """It is not in the order of starts and then of keys."""
    LENGTH = "length"
    """An activity is not as long as it and its remedies are."""
    NOW = "before now"
    RELEASE = "before release"
    HANDS = "wrong hands"
    HOURS = "outside hours"
    OVERLAP = "hands in two places"
    SET_UP = "set-up"
    EARLY = "too early"
    """Less than the least lag."""
    AFTER_NOTHING = "after nothing"
    """It follows something that is left out."""
    MISS = "miss not told"
    """A window is missed and the plan does not say so, or not by how much; or the reverse."""
    STORE = "store"
    ROOM = "room"


@dataclass(frozen=True, slots=True)
class Violation:
    """One rule broken by one or two activities."""

    kind: Broken
    keys: tuple[str, ...]
    minutes: int
    """By how much, where that can be said; else 0."""
    sentence: str


def check(problem: Problem, plan: Plan) -> tuple[Violation, ...]:
    """Return everything that is wrong with a plan; nothing when it can be carried out."""
    wrong = tuple(_bookkeeping(problem, plan))
    if any(v.kind in (Broken.UNKNOWN, Broken.TWICE, Broken.PAST) for v in wrong):
        return wrong
    scene = _Scene(problem, plan)
    return (
        *wrong,
        *_times(scene),
        *_lags(scene),
        *_hands(scene),
        *_stores(scene),
        *_rooms(scene),
    )


class _Scene:
    """A problem and a plan, looked up."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        self.problem = problem
        self.plan = plan
        self.activities = {activity.key: activity for activity in problem.activities}
        self.placed = {placed.key: placed for placed in plan.placed}
        self.there: dict[str, There] = {done.key: done for done in problem.done}
        self.there.update(self.placed)


def _bookkeeping(problem: Problem, plan: Plan) -> Iterator[Violation]:
    known = {activity.key for activity in problem.activities}
    done = {each.key for each in problem.done}
    named = Counter([*(placed.key for placed in plan.placed), *plan.left_out])
    for key, times in named.items():
        if key not in known:
            yield Violation(Broken.UNKNOWN, (key,), 0, f"there is no activity {key}")
        elif times > 1:
            yield Violation(Broken.TWICE, (key,), 0, f"{key} is there {times} times")
        elif key in done:
            yield Violation(Broken.PAST, (key,), 0, f"{key} is done and is planned again")
    for key in sorted(known - done - named.keys()):
        yield Violation(Broken.UNPLACED, (key,), 0, f"{key} is neither placed nor left out")
    for first, second in pairwise(plan.placed):
        if (first.start_min, first.key) > (second.start_min, second.key):
            keys = (first.key, second.key)
            yield Violation(Broken.ORDER, keys, 0, f"{second.key} stands after {first.key}")


def _times(scene: _Scene) -> Iterator[Violation]:
    mending = _mending(scene)
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
        for kind, bound in (
            (Broken.NOW, scene.problem.now_min),
            (Broken.RELEASE, activity.release_min),
        ):
            if bound is not None and placed.start_min < bound:
                short = bound - placed.start_min
                sentence = f"{placed.key} starts {short} minutes {kind.value}"
                yield Violation(kind, (placed.key,), short, sentence)


def _late_min(lag: Lag, scene: _Scene) -> int:
    """Return by how much a window is missed by something placed; 0 or less when it is kept."""
    before, after = scene.there.get(lag.before), scene.placed.get(lag.after)
    if lag.most_min is None or before is None or after is None:
        return 0
    return after.start_min - before.end_min - lag.most_min


def _mending(scene: _Scene) -> Counter[str]:
    """Return for each activity the minutes of every remedy that it needs."""
    found: Counter[str] = Counter()
    for lag in scene.problem.lags:
        if lag.remedy_min and _late_min(lag, scene) > 0:
            found[lag.after] += lag.remedy_min
    return found


def _lags(scene: _Scene) -> Iterator[Violation]:
    missed: Counter[tuple[str, str, int, bool]] = Counter()
    for lag in scene.problem.lags:
        late = _late_min(lag, scene)
        if late > 0:
            missed[lag.before, lag.after, late, lag.remedy_min is None] += 1
        yield from _least(lag, scene)
    told = Counter((m.before, m.after, m.late_min, m.hard) for m in scene.plan.misses)
    for before, after, late, _ in (missed - told).elements():
        sentence = f"{after} misses the window after {before} by {late} minutes, untold"
        yield Violation(Broken.MISS, (before, after), late, sentence)
    for before, after, late, _ in (told - missed).elements():
        sentence = f"{after} is said to miss the window after {before} by {late} minutes"
        yield Violation(Broken.MISS, (before, after), late, f"{sentence}, and does not")


def _least(lag: Lag, scene: _Scene) -> Iterator[Violation]:
    before, after = scene.there.get(lag.before), scene.placed.get(lag.after)
    if after is None:
        return
    if before is None:
        sentence = f"{lag.after} is placed, and {lag.before}, which it follows, is left out"
        yield Violation(Broken.AFTER_NOTHING, (lag.before, lag.after), 0, sentence)
        return
    short = before.end_min + lag.least_min - after.start_min
    if short > 0:
        sentence = f"{lag.after} starts {short} minutes too early after {lag.before}"
        yield Violation(Broken.EARLY, (lag.before, lag.after), short, sentence)


def _hands(scene: _Scene) -> Iterator[Violation]:
    hands = {each.name: each for each in scene.problem.hands}
    for placed in scene.plan.placed:
        by = scene.activities[placed.key].by
        if (placed.by is None) if by else (placed.by is not None):
            sentence = f"{placed.key} is done by {placed.by or 'nobody'}"
            yield Violation(Broken.HANDS, (placed.key,), 0, sentence)
        elif placed.by is not None and (placed.by not in by or placed.by not in hands):
            sentence = f"{placed.key} is done by {placed.by}, who cannot"
            yield Violation(Broken.HANDS, (placed.key,), 0, sentence)
    for each in scene.problem.hands:
        yield from _one_pair(each, scene)


def _one_pair(hands: Hands, scene: _Scene) -> Iterator[Violation]:
    mine = [placed for placed in scene.plan.placed if placed.by == hands.name]
    held = {placed.key: _window_of(placed, hands.windows) for placed in mine}
    for placed in mine:
        if held[placed.key] is None:
            sentence = f"{placed.key} lies in no one window of {hands.name}"
            yield Violation(Broken.HOURS, (placed.key,), 0, sentence)
    busy: list[There] = [done for done in scene.problem.done if done.by == hands.name]
    timed = [each for each in (*busy, *mine) if each.end_min > each.start_min]
    timed.sort(key=lambda each: (each.start_min, each.end_min, each.key))
    yield from _overlaps(hands, timed)
    yield from _set_ups(hands, timed, held, scene)


def _window_of(there: There, windows: Sequence[Window]) -> Window | None:
    """Return the window that holds all of it; windows are in order of time and do not touch."""
    window = _window_at(there.start_min, windows)
    return window if window is not None and there.end_min <= window.end_min else None


def _window_at(minute: int, windows: Sequence[Window]) -> Window | None:
    """Return the last window that has begun by then."""
    begun = bisect_right(windows, minute, key=lambda window: window.start_min)
    return windows[begun - 1] if begun else None


def _overlaps(hands: Hands, timed: Iterable[There]) -> Iterator[Violation]:
    """Compare each with whichever before it ends last; two that are done are not judged."""
    last: There | None = None
    last_placed: Placed | None = None
    for each in timed:
        other = last if isinstance(each, Placed) else last_placed
        if other is not None and other.end_min > each.start_min:
            shared = min(other.end_min, each.end_min) - each.start_min
            sentence = f"{hands.name} is at {other.key} and {each.key} for {shared} minutes"
            yield Violation(Broken.OVERLAP, (other.key, each.key), shared, sentence)
        if last is None or each.end_min > last.end_min:
            last = each
        if isinstance(each, Placed) and (last_placed is None or each.end_min > last_placed.end_min):
            last_placed = each


def _set_ups(
    hands: Hands, timed: list[There], held: Mapping[str, Window | None], scene: _Scene
) -> Iterator[Violation]:
    before_of = {each.kind: each.before_min for each in scene.problem.set_ups}
    after_of = {each.kind: each.after_min for each in scene.problem.set_ups}
    if not before_of:
        return
    for window, inside in _by_window(hands, timed, held).items():
        kinds = [scene.activities[each.key].kind for each in inside]
        for number, (each, kind) in enumerate(zip(inside, kinds, strict=True)):
            if not isinstance(each, Placed):
                continue
            if not number or kinds[number - 1] != kind:
                needed = before_of.get(kind, 0)
                needed += after_of.get(kinds[number - 1], 0) if number else 0
                short = _free_from(window, inside[:number], timed, scene) + needed - each.start_min
                if short > 0:
                    sentence = f"{short} minutes too few for {hands.name} to get ready for "
                    yield Violation(Broken.SET_UP, (each.key,), short, sentence + each.key)
            last = number == len(inside) - 1
            short = each.end_min + after_of.get(kind, 0) - window.end_min
            if last and short > 0:
                sentence = f"{short} minutes too few for {hands.name} to clear up after {each.key}"
                yield Violation(Broken.SET_UP, (each.key,), short, sentence)


def _by_window(
    hands: Hands, timed: Iterable[There], held: Mapping[str, Window | None]
) -> dict[Window, list[There]]:
    """Return what is in each window: what is placed as a whole, what is done where it began."""
    found: dict[Window, list[There]] = {}
    for each in timed:
        if isinstance(each, Placed):
            window = held[each.key]
        else:
            window = _window_at(each.start_min, hands.windows)
            window = window if window is not None and each.start_min < window.end_min else None
        if window is not None:
            found.setdefault(window, []).append(each)
    return found


def _free_from(window: Window, earlier: list[There], timed: list[There], scene: _Scene) -> int:
    """Return from when on hands can clear up after what was before, and get ready."""
    now = scene.problem.now_min
    if earlier:
        # What could be cleared up before now has been.
        cleared = _clear_up(earlier[-1], scene)
        return max(*(each.end_min for each in earlier), now - cleared)
    start = max(window.start_min, now)
    for each in timed:
        if each.start_min < window.start_min < each.end_min and isinstance(each, Done):
            start = max(start, each.end_min + _clear_up(each, scene))
    return start


def _clear_up(there: There, scene: _Scene) -> int:
    kind = scene.activities[there.key].kind
    return next((each.after_min for each in scene.problem.set_ups if each.kind == kind), 0)


def _stores(scene: _Scene) -> Iterator[Violation]:
    held: dict[str, list[_Hold]] = {}
    for key, there in scene.there.items():
        for use in scene.activities[key].uses:
            hold = _hold(there, use, scene)
            if use.amount and hold.end_min > hold.start_min:
                held.setdefault(use.store, []).append(hold)
    for store in scene.problem.stores:
        yield from _over_capacity(store, held.get(store.name, []))


@dataclass(frozen=True, slots=True)
class _Hold:
    key: str
    start_min: int
    end_min: int
    amount: int
    past: bool


def _hold(there: There, use: Use, scene: _Scene) -> _Hold:
    start = there.start_min if use.from_start else there.end_min
    until = scene.there.get(use.until) if use.until is not None else None
    end = max(there.end_min, until.start_min) if until else there.end_min + use.hold_min
    return _Hold(there.key, start, end, use.amount, isinstance(there, Done))


def _over_capacity(store: Store, holds: list[_Hold]) -> Iterator[Violation]:
    """Count at every instant at which something is taken up; history alone may be too much."""
    ends = sorted(holds, key=lambda hold: hold.end_min)
    held: dict[int, _Hold] = {}
    gone = 0
    holds.sort(key=lambda hold: hold.start_min)
    for number, hold in enumerate(holds):
        while ends[gone].end_min <= hold.start_min:
            held.pop(id(ends[gone]), None)
            gone += 1
        held[id(hold)] = hold
        if number + 1 < len(holds) and holds[number + 1].start_min == hold.start_min:
            continue
        over = sum(each.amount for each in held.values()) - store.capacity
        keys = tuple(sorted(each.key for each in held.values() if not each.past))
        if over > 0 and keys:
            sentence = f"{store.name} has {store.capacity}, and {over} more are taken by "
            yield Violation(Broken.STORE, keys, over, sentence + ", ".join(keys))


def _rooms(scene: _Scene) -> Iterator[Violation]:
    for rule in scene.problem.rules:
        stretches = sorted(_stretches(rule, scene), key=lambda each: each.start_min)
        going: list[_Stretch] = []
        for each in stretches:
            going = [other for other in going if other.end_min > each.start_min]
            yield from (_meeting(rule, each, other) for other in going if _clash(each, other))
            going.append(each)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A time in which an activity and what it stirred up, or its bareness, lasts."""

    key: str
    start_min: int
    end_min: int
    stirring: bool
    past: bool


def _stretches(rule: RoomRule, scene: _Scene) -> Iterator[_Stretch]:
    for key, there in scene.there.items():
        activity = scene.activities[key]
        if activity.room != rule.room:
            continue
        start, end, past = there.start_min, there.end_min, isinstance(there, Done)
        if rule.stirs in activity.stirs and end > start:
            yield _Stretch(key, start, end + rule.settle_min, stirring=True, past=past)
        after = [bare.after_min for bare in activity.bare if bare.stirred == rule.stirs]
        if after and end + max(after) > start:
            yield _Stretch(key, start, end + max(after), stirring=False, past=past)


def _clash(one: _Stretch, other: _Stretch) -> bool:
    apart = one.stirring == other.stirring or one.key == other.key
    return not (apart or (one.past and other.past))


def _meeting(rule: RoomRule, one: _Stretch, other: _Stretch) -> Violation:
    stirring, bare = (one, other) if one.stirring else (other, one)
    shared = min(one.end_min, other.end_min) - max(one.start_min, other.start_min)
    sentence = f"{stirring.key} stirs up {rule.stirs} in {rule.room} while {bare.key} is bare to it"
    keys = (stirring.key, bare.key)
    return Violation(Broken.ROOM, keys, shared, f"{sentence}, for {shared} minutes")
