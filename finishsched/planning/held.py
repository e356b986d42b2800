"""What held back each start of a plan, whichever planner it comes from.

An activity is held back by whatever keeps it from starting one minute earlier while everything
else of the plan stays where it is. Waits are named first, then hours and hands, room, stores, and
the windows of what comes later; where none of them stands in the way it is the plan's order.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import TypeAlias

from finishsched.planning.problem import Activity, Done, HeldBy, Placed, Plan, Problem, Use, Window

There: TypeAlias = Placed | Done
Held: TypeAlias = tuple[HeldBy, str]


def held_back(problem: Problem, plan: Plan) -> Plan:
    """Return the plan with what held back each of its starts.

    The key beside it is that of the activity waited for or in the way, of the hands whose hours
    begin, of the store that is full, or of the later activity that keeps its window; it is empty
    where a time of its own, or nothing, held it.
    """
    reasons = _Reasons(problem, plan)
    placed = tuple(
        Placed(each.key, each.start_min, each.end_min, each.by, *reasons.of(each))
        for each in plan.placed
    )
    return Plan(placed, plan.misses, plan.left_out)


class _Reasons:
    """A plan, looked up by what ends or begins when."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        self.now = problem.now_min
        self.activities = {activity.key: activity for activity in problem.activities}
        self.there: dict[str, There] = {done.key: done for done in problem.done}
        self.there.update({placed.key: placed for placed in plan.placed})
        self.windows = {hands.name: hands.windows for hands in problem.hands}
        self.opens = {h.name: [window.start_min for window in h.windows] for h in problem.hands}
        self.busy = {hands.name: _Busy() for hands in problem.hands}
        self.set_ups = {each.kind: (each.before_min, each.after_min) for each in problem.set_ups}
        for there in sorted(self.there.values(), key=lambda each: each.start_min):
            if there.by in self.busy and there.end_min > there.start_min:
                self.busy[there.by].add(there)
        self.waits, self.tied = self._lags(problem)
        self.clears = self._rooms(problem)
        self.levels = {store.name: _Level(store.capacity) for store in problem.stores}
        if self.levels:
            self._fill()

    def _lags(self, problem: Problem) -> tuple[dict[str, str], dict[str, str]]:
        """Return by activity what it just waits for, and what can wait for it no longer."""
        waits: dict[str, str] = {}
        tied: dict[str, str] = {}
        there = self.there
        for lag in problem.lags:
            before, after = there.get(lag.before), there.get(lag.after)
            if before is None or after is None:
                continue
            if before.end_min + lag.least_min == after.start_min:
                waits[lag.after] = lag.before
            if lag.most_min is not None and before.end_min + lag.most_min == after.start_min:
                tied[lag.before] = lag.after
        return waits, tied

    def _rooms(self, problem: Problem) -> dict[tuple[str, str, bool, int], str]:
        """Return what stops at a minute: (room, what is stirred up, whether it stirs, when)."""
        settle = {(rule.room, rule.stirs): rule.settle_min for rule in problem.rules}
        clears: dict[tuple[str, str, bool, int], str] = {}
        if not settle:
            return clears
        for key, there in self.there.items():
            activity = self.activities[key]
            for stirs in activity.stirs:
                longer = settle.get((activity.room, stirs))
                if longer is not None and there.end_min > there.start_min:
                    clears[activity.room, stirs, True, there.end_min + longer] = key
            for bare in activity.bare:
                end = there.end_min + bare.after_min
                if (activity.room, bare.stirred) in settle and end > there.start_min:
                    clears[activity.room, bare.stirred, False, end] = key
        return clears

    def _fill(self) -> None:
        for key, there in self.there.items():
            for use in self.activities[key].uses:
                start, end = self._held(there, use)
                if end > start and use.store in self.levels:
                    self.levels[use.store].add(start, end, use.amount)
        for level in self.levels.values():
            level.settle()

    def _held(self, there: There, use: Use) -> tuple[int, int]:
        until = self.there.get(use.until) if use.until is not None else None
        start = there.start_min if use.from_start else there.end_min
        if until is not None:
            return start, max(there.end_min, until.start_min)
        return start, there.end_min + use.hold_min

    def of(self, placed: Placed) -> Held:
        """Return what keeps it from starting a minute earlier, and the key of that."""
        start = placed.start_min
        if start <= self.now:
            return HeldBy.NOTHING, ""
        key = placed.key
        if key in self.waits:
            return HeldBy.LAG, self.waits[key]
        activity = self.activities[key]
        if activity.release_min == start:
            return HeldBy.LAG, ""
        return (
            (self._hands(placed, activity) if placed.by is not None else None)
            or (self._room(placed, activity) if self.clears else None)
            or (self._store(placed, activity) if activity.uses else None)
            or ((HeldBy.WINDOW, self.tied[key]) if key in self.tied else (HeldBy.ORDER, ""))
        )

    def _hands(self, placed: Placed, activity: Activity) -> Held | None:
        held = None
        for name in activity.by:
            if name in self.busy:
                found = self._one_pair(name, placed, activity)
                if found is None:
                    return None
                if name == placed.by:
                    held = found
        return held

    def _one_pair(self, name: str, placed: Placed, activity: Activity) -> Held | None:
        """Return what keeps these hands from it one minute earlier."""
        earlier, windows = placed.start_min - 1, self.windows[name]
        at = bisect_right(self.opens[name], earlier) - 1
        if at < 0 or windows[at].end_min < placed.end_min - 1:
            return HeldBy.HOURS, name
        window = windows[at]
        before, after = self.busy[name].around(placed)
        gap = self._gap(activity.kind, before, window)
        if before is not None and before.end_min + gap > earlier:
            return HeldBy.BUSY, before.key
        if before is None or before.start_min < window.start_min:
            ready = self.set_ups.get(activity.kind, (0, 0))[0]
            if window.start_min + ready > earlier:
                return HeldBy.HOURS, name
        if after is not None and after.start_min < placed.end_min - 1:
            return HeldBy.BUSY, after.key
        return None

    def _gap(self, kind: str, before: There | None, window: Window) -> int:
        """Return the minutes of clearing up and getting ready that lie between two works."""
        if before is None or not self.set_ups or before.start_min < window.start_min:
            return 0
        other = self.activities[before.key].kind
        if other == kind:
            return 0
        return self.set_ups.get(other, (0, 0))[1] + self.set_ups.get(kind, (0, 0))[0]

    def _room(self, placed: Placed, activity: Activity) -> Held | None:
        for stirs in activity.stirs if placed.end_min > placed.start_min else ():
            key = self.clears.get((activity.room, stirs, False, placed.start_min))
            if key is not None and key != placed.key:
                return HeldBy.ROOM, key
        for bare in activity.bare:
            if placed.end_min + bare.after_min == placed.start_min:
                continue
            key = self.clears.get((activity.room, bare.stirred, True, placed.start_min))
            if key is not None and key != placed.key:
                return HeldBy.ROOM, key
        return None

    def _store(self, placed: Placed, activity: Activity) -> Held | None:
        for use in activity.uses:
            first, last = self._held(placed, use)
            level = self.levels.get(use.store)
            if (
                level is not None
                and first < last
                and level.at(first - 1) + use.amount > level.capacity
            ):
                return HeldBy.STORE, use.store
        return None


class _Busy:
    """What one pair of hands does, in the order of starts."""

    def __init__(self) -> None:
        self._starts: list[int] = []
        self._works: list[There] = []

    def add(self, there: There) -> None:
        self._starts.append(there.start_min)
        self._works.append(there)

    def around(self, placed: Placed) -> tuple[There | None, There | None]:
        """Return what they do last before its start, and next from there on, but for itself."""
        works = self._works
        at = bisect_right(self._starts, placed.start_min - 1)
        after = at
        while after < len(works) and works[after].key == placed.key:
            after += 1
        return works[at - 1] if at else None, works[after] if after < len(works) else None


class _Level:
    """How much of a store is held, over time."""

    def __init__(self, capacity: int) -> None:
        self.capacity = capacity
        self._changes: dict[int, int] = {}
        self._times: list[int] = []
        self._held: list[int] = []

    def add(self, start: int, end: int, amount: int) -> None:
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
        at = bisect_right(self._times, time) - 1
        return self._held[at] if at >= 0 else 0
