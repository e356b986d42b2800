"""What a problem is told of hands and due dates: windows ahead, and the end of a due day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta, tzinfo

from finishsched.factors import DAY_MIN
from finishsched.model.hours import Hours
from finishsched.planning.hours import minute_of, windows_of
from finishsched.planning.problem import Hands
from finishsched.planning.window import Window
from finishsched.workshop.plan.hands_and_hours import Place

MOST_DAYS = timedelta(days=20 * 366)


def hands_ahead(place: Place, days: int) -> Iterator[Hands]:
    """Give each pair of hands with its windows, from yesterday until so many days ahead."""
    begin, end = place.now_min - DAY_MIN, place.now_min + days * DAY_MIN
    for name in place.people:
        yield Hands(name, windows_of(place.hours(name), place.zone, begin, end))


def due_minute(due: date, place: Place) -> int:
    """Return the end of the last hours that begin on the day something is due, else of that day.

    Days away and holidays move no due date. A date that is no date anybody meant, centuries away,
    is taken to be twenty years away.
    """
    today = place.now.astimezone(place.zone).date()
    due = min(max(due, today - MOST_DAYS), today + MOST_DAYS)
    begin, end = (
        minute_of(datetime.combine(day, datetime.min.time(), place.zone))
        for day in (due, due + timedelta(days=1))
    )
    ends = [
        window.end_min
        for name in place.people
        for window in _usual_windows(place.hours(name), place.zone, begin, end)
        if begin <= window.start_min < end
    ]
    return min(max(ends, default=end), end)


def _usual_windows(hours: Hours, zone: tzinfo, begin: int, end: int) -> tuple[Window, ...]:
    """Return what there would be with nobody away, whole at both edges of the day."""
    usual = replace(hours, away=(), holidays=())
    return windows_of(usual, zone, begin - DAY_MIN, end + DAY_MIN)
