"""What activities share, in numbers: the rules of rooms, and what is taken of stores."""

from __future__ import annotations

from typing import NamedTuple

from finishsched.planning.numbers.inner import NOT, Held, Inner, Mark
from finishsched.planning.problem import Activity, Bare, Done, Problem, Use


class _RoomRule(NamedTuple):
    """A rule of one room, by its number."""

    number: int
    stirs: str
    settle_min: int

    @property
    def stirred_track(self) -> int:
        """The track that is busy while the room is stirred up."""
        return 2 * self.number

    @property
    def bare_track(self) -> int:
        """The track that is busy while something lies bare in the room."""
        return 2 * self.number + 1


class _Likeness(NamedTuple):
    """What the marks of an activity hang on."""

    room: str
    lasts: bool
    """Whether it takes, or may take, any time."""
    stirs: tuple[str, ...]
    bare: tuple[Bare, ...]
    """What must not be stirred up in its room, and for how long after it."""


class _Tracks(NamedTuple):
    """The tracks that activities which are alike make busy, and those they must find free."""

    marks: tuple[Mark, ...]
    avoids: tuple[Mark, ...]


def add_rules(
    inner: Inner,
    problem: Problem,
    todo: list[Activity],
    past: list[Activity],
    done: dict[str, Done],
) -> None:
    """Note which tracks of its room each activity makes busy, and which it must find free.

    Each rule has two tracks: when the room is stirred up, and when something is bare in it. What
    makes one of them busy must find the other free.

    Args:
        inner: takes what is found.
        problem: has the rules.
        todo: the activities that are not done, in the order of their numbers.
        past: those that are done.
        done: when those were done, by key.

    """
    rules = _rules_by_room(problem)
    if not rules:
        return
    known: dict[_Likeness, _Tracks] = {}
    for number, activity in enumerate(todo):
        if activity.room not in rules:
            continue
        if not activity.stirs and not activity.bare:
            continue
        can_grow = inner.windows[number] or inner.deadlines[number]
        lasts = bool(activity.minutes or can_grow)
        like = _Likeness(
            room=activity.room,
            lasts=lasts,
            stirs=activity.stirs,
            bare=activity.bare,
        )
        if like not in known:
            known[like] = _tracks(activity, rules[activity.room], lasts=lasts)
        tracks = known[like]
        inner.marks[number] = tracks.marks
        inner.avoids[number] = tracks.avoids
    for activity in past:
        of_room = rules.get(activity.room, [])
        _add_past_marks(inner, activity, done[activity.key], of_room)


def _rules_by_room(problem: Problem) -> dict[str, list[_RoomRule]]:
    """Return the rules of each room, by its name."""
    rules: dict[str, list[_RoomRule]] = {}
    for number, rule in enumerate(problem.rules):
        of_room = rules.setdefault(rule.room, [])
        of_room.append(_RoomRule(number, rule.stirs, rule.settle_min))
    return rules


def _tracks(activity: Activity, rules: list[_RoomRule], *, lasts: bool) -> _Tracks:
    """Return what an activity marks, and avoids: of each rule the other track, for as long.

    Args:
        activity: one of the room.
        rules: those of the room.
        lasts: whether it takes, or may take, any time.

    """
    marks = _marks(activity, rules, lasts=lasts)
    avoids: list[Mark] = []
    for track, longer in marks:
        other_track_of_rule = track ^ 1
        avoids.append((other_track_of_rule, longer))
    return _Tracks(marks, tuple(avoids))


def _marks(activity: Activity, rules: list[_RoomRule], *, lasts: bool) -> tuple[Mark, ...]:
    """Return what an activity marks; one that takes no time stirs up nothing.

    Args:
        activity: one of the room.
        rules: those of the room.
        lasts: whether it takes, or may take, any time.

    """
    found: list[Mark] = []
    if lasts:
        stirring = [rule for rule in rules if rule.stirs in activity.stirs]
        found += [(rule.stirred_track, rule.settle_min) for rule in stirring]
    for rule in rules:
        after_min = [bare.after_min for bare in activity.bare if bare.stirred == rule.stirs]
        longest = max(after_min, default=0)
        lies_bare = bool(after_min) and (lasts or longest > 0)
        if lies_bare:
            found.append((rule.bare_track, longest))
    return tuple(found)


