"""What no plan can mend, found before planning: each fault in a sentence, with what would help.

What cannot be at all is taken out of the problem, with all that follows it; the rest is planned.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from finishsched.planning.known_names import known_activities, known_lags
from finishsched.planning.lag_circles import circle_of
from finishsched.planning.open_hours import OpenHours
from finishsched.planning.plan_fault import FaultKind, PlanFault, Say, Sound
from finishsched.planning.problem import Activity, Hands, Lag, Problem, Use

NAMED = 4
"""So many activities of a circle are named."""


def sound(problem: Problem, say: Say = str) -> Sound:
    """Return the problem without what cannot be, and every fault of it.

    A window that cannot be met stays, and is told: the plan then shows by how much it is missed.

    Args:
        problem: as it was asked.
        say: tells what people call an activity, by its key.

    """
    faults: list[PlanFault] = []
    for step in (known_activities, known_lags, _forwards, _without_cycles, _fitting):
        found = step(problem, say)
        problem = found.problem
        faults += found.faults
    faults += _unmet_windows(problem, say)
    faults += _past_due(problem)
    return Sound(problem, tuple(faults))


def _forwards(problem: Problem, say: Say) -> Sound:
    """Drop the end of a hard window that closes before it opens; a soft one is always mended.

    Args:
        problem: whose windows may close before their waits are over.
        say: tells what people call an activity, by its key.

    """
    faults: list[PlanFault] = []
    lags: list[Lag] = []
    for lag in problem.lags:
        if lag.most_min is None or lag.most_min >= lag.least_min:
            lags.append(lag)
            continue
        least = f"{_span(lag.least_min)} after {say(lag.before)} at the least"
        most = f"{_span(lag.most_min)} at the most"
        fault = PlanFault(
            kind=FaultKind.BACKWARDS,
            keys=(lag.before, lag.after),
            minutes=lag.least_min - lag.most_min,
            sentence=f"{say(lag.after)} must come {least} and {most}",
            remedy="shorten the wait or widen the window",
        )
        faults.append(fault)
        lags.append(replace(lag, most_min=None) if lag.hard else lag)
    forwards = replace(problem, lags=tuple(lags))
    return Sound(forwards, tuple(faults))


def _without_cycles(problem: Problem, say: Say) -> Sound:
    """Take out what waits for itself in a circle, one circle after the other.

    Args:
        problem: whose activities may wait for themselves.
        say: tells what people call an activity, by its key.

    """
    faults: list[PlanFault] = []
    while circle := circle_of(problem):
        gone = _followers(problem, circle)
        names = ", ".join([say(key) for key in circle[:NAMED]])
        more = ", ..." if len(circle) > NAMED else ""
        fault = PlanFault(
            kind=FaultKind.CYCLE,
            keys=tuple(circle),
            minutes=0,
            sentence=f"{names}{more} each wait for the one before, round in a circle",
            remedy="take out one of their waits",
            left_out=gone,
        )
        faults.append(fault)
        problem = without(problem, gone)
    return Sound(problem, tuple(faults))


def _followers(problem: Problem, keys: Collection[str]) -> tuple[str, ...]:
    """Return ``keys`` and everything that comes after them by any lag, sorted.

    Args:
        problem: its lags say what comes after what.
        keys: those of the activities to begin with.

    """
    after: dict[str, list[str]] = {}
    for lag in problem.lags:
        after.setdefault(lag.before, []).append(lag.after)
    done = {each.key for each in problem.done}
    found = set(keys)
    # Those of which it is not known yet what comes after them.
    ahead = list(keys)
    while ahead:
        before = ahead.pop()
        for key in after.get(before, ()):
            is_new = key not in found and key not in done
            if is_new:
                found.add(key)
                ahead.append(key)
    return tuple(sorted(found))


def _held_to_its_end(activity: Activity, gone: Collection[str]) -> Activity:
    """Return an activity that holds nothing until one of those that are gone.

    Args:
        activity: what may hold something of a store until another starts.
        gone: the keys of the activities that are gone.

    """
    if all(use.until not in gone for use in activity.uses):
        return activity
    uses: list[Use] = []
    for use in activity.uses:
        is_ended_by_one = use.until in gone
        uses.append(replace(use, until=None) if is_ended_by_one else use)
    return replace(activity, uses=tuple(uses))


def without(problem: Problem, keys: Collection[str]) -> Problem:
    """Return the problem without these activities; what was held until them is held to its end.

    Args:
        problem: what there is to do.
        keys: those of the activities to take out; their lags go with them.

    """
    gone = set(keys)
    kept = [activity for activity in problem.activities if activity.key not in gone]
    activities = [_held_to_its_end(activity, gone) for activity in kept]
    lags = [lag for lag in problem.lags if gone.isdisjoint((lag.before, lag.after))]
    return replace(problem, activities=tuple(activities), lags=tuple(lags))


def _fitting(problem: Problem, say: Say) -> Sound:
    """Take out what is longer than any stretch of hours, and what takes more than a store has.

    Args:
        problem: without circles of waits.
        say: tells what people call an activity, by its key.

    """
    room = _Room(problem)
    done = {each.key for each in problem.done}
    faults: list[PlanFault] = []
    gone: set[str] = set()
    for activity in problem.activities:
        is_out = activity.key in done or activity.key in gone
        if is_out:
            continue
        fault = _misfit(activity, room, say) or _too_much(activity, room, say)
        if fault is None:
            continue
        # What follows it waits for ever; each is told once, with the first that takes it along.
        followers = _followers(problem, [activity.key])
        out = tuple(key for key in followers if key not in gone)
        faults.append(replace(fault, left_out=out))
        gone.update(out)
    if gone:
        problem = without(problem, gone)
    return Sound(problem, tuple(faults))


class _Room:
    """How much room there is at the most: in hours, beside set-ups, and in stores."""

    def __init__(self, problem: Problem) -> None:
        self.longest: dict[str, int] = {}
        """The minutes of the longest stretch of each pair of hands, by their name."""
        for hands in problem.hands:
            self.longest[hands.name] = _longest_left(hands, problem.now_min)
        self.spare: dict[str, int] = {}
        """The minutes of getting ready for each kind of work, and clearing up after it."""
        for set_up in problem.set_ups:
            after_min = max(set_up.after_min, set_up.at_end_min)
            self.spare[set_up.kind] = set_up.before_min + after_min
        self.capacity = {store.name: store.capacity for store in problem.stores}


def _longest_left(hands: Hands, now_min: int) -> int:
    """Return the minutes of the longest stretch that is left of some hours."""
    longest = 0
    for window in hands.windows:
        begins = max(window.start_min, now_min)
        longest = max(longest, window.end_min - begins)
    return longest


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
            kind=FaultKind.NO_HOURS,
            keys=(activity.key,),
            minutes=wanted,
            sentence=f"{say(activity.key)} needs {who}, and there are no hours ahead",
            remedy=f"write hours for {who}",
        )
    with_spare = f" with {_span(spare)} to set up and clear up" if spare else ""
    takes = f"{say(activity.key)} takes {_span(activity.minutes)}{with_spare}"
    return PlanFault(
        kind=FaultKind.TOO_LONG,
        keys=(activity.key,),
        minutes=wanted - most,
        sentence=f"{takes}, and the longest stretch of hours of {who} is {_span(most)}",
        remedy=f"plan a stretch of {_span(wanted)}, or split the work",
    )


def _too_much(activity: Activity, room: _Room, say: Say) -> PlanFault | None:
    """Return that an activity takes more of a store than there is.

    Args:
        activity: one that is not done.
        room: how much there is of each store.
        say: tells what people call an activity.

    """
    for use in activity.uses:
        there = room.capacity[use.store]
        if use.amount > there:
            takes = f"{say(activity.key)} takes {use.amount} of {use.store}"
            return PlanFault(
                kind=FaultKind.TOO_MUCH,
                keys=(activity.key,),
                minutes=use.amount - there,
                sentence=f"{takes}, and there are {there}",
                remedy=f"have {use.amount} of {use.store}",
            )
    return None


def _unmet_windows(problem: Problem, say: Say) -> Iterator[PlanFault]:
    """Find every window that the hours by themselves cannot meet, whatever else is planned.

    Args:
        problem: what is left of it once all that cannot be is out.
        say: tells what people call an activity, by its key.

    """
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
    before, after = say(lag.before), say(lag.after)
    should = f"{after} should begin within {_span(most)} of {before}"
    remedy = f"plan hours that begin {_span(over)} sooner"
    if not lag.hard:
        remedy += ", or mend it first as the plan does"
    return PlanFault(
        kind=FaultKind.NO_WINDOW,
        keys=(lag.before, lag.after),
        minutes=over,
        sentence=f"{should}, and the hours allow {_span(least)} at the soonest",
        remedy=remedy,
    )


def _past_due(problem: Problem) -> Iterator[PlanFault]:
    """Find every goal that was due and is not reached."""
    done = {each.key for each in problem.done}
    to_do = [activity for activity in problem.activities if activity.key not in done]
    open_goals = {activity.goal for activity in to_do}
    for goal in problem.goals:
        if goal.due_min is None or goal.key not in open_goals:
            continue
        over = problem.now_min - goal.due_min
        if over > 0:
            yield PlanFault(
                kind=FaultKind.PAST_DUE,
                keys=(goal.key,),
                minutes=over,
                sentence=f"{goal.key} was due {_span(over)} ago and is not finished",
                remedy="agree on another date",
            )


def _span(minutes: int) -> str:
    """Return a length in words, as short as it can be said: days, hours or minutes."""
    hours, rest = divmod(abs(minutes), 60)
    days, hour = divmod(hours, 24)
    if days and hour:
        return f"{days} d {hour} h"
    if days:
        return f"{days} d"
    if hours:
        return f"{hours} h {rest:02d}"
    return f"{rest} min"
