"""The times in a hygrometer's file: their many spellings, and the instants that they are."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from itertools import pairwise
from typing import Literal, TypeAlias

from finishsched.workshop.air.hygrometer.cells import CellError, HygrometerFaultError, quoted

Order: TypeAlias = Literal["day-first", "month-first"]
"""Which of two figures of a date comes first."""

ORDERS: tuple[Order, Order] = ("day-first", "month-first")
FIRST_YEAR = 2000
"""A logger that says an earlier year has lost its clock (our assumption)."""

_TO_COME = timedelta(minutes=1)
_CLOCK = (
    r"(?P<hour>[0-9]{1,2})[:.h](?P<minute>[0-9]{2})"
    r"(?:[:.](?P<second>[0-9]{2})(?:[.,](?P<part>[0-9]{1,9}))?)?"
    r"(?:\s*(?P<half>[ap])\.?m\.?)?"
    r"(?:\s*(?P<zone>z|utc|gmt|(?:utc|gmt)?[+-][0-9]{1,2}(?::?[0-9]{2})?))?"
)
_DAYS = (
    r"(?P<year>[0-9]{4})[-/.](?P<month>[0-9]{1,2})[-/.](?P<day>[0-9]{1,2})",
    r"(?P<one>[0-9]{1,2})(?P<sign>[-/.])(?P<two>[0-9]{1,2})(?P=sign)(?P<year>[0-9]{4}|[0-9]{2})",
    r"(?P<day>[0-9]{1,2})[-. ]+(?P<name>[^\W\d_]{3,10})[-., ]+(?P<year>[0-9]{4}|[0-9]{2})",
    r"(?P<name>[^\W\d_]{3,10})[-. ]+(?P<day>[0-9]{1,2})[-., ]+(?P<year>[0-9]{4})",
)
_SHAPES = tuple(re.compile(rf"{day}(?:[t,]?\s*{_CLOCK})?") for day in _DAYS)
_ONLY_CLOCK = re.compile(_CLOCK)
_EPOCH = re.compile(r"([0-9]{9,10}(?:\.[0-9]+)?)|([0-9]{12,13})")
_OFFSET = re.compile(r"(?:utc|gmt)?\s*([+-])([0-9]{1,2}):?([0-9]{2})?")
_MONTHS = "jan feb mar+mrz apr may+mai jun jul aug sep oct+okt nov dec+dez"
_MONTH_OF = {
    name: number for number, names in enumerate(_MONTHS.split(), 1) for name in names.split("+")
}
"""The months by the first three letters of their names, in English and German."""


@dataclass(frozen=True, slots=True)
class ClockStep:
    """A place in a file where the logger's clock went back."""

    line: int
    back_s: float


@dataclass(frozen=True, slots=True)
class _Parts:
    """A date of two figures whose order is in question, and the time of the day."""

    one: int
    two: int
    sign: str
    year: int
    clock: time

    def day(self, order: Order) -> date | None:
        month, day = (self.two, self.one) if order == "day-first" else (self.one, self.two)
        try:
            return date(self.year, month, day)
        except ValueError:
            return None


def read_time(text: str, order: Order | None) -> datetime:
    """Return the time that ``text`` says: aware where it names an offset or counts seconds.

    Raises:
        CellError: when it is none, has no date or no time of day, or ``order`` is wanted.

    """
    if text[:4].isdigit() and ":" in text:
        try:
            return datetime.fromisoformat(text)
        except ValueError:
            pass  # the many spellings that are nearly ISO 8601 are read below
    if match := _EPOCH.fullmatch(text):
        return _since_1970(float(match[1]) if match[1] else int(match[2]) / 1000.0)
    for shape in _SHAPES:
        if match := shape.fullmatch(text.lower()):
            return _time_of(match, text, order)
    if _ONLY_CLOCK.fullmatch(text.lower()):
        raise CellError(f"{quoted(text)} has no date")
    raise CellError(f"{quoted(text)} is no time" if text else "no time")


def is_time(text: str) -> bool:
    """Tell whether ``text`` is a date with a time of day, whatever the order of its figures."""
    return any(_reads(text, order) for order in ORDERS)


def is_day(text: str) -> bool:
    """Tell whether ``text`` looks like a date alone."""
    return any(
        match is not None and match["hour"] is None
        for match in (shape.fullmatch(text.lower()) for shape in _SHAPES)
    )


def is_clock(text: str) -> bool:
    """Tell whether ``text`` looks like a time of day alone."""
    return _ONLY_CLOCK.fullmatch(text.lower()) is not None


def offset_in(header: str) -> tzinfo | None:
    """Return the offset that a header names, as in ``Time (UTC+1)``; None when it names none."""
    match = re.search(
        r"(?<![a-z])(?:utc|gmt)(?![a-z])(?:\s*[+-]\s*[0-9]{1,2}(?::?[0-9]{2})?)?", header.lower()
    )
    return _offset(re.sub(r"\s", "", match[0])) if match else None