def _add_past_marks(
    inner: Inner,
    activity: Activity,
    there: Done,
    rules: list[_RoomRule],
) -> None:
    """Note when tracks are busy by something that is done.

    Args:
        inner: takes what is found.
        activity: what is done.
        there: when that was.
        rules: those of its room.

    """
    lasted = there.end_min > there.start_min
    for track, longer in _marks(activity, rules, lasts=lasted):
        busy_until = there.end_min + longer
        inner.tracks[track].append((there.start_min, busy_until))


def add_uses(
    inner: Inner,
    problem: Problem,
    todo: list[Activity],
    past: list[Activity],
    done: dict[str, Done],
) -> None:
    """Note what each activity takes of stores, and what is still held by those that are done.

    Args:
        inner: takes what is found.
        problem: has the stores.
        todo: the activities that are not done, in the order of their numbers.
        past: those that are done.
        done: when those were done, by key.

    """
    stores = {store.name: number for number, store in enumerate(problem.stores)}
    for number, activity in enumerate(todo):
        for use in activity.uses:
            goes_on = bool(use.hold_min) or use.until is not None
            if use.from_start or goes_on:
                shared = _shared(activity, use)
                _add_use(inner, stores, number, use, shared, done)
    for activity in past:
        there = done[activity.key]
        for use in activity.uses:
            _add_past_use(inner, stores[use.store], use, there, done)


def _shared(activity: Activity, use: Use) -> int:
    """Return what a use takes, with what its activity takes of the same store at the same time.

    Args:
        activity: what takes it.
        use: one of its uses.

    """
    if len(activity.uses) == 1:
        return use.amount
    return sum([other.amount for other in activity.uses if _meet(other, use)])


def _add_use(
    inner: Inner,
    stores: dict[str, int],
    number: int,
    use: Use,
    shared: int,
    done: dict[str, Done],
) -> None:
    """Note one use of an activity that is to be done, and at the one that ends it that it does.

    Args:
        inner: takes what is found.
        stores: their numbers, by name.
        number: the activity.
        use: what it takes.
        shared: how much, with what it takes of the same store at the same time otherwise.
        done: what is done, by key.

    """
    until = -1
    until_min = NOT
    if use.until is not None:
        until = inner.index.get(use.until, -1)
        if use.until in done:
            until_min = done[use.until].start_min
    if until >= 0:
        which = len(inner.uses[number])
        inner.ends_uses[until].append((number, which))
    has_an_end = until >= 0 or use.until in done
    held = Held(
        store=stores[use.store],
        amount=use.amount,
        shared=shared,
        from_start=use.from_start,
        hold_min=0 if has_an_end else use.hold_min,
        until=until,
        until_min=until_min,
    )
    inner.uses[number].append(held)


def _add_past_use(
    inner: Inner,
    store: int,
    use: Use,
    there: Done,
    done: dict[str, Done],
) -> None:
    """Note what something done holds of a store, perhaps until an activity starts.

    Args:
        inner: takes what is found.
        store: its number.
        use: what was taken of it.
        there: when what took it was done.
        done: what is done, by key.

    """
    start = there.start_min if use.from_start else there.end_min
    until = -1 if use.until is None else inner.index.get(use.until, -1)
    if until >= 0:
        hold = (store, start, there.end_min, use.amount)
        inner.open_base.append((until, hold))
        return
    end = there.end_min + use.hold_min
    if use.until in done:
        end = max(there.end_min, done[use.until].start_min)
    if end > start:
        inner.store_base[store].append((start, end, use.amount))


def touched_stores(inner: Inner, number: int) -> tuple[int, ...]:
    """Return the numbers of the stores whose level changes when an activity is placed, sorted.

    Args:
        inner: the problem in numbers.
        number: the activity.

    """
    stores = {use.store for use in inner.uses[number]}
    if inner.frees[number]:
        for holder, which in inner.ends_uses[number]:
            use = inner.uses[holder][which]
            stores.add(use.store)
        for until, (store, _, _, _) in inner.open_base:
            if until == number:
                stores.add(store)
    return tuple(sorted(stores))


def _meet(one: Use, other: Use) -> bool:
    """Return whether two uses of one activity can hold the same store at the same time.

    Args:
        one: what the activity takes.
        other: what it takes otherwise, perhaps of another store.

    """
    if one is other:
        return True
    if one.store != other.store:
        return False
    return not (_ends_as_begins(one, other) or _ends_as_begins(other, one))


def _ends_as_begins(first: Use, second: Use) -> bool:
    """Return whether one use is over with the activity, when the other only begins."""
    over_at_its_end = first.from_start and not first.hold_min and first.until is None
    return over_at_its_end and not second.from_start
