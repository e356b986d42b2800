"""A day as people write it: 2026-12-19, Dec 19, Sat 19 December, Saturday, tomorrow."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

from finishsched.near import either
from finishsched.refusals import RefusalError

_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WEEKDAYS = {name[:size]: number for number, name in enumerate(_NAMES) for size in (3, len(name))}
_AS_NUMBERS = re.compile(r"\d{4}-\d{2}-\d{2}")
_POINT = re.compile(r"(?<=\d)\.(?=\d|$)")
_EMPTY = (datetime(2000, 1, 1), datetime(2004, 2, 2))  # noqa: DTZ001  # of no zone: only a day
"""What stands for what was not written: of two readings, that which differs was not."""
_YEARS_TO_A_LEAP_DAY = 8
_LONGEST = 40


class DayError(RefusalError, ValueError):
    """A day that cannot be read: what is wrong, and what would be right."""

    def __init__(self, text: str, what: str, remedy: str) -> None:
        super().__init__(f"{text!r:.60} {what}", remedy)
        self.what = what


class UnclearDayError(DayError):
    """What can be read as a day, and is not surely one: as two, or with the wrong weekday."""


def read_typed_day(text: str, today: date, *, ahead: bool) -> date:
    """Return the day that somebody wrote.

    One without a year, or a day of the week, is the next from ``today`` on where it is ``ahead``,
    else the last up to it; a day of the week is never today. Month and day in figures are read
    where they cannot be the other way round.

    Raises:
        DayError: when it is no day, or may be more than one.

    """
    words = " ".join(text.lower().split())
    if _AS_NUMBERS.fullmatch(words):
        return _by_the_calendar(words, text)
    named = _named_day(words, today, ahead=ahead)
    if named is not None:
        return named
    found = sorted(_readings(words, today, ahead=ahead))
    if not found:
        beside = "tomorrow" if ahead else "yesterday"
        raise DayError(text, "is not a date", f"write 2026-12-19, Dec 19 or {beside}")
    if len(found) > 1:
        several = either([f"{day.day} {day:%B %Y}" for day in found])
        remedy = f"write {either([day.isoformat() for day in found])}"
        raise UnclearDayError(text, f"may be {several}", remedy)
    _refuse_another_weekday(words, found[0], text)
    return found[0]


def _named_day(word: str, today: date, *, ahead: bool) -> date | None:
    """Return the day that a word means: today, its neighbours, or a day of the week."""
    days = {"yesterday": -1, "today": 0, "tomorrow": 1 if ahead else None}.get(word)
    if days is None and word in _WEEKDAYS:
        ago = (today.weekday() - _WEEKDAYS[word] - 1) % 7 + 1
        days = (7 - ago) or 7 if ahead else -ago
    return None if days is None else today + timedelta(days=days)


def _by_the_calendar(words: str, text: str) -> date:
    try:
        return date.fromisoformat(words)
    except ValueError:
        raise DayError(text, "is no day of the calendar", "check the month and the day") from None


def _readings(words: str, today: date, *, ahead: bool) -> set[date]:
    """Return every day that the words may mean, whichever figure comes first."""
    if len(words) > _LONGEST or not any(letter.isdigit() for letter in words):
        return set()
    slashed = _POINT.sub("/", words).rstrip("/")
    found = (_reading(slashed, today, day_first=first, ahead=ahead) for first in (False, True))
    return {day for day in found if day is not None}


def _reading(words: str, today: date, *, day_first: bool, ahead: bool) -> date | None:
    from dateutil.parser import parse  # noqa: PLC0415  # dear, and most write figures or names

    try:
        one, other = (parse(words, default=empty, dayfirst=day_first) for empty in _EMPTY)
    except (ValueError, OverflowError):
        return None
    is_a_day = (one.month, one.day) == (other.month, other.day)
    if not is_a_day or one.timetz() != _EMPTY[0].timetz():
        return None
    return one.date() if one.year == other.year else _nearest_year(one.date(), today, ahead=ahead)


def _nearest_year(day: date, today: date, *, ahead: bool) -> date | None:
    """Return the first such day from today on, or the last up to it; a leap day skips years."""
    step = 1 if ahead else -1
    for years in range(_YEARS_TO_A_LEAP_DAY + 1):
        year = today.year + step * years
        try:
            found = day.replace(year=year)
        except ValueError:
            continue
        if (found >= today) if ahead else (found <= today):
            return found
    return None


def _refuse_another_weekday(words: str, day: date, text: str) -> None:
    """Refuse a day of the week that the date is not."""
    named = [word for word in re.findall(r"[a-z]+", words) if word in _WEEKDAYS]
    if any(_WEEKDAYS[word] != day.weekday() for word in named):
        is_a = f"names another day than {day.isoformat()}, which is a {day:%A}"
        raise UnclearDayError(text, is_a, f"write {day.isoformat()}, or the date of that day")
