"""What no plan can mend, found before planning: each fault in a sentence, with what would help.

What cannot be at all is taken out of the problem, with all that follows it; the rest is planned.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeAlias

from finishsched.planning.open_hours import OpenHours
from finishsched.planning.problem import Activity, Lag, Problem
from finishsched.planning.window import Window

Say: TypeAlias = Callable[[str], str]
"""What people call an activity, by its key."""


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
    """Return the problem without what cannot be, and every fault of it; ``say`` names activities.

    A window that cannot be met stays, and is told: the plan then shows by how much it is missed.
    """
    problem, unknown = _known(problem, say)
    problem, backwards = _forwards(problem, say)
    problem, circles = _without_cycles(problem, say)
    problem, misfits = _fitting(problem, say)
    windows = tuple(_unmet_windows(problem, say))
    return Sound(problem, (*unknown, *backwards, *circles, *misfits, *windows, *_past_due(problem)))


def _known(problem: Problem, say: Say) -> tuple[Problem, tuple[PlanFault, ...]]:
    """Take out whatever names something that there is not."""
    keys = {activity.key for activity in problem.activities}
    hands = {each.name for each in problem.hands}
    stores = {store.name for store in problem.stores}
    done = {each.key for each in problem.done}
    ends = {None, *keys}
    faults: list[PlanFault] = []
    kept: list[Activity] = []
    for activity in problem.activities:
        by = () if activity.key in done else activity.by
        strange = [f"hands {name!r}" for name in by if name not in hands]
        strange += [f"store {use.store!r}" for use in activity.uses if use.store not in stores]
        strange += [f"{use.until!r}" for use in activity.uses if use.until not in ends]
        for name in strange:
            sentence = f"{say(activity.key)} names {name}, which there is not"
            faults.append(_unknown((activity.key,), sentence))
        kept.append(
            activity
            if not strange
            else replace(
                activity,
                by=tuple(name for name in activity.by if name in hands) or activity.by[:1],
                uses=tuple(
                    use if use.until in keys else replace(use, until=None)
                    for use in activity.uses
                    if use.store in stores
                ),
            )
        )
    lags = []
    for lag in problem.lags:
        missing = [key for key in (lag.before, lag.after) if key not in keys]
        for key in missing:
            there = lag.after if key == lag.before else lag.before
            faults.append(
                _unknown((there,), f"{say(there)} is tied to {key!r}, which there is not")
            )
        if not missing:
            lags.append(lag)
    return replace(problem, activities=tuple(kept), lags=tuple(lags)), tuple(faults)


def _unknown(keys: tuple[str, ...], sentence: str) -> PlanFault:
    return PlanFault(FaultKind.UNKNOWN, keys, 0, sentence, "correct the name")


def _forwards(problem: Problem, say: Say) -> tuple[Problem, tuple[PlanFault, ...]]:
    """Drop the end of a hard window that closes before it opens; a soft one is always mended."""
    faults, lags = [], []
    for lag in problem.lags:
        if lag.most_min is None or lag.most_min >= lag.least_min:
            lags.append(lag)
            continue
        over = lag.least_min - lag.most_min
        sentence = (
            f"{say(lag.after)} must come {_span(lag.least_min)} after {say(lag.before)} at the "
            f"least and {_span(lag.most_min)} at the most"
        )
        remedy = "shorten the wait or widen the window"
        keys = (lag.before, lag.after)
        faults.append(PlanFault(FaultKind.BACKWARDS, keys, over, sentence, remedy))
        lags.append(lag if not lag.hard else replace(lag, most_min=None))
    return replace(problem, lags=tuple(lags)), tuple(faults)


def _without_cycles(problem: Problem, say: Say) -> tuple[Problem, tuple[PlanFault, ...]]:
    faults = []
    while circle := _cycle(problem):
        gone = _followers(problem, circle)
        names = ", ".join(map(say, circle[:4])) + (", ..." if len(circle) > 4 else "")
        sentence = f"{names} each wait for the one before, round in a circle"
        remedy = "take out one of their waits"
        faults.append(PlanFault(FaultKind.CYCLE, tuple(circle), 0, sentence, remedy, gone))
        problem = without(problem, gone)
    return problem, tuple(faults)


def _cycle(problem: Problem) -> list[str]:
    """Return activities that can never start, each later than itself; empty when there are none.

    Starts are pushed along the lags, and back along hard windows; what is still pushed after as
    many rounds as there are activities lies on, or behind, a circle that goes up in time.
    """
    done = {each.key for each in problem.done}
    minutes = {a.key: a.minutes for a in problem.activities if a.key not in done}
    open_ = [lag for lag in problem.lags if lag.before in minutes and lag.after in minutes]
    edges = [edge for lag in open_ for edge in _edges(lag, minutes[lag.before])]
    start = dict.fromkeys(minutes, 0)
    came_from: dict[str, str] = {}
    moved = ""
    for _ in range(len(minutes) + 1):
        moved = ""
        for one, other, weight in edges:
            if start[one] + weight > start[other]:
                start[other] = start[one] + weight
                came_from[other] = one
                moved = other
        if not moved:
            return []
    for _ in minutes:
        moved = came_from[moved]
    circle = [moved]
    while (moved := came_from[moved]) != circle[0]:
        circle.append(moved)
    return circle[::-1]


def _edges(lag: Lag, before_min: int) -> Iterator[tuple[str, str, int]]:
    yield lag.before, lag.after, before_min + lag.least_min
    if lag.most_min is not None and lag.hard:
        yield lag.after, lag.before, -before_min - lag.most_min


def _followers(problem: Problem, keys: Collection[str]) -> tuple[str, ...]:
    """Return ``keys`` and everything that comes after them by any lag, sorted."""
    after: dict[str, list[str]] = {}
    for lag in problem.lags:
        after.setdefault(lag.before, []).append(lag.after)
    done = {each.key for each in problem.done}
    found, ahead = set(keys), list(keys)
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
    kept = tuple(
        _held_to_its_end(activity, gone)
        for activity in problem.activities
        if activity.key not in gone
    )
    lags = tuple(lag for lag in problem.lags if lag.before not in gone and lag.after not in gone)
    return replace(problem, activities=kept, lags=lags)


def _fitting(problem: Problem, say: Say) -> tuple[Problem, tuple[PlanFault, ...]]:
    """Take out what is longer than any stretch of hours, and what takes more than a store has."""
    longest = {
        each.name: max((_left(window, problem.now_min) for window in each.windows), default=0)
        for each in problem.hands
    }
    spare = {each.kind: each.before_min + each.after_min for each in problem.set_ups}
    capacity = {store.name: store.capacity for store in problem.stores}
    done = {each.key for each in problem.done}
    faults: list[PlanFault] = []
    gone: set[str] = set()
    for activity in problem.activities:
        if activity.key in done or activity.key in gone:
            continue
        fault = _misfit(activity, longest, spare.get(activity.kind, 0), say) or _too_much(
            activity, capacity, say
        )
        if fault is not None:
            out = tuple(key for key in _followers(problem, [activity.key]) if key not in gone)
            faults.append(replace(fault, left_out=out))
            gone.update(out)
    return without(problem, gone) if gone else problem, tuple(faults)


def _left(window: Window, now_min: int) -> int:
    return max(0, window.end_min - max(window.start_min, now_min))


def _misfit(
    activity: Activity, longest: Mapping[str, int], spare: int, say: Say
) -> PlanFault | None:
    if not activity.by:
        return None
    most = max(longest.get(name, 0) for name in activity.by)
    wanted = activity.minutes + spare
    if most >= wanted and most > 0:
        return None
    who = " or ".join(activity.by)
    if most == 0:
        sentence = f"{say(activity.key)} needs {who}, and there are no hours ahead"
        remedy = f"write hours for {who}"
        return PlanFault(FaultKind.NO_HOURS, (activity.key,), wanted, sentence, remedy)
    with_spare = f" with {_span(spare)} to set up and clear up" if spare else ""
    takes = f"{_span(activity.minutes)}{with_spare}"
    sentence = (
        f"{say(activity.key)} takes {takes}, and the longest stretch of hours of {who} is "
        f"{_span(most)}"
    )
    remedy = f"plan a stretch of {_span(wanted)}, or split the work"
    return PlanFault(FaultKind.TOO_LONG, (activity.key,), wanted - most, sentence, remedy)


def _too_much(activity: Activity, capacity: Mapping[str, int], say: Say) -> PlanFault | None:
    for use in activity.uses:
        there = capacity[use.store]
        if use.amount > there:
            sentence = (
                f"{say(activity.key)} takes {use.amount} of {use.store}, and there are {there}"
            )
            remedy = f"have {use.amount} of {use.store}"
            over = use.amount - there
            return PlanFault(FaultKind.TOO_MUCH, (activity.key,), over, sentence, remedy)
    return None


def _unmet_windows(problem: Problem, say: Say) -> Iterator[PlanFault]:
    """Find every window that the hours by themselves cannot meet, whatever else is planned."""
    hours = OpenHours(problem)
    for lag in problem.lags:
        if lag.most_min is None or lag.most_min < lag.least_min:
            continue
        least = hours.least_gap(lag)
        if least is not None and least > lag.most_min:
            yield _unmet(lag, least, say)


def _unmet(lag: Lag, least: int, say: Say) -> PlanFault:
    assert lag.most_min is not None  # noqa: S101
    over = least - lag.most_min
    sentence = (
        f"{say(lag.after)} should begin within {_span(lag.most_min)} of {say(lag.before)}, and the "
        f"hours allow {_span(least)} at the soonest"
    )
    if lag.hard:
        remedy = f"plan hours that begin {_span(over)} sooner"
    else:
        remedy = f"plan hours that begin {_span(over)} sooner, or mend it first as the plan does"
    return PlanFault(FaultKind.NO_WINDOW, (lag.before, lag.after), over, sentence, remedy)


def _past_due(problem: Problem) -> Iterator[PlanFault]:
    done = {each.key for each in problem.done}
    open_goals = {a.goal for a in problem.activities if a.key not in done}
    for goal in problem.goals:
        if goal.due_min is not None and goal.due_min < problem.now_min and goal.key in open_goals:
            over = problem.now_min - goal.due_min
            sentence = f"{goal.key} was due {_span(over)} ago and is not finished"
            remedy = "agree on another date"
            yield PlanFault(FaultKind.PAST_DUE, (goal.key,), over, sentence, remedy)


def _span(minutes: int) -> str:
    hours, rest = divmod(abs(minutes), 60)
    days, hour = divmod(hours, 24)
    if days:
        return f"{days} d {hour} h" if hour else f"{days} d"
    return f"{hours} h {rest:02d}" if hours else f"{rest} min"
