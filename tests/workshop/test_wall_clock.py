"""Times as people write them, on days when the clock is not as usual too."""

import re
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.workshop.base.wall_clock import WallTimeError, read_wall_day, read_wall_time

LISBON, NEW_YORK = ZoneInfo("Europe/Lisbon"), ZoneInfo("America/New_York")
NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "zone", "utc"),
    [
        ("17:30", LISBON, (2026, 11, 25, 17, 30)),
        ("18:00", LISBON, (2026, 11, 25, 18, 0)),
        ("00:01", LISBON, (2026, 11, 25, 0, 1)),
        ("17.30", LISBON, (2026, 11, 25, 17, 30)),
        ("13:00", NEW_YORK, (2026, 11, 25, 18, 0)),
        ("19:01", NEW_YORK, (2026, 11, 25, 0, 1)),
        ("yesterday 23:15", LISBON, (2026, 11, 24, 23, 15)),
        ("Monday 9:05", LISBON, (2026, 11, 23, 9, 5)),
        ("wed 9:05", LISBON, (2026, 11, 18, 9, 5)),
        ("2026-11-20 09:05", NEW_YORK, (2026, 11, 20, 14, 5)),
        ("2026-11-20T09:05", NEW_YORK, (2026, 11, 20, 14, 5)),
        ("2026-11-20T09:05:00Z", NEW_YORK, (2026, 11, 20, 9, 5)),
        ("2026-11-20T09:05:00+02:00", NEW_YORK, (2026, 11, 20, 7, 5)),
    ],
)
def test_times_are_read_in_the_shops_zone(text, zone, utc):
    """Without a day it is the latest such time; with one it is that day's."""
    assert read_wall_time(text, NOW, zone) == datetime(*utc, tzinfo=UTC)


@pytest.mark.parametrize(("text", "ahead"), [("18:01", "18:01"), ("23:59", "23:59")])
def test_a_time_a_little_ahead_is_a_slip(text, ahead):
    """It is not taken as yesterday's: both full dates are told, and what to write."""
    with pytest.raises(WallTimeError) as refused:
        read_wall_time(text, NOW, LISBON)
    assert f"still to come: 2026-11-25 {ahead}" in str(refused.value)
    assert f"'yesterday {ahead}' for 2026-11-24 {ahead}" in str(refused.value)


def test_after_midnight_the_evening_before_is_meant():
    """At half past midnight 23:50 is that of the day before."""
    now = datetime(2026, 11, 25, 0, 30, tzinfo=UTC)
    assert read_wall_time("23:50", now, LISBON) == datetime(2026, 11, 24, 23, 50, tzinfo=UTC)


def test_in_the_night_when_the_clock_goes_back():
    """01:30 came twice on 1 November 2026 in New York: it is asked which, and both are taken."""
    now = datetime(2026, 11, 1, 8, 0, tzinfo=UTC)
    for text in ("01:30", "2026-11-01 01:30"):
        with pytest.raises(WallTimeError, match="was twice") as refused:
            read_wall_time(text, now, NEW_YORK)
    written = str(refused.value).split("write ")[1]
    first, second = (part.split(" for ")[0] for part in written.split(", "))
    assert read_wall_time(first, now, NEW_YORK) == datetime(2026, 11, 1, 5, 30, tzinfo=UTC)
    assert read_wall_time(second, now, NEW_YORK) == datetime(2026, 11, 1, 6, 30, tzinfo=UTC)


def test_in_the_night_when_the_clock_goes_forward():
    """02:30 never came on 8 March 2026 in New York: it is told, and not moved."""
    now = datetime(2026, 3, 8, 12, 0, tzinfo=UTC)
    with pytest.raises(WallTimeError, match=r"never was.*write 01:30 or 03:30"):
        read_wall_time("02:30", now, NEW_YORK)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "teatime",
        "18",
        "25:00",
        "18:77",
        "2026-11-25",
        "2026-13-01 10:00",
        "yesterday",
        "9999-12-31 23:59",
    ],
)
def test_what_is_no_time_is_told(text):
    """The message shows three ways to write one."""
    with pytest.raises(WallTimeError, match="yesterday 18:30"):
        read_wall_time(text, NOW, ZoneInfo("Etc/GMT+12"))


@given(st.text(max_size=30) | st.from_regex(r"[0-9yT :.-]{1,20}", fullmatch=True))
def test_any_text_is_a_time_or_a_fault(text):
    """No text raises anything else."""
    try:
        found = read_wall_time(text, NOW, LISBON)
    except WallTimeError:
        return
    assert found.tzinfo is UTC


@pytest.mark.parametrize(
    ("text", "zone", "utc"),
    [
        ("2026-11-25", LISBON, (2026, 11, 25, 18, 0)),
        ("today", LISBON, (2026, 11, 25, 18, 0)),
        ("yesterday", NEW_YORK, (2026, 11, 24, 5, 0)),
        ("2026-07-01", LISBON, (2026, 6, 30, 23, 0)),
        ("2026-11-20 09:05", LISBON, (2026, 11, 20, 9, 5)),
        ("yesterday 09:05", LISBON, (2026, 11, 24, 9, 5)),
    ],
)
def test_a_day_is_read_in_the_shops_zone(text, zone, utc):
    """Today is now, another day is its beginning, and a time on it is that time."""
    assert read_wall_day(text, NOW, zone) == datetime(*utc, tzinfo=UTC)


@given(st.text(max_size=30) | st.from_regex(r"[0-9yT :.-]{1,20}", fullmatch=True))
def test_any_text_is_a_day_or_a_fault(text):
    """No text raises anything else, and the remedy shows a day."""
    try:
        found = read_wall_day(text, NOW, NEW_YORK)
    except WallTimeError as error:
        shown = re.search(r"\d{4}-\d\d-\d\d", error.remedy)
        assert shown, error.remedy  # noqa: PT017  # only when there is a fault
        return
    assert found.tzinfo is UTC