def order_of(texts: Iterable[tuple[int, str]], name: str) -> Order | None:
    """Return the order of the figures in a column of dates, given with their line numbers.

    One date that can only be read one way decides; so do two rows that follow each other within
    the hour across midnight, when the other way round they lie days apart. Dates with full stops
    are day-first (common practice). None when no date is in question.

    Raises:
        HygrometerFaultError: when nothing decides, or rows contradict each other.

    """
    rows = [(line, parts) for line, text in texts if (parts := _parts(text)) is not None]
    if not rows:
        return None
    told: dict[Order, int] = {}
    for line, parts in rows:
        if (only := _only_way(parts)) is not None:
            told.setdefault(only, line)
    if not told and (near := _nearer_way([parts for _, parts in rows])) is not None:
        return near
    if not told and all(parts.sign == "." or parts.one == parts.two for _, parts in rows):
        return "day-first"
    if len(told) == 1:
        return next(iter(told))
    raise _undecided(rows[0], told, name)


def instants_of(
    times: Sequence[tuple[int, datetime]], zone: tzinfo, last: datetime | None, now: datetime
) -> tuple[dict[int, datetime | CellError], tuple[ClockStep, ...], datetime | None]:
    """Return the instant or the fault of each line, where the clock went back, and the last one.

    Times without an offset are those of the wall clock in ``zone``. Where it showed a time twice,
    the rows' own order tells which of the two; files with the newest row first are read upwards.
    """
    wall = _Wall(zone)
    found: dict[int, datetime | CellError] = {}
    steps: list[ClockStep] = []
    for line, said in reversed(times) if _newest_first(times) else times:
        try:
            instant = _within_reach(wall.instant(said, last), now)
        except CellError as error:
            found[line] = error
            continue
        found[line] = instant
        if last is not None and instant < last:
            steps.append(ClockStep(line, (last - instant).total_seconds()))
        last = instant
    return found, tuple(steps), last


def _reads(text: str, order: Order) -> bool:
    try:
        read_time(text, order)
    except CellError:
        return False
    return True


def _since_1970(seconds: float) -> datetime:
    return datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=seconds)


def _time_of(match: re.Match[str], text: str, order: Order | None) -> datetime:
    """Return the time that a cell tells, as it stands on the wall or with its own offset.

    Args:
        match: the cell, taken apart.
        text: the cell as it stands, for whoever is told what is wrong with it.
        order: of day and month, where it is known.

    Raises:
        CellError: where it is no time, or could be two.

    """
    if match["hour"] is None:
        raise CellError(f"{quoted(text)} has no time of day")
    try:
        return datetime.combine(_day_of(match, text, order), _clock_of(match))
    except ValueError:
        raise CellError(f"{quoted(text)} is no time") from None


def _day_of(match: re.Match[str], text: str, order: Order | None) -> date:
    """Return the day that a cell tells: by its month's name or place, or by the order of both."""
    said = match.groupdict()
    year = _year(said["year"])
    if "one" not in said:
        month = said.get("month") or _month_named(said["name"])
        return date(year, int(month), int(said["day"]))
    if order is None:
        raise CellError(f"{quoted(text)} could be day-first or month-first; tell with --dates")
    parts = _Parts(int(said["one"]), int(said["two"]), said["sign"], year, time())
    day = parts.day(order)
    if day is None:
        raise CellError(f"{quoted(text)} is no {order} date")
    return day


def _month_named(name: str) -> int:
    """Return the number of a month by its first three letters, 0 for none."""
    return _MONTH_OF.get(name[:3].replace("ä", "a"), 0)


def _year(text: str) -> int:
    """Return a year of four digits, or of two in this century."""
    return int(text) if len(text) == 4 else 2000 + int(text)


def _clock_of(match: re.Match[str]) -> time:
    """Return the time of day that a cell tells, with its offset where that stands there."""
    fraction = match["part"] or "0"
    return time(
        _hour(int(match["hour"]), match["half"]),
        int(match["minute"]),
        int(match["second"] or 0),
        int(fraction.ljust(6, "0")[:6]),
        tzinfo=_offset(match["zone"]) if match["zone"] else None,
    )


def _hour(hour: int, half: str | None) -> int:
    """Return the hour of the day; ``half`` says of which half day it is, "a" or "p"."""
    if not half:
        return hour
    if not 1 <= hour <= 12:
        raise ValueError("no hour of a half day")
    before_it = 12 if half == "p" else 0
    return before_it + hour % 12


def _offset(text: str) -> tzinfo | None:
    """Return the offset that stands behind a time; None for one of a day or more."""
    match = _OFFSET.fullmatch(text)
    if match is None:
        return UTC
    size = timedelta(hours=int(match[2]), minutes=int(match[3] or 0))
    if size >= timedelta(days=1):
        return None
    return timezone(-size if match[1] == "-" else size)


