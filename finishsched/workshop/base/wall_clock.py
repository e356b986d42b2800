"""The clock on the wall: what a person reads off it, and writes down of it."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from finishsched.refusals import RefusalError

_TIME = re.compile(r"(\d{1,2})[:.h](\d{2})")
_REMEDY = "write 18:30, yesterday 18:30, or 2026-11-25 18:30"
_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WEEKDAYS = {name[:size]: number for number, name in enumerate(_NAMES) for size in (3, len(name))}
SLIP = timedelta(hours=6)
"""A time without a day that is no further ahead than this is a slip, not yesterday's (our
assumption): after midnight people mean the evening before, in the evening they do not."""
AHEAD_REMEDY = "write 18:30, tomorrow 8:00, or 2026-11-26 8:00"
_DAY_REMEDY = "write 2026-11-25, yesterday, or a date and time"


class WallTimeError(RefusalError, ValueError):
    """A time that cannot be read: what is wrong, and what would be right."""

    def __init__(self, text: str, remedy: str = _REMEDY, what: str = "is not a time") -> None:
        super().__init__(f"{text!r} {what}", remedy)


def read_wall_time(text: str, now: datetime, zone: tzinfo) -> datetime:
    """Return in UTC the instant when the wall clock in ``zone`` showed ``text``.

    A time without a day is the latest one up to ``now``.

    Raises:
        WallTimeError: when it is no time; when it is without a day and a little ahead of ``now``,
            since that is a slip rather than yesterday; when the clock on the wall skipped it that
            day, or showed it twice.

    """
    words = text.strip().lower()
    today = now.astimezone(zone).date()
    if match := _TIME.fullmatch(words):
        clock = _time(match, text)
        return _latest(clock, today, now, zone, text)
    day, rest = _split_day(words)
    named = _named_day(day, today)
    if named is not None and named < today and (match := _TIME.fullmatch(rest.strip())):
        return _instant(named, _time(match, text), zone, text)
    return _with_a_day(day, rest, text, zone)


def read_time_ahead(text: str, now: datetime, zone: tzinfo) -> datetime:
    """Return in UTC the instant to come when the wall clock in ``zone`` shows ``text``.

    A time without a day is the next one after ``now``.

    Raises:
        WallTimeError: when it is no time, is past, or is one that the clock skips or shows twice.

    """
    words = text.strip().lower()
    day = now.astimezone(zone).date()
    named, _, clock = words.rpartition(" ")
    tomorrow = day + timedelta(days=1)
    if (match := _TIME.fullmatch(clock)) and named in ("", "today", "tomorrow"):
        found = _instant(tomorrow if named == "tomorrow" else day, _time(match, text), zone, text)
        if found <= now and not named:
            found = _instant(tomorrow, _time(match, text), zone, text)
    else:
        found = _with_a_day(*_split_day(words), text, zone)
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
    words = text.strip().lower()
    today = now.astimezone(zone).date()
    try:
        day = _named_day(words, today) or date.fromisoformat(words)
    except ValueError:
        try:
            return read_wall_time(text, now, zone)
        except WallTimeError:
            raise WallTimeError(text, _DAY_REMEDY) from None
    return now if day == today else _lenient(day, time(), zone)


def _named_day(word: str, today: date) -> date | None:
    """Return the day that a word means; a day of the week is the last one before today."""
    ago = {"today": 0, "yesterday": 1}.get(word)
    if ago is None and word in _WEEKDAYS:
        ago = (today.weekday() - _WEEKDAYS[word] - 1) % 7 + 1
    return None if ago is None else today - timedelta(days=ago)


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
    """Return the day and the rest of a time: ``2026-11-25T18:30`` has a T between them."""
    day, _, rest = (words.replace("t", " ", 1) if words[:1].isdigit() else words).partition(" ")
    return day, rest


def _with_a_day(day: str, rest: str, text: str, zone: tzinfo) -> datetime:
    match = _TIME.fullmatch(rest.strip())
    try:
        if match:
            return _instant(date.fromisoformat(day), _time(match, text), zone, text)
        found = datetime.fromisoformat(text.strip())
    except WallTimeError:
        raise
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
