"""Days away and extra evenings as people write them: ``Nell Dec 24 to 26``, ``Sat 9am-1pm``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

from finishsched.clock_words import in_24_hours
from finishsched.workshop.base.typed_days import DayError, UnclearDayError, read_typed_day

_ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_TIMES = re.compile(r"\s(\d{1,2}(?::\d{2})?\s*[-–]\s*\d{1,2}(?::\d{2})?)$")
_UP_TO = re.compile(r"\s+(?:to|till|until|through)\s+|\s*[-–]\s*")
_LONGEST = timedelta(days=300)
_DAY_ALONE = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?")


def in_calendar_days(text: str, today: date) -> str:
    """Return ``[NAME] DAY [to DAY] [TIMES]`` with its days as documents have them.

    Days are read as `read_typed_day` reads one that is ahead; of two, the second is the next after
    the first. What cannot be read so comes back as it is, for its own reader to tell.

    Raises:
        UnclearDayError: when a day may be two.

    """
    words = " ".join(in_24_hours(text).split())
    if _ISO_DAY.search(words):
        return words
    for head, times in _with_and_without_times(words):
        named = head.split()
        for count in range(len(named)):
            days = _days(" ".join(named[count:]), today)
            if days is not None:
                return " ".join(filter(None, [*named[:count], days, times]))
    return text


def _with_and_without_times(words: str) -> Iterator[tuple[str, str]]:
    """Give what stands before the times with them, then all as days: ``Dec 24-26`` is no time."""
    if found := _TIMES.search(words):
        yield words[: found.start()], found[1]
    yield words, ""


def _days(words: str, today: date) -> str | None:
    """Return one day or two; None where the words say none."""
    first, *rest = _UP_TO.split(words)
    if len(rest) > 1:
        return None
    try:
        begins = read_typed_day(first, today, ahead=True)
        ends = [_last(last, begins, today) for last in rest]
    except UnclearDayError:
        raise
    except DayError:
        return None
    return " to ".join(day.isoformat() for day in (begins, *ends))


def _last(words: str, first: date, today: date) -> date:
    """Return the last of some days; a figure alone is of the month of the first."""
    if alone := _DAY_ALONE.fullmatch(words):
        words = f"{first:%B} {alone[1]}"
    said_of_today = words.lower() in ("today", "tomorrow")
    last = read_typed_day(words, today if said_of_today else first, ahead=True)
    # Nobody is away until a year from the day before: that is the earlier day, said last.
    return first - timedelta(days=1) if last - first > _LONGEST else last
