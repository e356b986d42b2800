"""Hours: when hands are in the shop, by the wall clock there."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeAlias

from finishsched.model.verbs import Verb


@dataclass(frozen=True, slots=True)
class Span:
    """From one wall time to another, in minutes after the day's midnight.

    ``closes_min`` above 1440 lies on the next day; never more than a day after ``opens_min``.
    """

    opens_min: int
    closes_min: int


@dataclass(frozen=True, slots=True)
class WeeklyHours:
    """Spans of certain days of the week: 0 for Monday to 6 for Sunday, in that order."""

    days: tuple[int, ...]
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class RuleHours:
    """A recurrence rule (RFC 5545, 3.3.10): each instance from its start for so long."""

    rule: str
    """Such as ``FREQ=MONTHLY;BYDAY=1SU``."""
    start: datetime
    """Local wall time of the first instance, without a zone."""
    length_s: float


HoursLine: TypeAlias = WeeklyHours | RuleHours


@dataclass(frozen=True, slots=True)
class Away:
    """Days from ``first`` to ``last``, or a span of each, on which hands are not there."""

    first: date
    last: date
    who: str = ""
    """Empty for everybody."""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Holiday:
    """A day on which nobody works: of every year, or of one."""

    month: int
    day: int
    year: int | None = None


@dataclass(frozen=True, slots=True)
class Extra:
    """An evening or other span more than usual."""

    day: date
    span: Span
    who: str = ""
    """Empty for everybody."""


@dataclass(frozen=True, slots=True)
class Hours:
    """The hours of one pair of hands, all of it together."""

    lines: tuple[HoursLine, ...] = ()
    away: tuple[Away, ...] = ()
    holidays: tuple[Holiday, ...] = ()
    extras: tuple[Extra, ...] = ()


@dataclass(frozen=True, slots=True)
class Person:
    """One of the people, with what sets them apart."""

    name: str
    skills: tuple[Verb, ...] = ()
    """What they can do; none for everything."""
    hours: tuple[HoursLine, ...] = ()
    """Their own hours, instead of the shop's; none for the shop's."""
