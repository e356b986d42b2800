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
from dataclasses import replace

from finishsched.planning.hands_work import There, Works
from finishsched.planning.held_stretches import Level, Room, by_end, stretches_of
from finishsched.planning.pots import mixed_of
from finishsched.planning.problem import Activity, HeldBy, Placed, Plan, Problem
from finishsched.planning.why_not_earlier import THE_ORDER, Scene, Why, WhyNotEarlier
from finishsched.planning.window import Window


def held_back(problem: Problem, plan: Plan) -> Plan:
    """Return the plan with what held back each of its starts.

    The key beside it is that of the activity waited for or in the way, of the hands whose hours
    begin, of the store that is full, of the later activity that keeps its window, of another that
    is done from the same mix, or the kind of work that is got ready for; it is empty where a time
    of its own, or nothing, held it.
    """
    placed: list[Placed] = []
    reasons = reasons_of(problem, plan.placed)
    for each, why in zip(plan.placed, reasons, strict=True):
        is_told = (each.held_by, each.held_by_key) == why
        placed.append(each if is_told else _told(each, why))
    return replace(plan, placed=tuple(placed))


def _told(placed: Placed, why: Why) -> Placed:
    """Return a start with what held it back."""
    held_by, held_by_key = why
    return Placed(
        placed.key,
        placed.start_min,
        placed.end_min,
        placed.by,
        held_by,
        held_by_key,
    )


def reasons_of(problem: Problem, placed: Sequence[There]) -> list[Why]:
    """Return what held back each start, in the order of what is placed.

    Args:
        problem: what is planned.
        placed: where each activity lies that is not done.

    """
    reasons = _Reasons(problem, placed)
    held = [reasons.of(each) for each in placed]
    # What starts where hours begin: perhaps something kept it from the hours before.
    at_hours = [at for at, (held_by, _) in enumerate(held) if held_by is HeldBy.HOURS]
    if at_hours:
        keys = {placed[at].key for at in at_hours}
        before_then = reasons.why_not_earlier(keys)
        for at in at_hours:
            held[at] = before_then.reason(placed[at]) or held[at]
    return _for_one_pot(problem, placed, held)


def _for_one_pot(problem: Problem, placed: Sequence[There], held: list[Why]) -> list[Why]:
    """Return what held back each start: a pot that it shares, where nothing else was in its way.

    Args:
        problem: what is planned.
        placed: where everything lies.
        held: what else held back each.

    """
    fellows = _fellows(problem, placed)
    found: list[Why] = []
    for each, why in zip(placed, held, strict=True):
        if why == THE_ORDER and each.key in fellows:
            found.append((HeldBy.POT, fellows[each.key]))
        else:
            found.append(why)
    return found


def _fellows(problem: Problem, placed: Sequence[There]) -> dict[str, str]:
    """Return by activity another that is done from the same mix: the last, or for that the first.

    Args:
        problem: what is planned.
        placed: where everything lies.

    """
    fellows: dict[str, str] = {}
    for mixed in mixed_of(problem, placed):
        first, last = mixed.keys[0], mixed.keys[-1]
        for key in mixed.keys:
            fellows[key] = last if key != last else first
    return fellows


