"""Whether a plan keeps to what activities share: the capacity of stores, the rules of rooms."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from finishsched.planning.judging.violations import Broken, Scene, There, Violation
from finishsched.planning.problem import Activity, Done, RoomRule, Store, Use


def stores_broken(scene: Scene) -> Iterator[Violation]:
    """Find where more of a store is held at once than there is."""
    holds_by_store: dict[str, list[_Hold]] = {}
    for key, there in scene.there.items():
        for use in scene.activities[key].uses:
            hold = _hold(there, use, scene)
            takes_time = hold.end_min > hold.start_min
            if use.amount and takes_time:
                holds = holds_by_store.setdefault(use.store, [])
                holds.append(hold)
    for store in scene.problem.stores:
        holds = holds_by_store.get(store.name, [])
        yield from _over_capacity(store, holds)


class _Hold(NamedTuple):
    """What one activity holds of a store, from one minute up to another."""

    key: str
    start_min: int
    end_min: int
    amount: int
    past: bool
    """Whether it is done, and so not judged by itself."""


def _hold(there: There, use: Use, scene: Scene) -> _Hold:
    """Return when a use is held: to its own end at least where another activity ends it.

    Args:
        there: when the activity is, or was.
        use: what it takes of a store.
        scene: the plan and its problem.

    """
    end = there.end_min + use.hold_min
    until = None
    if use.until is not None:
        until = scene.there.get(use.until)
    if until is not None:
        end = max(there.end_min, until.start_min)
    return _Hold(
        key=there.key,
        start_min=there.start_min if use.from_start else there.end_min,
        end_min=end,
        amount=use.amount,
        past=isinstance(there, Done),
    )


def _over_capacity(store: Store, holds: list[_Hold]) -> Iterator[Violation]:
    """Count at every instant at which something is taken up; history alone may be too much.

    What begins at one instant is counted together, after what ends then has been given back.

    Args:
        store: has so much.
        holds: all that is held of it.

    """
    by_start = sorted(holds, key=lambda hold: hold.start_min)
    by_end = sorted(holds, key=lambda hold: hold.end_min)
    # What is held now, by identity: an activity may hold the same twice over.
    held: dict[int, _Hold] = {}
    gone = taken = 0
    for number, hold in enumerate(by_start):
        # What ends now was given back before anything is taken: intervals do not hold their end.
        while by_end[gone].end_min <= hold.start_min:
            taken -= held.pop(id(by_end[gone])).amount
            gone += 1
        held[id(hold)] = hold
        taken += hold.amount
        if taken <= store.capacity:
            continue
        is_last = number + 1 == len(by_start)
        if is_last or by_start[number + 1].start_min != hold.start_min:
            yield from _too_much(store, list(held.values()))


def _too_much(store: Store, held: list[_Hold]) -> Iterator[Violation]:
    """Find that what is held at one instant is more than there is, and not by history alone.

    Args:
        store: has so much.
        held: all that is held of it at the instant.

    """
    amounts = [hold.amount for hold in held]
    over = sum(amounts) - store.capacity
    planned = [hold.key for hold in held if not hold.past]
    keys = tuple(sorted(planned))
    if over > 0 and keys:
        names = ", ".join(keys)
        sentence = f"{store.name} has {store.capacity}, and {over} more are taken by {names}"
        yield Violation(Broken.STORE, keys, over, sentence)


def rooms_broken(scene: Scene) -> Iterator[Violation]:
    """Find where something is stirred up in a room while something else lies bare to it.

    Along time each stretch is held against those that are still going on when it begins.
    """
    for rule in scene.problem.rules:
        stretches = sorted(_stretches(rule, scene), key=lambda each: each.start_min)
        # Those that have begun; looked at only where one of the other sort is not over.
        going: list[_Stretch] = []
        begins = min([each.start_min for each in stretches], default=0)
        over = {True: begins, False: begins}
        for each in stretches:
            if over[not each.stirring] > each.start_min:
                going = [other for other in going if other.end_min > each.start_min]
                for other in going:
                    if _clash(each, other):
                        yield _meeting(rule, each, other)
            over[each.stirring] = max(over[each.stirring], each.end_min)
            going.append(each)


class _Stretch(NamedTuple):
    """A time in which an activity and what it stirred up, or its bareness, lasts."""

    key: str
    start_min: int
    end_min: int
    stirring: bool
    """Whether it stirs something up; else it lies bare to that."""
    past: bool
    """Whether it is done, and so not judged by itself."""


def _stretches(rule: RoomRule, scene: Scene) -> Iterator[_Stretch]:
    """Give all stretches that a rule of a room is about.

    Args:
        rule: of one room.
        scene: the plan and its problem.

    """
    for key, there in scene.there.items():
        activity = scene.activities[key]
        can_matter = activity.stirs or activity.bare
        if can_matter and activity.room == rule.room:
            yield from _stretches_of(rule, activity, there)


def _stretches_of(rule: RoomRule, activity: Activity, there: There) -> Iterator[_Stretch]:
    """Give the stretches of one activity; what takes no time stirs up nothing.

    Args:
        rule: the rule of the room.
        activity: what it stirs up, and what it lies bare to.
        there: when it is, or was.

    """
    start, end = there.start_min, there.end_min
    past = isinstance(there, Done)
    if rule.stirs in activity.stirs and end > start:
        settled = end + rule.settle_min
        yield _Stretch(activity.key, start, settled, stirring=True, past=past)
    after_min = [bare.after_min for bare in activity.bare if bare.stirred == rule.stirs]
    if after_min:
        covered = end + max(after_min)
        if covered > start:
            yield _Stretch(activity.key, start, covered, stirring=False, past=past)


def _clash(one: _Stretch, other: _Stretch) -> bool:
    """Return whether one stirs and the other is bare to it; two that are done are not judged."""
    if one.stirring == other.stirring:
        return False
    if one.key == other.key:
        return False
    return not (one.past and other.past)


def _meeting(rule: RoomRule, one: _Stretch, other: _Stretch) -> Violation:
    """Return that two stretches meet, and for how long.

    Args:
        rule: the rule of the room that this breaks.
        one: what stirs it up, or lies bare to that.
        other: the other of the two.

    """
    stirring, bare = one, other
    if other.stirring:
        stirring, bare = other, one
    first = max(one.start_min, other.start_min)
    last = min(one.end_min, other.end_min)
    shared = last - first
    stirs = f"{stirring.key} stirs up {rule.stirs} in {rule.room}"
    sentence = f"{stirs} while {bare.key} is bare to it, for {shared} minutes"
    return Violation(
        kind=Broken.ROOM,
        keys=(stirring.key, bare.key),
        minutes=shared,
        sentence=sentence,
    )
