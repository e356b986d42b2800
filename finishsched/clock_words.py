"""Times of day as they are said by twelve hours: 6pm, 6:30 p.m., 9-11am."""

from __future__ import annotations

import re

_TIME = r"(\d{1,2})(?:[:.](\d{2}))?"
_HALF = r"\s*([ap])\.?\s?m\b\.?"
_ONE = re.compile(rf"(?<![\d:.]){_TIME}{_HALF}", re.IGNORECASE)
_SPAN = re.compile(rf"(?<![\d:.]){_TIME}\s*[-–]\s*{_TIME}{_HALF}", re.IGNORECASE)
_HALF_MIN = 12 * 60


def in_24_hours(text: str) -> str:
    """Return a text with its times as the clock of 24 hours has them: ``6pm`` as ``18:00``.

    Of ``6-9pm`` the half of the day is that of both, of ``9-1pm`` it is not. A time that there is
    not, such as ``13pm``, stays as it is, for its reader to refuse.
    """
    return _ONE.sub(_one, _SPAN.sub(_span, text))


def _one(found: re.Match[str]) -> str:
    minutes = _minutes(found[1], found[2], found[3])
    return found[0] if minutes is None else _clock(minutes)


def _span(found: re.Match[str]) -> str:
    ends = _minutes(found[3], found[4], found[5])
    begins = _minutes(found[1], found[2], found[5])
    if ends is None or begins is None:
        return found[0]
    if begins >= ends:
        begins = (begins + _HALF_MIN) % (2 * _HALF_MIN)
    return f"{_clock(begins)}-{_clock(ends)}"


def _minutes(hour: str, minute: str | None, half: str) -> int | None:
    """Return the minutes since midnight; None for what no clock of twelve hours shows."""
    if not 1 <= int(hour) <= 12 or int(minute or 0) > 59:
        return None
    return int(hour) % 12 * 60 + int(minute or 0) + (_HALF_MIN if half.lower() == "p" else 0)


def _clock(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02d}"
