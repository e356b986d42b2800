"""The clock on the wall: what a person reads off it, and writes down of it."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from finishsched.clock_words import in_24_hours
from finishsched.refusals import RefusalError
from finishsched.workshop.base.typed_days import DayError, UnclearDayError, read_typed_day

_TIME = re.compile(r"(\d{1,2})[:.h](\d{2})")
_REMEDY = "write 18:30, yesterday 18:30, or 2026-11-25 18:30"
SLIP = timedelta(hours=6)
"""A time without a day that is no further ahead than this is a slip, not yesterday's (our
assumption): after midnight people mean the evening before, in the evening they do not."""
AHEAD_REMEDY = "write 18:30, tomorrow 8:00, or 2026-11-26 8:00"
_DAY_REMEDY = "write 2026-11-25, yesterday, or a date and time"


class WallTimeError(RefusalError, ValueError):
    """A time that cannot be read: what is wrong, and what would be right."""

    def __init__(self, text: str, remedy: str = _REMEDY, what: str = "is not a time") -> None:
        super().__init__(f"{text!r} {what}", remedy)
        self.what = what


def read_wall_time(text: str, now: datetime, zone: tzinfo) -> datetime:
    """Return in UTC the instant when the wall clock in ``zone`` showed ``text``.

    A time without a day is the latest one up to ``now``.

    Raises:
        WallTimeError: when it is no time; when it is without a day and a little ahead of ``now``,
            since that is a slip rather than yesterday; when the clock on the wall skipped it that
            day, or showed it twice.

    """
    said = in_24_hours(text.strip().lower())
    if match := _TIME.fullmatch(said):
        clock = _time(match, text)
        return _latest(clock, now.astimezone(zone).date(), now, zone, text)
    return _with_a_day(text, now, zone, ahead=False)


def read_time_ahead(text: str, now: datetime, zone: tzinfo) -> datetime:
    """Return in UTC the instant to come when the wall clock in ``zone`` shows ``text``.

    A time without a day is the next one after ``now``.

    Raises:
        WallTimeError: when it is no time, is past, or is one that the clock skips or shows twice.

    """
    words = in_24_hours(text.strip().lower())
    day = now.astimezone(zone).date()
    named, _, clock = words.rpartition(" ")
    tomorrow = day + timedelta(days=1)
    if (match := _TIME.fullmatch(clock)) and named in ("", "today", "tomorrow"):
        found = _instant(tomorrow if named == "tomorrow" else day, _time(match, text), zone, text)
        if found <= now and not named:
            found = _instant(tomorrow, _time(match, text), zone, text)
    else:
        found = _with_a_day(text, now, zone, ahead=True)
    if found <= now:
        raise WallTimeError(text, AHEAD_REMEDY, "is past")
    return found


def read_wall_day(text: str, now: datetime, zone: tzinfo) -> datetime:
    """Return in UTC the instant of a day, or of a day and time, that a person wrote.

    Today is now; another day without a time is its beginning, so that all that happened on it
    came after.

    Raises:
        WallTimeError: when it is neither.

    """
    today = now.astimezone(zone).date()
    try:
        day = read_typed_day(text, today, ahead=False)
    except UnclearDayError as unclear:
        raise WallTimeError(text, unclear.remedy, unclear.what) from None
    except DayError:
        try:
            return read_wall_time(text, now, zone)
        except WallTimeError as no_time:
            remedy = _DAY_REMEDY if no_time.remedy == _REMEDY else no_time.remedy
            raise WallTimeError(text, remedy, no_time.what) from None
    return now if day == today else _lenient(day, time(), zone)


def in_typed_minute(at: datetime, before: datetime | None) -> datetime:
    """Return when in its minute something happened that came after ``before``.

    A time is typed to the minute and kept to the second: one of a whole minute may be any instant
    of it, and is taken as the first that is not before what came before it.
    """
    whole = at.second == 0 and at.microsecond == 0
    return before if before and whole and at < before < at + timedelta(minutes=1) else at


def full(at: datetime, zone: tzinfo) -> str:
    """Return an instant as the wall clock has it, with its full date: 2026-11-25 18:30."""
    return f"{at.astimezone(zone):%Y-%m-%d %H:%M}"


def _latest(clock: time, today: date, now: datetime, zone: tzinfo, text: str) -> datetime:
    """Return the latest such time up to ``now``, unless today's is only a little ahead."""
    ahead = _lenient(today, clock, zone)
    if ahead <= now:
        return _instant(today, clock, zone, text)
    before = today - timedelta(days=1)
    if ahead - now <= SLIP:
        raise WallTimeError(
            text,
            f"it is {full(now, zone)} now: write 'yesterday {clock:%H:%M}' for "
            f"{before} {clock:%H:%M}, or a time that is past",
            f"is still to come: {today} {clock:%H:%M}",
        )
    return _instant(before, clock, zone, text)


def _split_day(words: str) -> tuple[str, str]:
    """Return the day and the time after it: ``2026-11-25T18:30`` has a T between them."""
    day, _, clock = re.sub(r"^(\d{4}-\d\d-\d\d)t", r"\1 ", words).rpartition(" ")
    return day.strip(), clock


def _with_a_day(text: str, now: datetime, zone: tzinfo, *, ahead: bool) -> datetime:
    day, clock = _split_day(in_24_hours(text.strip().lower()))
    if day and (match := _TIME.fullmatch(clock)):
        try:
            on = read_typed_day(day, now.astimezone(zone).date(), ahead=ahead)
        except UnclearDayError as unclear:
            raise WallTimeError(text, unclear.remedy, unclear.what) from None
        except DayError:
            raise WallTimeError(text) from None
        return _instant(on, _time(match, text), zone, text)
    try:
        found = datetime.fromisoformat(text.strip())
    except (ValueError, OverflowError):
        raise WallTimeError(text) from None
    if ":" not in text:
        raise WallTimeError(text)
    if found.tzinfo:
        return found.astimezone(UTC)
    return _instant(found.date(), found.time(), zone, text)


def _time(match: re.Match[str], text: str) -> time:
    try:
        return time(int(match[1]), int(match[2]))
    except ValueError:
        raise WallTimeError(text) from None


def _instant(day: date, clock: time, zone: tzinfo, text: str) -> datetime:
    """Return the one instant at which the wall clock showed this; refuse none and two."""
    first, second = _lenient(day, clock, zone), _lenient(day, clock.replace(fold=1), zone)
    if first == second:
        return first
    if first.astimezone(zone).replace(tzinfo=None) != datetime.combine(day, clock):
        before, after = second.astimezone(zone), first.astimezone(zone)
        raise WallTimeError(
            text,
            f"write {before:%H:%M} or {after:%H:%M}",
            f"never was: the clock went forward on {day}",
        )
    one, other = (each.astimezone(zone).isoformat(timespec="minutes") for each in (first, second))
    raise WallTimeError(
        text,
        f"write {one} for the first, {other} for the second",
        f"was twice: the clock went back on {day}",
    )


def _lenient(day: date, clock: time, zone: tzinfo) -> datetime:
    """Return the instant, on days when the clock changes too: the first of two, none refused."""
    try:
        return datetime.combine(day, clock, zone).astimezone(UTC)
    except OverflowError:
        raise WallTimeError(f"{day} {clock:%H:%M}") from None