def _parts(text: str) -> _Parts | None:
    """Return the parts of a date whose order is not told by itself; None for any other cell."""
    match = None if text[2:4].isdigit() else _SHAPES[1].fullmatch(text.lower())
    if match is None:
        return None
    try:
        clock = _clock_of(match).replace(tzinfo=None) if match["hour"] else time()
    except ValueError:
        return None
    return _Parts(int(match["one"]), int(match["two"]), match["sign"], _year(match["year"]), clock)


def _only_way(parts: _Parts) -> Order | None:
    """Return the order in which a date can be read, where that is one alone."""
    first, second = parts.day("day-first"), parts.day("month-first")
    if (first is None) == (second is None):
        return None
    return "month-first" if first is None else "day-first"


def _nearer_way(rows: Sequence[_Parts]) -> Order | None:
    """Return the order in which readings follow each other within the hour, as a logger's do.

    Two neighbours vote for it if they would lie days apart the other way.
    """
    votes: set[Order] = set()
    for before, after in pairwise(rows):
        apart = {order: _apart(before, after, order) for order in ORDERS}
        for order, other in zip(ORDERS, reversed(ORDERS), strict=True):
            is_near = apart[order] <= timedelta(hours=1)
            if is_near and apart[other] > timedelta(days=2):
                votes.add(order)
    return votes.pop() if len(votes) == 1 else None


def _apart(before: _Parts, after: _Parts, order: Order) -> timedelta:
    """Return how far two readings lie apart in an order; as far as can be where that is none."""
    first_day, second_day = before.day(order), after.day(order)
    if first_day is None or second_day is None:
        return timedelta.max
    first = datetime.combine(first_day, before.clock)
    second = datetime.combine(second_day, after.clock)
    return abs(second - first)


def _undecided(row: tuple[int, _Parts], told: dict[Order, int], name: str) -> HygrometerFaultError:
    if told:
        days, months = told["day-first"], told["month-first"]
        what = f"{name}: the date on line {days} is day-first, the one on line {months} is not"
    else:
        line, parts = row
        shown = f"{parts.one}{parts.sign}{parts.two}{parts.sign}{parts.year}"
        what = f"{name}: the dates can be read two ways (line {line}: {shown})"
    return HygrometerFaultError(what, "say --dates day-first or --dates month-first")


def _newest_first(times: Sequence[tuple[int, datetime]]) -> bool:
    """Tell whether more readings go back in time from one line to the next than forward."""
    walls = [said.replace(tzinfo=None) for _, said in times]
    back = forward = 0
    for before, after in pairwise(walls):
        back += before > after
        forward += before < after
    return back > forward


def _within_reach(instant: datetime, now: datetime) -> datetime:
    """Return an instant that is not to come, but for what clocks differ.

    Raises:
        CellError: for one that is.

    """
    if instant > now + _TO_COME:
        raise CellError(
            f"{instant:%Y-%m-%d %H:%M} UTC is still to come; is the logger's clock right?"
        )
    return instant


class _Wall:
    """The wall clock of a zone, and its plain hours remembered: zones are slow to ask."""

    def __init__(self, zone: tzinfo) -> None:
        self._zone = zone
        self._plain: dict[tuple[int, ...], timedelta | None] = {}

    def instant(self, said: datetime, last: datetime | None) -> datetime:
        """Return the instant of a time that was read off after ``last``."""
        if not FIRST_YEAR <= said.year <= 9000:
            raise CellError(f"{said:%Y-%m-%d %H:%M} is no time of a reading; was the clock set?")
        if said.tzinfo is not None:
            return said.astimezone(UTC)
        key = said.year, said.month, said.day, said.hour
        if key not in self._plain:
            self._plain[key] = self._offset_in(datetime(*key))  # noqa: DTZ001  # a wall's time
        offset = self._plain[key]
        return self._near_a_change(said, last) if offset is None else _less(said, offset)

    def _offset_in(self, hour: datetime) -> timedelta | None:
        """Return the offset of an hour with no change of the clock near it; None for others."""
        near = (hour.replace(tzinfo=self._zone) + timedelta(hours=h) for h in range(-3, 5))
        offsets = {moment.utcoffset() for moment in near}
        return offsets.pop() if len(offsets) == 1 else None

    def _near_a_change(self, said: datetime, last: datetime | None) -> datetime:
        """Return the same where the clocks change: of an hour told twice what comes after last."""
        first = said.replace(tzinfo=self._zone).astimezone(UTC)
        if first.astimezone(self._zone).replace(tzinfo=None) != said:
            raise CellError(f"{said:%Y-%m-%d %H:%M} was skipped when the clocks went forward")
        if last is None or last < first:
            return first
        return said.replace(tzinfo=self._zone, fold=1).astimezone(UTC)


def _less(said: datetime, offset: timedelta) -> datetime:
    """Return the instant of a wall's time by its offset."""
    return (said - offset).replace(tzinfo=UTC)
