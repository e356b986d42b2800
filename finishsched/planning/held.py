"""What held back each start of a plan, whichever planner it comes from.

An activity is held back by whatever keeps it from starting one minute earlier while everything
else of the plan stays where it is. Waits are named first, then hours and hands, room, stores, and
the windows of what comes later; where none of them stands in the way it is the plan's order. What
starts where hours begin is asked again for the hours before: only where there were none since its
waits is it held back by hours.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet

from finishsched.planning.problem import Activity, HeldBy, Placed, Plan, Problem, Use
from finishsched.planning.why_not_earlier import (
    Held,
    Level,
    Room,
    Scene,
    Sooner,
    Stretches,
    There,
    Works,
)
from finishsched.planning.window import Window


def held_back(problem: Problem, plan: Plan) -> Plan:
    """Return the plan with what held back each of its starts.

    The key beside it is that of the activity waited for or in the way, of the hands whose hours
    begin, of the store that is full, of the later activity that keeps its window, or the kind of
    work that is got ready for; it is empty where a time of its own, or nothing, held it.
    """
    held = reasons_of(problem, plan.placed)
    placed = tuple(
        each
        if each.held_by is why[0] and each.held_by_key == why[1]
        else Placed(each.key, each.start_min, each.end_min, each.by, *why)
        for each, why in zip(plan.placed, held, strict=True)
    )
    return Plan(placed, plan.misses, plan.left_out)


def reasons_of(problem: Problem, placed: Sequence[There]) -> list[Held]:
    """Return what held back each start, and the key beside it, in the order of what is placed."""
    reasons = _Reasons(problem, placed)
    held = [reasons.of(each) for each in placed]
    at_hours = [at for at, (what, _) in enumerate(held) if what is HeldBy.HOURS]
    if at_hours:
        sooner = reasons.sooner({placed[at].key for at in at_hours})
        for at in at_hours:
            held[at] = sooner.reason(placed[at]) or held[at]
    return held


class _Reasons:
    """A plan, looked up by what ends or begins when."""

    def __init__(self, problem: Problem, placed: Iterable[There]) -> None:
        self.now = problem.now_min
        self.activities = {activity.key: activity for activity in problem.activities}
        self.there: dict[str, There] = {done.key: done for done in problem.done}
        self.there.update({each.key: each for each in placed})
        self.problem = problem
        self.busy = {
            hands.name: Works(hands.windows, self.activities, problem.set_ups)
            for hands in problem.hands
        }
        self.set_ups = {each.kind: (each.before_min, each.after_min) for each in problem.set_ups}
        self.next_to: dict[str, str] = {}
        """By activity what the same hands just did, where it starts as that ends."""
        for there in sorted(self.there.values(), key=lambda each: each.start_min):
            if there.by in self.busy and there.end_min > there.start_min:
                before = self.busy[there.by].add(there)
                if before is not None and before.end_min == there.start_min:
                    self.next_to[there.key] = before.key
        self.waits, self.tied = self._lags(problem)
        self.rooms, self.clears = self._rooms(problem)
        self.levels = {store.name: Level(store.capacity) for store in problem.stores}
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

    def _rooms(self, problem: Problem) -> tuple[Stretches, dict[Room, dict[int, str]]]:
        """Return by room and dirt what stirs it up, and what lies bare to it; and by its end."""
        settle = {(rule.room, rule.stirs): rule.settle_min for rule in problem.rules}
        found: Stretches = {(*what, stirred): [] for what in settle for stirred in (True, False)}
        for key, there in self.there.items() if settle else ():
            activity = self.activities[key]
            room, start, end = activity.room, there.start_min, there.end_min
            for stirs in activity.stirs:
                longer = settle.get((room, stirs))
                if longer is not None and end > start:
                    found[room, stirs, True].append((start, end + longer, key))
            for bare in activity.bare:
                if (room, bare.stirred) in settle and end + bare.after_min > start:
                    found[room, bare.stirred, False].append((start, end + bare.after_min, key))
        return found, {
            what: {end: key for _, end, key in stretches} for what, stretches in found.items()
        }

    def sooner(self, keys: AbstractSet[str]) -> Sooner:
        """Return the same plan, made ready to be asked why not before of these activities."""
        return Sooner(
            self.problem,
            Scene(self.there, self.activities, self.busy, self.rooms, self.levels),
            keys,
        )

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

    def of(self, placed: There) -> Held:
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

    def _hands(self, placed: There, activity: Activity) -> Held | None:
        held = None
        next_to = self.next_to.get(placed.key)
        for name in activity.by:
            if name == placed.by and next_to is not None:
                held = HeldBy.BUSY, next_to
            elif name in self.busy:
                found = self._one_pair(name, placed, activity)
                if found is None:
                    return None
                if name == placed.by:
                    held = found
        return held

    def _one_pair(self, name: str, placed: There, activity: Activity) -> Held | None:
        """Return what keeps these hands from it one minute earlier."""
        earlier, works = placed.start_min - 1, self.busy[name]
        at = works.window_at(earlier)
        if at < 0 or works.windows[at].end_min < placed.end_min - 1:
            return HeldBy.HOURS, name
        window = works.windows[at]
        before, after = works.around(placed)
        held = self._getting_ready(name, activity.kind, before, window, earlier)
        if held is None and after is not None and after.start_min < placed.end_min - 1:
            return HeldBy.BUSY, after.key
        return held

    def _getting_ready(
        self, name: str, kind: str, before: There | None, window: Window, earlier: int
    ) -> Held | None:
        """Return what keeps hands from being free, cleared up and ready by a minute."""
        if before is not None and before.end_min > window.start_min:
            clear, ready = self._between(before, kind, window)
            if max(before.end_min, self.now - clear) + clear + ready <= earlier:
                return None
            own = before.end_min + clear + ready > earlier and before.end_min > self.now - clear
            return (HeldBy.BUSY, before.key) if own else (HeldBy.SET_UP, kind)
        ready = self.set_ups.get(kind, (0, 0))[0]
        if max(window.start_min, self.now) + ready <= earlier:
            return None
        return (HeldBy.HOURS, name) if window.start_min > self.now else (HeldBy.SET_UP, kind)

    def _between(self, before: There, kind: str, window: Window) -> tuple[int, int]:
        """Return the minutes of clearing up and getting ready that lie between two works."""
        other = self.activities[before.key].kind
        if not self.set_ups or (other == kind and before.start_min >= window.start_min):
            return 0, 0
        return self.set_ups.get(other, (0, 0))[1], self.set_ups.get(kind, (0, 0))[0]

    def _room(self, placed: There, activity: Activity) -> Held | None:
        start, room = placed.start_min, activity.room
        for stirs in activity.stirs if placed.end_min > start else ():
            key = self.clears.get((room, stirs, False), {}).get(start)
            if key is not None and key != placed.key:
                return HeldBy.ROOM, key
        for bare in activity.bare:
            if placed.end_min + bare.after_min == start:
                continue
            key = self.clears.get((room, bare.stirred, True), {}).get(start)
            if key is not None and key != placed.key:
                return HeldBy.ROOM, key
        return None

    def _store(self, placed: There, activity: Activity) -> Held | None:
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
