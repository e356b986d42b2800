"""Lines of a chart as points of an SVG drawing: plain figures, with nothing of anybody's text."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

WIDTH, HEIGHT = 640.0, 150.0
LEFT, RIGHT, TOP, BOTTOM = 42.0, 42.0, 8.0, 20.0
MOST_DAYS = 8
"""So many days are marked along time; of a longer time every second, third and so on."""


ALMOST = 0.999
"""What is less by no more than a thousandth is no less: a logarithm is not exact."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on an axis and what stands at it."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class Scale:
    """Figures from ``low`` to ``high`` over a length of the drawing."""

    low: float
    high: float
    begin: float
    end: float

    def __call__(self, value: float) -> float:
        """Return where ``value`` lies, to a tenth of a unit."""
        share = (value - self.low) / (self.high - self.low)
        return round(self.begin + share * (self.end - self.begin), 1)


def up(values: Iterable[float], *, from_zero: bool = False) -> tuple[Scale, tuple[Mark, ...]]:
    """Return a scale from bottom to top that holds all ``values``, and its marks.

    Args:
        values: what is to be drawn, in whatever unit.
        from_zero: whether the scale begins at zero rather than at the least of them.

    Returns:
        The scale, and marks at about a third of its length from each other, at round figures.

    """
    known = list(values) or [0.0]
    least = 0.0 if from_zero else min(known)
    most = max(known)
    step = _round_step((most - least) / 3 or 1.0)
    low = math.floor(least / step) * step
    high = math.ceil(most / step) * step
    if high <= low:
        high = low + step
    scale = Scale(low, high, HEIGHT - BOTTOM, TOP)
    steps = round((high - low) / step)
    marks: list[Mark] = []
    for number in range(steps + 1):
        value = low + step * number
        marks.append(Mark(scale(value), f"{value:g}"))
    return scale, tuple(marks)


def along(begin: datetime, end: datetime, zone: tzinfo) -> tuple[Scale, tuple[Mark, ...]]:
    """Return a scale of time from left to right, and at most eight days marked on it.

    Args:
        begin: the instant at its left end.
        end: the instant at its right end; an hour after the other at the least.
        zone: where a day begins at midnight.

    """
    end = max(end, begin + timedelta(hours=1))
    scale = Scale(begin.timestamp(), end.timestamp(), LEFT, WIDTH - RIGHT)
    eighths = (end - begin) / timedelta(days=MOST_DAYS)
    every = max(1, math.ceil(eighths))
    midnight = begin.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
    marks: list[Mark] = []
    for number in range(MOST_DAYS + 2):
        wall = midnight + timedelta(days=number * every)
        day = wall.replace(tzinfo=zone)
        if begin <= day <= end:
            marks.append(Mark(scale(day.timestamp()), f"{day:%d.%m.}"))
    return scale, tuple(marks)


def points(pairs: Iterable[tuple[float, float]]) -> str:
    """Return points as SVG wants them."""
    return " ".join(f"{x:g},{y:g}" for x, y in pairs)


def stairs(pairs: Sequence[tuple[float, float]], until: float) -> list[tuple[float, float]]:
    """Return the corners of a line that keeps each height until the next one.

    Args:
        pairs: where each height begins, and the height.
        until: where the last one ends.

    """
    begins = [x for x, _ in pairs]
    ends = [*begins, until][1:]
    found: list[tuple[float, float]] = []
    for (x, y), end in zip(pairs, ends, strict=True):
        found += [(x, y), (end, y)]
    return found


def _round_step(rough: float) -> float:
    """Return the least of 1, 2, 5 and 10 times a power of ten that is no less than ``rough``."""
    size = 10.0 ** math.floor(math.log10(rough))
    least = rough * ALMOST
    return next(size * step for step in (1, 2, 5, 10) if size * step >= least)
