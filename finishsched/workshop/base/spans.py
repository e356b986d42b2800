"""How long, how far off, and what the wall clock says: the same words on every face."""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta, tzinfo

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

HAIR = 1e-3
"""Of a minute: a wait of 12 h that was run through the air and back is no 11 h 59."""
DAYS_A_YEAR = 365.2425
LONG_DAYS = 2 * DAYS_A_YEAR
"""What lasts longer is told in years: nobody divides 21914 days by hand."""


def span(seconds: float, *, up: bool = False) -> str:
    """Return a length of time in two units at most: ``1 h 12``, ``2 d 3 h``, ``60 years``.

    Whole minutes, rounded down, or ``up`` for time that is left, so that it never promises less.
    """
    minutes = math.ceil(seconds / 60 - HAIR) if up else math.floor(seconds / 60 + HAIR)
    if minutes < 1:
        return "< 1 min"
    hours, minute = divmod(minutes, 60)
    days, hour = divmod(hours, 24)
    if days >= LONG_DAYS:
        return f"{days / DAYS_A_YEAR:.0f} years"
    if days:
        return f"{days} d {hour} h" if hour else f"{days} d"
    if hours:
        return f"{hours} h {minute:02d}"
    return f"{minutes} min"


def away(instant: datetime, now: datetime) -> str:
    """Return how far off an instant is: ``in 1 h 12``, ``since 4 min``, ``just now``."""
    seconds = (instant - now).total_seconds()
    if -60 < seconds <= 0:
        return "just now"
    return f"in {span(seconds, up=True)}" if seconds > 0 else f"since {span(-seconds)}"


def wall(instant: datetime, now: datetime, zone: tzinfo) -> str:
    """Return local wall time, with the day when it is not today: ``18:42``, ``Thu 18:42``.

    A weekday alone is never six days away: that of yesterday is called the same.
    A day of another year has its year: ``3 Dec 2031 18:42``. What is to come is told by the minute
    in which it is surely over, as the plan has it, so that nothing is promised sooner than it is.
    """
    if instant > now:
        instant = up_to_the_minute(instant)
    local, today = instant.astimezone(zone), now.astimezone(zone).date()
    clock = f"{local:%H:%M}"
    days = abs((local.date() - today).days)
    if days == 0:
        return clock
    if days < 6:
        return f"{_DAYS[local.weekday()]} {clock}"
    return f"{dated(local.date(), today)} {clock}"


def reckoned(instant: datetime, now: datetime, zone: tzinfo) -> str:
    """Return the wall time of what was worked out: a wait's end, the close of a window.

    It is told by one and the same minute before it and after it, the one in which it is surely
    over; what was logged is told by `wall`, as it was typed.
    """
    return wall(up_to_the_minute(instant), now, zone)


def between(first: datetime, last: datetime, now: datetime, zone: tzinfo) -> str:
    """Return two wall times: ``18:42 to 19:10``, ``Wed 8:58 to Thu 22:20``.

    A day is said once where both are of it, and of two days each, today's too: what is said after
    another day would be taken for that.
    """
    begins, ends = reckoned(first, now, zone), reckoned(last, now, zone)
    if begins == ends:
        return ends
    if _day_of(begins) == _day_of(ends):
        return f"{begins} to {ends.rpartition(' ')[2]}"
    if not _day_of(ends):
        return f"{begins} to {_DAYS[last.astimezone(zone).weekday()]} {ends}"
    return f"{begins} to {ends}"


def _day_of(told: str) -> str:
    """Return the day that a wall time is told with; empty for today."""
    return told.rpartition(" ")[0]


def up_to_the_minute(instant: datetime) -> datetime:
    """Return the next whole minute; an instant no more than a hair past one as it is.

    What a wait or a window comes to is told by the minute, so it comes to that minute: before it
    and after it, on every face, it is the same.
    """
    over_s = instant.second + instant.microsecond / 1e6
    if over_s <= 60 * HAIR:
        return instant
    return instant + timedelta(seconds=60 - over_s)


def day(value: date) -> str:
    """Return a date as ``3 Dec``."""
    return f"{value.day} {_MONTHS[value.month - 1]}"


def dated(value: date, today: date) -> str:
    """Return a date as ``3 Dec``; one of another year than ``today`` has its year."""
    return day(value) if value.year == today.year else f"{day(value)} {value.year:04}"


def weekday_of(value: date, today: date) -> str:
    """Return a date with its weekday: ``Wed 25 Nov``, ``Fri 1 Jan 2027`` in another year."""
    return f"{_DAYS[value.weekday()]} {dated(value, today)}"


def full_date(instant: datetime, zone: tzinfo) -> str:
    """Return the date of an instant with its year: ``3 Dec 2031``."""
    local = instant.astimezone(zone).date()
    return f"{day(local)} {local.year}"


def today(now: datetime, zone: tzinfo) -> str:
    """Return the local date with its weekday: ``Wed 25 Nov``."""
    local = now.astimezone(zone).date()
    return weekday_of(local, local)
