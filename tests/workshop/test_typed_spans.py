"""Days away, extra evenings and times of day as people write them."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from finishsched.clock_words import in_24_hours
from finishsched.documents.codec import BadValueError
from finishsched.documents.formats.hours import read_away, read_extra, read_weekly
from finishsched.workshop.base.typed_days import UnclearDayError
from finishsched.workshop.base.typed_spans import in_calendar_days
from finishsched.workshop.base.wall_clock import WallTimeError, read_wall_time

TODAY = date(2026, 12, 7)  # a Monday


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("tomorrow", "2026-12-08"),
        ("Nell tomorrow", "Nell 2026-12-08"),
        ("Nell Dec 24 to Jan 6", "Nell 2026-12-24 to 2027-01-06"),
        ("Dec 24 to 26", "2026-12-24 to 2026-12-26"),
        ("Dec 24-26", "2026-12-24 to 2026-12-26"),
        ("Uncle Ben Fri to Mon", "Uncle Ben 2026-12-11 to 2026-12-14"),
        ("Nell Sat 9:00-12:00", "Nell 2026-12-12 9:00-12:00"),
        ("Nell Sat 9am-1pm", "Nell 2026-12-12 9:00-13:00"),
        ("Nell 2026-12-24 to 2027-01-06", "Nell 2026-12-24 to 2027-01-06"),
        ("Nell", "Nell"),
        ("", ""),
    ],
)
def test_days_are_read_as_people_write_them(text, read):
    """With a name or without, one day or two, with times; what is no day stays for its reader."""
    assert in_calendar_days(text, TODAY) == read


def test_what_is_read_is_what_the_documents_have():
    """The readers of the documents take what comes of it: who, which days, from when to when."""
    away = read_away(in_calendar_days("Nell Dec 24 to Jan 6", TODAY))
    assert (away.who, away.first, away.last) == ("Nell", date(2026, 12, 24), date(2027, 1, 6))
    extra = read_extra(in_calendar_days("Saturday 6-9pm", TODAY))
    assert (extra.day, extra.span.opens_min, extra.span.closes_min) == (
        date(2026, 12, 12), 18 * 60, 21 * 60,
    )  # fmt: skip


def test_days_in_the_wrong_order_are_refused():
    """Dec 26 to Dec 24 is no year away."""
    with pytest.raises(BadValueError, match="ends before it begins"):
        read_away(in_calendar_days("Nell Dec 26 to Dec 24", TODAY))


def test_a_day_that_may_be_two_is_asked_about():
    """12/11 may be the 11th of December or the 12th of November: nobody is sent away on a guess."""
    with pytest.raises(UnclearDayError):
        in_calendar_days("Nell 12/11", TODAY)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("6pm", "18:00"),
        ("6:30 p.m.", "18:30"),
        ("12am", "0:00"),
        ("12 pm", "12:00"),
        ("Sat 9-11am", "Sat 9:00-11:00"),
        ("Sat 9-1pm", "Sat 9:00-13:00"),
        ("Tue 6pm-9:30pm, Sat 9-1 pm", "Tue 18:00-21:30, Sat 9:00-13:00"),
        ("13pm", "13pm"),
        ("18:30", "18:30"),
        ("6 pumice", "6 pumice"),
    ],
)
def test_times_by_twelve_hours_are_the_clocks(text, read):
    """Half of the day said once is of both ends, unless the span would run backwards."""
    assert in_24_hours(text) == read


def test_hours_and_entries_take_them():
    """The hours of a shop and the time of an entry are read by the one and the same."""
    assert read_weekly("Tue-Thu 6pm-9pm") == read_weekly("Tue-Thu 18:00-21:00")
    now = datetime(2026, 12, 7, 20, 0, tzinfo=UTC)
    assert read_wall_time("6:59pm", now, UTC) == datetime(2026, 12, 7, 18, 59, tzinfo=UTC)
    assert read_wall_time("yesterday 6pm", now, UTC) == datetime(2026, 12, 6, 18, 0, tzinfo=UTC)
    with pytest.raises(WallTimeError, match="'19pm' is not a time"):
        read_wall_time("19pm", now, UTC)
