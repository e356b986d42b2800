"""Runs of work that must lie inside one stretch of hours, because no window in them spans a break.

A sitting of coats minutes apart takes hours in which all of it fits, though each coat takes only
minutes. Whoever asks how early or how late its first coat can be has to ask for the whole of it.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from finishsched.planning.numbers.inner import LOOSE, NEVER, Inner

Stretches: TypeAlias = tuple[list[int], list[int]]
"""Starts and ends of hours, with breaks that a window can span left out."""


@dataclass(frozen=True, slots=True)
class Sitting:
    """One such run; it is known by its first activity."""

    last: int
    """The activity that it ends with."""
    span_min: int
    """From the start of the first to the end of the last, at the least."""
    hours: Stretches
    """When the hands that do it are there, breaks left out that one of its windows can span."""

    def first_from(self, earliest: int) -> int:
        """Return the first start from a minute on with which all of it fits, or NEVER."""
        starts, ends = self.hours
        for at in range(bisect_right(ends, earliest), len(ends)):
            start = max(starts[at], earliest)
            if ends[at] - start >= self.span_min:
                return start
        return NEVER

    def last_by(self, end: int) -> int:
        """Return the last start with which all of it is over by a minute.

        Where no hours before that are long enough, the start if hours did not count.
        """
        starts, ends = self.hours
        for at in range(bisect_left(starts, end) - 1, -1, -1):
            last = min(ends[at], end)
            if last - starts[at] >= self.span_min:
                return last - self.span_min
        return end - self.span_min


def sittings_of(inner: Inner) -> dict[int, Sitting]:
    """Return the sittings of a problem, by the number of the activity that each begins with."""
    known: dict[_HoursOf, Stretches] = {}
    found: dict[int, Sitting] = {}
    for first, tied in enumerate(inner.tied):
        begins_a_run = not tied and len(inner.ties[first]) == 1
        if not begins_a_run or not inner.by[first]:
            continue
        run = _run_from(inner, first)
        if run.last == first:
            continue
        hours_of = _HoursOf(inner.by[first], run.most_min)
        if hours_of not in known:
            known[hours_of] = _joined_hours(inner, hours_of.by, hours_of.most_min)
        found[first] = Sitting(
            last=run.last,
            span_min=run.span_min,
            hours=known[hours_of],
        )
    return found


class _HoursOf(NamedTuple):
    """What the hours of a sitting hang on: many sittings have the same."""

    by: tuple[int, ...]
    """The numbers of the hands."""
    most_min: int
    """The widest window in it."""


class _Run(NamedTuple):
    """Activities one after the other, each tied to the one before by a window that must be kept."""

    last: int
    """The activity that it ends with."""
    most_min: int
    """The widest of these windows."""
    span_min: int
    """From the start of the first to the end of the last, at the least."""


class _Window(NamedTuple):
    """How far apart the end of one activity and the start of another may lie."""

    least_min: int
    most_min: int


def _run_from(inner: Inner, first: int) -> _Run:
    """Return the run that begins with an activity; it may be no more than that.

    It goes on for as long as each has one that follows it, done by the same hands.

    Args:
        inner: the problem in numbers.
        first: the activity.

    """
    last = first
    most_min = 0
    span_min = inner.minutes[first]
    while len(inner.ties[last]) == 1:
        following = inner.ties[last][0]
        window = _window_between(inner, last, following)
        is_tied_twice = inner.tied[following] != 1
        by_others = inner.by[following] != inner.by[first]
        if window is None or is_tied_twice or by_others:
            break
        span_min += window.least_min + inner.minutes[following]
        most_min = max(most_min, window.most_min)
        last = following
    return _Run(last, most_min, span_min)


def _window_between(inner: Inner, first: int, second: int) -> _Window | None:
    """Return the window that ties two activities; None where they are tied otherwise.

    Args:
        inner: the problem in numbers.
        first: the activity before.
        second: the one after.

    """
    least = [minutes for other, minutes in inner.before[second] if other == first]
    most: list[int] = []
    for other, minutes, remedy in inner.windows[second]:
        if other == first and remedy == LOOSE:
            most.append(minutes)
    if not least or not most:
        return None
    return _Window(max(least), min(most))


def _joined_hours(inner: Inner, by: tuple[int, ...], most_min: int) -> Stretches:
    """Return the hours of some hands together, joined where a window can span the break.

    Args:
        inner: the problem in numbers.
        by: the numbers of the hands.
        most_min: the widest window.

    """
    stretches: list[tuple[int, int]] = []
    for hands in by:
        starts, ends = inner.windows_of[hands]
        stretches += zip(starts, ends, strict=True)
    stretches.sort()
    joined_starts: list[int] = []
    joined_ends: list[int] = []
    for start, end in stretches:
        is_near = bool(joined_ends) and start - joined_ends[-1] <= most_min
        if is_near:
            joined_ends[-1] = max(joined_ends[-1], end)
        else:
            joined_starts.append(start)
            joined_ends.append(end)
    return joined_starts, joined_ends