class _Reasons:
    """A plan, looked up by what ends or begins when."""

    def __init__(self, problem: Problem, placed: Iterable[There]) -> None:
        """Look it up.

        Args:
            problem: what is planned.
            placed: where each activity lies that is not done.

        """
        self.now = problem.now_min
        self.problem = problem
        activities = {activity.key: activity for activity in problem.activities}
        there: dict[str, There] = {done.key: done for done in problem.done}
        there.update({each.key: each for each in placed})
        works: dict[str, Works] = {}
        for hands in problem.hands:
            works[hands.name] = Works(hands.windows, activities, problem.set_ups)
        levels = {store.name: Level(store.capacity) for store in problem.stores}
        rooms = stretches_of(problem, activities, there)
        self.scene = Scene(
            there=there,
            activities=activities,
            works=works,
            rooms=rooms,
            levels=levels,
        )
        self.next_to = self._line_up_works()
        """By activity what the same hands just did, where it starts as that ends."""
        self.waits: dict[str, str] = {}
        """By activity what it just waits for."""
        self.tied: dict[str, str] = {}
        """By activity what can wait for it no longer."""
        self._look_at_lags()
        self.clears: dict[Room, dict[int, str]] = {}
        """By room and dirt, and then by minute, the activity whose stretch is over then."""
        for room, stretches in rooms.items():
            self.clears[room] = by_end(stretches)
        if levels:
            self._fill()

    def _line_up_works(self) -> dict[str, str]:
        """Give hands their works, and return which of these begin just as the one before ends."""
        next_to: dict[str, str] = {}
        in_order = sorted(self.scene.there.values(), key=lambda each: each.start_min)
        for there in in_order:
            works = self.scene.works.get(there.by or "")
            takes_time = there.end_min > there.start_min
            if works is None or not takes_time:
                continue
            before = works.add(there)
            if before is not None and before.end_min == there.start_min:
                next_to[there.key] = before.key
        return next_to

    def _look_at_lags(self) -> None:
        """Note which waits are just over, and which windows just closed."""
        for lag in self.problem.lags:
            before = self.scene.there.get(lag.before)
            after = self.scene.there.get(lag.after)
            if before is None or after is None:
                continue
            waited_min = after.start_min - before.end_min
            if waited_min == lag.least_min:
                self.waits[lag.after] = lag.before
            if waited_min == lag.most_min:
                self.tied[lag.before] = lag.after

    def why_not_earlier(self, keys: AbstractSet[str]) -> WhyNotEarlier:
        """Return the same plan, made ready to be asked why not before of these activities."""
        return WhyNotEarlier(self.problem, self.scene, keys)

    def _fill(self) -> None:
        """Add up what is held of each store."""
        levels = self.scene.levels
        for key, there in self.scene.there.items():
            for use in self.scene.activities[key].uses:
                level = levels.get(use.store)
                if level is None:
                    continue
                start, end = self.scene.held(use, there.start_min, there.end_min)
                if end > start:
                    level.add(start, end, use.amount)
        for level in levels.values():
            level.settle()

    def of(self, placed: There) -> Why:
        """Return what keeps it from starting a minute earlier, and the key of that."""
        start = placed.start_min
        if start <= self.now:
            return HeldBy.NOTHING, ""
        if placed.key in self.waits:
            return HeldBy.LAG, self.waits[placed.key]
        activity = self.scene.activities[placed.key]
        if activity.release_min == start:
            return HeldBy.LAG, ""
        return (
            self._hands(placed, activity)
            or self._room(placed, activity)
            or self._store(placed, activity)
            or self._window(placed)
            or THE_ORDER
        )

    def _window(self, placed: There) -> Why | None:
        """Return what comes later and would miss its window after an earlier end."""
        if placed.key not in self.tied:
            return None
        return HeldBy.WINDOW, self.tied[placed.key]

    def _hands(self, placed: There, activity: Activity) -> Why | None:
        """Return what keeps its hands from it; None where any that can do it are free.

        Args:
            placed: where it lies, and whose it is.
            activity: who else can do it.

        """
        if placed.by is None:
            return None
        held: Why | None = None
        next_to = self.next_to.get(placed.key)
        for name in activity.by:
            if name == placed.by and next_to is not None:
                held = (HeldBy.BUSY, next_to)
            elif name in self.scene.works:
                found = self._one_pair(name, placed, activity)
                if found is None:
                    return None
                if name == placed.by:
                    held = found
        return held

    def _one_pair(self, name: str, placed: There, activity: Activity) -> Why | None:
        """Return what keeps these hands from it one minute earlier.

        Args:
            name: whose hands.
            placed: where it lies.
            activity: what it is.

        """
        works = self.scene.works[name]
        earlier = placed.start_min - 1
        earlier_end = placed.end_min - 1
        at = works.window_at(earlier)
        if at < 0 or works.windows[at].end_min < earlier_end:
            return HeldBy.HOURS, name
        before, after = works.around(placed)
        window = works.windows[at]
        held = self._getting_ready(name, activity.kind, before, window, earlier)
        if held is None and after is not None and after.start_min < earlier_end:
            return HeldBy.BUSY, after.key
        return held

    def _getting_ready(
        self,
        name: str,
        kind: str,
        before: There | None,
        window: Window,
        earlier: int,
    ) -> Why | None:
        """Return what keeps hands from being free, cleared up and ready by a minute.

        Args:
            name: whose hands.
            kind: the kind of work to be ready for.
            before: what they did last.
            window: in which they are to work.
            earlier: the minute.

        """
        works = self.scene.works[name]
        if before is not None and before.end_min > window.start_min:
            return self._after(before, works, kind, window, earlier)
        ready = works.set_up(kind).before
        if max(window.start_min, self.now) + ready <= earlier:
            return None
        if window.start_min > self.now:
            return HeldBy.HOURS, name
        return HeldBy.SET_UP, kind

    def _after(
        self,
        before: There,
        works: Works,
        kind: str,
        window: Window,
        earlier: int,
    ) -> Why | None:
        """Return the same for hands that did something else in the window: that, or the set-up.

        What could be cleared up before now has been.

        Args:
            before: what they did last.
            works: all that they do.
            kind: the kind of work to be ready for.
            window: in which they are to work.
            earlier: the minute by which.

        """
        clear_up, get_ready = self._between(before, works, kind, window)
        cleared_by_now = self.now - clear_up
        free_from = max(before.end_min, cleared_by_now)
        set_up = clear_up + get_ready
        if free_from + set_up <= earlier:
            return None
        is_in_the_way = before.end_min + set_up > earlier
        if is_in_the_way and before.end_min > cleared_by_now:
            return HeldBy.BUSY, before.key
        return HeldBy.SET_UP, kind

    def _between(self, before: There, works: Works, kind: str, window: Window) -> tuple[int, int]:
        """Return the minutes of clearing up and getting ready that lie between two works.

        Args:
            before: what they did last.
            works: all that they do.
            kind: the kind of work that comes next.
            window: in which they are to do it.

        """
        other = self.scene.activities[before.key].kind
        began_in_it = before.start_min >= window.start_min
        if other == kind and began_in_it:
            return 0, 0
        return works.set_up(other).after, works.set_up(kind).before

    def _room(self, placed: There, activity: Activity) -> Why | None:
        """Return what in its room is over just as it starts, and would be spoilt or spoil it.

        Args:
            placed: where it lies.
            activity: its room, what it stirs up there, and what it lies bare to.

        """
        start, end = placed.start_min, placed.end_min
        takes_time = end > start
        if takes_time:
            for stirs in activity.stirs:
                bare_to_it = (activity.room, stirs, False)
                key = self._over_at(bare_to_it, start)
                if key is not None and key != placed.key:
                    return HeldBy.ROOM, key
        for bare in activity.bare:
            lies_bare = end + bare.after_min != start
            stirred = (activity.room, bare.stirred, True)
            key = self._over_at(stirred, start)
            if lies_bare and key is not None and key != placed.key:
                return HeldBy.ROOM, key
        return None

    def _over_at(self, room: Room, minute: int) -> str | None:
        """Return the activity whose stretch in a room is over at a minute.

        Args:
            room: the room, what is stirred up, and whether it is that or what lies bare to it.
            minute: since 1970.

        """
        return self.clears.get(room, {}).get(minute)

    def _store(self, placed: There, activity: Activity) -> Why | None:
        """Return the first store that was too full for it a minute earlier.

        Args:
            placed: where it lies.
            activity: what it takes of stores.

        """
        for use in activity.uses:
            first, last = self.scene.held(use, placed.start_min, placed.end_min)
            level = self.scene.levels.get(use.store)
            if level is None or first >= last:
                continue
            wanted = level.at(first - 1) + use.amount
            if wanted > level.capacity:
                return HeldBy.STORE, use.store
        return None
