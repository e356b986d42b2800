"""From hours by the wall clock to windows of time, through whatever the clock does on the way.

A weekly line, a day off or an extra evening is what the clock on the wall shows: hands are there
while it reads from the one time up to the other. Times that it skips in spring are never shown, so
they are no window; of a time that it shows twice in autumn the first one counts. A recurrence rule
follows RFC 5545: a start that is skipped is taken by the offset before the gap (3.3.5), and the
length is elapsed time.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import MAXYEAR, UTC, date, datetime, time, timedelta, tzinfo
from functools import lru_cache
from itertools import islice

from finishsched.model.hours import (
    Away,
    Extra,
    Holiday,
    Hours,
    Person,
    RuleHours,
    Span,
    WeeklyHours,
)
from finishsched.model.shop import Shop
from finishsched.planning.window import Window

USUAL_HOURS = Hours((WeeklyHours(tuple(range(7)), (Span(8 * 60, 22 * 60),)),))
"""Where a shop states none: every day from eight to ten (our assumption)."""


def minute_of(at: datetime, *, up: bool = False) -> int:
    """Return an aware instant as whole minutes since 1970 in UTC, rounded down, or ``up``."""
    seconds = at.timestamp()
    return int(-(-seconds // 60) if up else seconds // 60)


def instant_of(minute: int) -> datetime:
    """Return the aware UTC instant of a minute since 1970."""
    return datetime.fromtimestamp(minute * 60, UTC)


def hours_of(shop: Shop, name: str) -> Hours:
    """Return all that a shop says of the hours of one of its people, or of the only one."""
    own = next((person for person in shop.persons if person.name == name), Person(name))
    return Hours(
        lines=own.hours or shop.hours or USUAL_HOURS.lines,
        away=tuple(away for away in shop.away if away.who in ("", name)),
        holidays=shop.holidays,
        extras=tuple(extra for extra in shop.extras if extra.who in ("", name)),
    )


def windows_of(hours: Hours, zone: tzinfo, from_min: int, until_min: int) -> tuple[Window, ...]:
    """Return the windows of ``hours`` between two minutes since 1970 in UTC.

    They are in order and do not touch; those at the edges are cut there. A holiday takes away the
    usual hours that begin on it, not an extra evening; a day away takes away everything.
    """
    if until_min <= from_min:
        return ()
    first = instant_of(from_min).astimezone(zone).date() - timedelta(days=2)
    last = instant_of(until_min).astimezone(zone).date() + timedelta(days=1)
    found = [
        *_usual(hours, zone, first, last),
        *(_span_window(extra.day, extra.span, zone) for extra in _extras(hours, first, last)),
    ]
    taken = [window for away in hours.away for window in _away(away, zone, first, last)]
    whole = Window(from_min, until_min)
    cut = (_both(window, whole) for window in found if window is not None)
    return tuple(_without(_joined(window for window in cut if window), _joined(taken)))


def _extras(hours: Hours, first: date, last: date) -> Iterable[Extra]:
    return (extra for extra in hours.extras if first <= extra.day <= last)


def _usual(hours: Hours, zone: tzinfo, first: date, last: date) -> Iterator[Window]:
    closed = hours.holidays
    for line in hours.lines:
        if isinstance(line, RuleHours):
            for at in _instances(line, zone, first, last):
                if not any(_falls_on(holiday, at.date()) for holiday in closed):
                    start = _rfc_instant(at, zone)
                    yield Window(minute_of(start), minute_of(start) + round(line.length_s / 60))
            continue
        for day in _days(first, last):
            if day.weekday() in line.days and not any(_falls_on(h, day) for h in closed):
                windows = (_span_window(day, span, zone) for span in line.spans)
                yield from (window for window in windows if window is not None)


def _days(first: date, last: date) -> Iterator[date]:
    for number in range(first.toordinal(), last.toordinal() + 1):
        yield date.fromordinal(number)


def _falls_on(holiday: Holiday, day: date) -> bool:
    of_year = holiday.year in (None, day.year)
    return of_year and (holiday.month, holiday.day) == (day.month, day.day)


def _span_window(day: date, span: Span, zone: tzinfo) -> Window | None:
    """Return the span of a local day; None where the clock never shows any of it."""
    start = minute_of(_shown(day, span.opens_min, zone), up=True)
    end = minute_of(_shown(day, span.closes_min, zone))
    return Window(start, end) if end > start else None


def _shown(day: date, minutes: int, zone: tzinfo) -> datetime:
    """Return the first instant at which the wall clock shows a local time, or has skipped it."""
    wall = datetime.combine(day, time()) + timedelta(minutes=minutes)
    at = wall.replace(tzinfo=zone).astimezone(UTC)
    shown = at.astimezone(zone).replace(tzinfo=None)
    if shown == wall:
        return at
    # The clock skipped it: the offset before the gap leads as far past its end as the time lies
    # past its beginning, so the gap begins where the offset after it would lead.
    late = shown - wall
    before, after = at - late, at
    while after - before > timedelta(minutes=1):
        middle = before + (after - before) / 2
        past = middle.astimezone(zone).replace(tzinfo=None) >= wall
        before, after = (before, middle) if past else (middle, after)
    return datetime.fromtimestamp(round(after.timestamp() / 60) * 60, UTC)


def _rfc_instant(wall: datetime, zone: tzinfo) -> datetime:
    return wall.replace(tzinfo=zone, fold=0).astimezone(UTC)


def _instances(line: RuleHours, zone: tzinfo, first: date, last: date) -> Iterator[datetime]:
    """Give the local starts of a rule that may reach into the days asked for."""
    from dateutil.rrule import rrulestr  # noqa: PLC0415  # dear, and few shops write a rule

    end = datetime.combine(last, time.max)
    begin = datetime.combine(first, time()) - timedelta(seconds=line.length_s)
    count = re.search(r"COUNT=(\d+)", line.rule)
    bare = re.sub(r"(^|;)(COUNT|UNTIL)=[^;]*", "", line.rule).strip(";")
    if not _ever(bare, line.start):
        return iter(())
    until = min(end, _until(line, zone) or end)
    start = line.start if count else _nearer(line, begin)
    rule = rrulestr(f"{bare};UNTIL={until:%Y%m%dT%H%M%S}", dtstart=start)
    found = islice(rule, int(count[1])) if count else iter(rule)
    return (at for at in found if at >= begin)


@lru_cache(maxsize=64)
def _ever(rule: str, start: datetime) -> bool:
    """Tell whether any day satisfies a rule, such as not the 30th of February.

    One that none does is looked for up to the year 9999, whatever its end. The calendar is the same
    again after 400 years, so that it is looked for from late on, with 400 years still to come.
    """
    from dateutil.rrule import rrulestr  # noqa: PLC0415  # dear, and few shops write a rule

    cycles = max(0, (MAXYEAR - start.year) // 400 - 1)
    late = start.replace(year=start.year + cycles * 400)
    return next(iter(rrulestr(rule, dtstart=late)), None) is not None


def _nearer(line: RuleHours, begin: datetime) -> datetime:
    """Return a later first instance that the rule goes on from alike, so as not to count years.

    Days and weeks go on alike after any whole number of their intervals; months and years are few.
    """
    freq = re.search(r"FREQ=(DAILY|WEEKLY)", line.rule)
    every = re.search(r"INTERVAL=(\d+)", line.rule)
    if freq is None or begin <= line.start:
        return line.start
    days = int(every[1]) if every else 1
    step = timedelta(days=days * (7 if freq[1] == "WEEKLY" else 1))
    return line.start + max(0, (begin - line.start) // step - 1) * step


def _until(line: RuleHours, zone: tzinfo) -> datetime | None:
    match = re.search(r"UNTIL=(\d{8})(?:T(\d{6})(Z?))?", line.rule)
    if match is None:
        return None
    clock = match[2] or "235959"
    until = datetime.strptime(match[1] + clock, "%Y%m%d%H%M%S")  # noqa: DTZ007  # local, or UTC
    if match[3]:
        return until.replace(tzinfo=UTC).astimezone(zone).replace(tzinfo=None)
    return until


def _away(away: Away, zone: tzinfo, first: date, last: date) -> Iterator[Window]:
    if away.span is None:
        begin, end = max(away.first, first), min(away.last, last)
        if begin <= end:
            whole = Span(0, (end.toordinal() - begin.toordinal() + 1) * 1440)
            window = _span_window(begin, whole, zone)
            if window is not None:
                yield window
        return
    for day in _days(max(away.first, first), min(away.last, last)):
        window = _span_window(day, away.span, zone)
        if window is not None:
            yield window


def _both(one: Window, other: Window) -> Window | None:
    start, end = max(one.start_min, other.start_min), min(one.end_min, other.end_min)
    return Window(start, end) if end > start else None


def _joined(windows: Iterable[Window]) -> list[Window]:
    found: list[Window] = []
    for window in sorted(windows):
        if found and window.start_min <= found[-1].end_min:
            last = found.pop()
            window = Window(last.start_min, max(last.end_min, window.end_min))  # noqa: PLW2901
        found.append(window)
    return found


def _without(windows: Iterable[Window], taken: list[Window]) -> Iterator[Window]:
    for window in windows:
        start = window.start_min
        for gone in taken:
            if gone.end_min > start and gone.start_min < window.end_min:
                if gone.start_min > start:
                    yield Window(start, gone.start_min)
                start = gone.end_min
        if start < window.end_min:
            yield Window(start, window.end_min)
