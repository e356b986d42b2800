"""What kept an activity out of the hours that lie between the end of its waits and its start.

Asked only of what starts where hours begin: the hours are not what held it back when there were
others before them, which it could have had but for a full rack, a wet room or other work.
"""

from __future__ import annotations

from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from typing import NamedTuple, TypeAlias

from finishsched.planning.hands_work import There, Works
from finishsched.planning.held_stretches import Held, Level, Room, Stretches, Track
from finishsched.planning.problem import Activity, HeldBy, Lag, Problem, Use
from finishsched.planning.window import Window

MOST_TRIES = 24
"""How many times of one gap are tried; whatever is in the way of so many is reason enough."""
MOST_WINDOWS = 7
"""How far back it is looked for a place that was free, once there is a reason nearer by."""


Why: TypeAlias = tuple[HeldBy, str]
"""What held an activity back, and the key of that; the key is empty where there is none."""
THE_ORDER: Why = (HeldBy.ORDER, "")
"""Nothing was in the way: the plan puts something else first."""


class Scene(NamedTuple):
    """A plan, looked up by what lies where."""

    there: Mapping[str, There]
    """Where each activity lies that is done or placed, by key."""
    activities: Mapping[str, Activity]
    """All of them, by key."""
    works: Mapping[str, Works]
    """What each pair of hands does, by their name."""
    rooms: Stretches
    levels: Mapping[str, Level]
    """How much is held of each store, by its name."""

    def held(self, use: Use, start: int, end: int) -> tuple[int, int]:
        """Return from when up to when a use is held, of an activity from one minute to another.

        Args:
            use: what the activity takes of a store.
            start: when it starts.
            end: when it ends.

        """
        first = start if use.from_start else end
        until = self.there.get(use.until) if use.until is not None else None
        if until is None:
            return first, end + use.hold_min
        return first, max(end, until.start_min)


class _Blocked(NamedTuple):
    """Until when a start is not to be had, and why."""

    until_min: int
    why: Why


class _GivenBack(NamedTuple):
    """What is held of a store until an activity starts."""

    store: str
    since_min: int
    amount: int


