"""The exact model's variables: when each activity starts, what it misses, when goals are reached.

Only what is loaded when the exact planner runs may import this: it needs the optional solver.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple, TypeAlias

from ortools.sat.python import cp_model

from finishsched.planning.exact.facts import Deadline, Facts
from finishsched.planning.exact.grid import Grid
from finishsched.planning.problem import Activity, Lag

Value: TypeAlias = cp_model.LinearExpr | int
"""A figure that the solver chooses, or one that is known, in units of the grid."""


class Mend(NamedTuple):
    """What an activity may have to mend first."""

    missed: cp_model.IntVar
    """Whether its window is missed."""
    minutes: int
    """Of mending, where it is."""


class Missable(NamedTuple):
    """A window that may be missed, and the variable that says so."""

    lag: Lag
    missed: cp_model.IntVar


@dataclass(slots=True)
class Part:
    """One activity to place, on the grid."""

    activity: Activity
    start: cp_model.IntVar
    """The mark at which it starts."""
    size: Value
    """Its length rounded up, with whatever it has to mend first."""
    end: Value
    """The mark at which it ends."""
    mends: list[Mend]
    """For each window that it may miss."""
    by: dict[str, cp_model.IntVar] = field(default_factory=dict)
    """For each of several hands: whether they do it."""

    @property
    def takes_time(self) -> bool:
        """Whether it takes, or may take, any time."""
        return not isinstance(self.size, int) or self.size > 0


@dataclass(slots=True)
class Draft:
    """A model being built."""

    facts: Facts
    """What is open, and what the past leaves it."""
    grid: Grid
    """The ruler to measure with."""
    horizon: int
    """The mark after which nothing lies."""
    lenient: bool
    """Whether a hard window may be missed, at the highest price."""
    cp: cp_model.CpModel = field(default_factory=cp_model.CpModel)
    """The model, as the solver takes it."""
    parts: dict[str, Part] = field(default_factory=dict)
    """What is to be placed, by key."""
    windows: list[Missable] = field(default_factory=list)
    """Soft windows, each with whether it is missed."""
    overs: list[Missable] = field(default_factory=list)
    """Hard windows, each with the units by which it is missed."""
    machines: bool = False
    """Whether there is a store for one at a time."""

    def interval(self, start: Value, size: Value, end: Value) -> cp_model.IntervalVar:
        """Return an interval that always is.

        Args:
            start: the mark at which it begins, or a variable.
            size: how many units it is long.
            end: the mark at which it ends.

        """
        if isinstance(size, int):
            return self.cp.new_fixed_size_interval_var(start, size, "")
        return self.cp.new_interval_var(start, size, end, "")

    def block(self, start: int, end: int) -> cp_model.IntervalVar:
        """Return an interval that does not move, from one mark to another."""
        size = end - start
        return self.cp.new_fixed_size_interval_var(start, size, "")


def draw_parts(draft: Draft) -> None:
    """Draw every activity and every lag."""
    facts = draft.facts
    # What may be missed is drawn first, since the mending of it makes an activity longer.
    mends: dict[str, list[Mend]] = {key: [] for key in facts.open}
    lags = [_Missing(lag, _missed(draft, lag, mends)) for lag in facts.lags]
    deadlines: list[_MissingSince] = []
    for deadline in facts.deadlines:
        is_missed = _missed(draft, deadline.lag, mends)
        deadlines.append(_MissingSince(deadline, is_missed))
    for key, activity in facts.open.items():
        draft.parts[key] = _part(draft, activity, mends[key])
    for lag, missed in lags:
        _draw_lag(draft, lag, missed)
    for deadline, missed in deadlines:
        _draw_deadline(draft, deadline, missed)


class _Missing(NamedTuple):
    """A lag, and the variable that says whether its window is missed; None for none."""

    lag: Lag
    missed: cp_model.IntVar | None


class _MissingSince(NamedTuple):
    """The same for a window that began with something done."""

    deadline: Deadline
    missed: cp_model.IntVar | None


def _missed(draft: Draft, lag: Lag, mends: dict[str, list[Mend]]) -> cp_model.IntVar | None:
    """Return whether a soft window is missed, and note what that costs; None for any other lag.

    Args:
        draft: the model.
        lag: one with a window, or without.
        mends: by activity, takes what may have to be mended first.

    """
    if lag.most_min is None or lag.remedy_min is None:
        return None
    missed = draft.cp.new_bool_var("")
    draft.windows.append(Missable(lag, missed))
    mends[lag.after].append(Mend(missed, lag.remedy_min))
    return missed


def _part(draft: Draft, activity: Activity, mends: list[Mend]) -> Part:
    """Draw one activity: when it starts and ends, and who of several does it.

    Args:
        draft: the model.
        activity: one that is not done.
        mends: the windows that it may miss, and what each costs then.

    """
    grid = draft.grid
    cp = draft.cp
    earliest = grid.at_or_after(draft.facts.earliest_min[activity.key])
    least = grid.up(activity.minutes)
    latest = max(draft.horizon - least, earliest)
    start = cp.new_int_var(earliest, latest, activity.key)
    size: Value = least
    end: Value = start + least
    can_grow = any(mend.minutes for mend in mends)
    if can_grow:
        earliest_end = earliest + least
        latest_end = max(draft.horizon, earliest_end)
        grown_end = cp.new_int_var(earliest_end, latest_end, "")
        size = _size(draft, least, mends)
        cp.add(start + size == grown_end)
        end = grown_end
    part = Part(
        activity=activity,
        start=start,
        size=size,
        end=end,
        mends=mends,
    )
    if len(activity.by) > 1:
        known = [name for name in activity.by if name in draft.facts.hands]
        for name in known:
            part.by[name] = cp.new_bool_var("")
        cp.add_exactly_one(part.by.values())
    return part


def _size(draft: Draft, least: int, mends: list[Mend]) -> Value:
    """Return the units that an activity takes, with the mending of whatever it misses.

    Args:
        draft: the model.
        least: units that it takes with nothing to mend.
        mends: the windows that it may miss, and the minutes that each costs then.

    """
    terms: list[cp_model.LinearExpr] = []
    most = least
    for mend in mends:
        units = draft.grid.up(mend.minutes)
        if units:
            terms.append(mend.missed * units)
            most += units
    if len(terms) == 1:
        return terms[0] + least
    size = draft.cp.new_int_var(least, most, "")
    draft.cp.add(size == sum(terms) + least)
    return size


def _draw_lag(draft: Draft, lag: Lag, missed: cp_model.IntVar | None) -> None:
    """Hold a lag from start to start: what rounding adds to an activity is not waited for twice.

    Args:
        draft: the model.
        lag: from one open activity to another.
        missed: whether its window is missed, where that can be mended.

    """
    grid = draft.grid
    before = draft.parts[lag.before]
    after = draft.parts[lag.after]
    minutes = before.activity.minutes
    mending_at_most = _mending(before, grid.up)
    mending_at_least = _mending(before, grid.down)
    # Both starts lie on the grid; the length between them is rounded only once.
    apart = after.start - before.start
    least = grid.up(minutes + lag.least_min) + mending_at_most
    draft.cp.add(apart >= least)
    if lag.most_min is None:
        return
    most = grid.down(minutes + lag.most_min) + mending_at_least
    if missed is not None:
        draft.cp.add(apart <= most).only_enforce_if(~missed)
        too_late = grid.up(minutes + lag.most_min + 1) + mending_at_most
        draft.cp.add(apart >= too_late).only_enforce_if(missed)
    elif draft.lenient:
        over = _over(draft, lag)
        draft.cp.add(apart <= most + over)
    else:
        draft.cp.add(apart <= most)


def _mending(part: Part, rounded: Callable[[int], int]) -> Value:
    """Return the units of all that a part has to mend first.

    Args:
        part: what may miss windows.
        rounded: turns minutes into units, up or down.

    """
    mends = [mend for mend in part.mends if mend.minutes]
    return sum(mend.missed * rounded(mend.minutes) for mend in mends)


def _over(draft: Draft, lag: Lag) -> cp_model.IntVar:
    """Return by how many units a hard window is missed, at the highest price.

    Args:
        draft: the model, which keeps it as something to make small.
        lag: the one that has the window.

    """
    over = draft.cp.new_int_var(0, draft.horizon, "")
    draft.overs.append(Missable(lag, over))
    return over


def _draw_deadline(
    draft: Draft,
    deadline: Deadline,
    missed: cp_model.IntVar | None,
) -> None:
    """Hold a window that began with something done: the other end is a time of its own.

    Args:
        draft: the model.
        deadline: the latest start of an open activity.
        missed: whether the window is missed, where that can be mended.

    """
    start = draft.parts[deadline.lag.after].start
    last = draft.grid.at_or_before(deadline.latest_min)
    if missed is not None:
        draft.cp.add(start <= last).only_enforce_if(~missed)
        too_late = draft.grid.at_or_after(deadline.latest_min + 1)
        draft.cp.add(start >= too_late).only_enforce_if(missed)
    elif draft.lenient:
        over = _over(draft, deadline.lag)
        draft.cp.add(start <= last + over)
    else:
        draft.cp.add(start <= last)
