"""The clock on the wall: what a person reads off it, and writes down of it."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, tzinfo

_TIME = re.compile(r"(\d{1,2})[:.h](\d{2})")
_REMEDY = "write 18:30, yesterday 18:30, or 2026-11-25 18:30"
_DAY_REMEDY = "write 2026-11-25, yesterday, or a date and time"


class WallTimeError(ValueError):
    """A time that cannot be read: what is wrong, and what would be right."""

    def __init__(self, text: str, remedy: str = _REMEDY) -> None:
        super().__init__(f"{text!r} is not a time; {remedy}")
        self.message = f"{text!r} is not a time"
        self.remedy = remedy


def read_wall_time(text: str, now: datetime, zone: tzinfo) -> datetime:
    """Return in UTC the instant when the wall clock in ``zone`` showed ``text``.

    A time without a day is the latest one up to ``now``. A time that the clock skipped in spring
    is taken as if it had not; one that it showed twice in autumn is the first of the two.

    Raises:
        WallTimeError: when it is no time.

    """
    words = text.strip().lower()
    today = now.astimezone(zone).date()
    if match := _TIME.fullmatch(words):
        clock = _time(match, text)
        days = (_instant(today - timedelta(days=back), clock, zone) for back in (0, 1, 2))
        return next(instant for instant in days if instant <= now)
    day, _, rest = (words.replace("t", " ", 1) if words[:1].isdigit() else words).partition(" ")
    if day == "yesterday" and (match := _TIME.fullmatch(rest.strip())):
        return _instant(today - timedelta(days=1), _time(match, text), zone)
    return _with_a_day(day, rest, text, zone)


def read_wall_day(text: str, now: datetime, zone: tzinfo) -> datetime:
    """Return in UTC the instant of a day, or of a day and time, that a person wrote.

    Today is now; another day without a time is its beginning, so that all that happened on it
    came after.

    Raises:
        WallTimeError: when it is neither.

    """
    words = text.strip().lower()
    today = now.astimezone(zone).date()
    named = {"today": today, "yesterday": today - timedelta(days=1)}
    try:
        day = named.get(words) or date.fromisoformat(words)
    except ValueError:
        try:
            return read_wall_time(text, now, zone)
        except WallTimeError:
            raise WallTimeError(text, _DAY_REMEDY) from None
    return now if day == today else _instant(day, time(), zone)


def _with_a_day(day: str, rest: str, text: str, zone: tzinfo) -> datetime:
    match = _TIME.fullmatch(rest.strip())
    try:
        if match:
            return _instant(date.fromisoformat(day), _time(match, text), zone)
        found = datetime.fromisoformat(text.strip())
    except (ValueError, OverflowError):
        raise WallTimeError(text) from None
    if ":" not in text:
        raise WallTimeError(text)
    return (found if found.tzinfo else found.replace(tzinfo=zone)).astimezone(UTC)


def _time(match: re.Match[str], text: str) -> time:
    try:
        return time(int(match[1]), int(match[2]))
    except ValueError:
        raise WallTimeError(text) from None


def _instant(day: date, clock: time, zone: tzinfo) -> datetime:
    try:
        return datetime.combine(day, clock, zone).astimezone(UTC)
    except OverflowError:
        raise WallTimeError(f"{day} {clock:%H:%M}") from None
