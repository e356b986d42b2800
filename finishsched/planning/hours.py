"""From hours by the wall clock to windows of time, through whatever the clock does on the way.

A weekly line, a day off or an extra evening is what the clock on the wall shows: hands are there
while it reads from the one time up to the other. Times that it skips in spring are never shown, so
they are no window; of a time that it shows twice in autumn the first one counts. A recurrence rule
follows RFC 5545: a start that is skipped is taken by the offset before the gap (3.3.5), and the
length is elapsed time.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import MAXYEAR, UTC, date, datetime, time, timedelta, tzinfo
from functools import lru_cache
from itertools import islice

from finishsched.factors import DAY_MIN
from finishsched.model.hours import (
    Away,
    Holiday,
    Hours,
    RuleHours,
    Span,
    WeeklyHours,
)
from finishsched.model.shop import Shop
from finishsched.planning.window import Window

EVERY_DAY = tuple(range(7))
EIGHT_TO_TEN = Span(8 * 60, 22 * 60)
USUAL_HOURS = Hours((WeeklyHours(EVERY_DAY, (EIGHT_TO_TEN,)),))
"""Where a shop states none: every day from eight to ten (our assumption)."""


def minute_of(at: datetime, *, up: bool = False) -> int:
    """Return an aware instant as whole minutes since 1970 in UTC, rounded down, or ``up``."""
    seconds = at.timestamp()
    if up:
        return -int(-seconds // 60)
    return int(seconds // 60)


def instant_of(minute: int) -> datetime:
    """Return the aware UTC instant of a minute since 1970."""
    return datetime.fromtimestamp(minute * 60, UTC)


def hours_of(shop: Shop, name: str) -> Hours:
    """Return all that a shop says of the hours of one of its people, or of the only one.

    Args:
        shop: its hours, holidays, days away and extra evenings.
        name: of the person; empty for the only one.

    """
    named = [person for person in shop.persons if person.name == name]
    own_hours = named[0].hours if named else ()
    everybody_or_this_one = ("", name)
    away = [away for away in shop.away if away.who in everybody_or_this_one]
    extras = [extra for extra in shop.extras if extra.who in everybody_or_this_one]
    return Hours(
        lines=own_hours or shop.hours or USUAL_HOURS.lines,
        away=tuple(away),
        holidays=shop.holidays,
        extras=tuple(extras),
    )


def windows_of(hours: Hours, zone: tzinfo, from_min: int, until_min: int) -> tuple[Window, ...]:
    """Return the windows of ``hours`` between two minutes since 1970 in UTC.

    A holiday takes away the usual hours that begin on it, not an extra evening; a day away takes
    away everything.

    Args:
        hours: all that is said of one pair of hands.
        zone: where the clock on the wall hangs.
        from_min: windows that began before are cut there.
        until_min: windows that end after are cut there.

    Returns:
        Windows in the order of time that do not touch.

    """
    if until_min <= from_min:
        return ()
    # A span may reach into the next day, and a day may begin as another ends elsewhere.
    first_day = instant_of(from_min).astimezone(zone).date()
    last_day = instant_of(until_min).astimezone(zone).date()
    days = _Days(
        first=first_day - timedelta(days=2),
        last=last_day + timedelta(days=1),
        zone=zone,
    )
    whole = Window(from_min, until_min)
    open_: list[Window] = []
    for window in (*_usual(hours, days), *_extra(hours, days)):
        cut = _both(window, whole)
        if cut is not None:
            open_.append(cut)
    taken: list[Window] = []
    for away in hours.away:
        taken += _away(away, days)
    left = _without(_joined(open_), _joined(taken))
    return tuple(left)


@dataclass(frozen=True, slots=True)
class _Days:
    """The local days that are looked at, and where they are."""

    first: date
    last: date
    zone: tzinfo

    def between(self, first: date, last: date) -> Iterator[date]:
        """Give the days from one up to and with another, as far as they are looked at.

        Args:
            first: the one day.
            last: the other.

        """
        begin = max(first, self.first).toordinal()
        end = min(last, self.last).toordinal()
        for number in range(begin, end + 1):
            yield date.fromordinal(number)

    def every(self) -> Iterator[date]:
        """Give them all."""
        return self.between(self.first, self.last)


def _extra(hours: Hours, days: _Days) -> Iterator[Window]:
    """Give the extra evenings that fall on these days."""
    for extra in hours.extras:
        if days.first <= extra.day <= days.last:
            yield from _span_window(extra.day, extra.span, days.zone)


def _usual(hours: Hours, days: _Days) -> Iterator[Window]:
    """Give the usual hours that begin on these days, but for those that begin on a holiday."""
    for line in hours.lines:
        if isinstance(line, RuleHours):
            yield from _by_rule(line, hours.holidays, days)
        else:
            yield from _weekly(line, hours.holidays, days)


def _by_rule(line: RuleHours, holidays: Sequence[Holiday], days: _Days) -> Iterator[Window]:
    """Give the hours that a recurrence rule makes.

    Args:
        line: the rule, its first instance, and how long each is.
        holidays: on which none of them is.
        days: those that are looked at.

    """
    length_min = round(line.length_s / 60)
    for at in _instances(line, days):
        if not _is_closed(at.date(), holidays):
            start_min = minute_of(_rfc_instant(at, days.zone))
            yield Window(start_min, start_min + length_min)


def _weekly(line: WeeklyHours, holidays: Sequence[Holiday], days: _Days) -> Iterator[Window]:
    """Give the hours of a line of the week.

    Args:
        line: days of the week, and the spans of each.
        holidays: on which none of them is.
        days: those that are looked at.

    """
    for day in days.every():
        if day.weekday() in line.days and not _is_closed(day, holidays):
            for span in line.spans:
                yield from _span_window(day, span, days.zone)


def _is_closed(day: date, holidays: Sequence[Holiday]) -> bool:
    """Tell whether any holiday falls on a day."""
    return any(_falls_on(holiday, day) for holiday in holidays)


def _falls_on(holiday: Holiday, day: date) -> bool:
    """Tell whether a holiday falls on a day, of every year or of its own.

    Args:
        holiday: a day of the year, perhaps of one year alone.
        day: the local day.

    """
    if holiday.year is not None and holiday.year != day.year:
        return False
    return holiday.month == day.month and holiday.day == day.day


def _span_window(day: date, span: Span, zone: tzinfo) -> Iterator[Window]:
    """Give the span of a local day; nothing where the clock never shows any of it.

    Args:
        day: the local day.
        span: minutes after its midnight.
        zone: where the clock hangs.

    """
    opens = _shown(day, span.opens_min, zone)
    closes = _shown(day, span.closes_min, zone)
    start = minute_of(opens, up=True)
    end = minute_of(closes)
    if end > start:
        yield Window(start, end)


def _shown(day: date, minutes: int, zone: tzinfo) -> datetime:
    """Return the first instant at which the wall clock shows a local time, or has skipped it.

    Args:
        day: the local day.
        minutes: after its midnight; the next day from 1440 on.
        zone: where the clock hangs.

    """
    wall = datetime.combine(day, time()) + timedelta(minutes=minutes)
    at = wall.replace(tzinfo=zone).astimezone(UTC)
    shown = at.astimezone(zone).replace(tzinfo=None)
    if shown == wall:
        return at
    # The clock skipped it: the offset before the gap leads as far past its end as the time lies
    # past its beginning, so the gap begins where the offset after it would lead.
    late = shown - wall
    before = at - late
    after = at
    while after - before > timedelta(minutes=1):
        half = (after - before) / 2
        middle = before + half
        shown = middle.astimezone(zone).replace(tzinfo=None)
        if shown >= wall:
            after = middle
        else:
            before = middle
    whole_minutes = round(after.timestamp() / 60)
    return instant_of(whole_minutes)


def _rfc_instant(wall: datetime, zone: tzinfo) -> datetime:
    """Return the instant of a local time, by the offset before the gap where it is skipped."""
    return wall.replace(tzinfo=zone, fold=0).astimezone(UTC)


def _instances(line: RuleHours, days: _Days) -> Iterator[datetime]:
    """Give the local starts of a rule that may reach into the days asked for.

    Args:
        line: the rule, its first instance, and how long each is.
        days: those that are looked at.

    """
    from dateutil.rrule import rrulestr  # noqa: PLC0415  # dear, and few shops write a rule

    end = datetime.combine(days.last, time.max)
    first_midnight = datetime.combine(days.first, time())
    begin = first_midnight - timedelta(seconds=line.length_s)
    count = re.search(r"COUNT=(\d+)", line.rule)
    without_end = re.sub(r"(^|;)(COUNT|UNTIL)=[^;]*", "", line.rule).strip(";")
    if not _ever(without_end, line.start):
        return
    # Its end is written anew, by local time: so a rule never goes on beyond the days asked for.
    own_end = _until(line, days.zone) or end
    until = min(end, own_end)
    # One that is counted has to be counted from its first instance on.
    start = line.start if count else _nearer(line, begin)
    rule = rrulestr(f"{without_end};UNTIL={until:%Y%m%dT%H%M%S}", dtstart=start)
    most = int(count[1]) if count else None
    for at in islice(rule, most):
        if at >= begin:
            yield at


@lru_cache(maxsize=64)
def _ever(rule: str, start: datetime) -> bool:
    """Tell whether any day satisfies a rule, such as not the 30th of February.

    One that none does is looked for up to the year 9999, whatever its end. The calendar is the same
    again after 400 years, so that it is looked for from late on, with 400 years still to come.

    Args:
        rule: how it recurs, without its end.
        start: its first instance, by local time.

    """
    from dateutil.rrule import rrulestr  # noqa: PLC0415  # dear, and few shops write a rule

    cycles_left = (MAXYEAR - start.year) // 400
    cycles = max(0, cycles_left - 1)
    late = start.replace(year=start.year + cycles * 400)
    instances = iter(rrulestr(rule, dtstart=late))
    return next(instances, None) is not None


def _nearer(line: RuleHours, begin: datetime) -> datetime:
    """Return a later first instance that the rule goes on from alike, so as not to count years.

    Days and weeks go on alike after any whole number of their intervals; months and years are few.

    Args:
        line: the rule, and its first instance.
        begin: the local time from which on instances are asked for.

    """
    freq = re.search(r"FREQ=(DAILY|WEEKLY)", line.rule)
    every = re.search(r"INTERVAL=(\d+)", line.rule)
    if freq is None or begin <= line.start:
        return line.start
    interval = int(every[1]) if every else 1
    step = timedelta(days=interval)
    if freq[1] == "WEEKLY":
        step = timedelta(weeks=interval)
    whole_steps = (begin - line.start) // step
    steps = max(0, whole_steps - 1)
    return line.start + steps * step


def _until(line: RuleHours, zone: tzinfo) -> datetime | None:
    """Return the local time by which a rule says that it ends, where it says so."""
    match = re.search(r"UNTIL=(\d{8})(?:T(\d{6})(Z?))?", line.rule)
    if match is None:
        return None
    clock = match[2] or "235959"
    until = datetime.strptime(match[1] + clock, "%Y%m%d%H%M%S")  # noqa: DTZ007  # local, or UTC
    if match[3]:
        return until.replace(tzinfo=UTC).astimezone(zone).replace(tzinfo=None)
    return until


def _away(away: Away, days: _Days) -> Iterator[Window]:
    """Give when hands are away: a span of each day, or all of the days in one.

    Args:
        away: the first and the last day, and perhaps the span of each.
        days: those that are looked at.

    """
    if away.span is not None:
        for day in days.between(away.first, away.last):
            yield from _span_window(day, away.span, days.zone)
        return
    begin = max(away.first, days.first)
    end = min(away.last, days.last)
    if begin <= end:
        number_of_days = (end - begin).days + 1
        whole = Span(0, number_of_days * DAY_MIN)
        yield from _span_window(begin, whole, days.zone)


def _both(one: Window, other: Window) -> Window | None:
    """Return what lies in both windows; None where nothing does."""
    start = max(one.start_min, other.start_min)
    end = min(one.end_min, other.end_min)
    return Window(start, end) if end > start else None


def _joined(windows: Iterable[Window]) -> list[Window]:
    """Return windows in the order of time, those that touch as one."""
    found: list[Window] = []
    for window in sorted(windows):
        if found and window.start_min <= found[-1].end_min:
            last = found.pop()
            end = max(last.end_min, window.end_min)
            found.append(Window(last.start_min, end))
        else:
            found.append(window)
    return found


def _without(windows: Iterable[Window], taken: list[Window]) -> Iterator[Window]:
    """Give what is left of windows; what is taken is in the order of time and does not touch.

    Args:
        windows: in the order of time.
        taken: what is cut out of them.

    """
    for window in windows:
        start = window.start_min
        for gone in taken:
            meets = gone.end_min > start and gone.start_min < window.end_min
            if meets:
                if gone.start_min > start:
                    yield Window(start, gone.start_min)
                start = gone.end_min
        if start < window.end_min:
            yield Window(start, window.end_min)
