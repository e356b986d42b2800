"""The format of hours: weekly lines, rules, days away, holidays, extra evenings."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from itertools import pairwise

from finishsched.clock_words import in_24_hours
from finishsched.documents.codec import BadValueError, JsonSchema, Leaf, ListOf, Reading
from finishsched.documents.leaves import quantity
from finishsched.documents.nodes import Fields, Node
from finishsched.documents.records import Key, Record
from finishsched.documents.wording import quoted
from finishsched.factors import DAY_MIN
from finishsched.model.hours import (
    Away,
    Extra,
    Holiday,
    HoursLine,
    RuleHours,
    Span,
    WeeklyHours,
)
from finishsched.units import DURATION

WEEK = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_WEEKLY_REMEDY = "write days and times, such as Mon-Thu 18:30-21:30, or Sat 9:00-12:30, 13:30-17:00"
_DAY = r"\d{4}-\d{2}-\d{2}"
_CLOCKS = r"\d{1,2}(?::\d{2})?\s*[-–]\s*\d{1,2}(?::\d{2})?"
_LONGEST_RULE = 200


def _read_span(text: str) -> Span:
    """Return the span that ``18:30-21:30`` says; one that ends before it begins ends next day.

    Raises:
        BadValueError: when it is none.

    """
    opens, _, closes = text.replace("–", "-").partition("-")
    begin, end = _minutes(opens), _minutes(closes)
    if begin in (DAY_MIN, end):
        raise BadValueError(f"{quoted(text)} is no time to work in", _WEEKLY_REMEDY)
    return Span(begin, end if end > begin else end + DAY_MIN)


def _minutes(text: str) -> int:
    match = re.fullmatch(r"(\d{1,2})(?::(\d{2}))?", text.strip())
    if match:
        hours, minutes = int(match[1]), int(match[2] or 0)
        if (hours < 24 and minutes < 60) or (hours == 24 and minutes == 0):
            return hours * 60 + minutes
    raise BadValueError(f"{quoted(text.strip())} is no time of day", "write it such as 18:30")


def _span_text(span: Span) -> str:
    """Return a span as ``_read_span`` takes it."""
    opens, closes = span.opens_min, span.closes_min
    end = closes if closes <= DAY_MIN else closes - DAY_MIN
    return f"{opens // 60}:{opens % 60:02d}-{end // 60}:{end % 60:02d}"


def read_weekly(text: str) -> WeeklyHours:
    """Return the hours that ``Mon-Thu 18:30-21:30`` says.

    Raises:
        BadValueError: when it is none.

    """
    words = " ".join(in_24_hours(text).split())
    first = re.search(r"\d", words)
    if first is None or not words[: first.start()].strip():
        raise BadValueError(f"{quoted(text)} is no hours", _WEEKLY_REMEDY)
    days = _days(words[: first.start()].strip(" :,"))
    spans = tuple(_read_span(part) for part in re.split(r"\s*,\s*", words[first.start() :]))
    ordered = tuple(sorted(set(spans), key=lambda span: (span.opens_min, span.closes_min)))
    for before, after in pairwise(ordered):
        if after.opens_min < before.closes_min:
            raise BadValueError(f"{quoted(text)} has times that overlap", "write them as one")
    return WeeklyHours(days, ordered)


def _days(text: str) -> tuple[int, ...]:
    if text.lower() in ("daily", "every day"):
        return tuple(range(7))
    found: set[int] = set()
    for part in re.split(r"\s*,\s*|\s+and\s+", text):
        first, dash, last = part.replace("–", "-").partition("-")
        begin = _day_number(first, text)
        end = _day_number(last, text) if dash else begin
        found.update((begin + step) % 7 for step in range((end - begin) % 7 + 1))
    return tuple(sorted(found))


def _day_number(word_: str, text: str) -> int:
    name = word_.strip().lower()
    full = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    if len(name) >= 3:
        for number, day in enumerate(full):
            if day.startswith(name):
                return number
    raise BadValueError(f"{quoted(text)} names no days", _WEEKLY_REMEDY)


def _weekly_text(hours: WeeklyHours) -> str:
    """Return weekly hours as ``read_weekly`` takes them."""
    spans = ", ".join(_span_text(span) for span in hours.spans)
    return f"{_days_text(hours.days)} {spans}"


def _days_text(days: tuple[int, ...]) -> str:
    """Return days of the week in words: ``Mon-Thu, Sat``."""
    if len(days) == 7:
        return "daily"
    runs: list[list[int]] = []
    for day in days:
        if runs and runs[-1][-1] == day - 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    return ", ".join(
        WEEK[run[0]] if len(run) == 1 else f"{WEEK[run[0]]}-{WEEK[run[-1]]}" for run in runs
    )


def _rule(text: str) -> str:
    from dateutil.rrule import rrulestr  # noqa: PLC0415  # dear, and few shops write a rule

    rule = "".join(text.split()).upper().removeprefix("RRULE:")
    remedy = "write a rule of RFC 5545, such as FREQ=MONTHLY;BYDAY=1SU"
    if len(rule) > _LONGEST_RULE or not re.fullmatch(r"[A-Z0-9=;,+-]+", rule):
        raise BadValueError(f"{quoted(text)} is no recurrence rule", remedy)
    if not re.search(r"FREQ=(DAILY|WEEKLY|MONTHLY|YEARLY)(;|$)", rule):
        raise BadValueError(f"{quoted(text)} has no FREQ of days, weeks, months or years", remedy)
    try:
        rrulestr(re.sub(r"(UNTIL=\d{8}T\d{6})Z", r"\1", rule), dtstart=datetime(2000, 1, 1))  # noqa: DTZ001
    except (ValueError, KeyError, IndexError, TypeError, OverflowError):
        raise BadValueError(f"{quoted(text)} is no recurrence rule", remedy) from None
    return rule


def _local(text: str) -> datetime:
    match = re.fullmatch(rf"({_DAY})[ T](\d{{1,2}}:\d{{2}})", text.strip())
    if match:
        with suppress(ValueError):
            clock = match[2] if len(match[2]) == 5 else f"0{match[2]}"
            return datetime.fromisoformat(f"{match[1]} {clock}")
    raise BadValueError(
        f"{quoted(text)} is no day with a time", "write it such as 2026-11-26 18:30"
    )


def _who_and_when(text: str, tail: str, remedy: str) -> re.Match[str]:
    match = re.fullmatch(
        rf"(?:(?P<who>.*?\S)\s+)??(?P<first>{_DAY}){tail}", in_24_hours(text).strip()
    )
    if match is None:
        raise BadValueError(f"{quoted(text)} cannot be read", remedy)
    return match


def _a_date(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadValueError(
            f"there is no day {quoted(text)}", "check the month and the day"
        ) from None


def read_away(text: str) -> Away:
    """Return what ``Nell 2026-12-24 to 2027-01-06`` says.

    Raises:
        BadValueError: when it is no day, or no days in order.

    """
    tail = rf"(?:\s+to\s+(?P<last>{_DAY}))?(?:\s+(?P<span>{_CLOCKS}))?"
    remedy = "write a day or two, such as 2026-12-24 to 2027-01-06, after a name if it is one's own"
    match = _who_and_when(text, tail, remedy)
    first = _a_date(match["first"])
    last = _a_date(match["last"]) if match["last"] else first
    if last < first:
        raise BadValueError(f"{quoted(text)} ends before it begins", "write the earlier day first")
    span = _read_span(match["span"]) if match["span"] else None
    return Away(first, last, " ".join((match["who"] or "").split()), span)


def _away_text(away: Away) -> str:
    last = f"to {away.last.isoformat()}" if away.last != away.first else ""
    span = _span_text(away.span) if away.span else ""
    return " ".join(filter(None, [away.who, away.first.isoformat(), last, span]))


def read_extra(text: str) -> Extra:
    """Return what ``Thu 2026-11-26 18:00-21:00`` says; the weekday may be left out.

    Raises:
        BadValueError: when it is no day with times.

    """
    remedy = "write a day and times, such as 2026-11-26 18:00-21:00"
    match = _who_and_when(text, rf"\s+(?P<span>{_CLOCKS})", remedy)
    day = _a_date(match["first"])
    who = " ".join((match["who"] or "").split())
    head, _, last = who.rpartition(" ")
    if last.capitalize()[:3] in WEEK and last.isalpha() and len(last) == 3:
        if WEEK[day.weekday()] != last.capitalize():
            raise BadValueError(
                f"{day.isoformat()} is a {WEEK[day.weekday()]}, not a {last.capitalize()}",
                "correct the one or the other",
            )
        who = head
    return Extra(day, _read_span(match["span"]), who)


def _extra_text(extra: Extra) -> str:
    return " ".join(filter(None, [extra.who, extra.day.isoformat(), _span_text(extra.span)]))


def _holiday(text: str) -> Holiday:
    words = text.strip()
    if re.fullmatch(_DAY, words):
        found = _a_date(words)
        return Holiday(found.month, found.day, found.year)
    match = re.fullmatch(r"(\d{1,2}) ([A-Za-z]{3,9})", words)
    if match and match[2][:3].capitalize() in MONTHS:
        month = MONTHS.index(match[2][:3].capitalize()) + 1
        with suppress(ValueError):
            found = date(2000, month, int(match[1]))
            return Holiday(found.month, found.day)
    raise BadValueError(
        f"{quoted(text)} is no holiday", "write 25 Dec for every year, or 2027-03-29 for one"
    )


def _holiday_text(holiday: Holiday) -> str:
    if holiday.year is not None:
        return date(holiday.year, holiday.month, holiday.day).isoformat()
    return f"{holiday.day} {MONTHS[holiday.month - 1]}"


def decimal(noun: str, low: float, high: float) -> Leaf[float]:
    """Return the codec of a number from ``low`` to ``high``, with decimals or without."""

    def from_text(text: str) -> float:
        if re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,17})?", text) and low <= float(text) <= high:
            return float(text)
        raise BadValueError(
            f"{quoted(text)} is not {noun}", f"write a number from {low:g} to {high:g}"
        )

    schema: JsonSchema = {"type": ["number", "string"], "minimum": low, "maximum": high}
    return Leaf(noun, from_text, repr, schema, f"{low:g}", bare=True)


def _text_schema(example: str) -> JsonSchema:
    return {"type": "string", "minLength": 1, "examples": [example]}


WEEKLY = Leaf("hours", read_weekly, _weekly_text, _text_schema("Mon-Thu 18:30-21:30"),
              "Mon-Thu 18:30-21:30")  # fmt: skip
AWAY = Leaf("days away", read_away, _away_text, _text_schema("2026-12-24 to 2027-01-06"),
            "2026-12-24 to 2027-01-06")  # fmt: skip
EXTRA = Leaf("an extra evening", read_extra, _extra_text,
             _text_schema("2026-11-26 18:00-21:00"), "2026-11-26 18:00-21:00")  # fmt: skip
HOLIDAY = Leaf("a holiday", _holiday, _holiday_text, _text_schema("25 Dec"), "25 Dec")
RULE = Record(
    RuleHours,
    "hours by a rule",
    (
        Key(
            "rule",
            Leaf("a recurrence rule", _rule, str, _text_schema("FREQ=MONTHLY;BYDAY=1SU"),
                 "FREQ=MONTHLY;BYDAY=1SU"),
            "as in RFC 5545, such as FREQ=MONTHLY;BYDAY=1SU",
            required=True,
        ),
        Key(
            "start",
            Leaf("a day with a time", _local, lambda at: at.strftime("%Y-%m-%d %H:%M"),
                 _text_schema("2026-01-04 10:00"), "2026-01-04 10:00"),
            "the first of them, by the clock on the wall",
            required=True,
        ),
        Key("length", quantity(DURATION, "h", "min", "s"), "how long each is", "length_s",
            required=True),
    ),
    on_one_line=True,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _HoursLine:
    """A line of hours: weekly as a text, or by a rule as a record."""

    def read(self, node: Node, reading: Reading) -> HoursLine:
        """Return the one or the other."""
        if isinstance(node, Fields):
            return RULE.read(node, reading)
        return WEEKLY.read(node, reading)

    def write(self, value: HoursLine) -> Node:
        """Return the text or the record."""
        return RULE.write(value) if isinstance(value, RuleHours) else WEEKLY.write(value)

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        """Return the choice of both."""
        return {"anyOf": [WEEKLY.schema(shared), RULE.schema(shared)]}


HOURS: ListOf[HoursLine] = ListOf(_HoursLine(), "hours", or_one=True)
"""Lines of hours, or one."""
