"""What kept an activity out of the hours that lie between the end of its waits and its start.

Asked only of what starts where hours begin: the hours are not what held it back when there were
others before them, which it could have had but for a full rack, a wet room or other work.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from typing import NamedTuple, Protocol, TypeAlias

from finishsched.planning.problem import Activity, HeldBy, Lag, Problem, SetUp, Use
from finishsched.planning.window import Window

Held: TypeAlias = tuple[HeldBy, str]
Room: TypeAlias = tuple[str, str, bool]
"""A room, what is stirred up in it, and whether it is stirred up or something lies bare to it."""
Stretches: TypeAlias = dict[Room, list[tuple[int, int, str]]]
"""From when up to when it is so, and by which activity."""
MOST_TRIES = 24
"""How many times of one gap are tried; whatever is in the way of so many is reason enough."""
MOST_WINDOWS = 7
"""How far back it is looked for a place that was free, once there is a reason nearer by."""


class There(Protocol):
    """Where one activity lies, planned or done."""

    @property
    def key(self) -> str:
        """Which activity."""

    @property
    def start_min(self) -> int:
        """When it starts."""

    @property
    def end_min(self) -> int:
        """When it ends."""

    @property
    def by(self) -> str | None:
        """Whose hands do it."""


class Scene(NamedTuple):
    """A plan, looked up by what lies where."""

    there: Mapping[str, There]
    activities: Mapping[str, Activity]
    works: Mapping[str, Works]
    rooms: Stretches
    levels: Mapping[str, Level]


class Sooner:
    """A plan, looked up by what is free and what is in the way of some of its activities."""

    def __init__(self, problem: Problem, scene: Scene, keys: AbstractSet[str]) -> None:
        self._now = problem.now_min
        self._scene = scene
        self._waits: dict[str, list[Lag]] = {key: [] for key in keys}
        self._ties: dict[str, list[Lag]] = {key: [] for key in keys}
        for lag in problem.lags:
            if lag.after in keys:
                self._waits[lag.after].append(lag)
            if lag.most_min is not None and lag.before in keys:
                self._ties[lag.before].append(lag)
        self._settle = {(rule.room, rule.stirs): rule.settle_min for rule in problem.rules}
        self._tracks = {what: _Track(sorted(those)) for what, those in scene.rooms.items()}
        self._given = self._given_back(keys) if scene.levels else {}

    def _given_back(self, keys: AbstractSet[str]) -> dict[str, list[tuple[str, int, int]]]:
        """Return what is held until an activity starts: (store, since when, how much)."""
        given: dict[str, list[tuple[str, int, int]]] = {}
        for activity in self._scene.activities.values():
            for use in activity.uses:
                there = self._scene.there.get(activity.key)
                if use.until in keys and use.until is not None and there is not None:
                    given.setdefault(use.until, []).append((use.store, there.end_min, use.amount))
        return given

    def reason(self, placed: There) -> Held | None:
        """Return what kept it from all hours before its start, or None where there are none."""
        activity = self._scene.activities[placed.key]
        ready = self._ready(placed.key, activity)
        own: Held | None = None
        for name in sorted(activity.by, key=lambda name: name != placed.by):
            if name in self._scene.works:
                found = self._of(name, placed, activity, ready)
                if found == (HeldBy.ORDER, ""):
                    return found
                own = found if name == placed.by else own
        return own

    def _of(self, name: str, placed: There, activity: Activity, ready: int) -> Held | None:
        """Return what kept it from the hours of one pair of hands, the latest first."""
        works, length = self._scene.works[name], placed.end_min - placed.start_min
        before, after = works.set_ups.get(activity.kind, (0, 0))
        nearest: Held | None = None
        latest = works.window_at(placed.start_min) - 1
        for at in range(latest, -1, -1):
            window = works.windows[at]
            if window.end_min - ready < length or (nearest and latest - at > MOST_WINDOWS):
                break
            opens = max(window.start_min, self._now) + before
            if window.end_min - after - max(opens, ready) < length:
                continue
            found = None
            if works.widest(at) >= length:
                found = self._in_window(works, window, placed, activity, ready)
                if found == (HeldBy.ORDER, ""):
                    return found
            if nearest is None and (found or (last := works.last_of(at)) is None):
                nearest = found
            elif nearest is None and last is not None:
                nearest = HeldBy.BUSY, last.key
        return nearest

    def _in_window(
        self, works: Works, window: Window, placed: There, activity: Activity, ready: int
    ) -> Held | None:
        """Return what is in the way in the gaps of a window, the order where nothing is.

        None where no gap is long enough.
        """
        length = placed.end_min - placed.start_min
        latest: Held | None = None
        for gap in works.gaps(window, ready, length):
            first, last = works.inside(gap, window, activity.kind, self._now)
            found = self._in_gap(placed, activity, max(first, ready), last - length)
            if found == (HeldBy.ORDER, ""):
                return found
            latest = found or latest
        return latest

    def _ready(self, key: str, activity: Activity) -> int:
        """Return the end of all its waits."""
        ends = [
            self._scene.there[lag.before].end_min + lag.least_min
            for lag in self._waits.get(key, ())
            if lag.before in self._scene.there
        ]
        return max(self._now, activity.release_min or self._now, *ends)

    def _in_gap(self, placed: There, activity: Activity, start: int, last: int) -> Held | None:
        """Return what is in the way all through a gap, the order where nothing is.

        None where the gap is too short.
        """
        found: Held | None = None
        for _ in range(MOST_TRIES):
            if start > last:
                return found
            blocked = self._blocked(placed, activity, start)
            if blocked is None:
                return HeldBy.ORDER, ""
            start, found = blocked
        return found

    def _blocked(self, placed: There, activity: Activity, start: int) -> tuple[int, Held] | None:
        """Return until when a start is not to be had, and why."""
        length = placed.end_min - placed.start_min
        for lag in self._ties.get(placed.key, ()):
            after = self._scene.there.get(lag.after)
            if after is not None and lag.most_min is not None:
                least = after.start_min - lag.most_min - length
                if start < least <= placed.start_min:
                    return least, (HeldBy.WINDOW, lag.after)
        return self._in_room(activity, start, length) or self._in_store(placed, activity, start)

    def _in_room(self, activity: Activity, start: int, length: int) -> tuple[int, Held] | None:
        room = activity.room
        for stirs in activity.stirs if length else ():
            if (room, stirs) in self._settle:
                until = start + length + self._settle[room, stirs]
                found = self._tracks[room, stirs, False].meets(start, until)
                if found is not None:
                    return found[0], (HeldBy.ROOM, found[1])
        for bare in activity.bare:
            if (room, bare.stirred) in self._settle:
                until = start + length + bare.after_min
                found = self._tracks[room, bare.stirred, True].meets(start, until)
                if found is not None:
                    return found[0], (HeldBy.ROOM, found[1])
        return None

    def _in_store(self, placed: There, activity: Activity, start: int) -> tuple[int, Held] | None:
        length = placed.end_min - placed.start_min
        for use in activity.uses:
            level = self._scene.levels.get(use.store)
            if level is None:
                continue
            first, last = self._held(use, start, start + length)
            own = [(*self._held(use, placed.start_min, placed.end_min), use.amount)]
            own += [
                (since, placed.start_min, amount)
                for store, since, amount in self._given.get(placed.key, ())
                if store == use.store
            ]
            full = level.full_until(first, last, use.amount, own)
            if full is not None:
                later = full if use.from_start else full - length
                return max(later, start + 1), (HeldBy.STORE, use.store)
        return None

    def _held(self, use: Use, start: int, end: int) -> tuple[int, int]:
        until = self._scene.there.get(use.until) if use.until is not None else None
        first = start if use.from_start else end
        return first, max(end, until.start_min) if until is not None else end + use.hold_min


class _Gap(NamedTuple):
    """What is free between two works, or a work and the edge of the window."""

    start_min: int
    end_min: int
    before: str | None
    """The kind of the work before it in its window; None where there is none."""
    after: str | None


class Works:
    """What one pair of hands does, in the order of starts, and when it could."""

    def __init__(
        self,
        windows: tuple[Window, ...],
        activities: Mapping[str, Activity],
        set_ups: Iterable[SetUp],
    ) -> None:
        self.windows = windows
        self.set_ups = {each.kind: (each.before_min, each.after_min) for each in set_ups}
        self._opens = [window.start_min for window in windows]
        self._activities = activities
        self._starts: list[int] = []
        self._works: list[There] = []
        self._widest: dict[int, int] = {}

    def add(self, there: There) -> There | None:
        """Add a work that starts no sooner than those before, and return the one before it."""
        before = self._works[-1] if self._works else None
        self._starts.append(there.start_min)
        self._works.append(there)
        return before

    def window_at(self, minute: int) -> int:
        """Return the place of the last window that begins by a minute, or -1."""
        return bisect_right(self._opens, minute) - 1

    def around(self, placed: There) -> tuple[There | None, There | None]:
        """Return what they do last before its start, and next from there on, but for itself."""
        works = self._works
        at = bisect_right(self._starts, placed.start_min - 1)
        after = at
        while after < len(works) and works[after].key == placed.key:
            after += 1
        return works[at - 1] if at else None, works[after] if after < len(works) else None

    def widest(self, at: int) -> int:
        """Return the minutes of the widest gap in the window at a place."""
        found = self._widest.get(at)
        if found is None:
            window = self.windows[at]
            first, last = self._inside(window)
            start, found = window.start_min, 0
            if first and self._works[first - 1].end_min > start:
                start = self._works[first - 1].end_min
            for work in self._works[first:last]:
                found = max(found, work.start_min - start)
                start = max(start, work.end_min)
            found = self._widest[at] = max(found, window.end_min - start)
        return found

    def last_of(self, at: int) -> There | None:
        """Return the last work in the window at a place, where there is one."""
        window = self.windows[at]
        last = self._inside(window)[1] - 1
        there = self._works[last] if last >= 0 else None
        return there if there is not None and there.end_min > window.start_min else None

    def gaps(self, window: Window, since: int, least: int) -> Iterator[_Gap]:
        """Give what is free of a window from a minute on, where it is long enough."""
        first, last = self._inside(window)
        start, before = window.start_min, -1
        if first and self._works[first - 1].end_min > start:
            start, before = self._works[first - 1].end_min, first - 1
        for at in range(first, last):
            end = self._starts[at]
            if end - start >= least and end - since >= least:
                yield _Gap(start, end, self._kind(before), self._kind(at))
            start, before = max(start, self._works[at].end_min), at
        if window.end_min - max(start, since) >= least:
            yield _Gap(start, window.end_min, self._kind(before), None)

    def _inside(self, window: Window) -> tuple[int, int]:
        """Return from where up to where works begin in a window."""
        first = bisect_left(self._starts, window.start_min)
        return first, bisect_left(self._starts, window.end_min, first)

    def _kind(self, at: int) -> str | None:
        return self._activities[self._works[at].key].kind if at >= 0 else None

    def inside(self, gap: _Gap, window: Window, kind: str, now: int) -> tuple[int, int]:
        """Return from when until when there is room in a gap for work of a kind, beside set-ups."""
        before, after = self.set_ups.get(kind, (0, 0))
        start, end = gap.start_min, gap.end_min
        if gap.before is None:
            start = max(window.start_min, now) + before
        elif gap.before != kind:
            cleared = self.set_ups.get(gap.before, (0, 0))[1]
            start = max(start, now - cleared) + cleared + before
        if gap.after is None:
            end -= after
        elif gap.after != kind:
            end -= after + self.set_ups.get(gap.after, (0, 0))[0]
        return start, end


class _Track:
    """Stretches of time that do not touch, each with what ends it."""

    def __init__(self, stretches: Iterable[tuple[int, int, str]]) -> None:
        """Join stretches that touch, in the order of their starts."""
        starts: list[int] = []
        ends: list[int] = []
        keys: list[str] = []
        for start, end, key in stretches:
            if not ends or start > ends[-1]:
                starts.append(start)
                ends.append(end)
                keys.append(key)
            elif end > ends[-1]:
                ends[-1], keys[-1] = end, key
        self._starts, self._ends, self._keys = starts, ends, keys

    def meets(self, start: int, end: int) -> tuple[int, str] | None:
        """Return when what lies in a stretch of time is over, and what it is."""
        at = bisect_right(self._ends, start)
        if at < len(self._ends) and self._starts[at] < end:
            return self._ends[at], self._keys[at]
        return None


class Level:
    """How much of a store is held, over time."""

    def __init__(self, capacity: int) -> None:
        self.capacity = capacity
        self._changes: dict[int, int] = {}
        self._times: list[int] = []
        self._held: list[int] = []

    def add(self, start: int, end: int, amount: int) -> None:
        """Hold an amount from one time up to another."""
        self._changes[start] = self._changes.get(start, 0) + amount
        self._changes[end] = self._changes.get(end, 0) - amount

    def settle(self) -> None:
        """Add up, once everything is there."""
        held = 0
        for time in sorted(self._changes):
            held += self._changes[time]
            self._times.append(time)
            self._held.append(held)

    def at(self, time: int) -> int:
        """Return how much is held at a time."""
        at = bisect_right(self._times, time) - 1
        return self._held[at] if at >= 0 else 0

    def full_until(
        self, first: int, last: int, amount: int, but: Iterable[tuple[int, int, int]]
    ) -> int | None:
        """Return when there is room for an amount again, or None where there is all along.

        What is held by ``but``, as (from, up to, how much), does not count.
        """
        at, full = max(0, bisect_right(self._times, first) - 1), None
        while at < len(self._times) and (self._times[at] < last or full is not None):
            time = max(self._times[at], first)
            own = sum(much for start, end, much in but if start <= time < end)
            if self._held[at] - own + amount > self.capacity:
                full = time
            elif full is not None:
                return time
            at += 1
        return None if full is None else last
