"""When a room is stirred up or something lies bare in it, and how much of a store is held."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from typing import TypeAlias

from finishsched.planning.hands_work import There
from finishsched.planning.problem import Activity, Problem

Room: TypeAlias = tuple[str, str, bool]
"""A room, what is stirred up in it, and whether it is that, or something lies bare to it.

Plain tuples, here and below, since there are some for each activity of a plan.
"""
Stretch: TypeAlias = tuple[int, int, str]
"""From when up to when it is so, and by which activity."""
Stretches: TypeAlias = dict[Room, list[Stretch]]


class Track:
    """Stretches of time that do not touch, each with what ends it."""

    def __init__(self, stretches: Iterable[Stretch]) -> None:
        """Join stretches that touch, in the order of their starts."""
        self._starts: list[int] = []
        self._ends: list[int] = []
        self._keys: list[str] = []
        """By stretch, the activity that is over last in it."""
        for start, end, key in stretches:
            if not self._ends or start > self._ends[-1]:
                self._starts.append(start)
                self._ends.append(end)
                self._keys.append(key)
            elif end > self._ends[-1]:
                self._ends[-1] = end
                self._keys[-1] = key

    def meets(self, start: int, end: int) -> tuple[int, str] | None:
        """Return when what lies in a stretch of time is over, and what it is.

        Args:
            start: the minute from which on it must be free.
            end: the minute up to which.

        Returns:
            None where nothing lies in it.

        """
        at = bisect_right(self._ends, start)
        if at < len(self._ends) and self._starts[at] < end:
            return self._ends[at], self._keys[at]
        return None


Held: TypeAlias = tuple[int, int, int]
"""From when up to when something of a store is held, and how much."""


class Level:
    """How much of a store is held, over time."""

    def __init__(self, capacity: int) -> None:
        self.capacity = capacity
        self._changes: dict[int, int] = {}
        """By minute, how much more is held from then on, or less."""
        self._times: list[int] = []
        """The minutes at which that changes, in order."""
        self._held: list[int] = []
        """How much is held from each of these on."""

    def add(self, start: int, end: int, amount: int) -> None:
        """Hold an amount from one minute up to another.

        Args:
            start: when it is taken.
            end: when it is given back.
            amount: how much, in pieces of what the store holds.

        """
        changes = self._changes
        changes[start] = changes.get(start, 0) + amount
        changes[end] = changes.get(end, 0) - amount

    def settle(self) -> None:
        """Add up what is held over time, once everything is there."""
        held = 0
        for time in sorted(self._changes):
            held += self._changes[time]
            self._times.append(time)
            self._held.append(held)

    def at(self, time: int) -> int:
        """Return how much is held at a minute."""
        at = bisect_right(self._times, time) - 1
        return self._held[at] if at >= 0 else 0

    def full_until(self, first: int, last: int, amount: int, but: list[Held]) -> int | None:
        """Return when there is room for an amount again, or None where there is all along.

        Args:
            first: the minute from which on there must be room.
            last: the minute up to which.
            amount: for how much.
            but: what is held now and does not count.

        """
        at = max(0, bisect_right(self._times, first) - 1)
        is_full = False
        while at < len(self._times) and (self._times[at] < last or is_full):
            time = max(self._times[at], first)
            others = self._held[at] - _held_then(but, time)
            if others + amount > self.capacity:
                is_full = True
            elif is_full:
                return time
            at += 1
        return last if is_full else None


def _held_then(holds: list[Held], time: int) -> int:
    """Return how much some holds come to at a minute."""
    total = 0
    for start, end, amount in holds:
        if start <= time < end:
            total += amount
    return total


def stretches_of(
    problem: Problem,
    activities: dict[str, Activity],
    there: dict[str, There],
) -> Stretches:
    """Return by room and dirt what stirs it up, and what lies bare to it.

    Args:
        problem: has the rules of rooms.
        activities: all of them by key.
        there: where each lies that is done or placed.

    """
    settle: dict[tuple[str, str], int] = {}
    found: Stretches = {}
    for rule in problem.rules:
        settle[rule.room, rule.stirs] = rule.settle_min
        for stirred in (True, False):
            found[rule.room, rule.stirs, stirred] = []
    if not settle:
        return found
    for key, each in there.items():
        activity = activities[key]
        _add_stirred(found, settle, activity, each)
        _add_bare(found, activity, each)
    return found


def _add_stirred(
    found: Stretches,
    settle: Mapping[tuple[str, str], int],
    activity: Activity,
    there: There,
) -> None:
    """Note when a room is stirred up by an activity; what takes no time stirs up nothing.

    Args:
        found: takes the stretches.
        settle: for how many minutes it hangs there after, by room and by what is stirred up.
        activity: what stirs.
        there: when it does.

    """
    if there.end_min <= there.start_min:
        return
    for stirs in activity.stirs:
        settle_min = settle.get((activity.room, stirs))
        if settle_min is not None:
            settled = there.end_min + settle_min
            stirred = found[activity.room, stirs, True]
            stirred.append((there.start_min, settled, activity.key))


def _add_bare(found: Stretches, activity: Activity, there: There) -> None:
    """Note when an activity lies bare to anything that a rule of its room is about.

    Args:
        found: takes the stretches; it has a list for each rule.
        activity: what lies bare.
        there: when it is done, before it lies so.

    """
    for bare in activity.bare:
        covered = there.end_min + bare.after_min
        lying_bare = found.get((activity.room, bare.stirred, False))
        if lying_bare is not None and covered > there.start_min:
            lying_bare.append((there.start_min, covered, activity.key))


def by_end(stretches: Iterable[Stretch]) -> dict[int, str]:
    """Return by minute the activity whose stretch is over then."""
    return {end: key for _, end, key in stretches}