class WhyNotEarlier:
    """A plan, looked up by what is free and what is in the way of some of its activities."""

    def __init__(self, problem: Problem, scene: Scene, keys: AbstractSet[str]) -> None:
        """Look up what these activities wait for, and what waits for them.

        Args:
            problem: what is planned.
            scene: the plan, looked up.
            keys: the activities that will be asked about.

        """
        self._now = problem.now_min
        self._scene = scene
        self._waits: dict[str, list[Lag]] = {key: [] for key in keys}
        """By activity, what it waits for."""
        self._ties: dict[str, list[Lag]] = {key: [] for key in keys}
        """By activity, what has to follow it within a window."""
        for lag in problem.lags:
            if lag.after in keys:
                self._waits[lag.after].append(lag)
            has_window = lag.most_min is not None
            if has_window and lag.before in keys:
                self._ties[lag.before].append(lag)
        self._settle: dict[tuple[str, str], int] = {}
        """For how many minutes it hangs in the room, by room and by what is stirred up."""
        for rule in problem.rules:
            self._settle[rule.room, rule.stirs] = rule.settle_min
        self._tracks: dict[Room, Track] = {}
        """Stretches in the order of time, by room and what is stirred up or lies bare in it."""
        for room, stretches in scene.rooms.items():
            self._tracks[room] = Track(sorted(stretches))
        self._given = self._given_back(keys) if scene.levels else {}
        """By activity, what is held of stores only until it starts."""

    def _given_back(self, keys: AbstractSet[str]) -> dict[str, list[_GivenBack]]:
        """Return what is held until each activity starts."""
        given: dict[str, list[_GivenBack]] = {}
        for activity in self._scene.activities.values():
            there = self._scene.there.get(activity.key)
            if there is None:
                continue
            # Up to its end it holds that for itself, and then for the one that starts later.
            for use in activity.uses:
                if use.until is not None and use.until in keys:
                    held = _GivenBack(use.store, there.end_min, use.amount)
                    given.setdefault(use.until, []).append(held)
        return given

    def reason(self, placed: There) -> Why | None:
        """Return what kept it from all hours before its start, or None where there are none.

        All hands are asked that can do it, its own first: where any of them had a free place, it is
        the order of the plan that held it.
        """
        activity = self._scene.activities[placed.key]
        ready = self._ready(placed.key, activity)
        own: Why | None = None
        own_first = sorted(activity.by, key=lambda name: name != placed.by)
        for name in own_first:
            if name not in self._scene.works:
                continue
            found = self._of(name, placed, activity, ready)
            if found == THE_ORDER:
                return found
            if name == placed.by:
                own = found
        return own

    def _ready(self, key: str, activity: Activity) -> int:
        """Return the end of all its waits.

        Args:
            key: whose waits.
            activity: when it is released, where it may not start at once.

        """
        ready = max(self._now, activity.release_min or self._now)
        for lag in self._waits.get(key, ()):
            before = self._scene.there.get(lag.before)
            if before is not None:
                waited_until = before.end_min + lag.least_min
                ready = max(ready, waited_until)
        return ready

    def _of(self, name: str, placed: There, activity: Activity, ready: int) -> Why | None:
        """Return what kept it from the hours of one pair of hands, those nearest to it first.

        Args:
            name: whose hands.
            placed: where it lies.
            activity: what it is.
            ready: the minute at which all its waits are over.

        """
        works = self._scene.works[name]
        length = placed.end_min - placed.start_min
        before, after, at_end = works.set_up(activity.kind)
        nearest: Why | None = None
        # It starts where a window begins: the ones before that are the hours it did not get.
        latest = works.window_at(placed.start_min) - 1
        for at in range(latest, -1, -1):
            window = works.windows[at]
            is_far = latest - at > MOST_WINDOWS
            if window.end_min - ready < length or (nearest and is_far):
                break
            # Getting ready and clearing up have to fit in too.
            opens = max(window.start_min, self._now) + before
            closes = window.end_min - max(after, at_end)
            if closes - max(opens, ready) < length:
                continue
            found = None
            if works.widest(at) >= length:
                found = self._in_window(works, window, placed, activity, ready)
            if found == THE_ORDER:
                return found
            nearest = nearest or found or _busy_with(works.last_of(at))
        return nearest

    def _in_window(
        self,
        works: Works,
        window: Window,
        placed: There,
        activity: Activity,
        ready: int,
    ) -> Why | None:
        """Return what is in the way in the gaps of a window, the order where nothing is.

        None where no gap is long enough.

        Args:
            works: what these hands do.
            window: one of theirs.
            placed: where the activity lies.
            activity: what it is.
            ready: the minute at which all its waits are over.

        """
        length = placed.end_min - placed.start_min
        nearest: Why | None = None
        for gap in works.gaps(window, ready, length):
            opens, closes = works.inside(gap, window, activity.kind, self._now)
            first_start = max(opens, ready)
            last_start = closes - length
            found = self._in_gap(placed, activity, first_start, last_start)
            if found == THE_ORDER:
                return found
            nearest = found or nearest
        return nearest

    def _in_gap(self, placed: There, activity: Activity, start: int, last: int) -> Why | None:
        """Return what is in the way all through a gap, the order where nothing is.

        Args:
            placed: where the activity lies.
            activity: what it needs.
            start: the first minute at which it could start in the gap.
            last: the last such minute; None is returned where it is sooner than the first.

        """
        found: Why | None = None
        for _ in range(MOST_TRIES):
            if start > last:
                return found
            blocked = self._blocked(placed, activity, start)
            if blocked is None:
                return THE_ORDER
            start, found = blocked
        return found

    def _blocked(self, placed: There, activity: Activity, start: int) -> _Blocked | None:
        """Return until when a start is not to be had, and why; None where it is.

        Args:
            placed: where it lies.
            activity: what it needs.
            start: the minute at which it would start.

        """
        length = placed.end_min - placed.start_min
        return (
            self._by_window(placed, start, length)
            or self._in_room(activity, start, length)
            or self._in_store(placed, activity, start)
        )

    def _by_window(self, placed: There, start: int, length: int) -> _Blocked | None:
        """Return what would miss its window after an activity that started so soon.

        Args:
            placed: where it lies.
            start: the minute at which it would start.
            length: the minutes that it takes.

        """
        for lag in self._ties.get(placed.key, ()):
            after = self._scene.there.get(lag.after)
            if after is not None and lag.most_min is not None:
                least = after.start_min - lag.most_min - length
                if start < least <= placed.start_min:
                    return _Blocked(least, (HeldBy.WINDOW, lag.after))
        return None

    def _in_room(self, activity: Activity, start: int, length: int) -> _Blocked | None:
        """Return what lies bare to what it stirs up, or stirs up what it is bare to.

        Args:
            activity: what it stirs up and what it is bare to.
            start: the minute at which it would start.
            length: the minutes that it takes.

        """
        end = start + length
        if length:
            for stirs in activity.stirs:
                settle = self._settle.get((activity.room, stirs))
                if settle is not None:
                    bare = (activity.room, stirs, False)
                    blocked = self._on_track(bare, start, end + settle)
                    if blocked is not None:
                        return blocked
        for bare_to in activity.bare:
            if (activity.room, bare_to.stirred) in self._settle:
                stirred = (activity.room, bare_to.stirred, True)
                blocked = self._on_track(stirred, start, end + bare_to.after_min)
                if blocked is not None:
                    return blocked
        return None

    def _on_track(self, room: Room, start: int, end: int) -> _Blocked | None:
        """Return what lies on a track of a room in a stretch of time.

        Args:
            room: the room, what is stirred up, and whether it is that or what lies bare to it.
            start: the minute from which on it must be free.
            end: the minute up to which.

        """
        found = self._tracks[room].meets(start, end)
        if found is None:
            return None
        until, key = found
        return _Blocked(until, (HeldBy.ROOM, key))

    def _in_store(self, placed: There, activity: Activity, start: int) -> _Blocked | None:
        """Return the first store that is full when it needs it.

        Args:
            placed: where it lies; what it holds there does not count.
            activity: what it takes of stores.
            start: the minute at which it would start.

        """
        length = placed.end_min - placed.start_min
        for use in activity.uses:
            level = self._scene.levels.get(use.store)
            if level is None:
                continue
            first, last = self._scene.held(use, start, start + length)
            own = self._own_holds(placed, use)
            full = level.full_until(first, last, use.amount, own)
            if full is not None:
                later = full if use.from_start else full - length
                until_min = max(later, start + 1)
                return _Blocked(until_min, (HeldBy.STORE, use.store))
        return None

    def _own_holds(self, placed: There, use: Use) -> list[Held]:
        """Return what it holds of a store where it lies now, and what is held only until then.

        Args:
            placed: where it lies now.
            use: what it takes, of which store.

        """
        first, last = self._scene.held(use, placed.start_min, placed.end_min)
        holds: list[Held] = [(first, last, use.amount)]
        for given_back in self._given.get(placed.key, ()):
            if given_back.store == use.store:
                until_then = (given_back.since_min, placed.start_min, given_back.amount)
                holds.append(until_then)
        return holds


def _busy_with(last: There | None) -> Why | None:
    """Return that hands were busy in a window up to its last work, where there is one."""
    return None if last is None else (HeldBy.BUSY, last.key)
