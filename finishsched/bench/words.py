"""How the bench says things: times, spans, the air, bars. Pure functions on plain values."""

from __future__ import annotations

import math
import unicodedata
from datetime import date, datetime, timedelta, tzinfo

from rich.cells import cell_len, chop_cells, set_cell_size

from finishsched.drying.clock import CureClock
from finishsched.workshop.answers import AirView

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_OLD_READING = timedelta(hours=12)


def plain(text: str) -> str:
    """Return a user's text as one line without control or direction characters."""
    spaced = " ".join(text.split())
    return "".join(c for c in spaced if unicodedata.category(c) not in ("Cc", "Cf", "Cs", "Co"))


def span(seconds: float, *, up: bool = False) -> str:
    """Return a length of time in two units at most: ``1 h 12``, ``4 min``, ``2 d 3 h``.

    Whole minutes, rounded down, or ``up`` for time that is left, so that it never promises less.
    """
    minutes = math.ceil(seconds / 60) if up else math.floor(seconds / 60)
    if minutes < 1:
        return "< 1 min"
    hours, minute = divmod(minutes, 60)
    days, hour = divmod(hours, 24)
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
    """Return local wall time, with the day when it is not today: ``18:42``, ``Thu 18:42``."""
    local, today = instant.astimezone(zone), now.astimezone(zone).date()
    clock = f"{local:%H:%M}"
    days = abs((local.date() - today).days)
    if days == 0:
        return clock
    return f"{_DAYS[local.weekday()]} {clock}" if days < 7 else f"{day(local.date())} {clock}"


def day(value: date) -> str:
    """Return a date as ``3 Dec``."""
    return f"{value.day} {_MONTHS[value.month - 1]}"


def today(now: datetime, zone: tzinfo) -> str:
    """Return the local date with its weekday: ``Wed 25 Nov``."""
    local = now.astimezone(zone).date()
    return f"{_DAYS[local.weekday()]} {day(local)}"


def temperature(celsius: float, unit: str) -> str:
    """Return a temperature in ``degC`` or ``degF``; any other unit is shown as degC."""
    if unit == "degF":
        return f"{celsius * 9 / 5 + 32:.0f} °F"
    return f"{celsius:.1f}".removesuffix(".0") + " °C"


def air(view: AirView, now: datetime, zone: tzinfo, unit: str) -> tuple[str, ...]:
    """Return the air strip in parts, the most wanted first."""
    answer = view.answer
    parts = [
        temperature(answer.temperature_c, unit),
        f"{answer.humidity_percent:.0f} %",
        f"dew {temperature(answer.dew_point_c, unit)}",
        f"wood {answer.emc_percent:.1f} %",
    ]
    if view.read_at is None:
        parts.insert(2, "usual air, no reading yet")
    elif now - view.read_at > _OLD_READING:
        parts.insert(2, f"read {span((now - view.read_at).total_seconds())} ago")
    else:
        parts.append(f"read {wall(view.read_at, now, zone)}")
    return tuple(parts)


def join_to_fit(parts: tuple[str, ...], width: int, gap: str = " · ") -> str:
    """Join as many of the first ``parts`` as fit into ``width`` cells."""
    text = ""
    for part in parts:
        longer = f"{text}{gap}{part}" if text else part
        if cell_len(longer) > width:
            break
        text = longer
    return text


def fit(text: str, width: int) -> str:
    """Return ``text`` in exactly ``width`` cells: padded, or cut with an ellipsis."""
    if cell_len(text) <= width:
        return set_cell_size(text, max(0, width))
    return set_cell_size(text, width - 1) + "…" if width > 0 else ""


def wrap(text: str, width: int) -> list[str]:
    """Return ``text`` in lines of at most ``width`` cells, broken between words where it can be."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        for part in chop_cells(word, max(2, width)):
            longer = f"{line} {part}" if line else part
            if cell_len(longer) <= width:
                line = longer
            else:
                lines.append(line)
                line = part
    return [*lines, line] if line or not lines else lines


def wait_bar(clock: CureClock, width: int) -> tuple[str, str]:
    """Return a wait as a bar in two parts, gone by and still to come.

    Its whole length is the time from the coat to the slow end of the range; the marks stand at
    the earliest and at the likely time.
    """
    whole_s = max(1.0, (clock.latest_at - clock.laid_at).total_seconds())

    def column(instant: datetime) -> int:
        share = (instant - clock.laid_at).total_seconds() / whole_s
        return min(width, max(0, round(share * width)))

    cells = ["─"] * width
    gone = column(clock.now)
    cells[:gone] = ["━"] * gone
    for instant, mark in ((clock.earliest_at, "╷"), (clock.likely_at, "┃")):
        cells[min(width - 1, column(instant))] = mark
    return "".join(cells[:gone]), "".join(cells[gone:])
