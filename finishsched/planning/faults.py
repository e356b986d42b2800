"""What no plan can mend, found before planning: each fault in a sentence, with what would help.

What cannot be at all is taken out of the problem, with all that follows it; the rest is planned.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeAlias

from finishsched.planning.lag_circles import circle_of
from finishsched.planning.open_hours import OpenHours
from finishsched.planning.problem import Activity, Hands, Lag, Problem, Use

Say: TypeAlias = Callable[[str], str]
"""What people call an activity, by its key."""
NAMED = 4
"""So many activities of a circle are named."""


class FaultKind(StrEnum):
    """What is wrong with a problem."""

    UNKNOWN = "unknown name"
    CYCLE = "cycle"
    BACKWARDS = "window before its wait"
    """A window closes before the least wait is over."""
    TOO_LONG = "longer than any stretch of hours"
    NO_HOURS = "no hours"
    TOO_MUCH = "more than there is"
    NO_WINDOW = "window that no hours can meet"
    PAST_DUE = "due date past"


@dataclass(frozen=True, slots=True)
class PlanFault:
    """One fault, and what would make it possible."""

    kind: FaultKind
    keys: tuple[str, ...]
    """The activities, or the goal, that it is about."""
    minutes: int
    """By how much, where that can be said; else 0."""
    sentence: str
    remedy: str
    left_out: tuple[str, ...] = ()
    """The activities that are therefore not planned."""


@dataclass(frozen=True, slots=True)
class Sound:
    """What of a problem can be planned, and what is wrong with it."""

    problem: Problem
    faults: tuple[PlanFault, ...]

    @property
    def left_out(self) -> tuple[str, ...]:
        """Every activity that was taken out."""
        return tuple(sorted({key for fault in self.faults for key in fault.left_out}))


def sound(problem: Problem, say: Say = str) -> Sound:
    """Return the problem without what cannot be, and every fault of it.

    A window that cannot be met stays, and is told: the plan then shows by how much it is missed.

    Args:
        problem: as it was asked.
        say: tells what people call an activity, by its key.

    """
    faults: list[PlanFault] = []
    for step in (_known_activities, _known_lags, _forwards, _without_cycles, _fitting):
        found = step(problem, say)
        problem = found.problem
        faults += found.faults
    faults += _unmet_windows(problem, say)
    faults += _past_due(problem)
    return Sound(problem, tuple(faults))


def _known_activities(problem: Problem, say: Say) -> Sound:
    """Take out whatever activities name that there is not."""
    names = _Names(problem)
    faults: list[PlanFault] = []
    kept: list[Activity] = []
    for activity in problem.activities:
        strange = names.strange(activity)
        for name in strange:
            sentence = f"{say(activity.key)} names {name}, which there is not"
            faults.append(_unknown(activity.key, sentence))
        kept.append(names.without_strange(activity) if strange else activity)
    return Sound(replace(problem, activities=tuple(kept)), tuple(faults))


class _Names:
    """All that an activity may name."""

    def __init__(self, problem: Problem) -> None:
        self.keys = {activity.key for activity in problem.activities}
        self.hands = {each.name for each in problem.hands}
        self.stores = {store.name for store in problem.stores}
        self.done = {each.key for each in problem.done}

    def strange(self, activity: Activity) -> list[str]:
        """Return what an activity names that there is not; what is done needs no hands any more."""
        by = () if activity.key in self.done else activity.by
        uses = activity.uses
        hands = [name for name in by if name not in self.hands]
        stores = [use.store for use in uses if use.store not in self.stores]
        ends = [use.until for use in uses if use.until is not None and use.until not in self.keys]
        return [
            *[f"hands {name!r}" for name in hands],
            *[f"store {name!r}" for name in stores],
            *[f"{key!r}" for key in ends],
        ]

    def without_strange(self, activity: Activity) -> Activity:
        """Return an activity without that; with strange hands where it has no others."""
        by = tuple(name for name in activity.by if name in self.hands)
        uses: list[Use] = []
        for use in activity.uses:
            if use.store in self.stores:
                ends = use.until in self.keys
                uses.append(use if ends else replace(use, until=None))
        return replace(activity, by=by or activity.by[:1], uses=tuple(uses))


def _known_lags(problem: Problem, say: Say) -> Sound:
    """Take out the lags of activities that there are not."""
    keys = {activity.key for activity in problem.activities}
    faults: list[PlanFault] = []
    kept: list[Lag] = []
    for lag in problem.lags:
        missing = [key for key in (lag.before, lag.after) if key not in keys]
        for key in missing:
            there = lag.after if key == lag.before else lag.before
            sentence = f"{say(there)} is tied to {key!r}, which there is not"
            faults.append(_unknown(there, sentence))
        if not missing:
            kept.append(lag)
    return Sound(replace(problem, lags=tuple(kept)), tuple(faults))


def _unknown(key: str, sentence: str) -> PlanFault:
    """Return that an activity names something that there is not."""
    return PlanFault(FaultKind.UNKNOWN, (key,), 0, sentence, "correct the name")


def _forwards(problem: Problem, say: Say) -> Sound:
    """Drop the end of a hard window that closes before it opens; a soft one is always mended."""
    faults: list[PlanFault] = []
    lags: list[Lag] = []
    for lag in problem.lags:
        if lag.most_min is None or lag.most_min >= lag.least_min:
            lags.append(lag)
            continue
        least, most = _span(lag.least_min), _span(lag.most_min)
        fault = PlanFault(
            FaultKind.BACKWARDS,
            (lag.before, lag.after),
            lag.least_min - lag.most_min,
            f"{say(lag.after)} must come {least} after {say(lag.before)} at the least "
            f"and {most} at the most",
            "shorten the wait or widen the window",
        )
        faults.append(fault)
        lags.append(replace(lag, most_min=None) if lag.hard else lag)
    return Sound(replace(problem, lags=tuple(lags)), tuple(faults))


def _without_cycles(problem: Problem, say: Say) -> Sound:
    """Take out what waits for itself in a circle, one circle after the other."""
    faults: list[PlanFault] = []
    while circle := circle_of(problem):
        gone = _followers(problem, circle)
        names = ", ".join([say(key) for key in circle[:NAMED]])
        more = ", ..." if len(circle) > NAMED else ""
        fault = PlanFault(
            FaultKind.CYCLE,
            tuple(circle),
            0,
            f"{names}{more} each wait for the one before, round in a circle",
            "take out one of their waits",
            gone,
        )
        faults.append(fault)
        problem = without(problem, gone)
    return Sound(problem, tuple(faults))


def _followers(problem: Problem, keys: Collection[str]) -> tuple[str, ...]:
    """Return ``keys`` and everything that comes after them by any lag, sorted."""
    after: dict[str, list[str]] = {}
    for lag in problem.lags:
        after.setdefault(lag.before, []).append(lag.after)
    done = {each.key for each in problem.done}
    found = set(keys)
    ahead = list(keys)
    while ahead:
        for key in after.get(ahead.pop(), ()):
            if key not in found and key not in done:
                found.add(key)
                ahead.append(key)
    return tuple(sorted(found))


def _held_to_its_end(activity: Activity, gone: Collection[str]) -> Activity:
    """Return an activity that holds nothing until one of those that are gone."""
    if all(use.until not in gone for use in activity.uses):
        return activity
    uses = [replace(use, until=None) if use.until in gone else use for use in activity.uses]
    return replace(activity, uses=tuple(uses))


def without(problem: Problem, keys: Collection[str]) -> Problem:
    """Return the problem without these activities; what was held until them is held to its end."""
    gone = set(keys)
    kept = [activity for activity in problem.activities if activity.key not in gone]
    activities = tuple(_held_to_its_end(activity, gone) for activity in kept)
    lags = tuple(lag for lag in problem.lags if lag.before not in gone and lag.after not in gone)
    return replace(problem, activities=activities, lags=lags)


def _fitting(problem: Problem, say: Say) -> Sound:
    """Take out what is longer than any stretch of hours, and what takes more than a store has."""
    room = _Room(problem)
    done = {each.key for each in problem.done}
    faults: list[PlanFault] = []
    gone: set[str] = set()
    for activity in problem.activities:
        if activity.key in done or activity.key in gone:
            continue
        fault = _misfit(activity, room, say) or _too_much(activity, room, say)
        if fault is None:
            continue
        # What follows it waits for ever; each is told once, with the first that takes it along.
        followers = _followers(problem, [activity.key])
        out = tuple(key for key in followers if key not in gone)
        faults.append(replace(fault, left_out=out))
        gone.update(out)
    return Sound(without(problem, gone) if gone else problem, tuple(faults))


class _Room:
    """How much room there is at the most: in hours, beside set-ups, and in stores."""

    def __init__(self, problem: Problem) -> None:
        self.longest = {each.name: _longest_left(each, problem.now_min) for each in problem.hands}
        """The minutes of the longest stretch of each pair of hands."""
        self.spare = {each.kind: each.before_min + each.after_min for each in problem.set_ups}
        """The minutes of getting ready for each kind of work, and clearing up after it."""
        self.capacity = {store.name: store.capacity for store in problem.stores}


def _longest_left(hands: Hands, now_min: int) -> int:
    """Return the minutes of the longest stretch that is left of some hours."""
    left = [window.end_min - max(window.start_min, now_min) for window in hands.windows]
    return max([0, *left])


def _misfit(activity: Activity, room: _Room, say: Say) -> PlanFault | None:
    """Return that there are no hours for an activity, or none that are long enough.

    Args:
        activity: one that is not done.
        room: how long any stretch of hours is.
        say: tells what people call an activity.

    """
    if not activity.by:
        return None
    most = max([room.longest.get(name, 0) for name in activity.by])
    spare = room.spare.get(activity.kind, 0)
    wanted = activity.minutes + spare
    if most >= wanted and most > 0:
        return None
    who = " or ".join(activity.by)
    if most == 0:
        return PlanFault(
            FaultKind.NO_HOURS,
            (activity.key,),
            wanted,
            f"{say(activity.key)} needs {who}, and there are no hours ahead",
            f"write hours for {who}",
        )
    with_spare = f" with {_span(spare)} to set up and clear up" if spare else ""
    takes = f"{say(activity.key)} takes {_span(activity.minutes)}{with_spare}"
    return PlanFault(
        FaultKind.TOO_LONG,
        (activity.key,),
        wanted - most,
        f"{takes}, and the longest stretch of hours of {who} is {_span(most)}",
        f"plan a stretch of {_span(wanted)}, or split the work",
    )


def _too_much(activity: Activity, room: _Room, say: Say) -> PlanFault | None:
    """Return that an activity takes more of a store than there is."""
    for use in activity.uses:
        there = room.capacity[use.store]
        if use.amount > there:
            takes = f"{say(activity.key)} takes {use.amount} of {use.store}"
            return PlanFault(
                FaultKind.TOO_MUCH,
                (activity.key,),
                use.amount - there,
                f"{takes}, and there are {there}",
                f"have {use.amount} of {use.store}",
            )
    return None


def _unmet_windows(problem: Problem, say: Say) -> Iterator[PlanFault]:
    """Find every window that the hours by themselves cannot meet, whatever else is planned."""
    hours = OpenHours(problem)
    for lag in problem.lags:
        if lag.most_min is None or lag.most_min < lag.least_min:
            continue
        least = hours.least_gap(lag)
        if least is not None and least > lag.most_min:
            yield _unmet(lag, lag.most_min, least, say)


def _unmet(lag: Lag, most: int, least: int, say: Say) -> PlanFault:
    """Return that a window of ``most`` minutes is missed, since the hours need ``least``.

    Args:
        lag: the lag that has the window.
        most: its minutes.
        least: the least minutes that the hours allow.
        say: tells what people call an activity.

    """
    over = least - most
    should = f"{say(lag.after)} should begin within {_span(most)} of {say(lag.before)}"
    sooner = f"plan hours that begin {_span(over)} sooner"
    return PlanFault(
        FaultKind.NO_WINDOW,
        (lag.before, lag.after),
        over,
        f"{should}, and the hours allow {_span(least)} at the soonest",
        sooner if lag.hard else f"{sooner}, or mend it first as the plan does",
    )


def _past_due(problem: Problem) -> Iterator[PlanFault]:
    """Find every goal that was due and is not reached."""
    done = {each.key for each in problem.done}
    open_goals = {activity.goal for activity in problem.activities if activity.key not in done}
    for goal in problem.goals:
        if goal.due_min is None or goal.key not in open_goals:
            continue
        over = problem.now_min - goal.due_min
        if over > 0:
            yield PlanFault(
                FaultKind.PAST_DUE,
                (goal.key,),
                over,
                f"{goal.key} was due {_span(over)} ago and is not finished",
                "agree on another date",
            )


def _span(minutes: int) -> str:
    """Return a length in words, as short as it can be said: days, hours or minutes."""
    hours, rest = divmod(abs(minutes), 60)
    days, hour = divmod(hours, 24)
    if days:
        return f"{days} d {hour} h" if hour else f"{days} d"
    return f"{hours} h {rest:02d}" if hours else f"{rest} min"
