"""Runs of work that must lie inside one stretch of hours, because no window in them spans a break.

A sitting of coats minutes apart takes hours in which all of it fits, though each coat takes only
minutes. Whoever asks how early or how late its first coat can be has to ask for the whole of it.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from typing import TypeAlias

from finishsched.planning.quick.inner import LOOSE, NEVER, Inner

Stretches: TypeAlias = tuple[list[int], list[int]]
"""Starts and ends of hours, with breaks that a window can span left out."""


@dataclass(frozen=True, slots=True)
class Sitting:
    """One such run, by its first activity."""

    last: int
    """The activity that it ends with."""
    span_min: int
    """From the start of the first to the end of the last, at the least."""
    hours: Stretches

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
    known: dict[tuple[tuple[int, ...], int], Stretches] = {}
    found: dict[int, Sitting] = {}
    followed = [number for number, tied in enumerate(inner.tied) if tied]
    inside = set(followed)
    for first in range(len(inner.keys)):
        if first in inside or len(inner.ties[first]) != 1 or not inner.by[first]:
            continue
        run, most_min, span_min = _run_from(inner, first)
        if len(run) == 1:
            continue
        key = (inner.by[first], most_min)
        if key not in known:
            known[key] = _joined_hours(inner, *key)
        found[first] = Sitting(run[-1], span_min, known[key])
    return found


def _run_from(inner: Inner, first: int) -> tuple[list[int], int, int]:
    """Return what follows an activity in windows that must be kept, the widest, and the length."""
    run = [first]
    most_min, span_min = 0, inner.minutes[first]
    while len(inner.ties[run[-1]]) == 1:
        following = inner.ties[run[-1]][0]
        window = _window_between(inner, run[-1], following)
        if inner.tied[following] != 1 or inner.by[following] != inner.by[first] or window is None:
            break
        least_min, widest_min = window
        span_min += least_min + inner.minutes[following]
        most_min = max(most_min, widest_min)
        run.append(following)
    return run, most_min, span_min


def _window_between(inner: Inner, first: int, second: int) -> tuple[int, int] | None:
    """Return the least and the most minutes between two that a window ties."""
    least = [minutes for other, minutes in inner.before[second] if other == first]
    most = [
        minutes
        for other, minutes, remedy in inner.windows[second]
        if other == first and remedy == LOOSE
    ]
    return (max(least), min(most)) if least and most else None


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
        if joined_ends and start - joined_ends[-1] <= most_min:
            joined_ends[-1] = max(joined_ends[-1], end)
        else:
            joined_starts.append(start)
            joined_ends.append(end)
    return joined_starts, joined_ends
