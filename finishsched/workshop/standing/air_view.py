"""The air as the faces show it: the last reading, how old it is, where it comes from and goes."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from finishsched.drying.air import AirAnswer, air_answer
from finishsched.drying.course import HOLD_S, Course
from finishsched.journal.progress import Book
from finishsched.model.shop import Air
from finishsched.workshop.base.answers import AirPoint, AirView, Trend

SHOWN_HOURS = 12
"""How far back and ahead the strip looks."""
TREND_S = 3 * 3600.0
STEADY_K, STEADY_PERCENT = 0.5, 3.0
"""A change over three hours that is no trend (our assumption)."""
SURFACE_HOLDS = timedelta(hours=12)
"""How long a floor's or a piece's own warmth stands for the hours after it (our assumption)."""
COLDEST_C, WARMEST_C = -10.0, 60.0


def air_view(book: Book, course: Course, usual: Air, now: datetime) -> AirView:
    """Return the last reading with the hours around ``now``, or the usual air of the shop."""
    last = book.told_air.last()
    if last is None:
        return AirView(_answer(usual), None)
    return AirView(
        answer=_answer(last.air),
        read_at=last.at,
        is_old=(now - last.at).total_seconds() > HOLD_S,
        points=tuple(_points(course, now)),
        warmth=_trend(course, last.at, 1, STEADY_K),
        damp=_trend(course, last.at, 2, STEADY_PERCENT),
        surface_c=surface_at(book.told_air.last_surface(), now),
    )


def surface_at(found: tuple[datetime, float] | None, now: datetime) -> float | None:
    """Return how warm floor or work were when last read, while that still counts."""
    if found is None or not timedelta(0) <= now - found[0] <= SURFACE_HOLDS:
        return None
    return found[1]


def _answer(air: Air) -> AirAnswer:
    return air_answer(
        min(WARMEST_C, max(COLDEST_C, air.temperature_c)), max(1.0, air.humidity_percent)
    )


def _points(course: Course, now: datetime) -> list[AirPoint]:
    first_s = course.first_s
    last_s = course.last_s
    found = []
    for hour in range(-SHOWN_HOURS, SHOWN_HOURS + 1):
        at_s = now.timestamp() + 3600.0 * hour
        if first_s is None or last_s is None or at_s < first_s:
            continue
        air = course.at(at_s)
        found.append(
            AirPoint(
                datetime.fromtimestamp(at_s, UTC),
                air.temperature_c,
                air.humidity_percent,
                foretold=at_s > max(now.timestamp(), last_s) or at_s > last_s + HOLD_S,
            )
        )
    return found


def _trend(course: Course, last: datetime, figure: int, steady: float) -> Trend:
    """Return where a figure of the air went in the hours before the last reading."""
    last_s, first_s = last.timestamp(), course.first_s
    if first_s is None or first_s > last_s - TREND_S / 3:
        return Trend.UNKNOWN
    before = course.at(max(first_s, last_s - TREND_S))[figure]
    change = course.at(last_s)[figure] - before
    if abs(change) < steady:
        return Trend.STEADY
    return Trend.RISING if change > 0 else Trend.FALLING
