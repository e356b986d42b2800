"""Lines of a chart as points of an SVG drawing: plain figures, with nothing of anybody's text."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

WIDTH, HEIGHT = 640.0, 150.0
LEFT, RIGHT, TOP, BOTTOM = 42.0, 42.0, 8.0, 20.0


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
    """Return a scale from bottom to top that holds all ``values``, and its marks."""
    known = list(values) or [0.0]
    low, high = min(known), max(known)
    low = 0.0 if from_zero else low
    step = _round_step((high - low) / 3 or 1.0)
    low, high = math.floor(low / step) * step, math.ceil(high / step) * step
    high = high if high > low else low + step
    scale = Scale(low, high, HEIGHT - BOTTOM, TOP)
    count = round((high - low) / step)
    marks = (low + step * number for number in range(count + 1))
    return scale, tuple(Mark(scale(value), f"{value:g}") for value in marks)


def along(begin: datetime, end: datetime, zone: tzinfo) -> tuple[Scale, tuple[Mark, ...]]:
    """Return a scale of time from left to right, and at most eight days marked on it."""
    end = max(end, begin + timedelta(hours=1))
    scale = Scale(begin.timestamp(), end.timestamp(), LEFT, WIDTH - RIGHT)
    days = max(1, math.ceil((end - begin) / timedelta(days=8)))
    midnight = begin.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
    marks = []
    for number in range(0, 10 * days, days):
        day = (midnight + timedelta(days=number)).replace(tzinfo=zone)
        if begin <= day <= end:
            marks.append(Mark(scale(day.timestamp()), f"{day:%d.%m.}"))
    return scale, tuple(marks)


def points(pairs: Iterable[tuple[float, float]]) -> str:
    """Return points as SVG wants them."""
    return " ".join(f"{x:g},{y:g}" for x, y in pairs)


def stairs(pairs: Sequence[tuple[float, float]], until: float) -> list[tuple[float, float]]:
    """Return the corners of a line that keeps each height until the next one."""
    found: list[tuple[float, float]] = []
    for index, (x, y) in enumerate(pairs):
        found.append((x, y))
        found.append((pairs[index + 1][0] if index + 1 < len(pairs) else until, y))
    return found


def _round_step(rough: float) -> float:
    size = 10.0 ** math.floor(math.log10(rough))
    return next(size * step for step in (1, 2, 5, 10) if size * step >= rough * 0.999)
