"""Hours by the wall clock become windows of time, through everything that the clock does."""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given
from hypothesis import strategies as st

from finishsched.documents.formats.hours import read_away, read_extra, read_weekly
from finishsched.model.hours import Hours, RuleHours, Span
from finishsched.planning.hours import instant_of, minute_of, windows_of

NEW_YORK, LISBON, APIA = ZoneInfo("America/New_York"), ZoneInfo("Europe/Lisbon"), ZoneInfo(
    "Pacific/Apia"
)  # fmt: skip


def minute(text, zone=UTC):
    """Return the minute of a wall time."""
    return minute_of(datetime.fromisoformat(text).replace(tzinfo=zone))


def shown(hours, zone, first, last):
    """Return the windows between two days as wall times and lengths in minutes."""
    found = windows_of(hours, zone, minute(first, zone), minute(last, zone))
    return [
        (f"{instant_of(w.start_min).astimezone(zone):%a %d %H:%M}", w.end_min - w.start_min)
        for w in found
    ]


def weekly(*lines, **more):
    """Return hours of weekly lines."""
    return Hours(tuple(read_weekly(line) for line in lines), **more)


def test_a_week_of_evenings():
    """A weekly line gives each of its days its spans, by the clock on the wall there."""
    hours = weekly("Mon-Thu 18:30-21:30", "Sat 9:00-12:30, 13:30-17:00")
    assert shown(hours, LISBON, "2026-11-23", "2026-11-30") == [
        ("Mon 23 18:30", 180), ("Tue 24 18:30", 180), ("Wed 25 18:30", 180),
        ("Thu 26 18:30", 180), ("Sat 28 09:00", 210), ("Sat 28 13:30", 210),
    ]  # fmt: skip


def test_past_midnight_and_joined_days():
    """Hours that end after midnight reach into the next day, and touching ones become one."""
    assert shown(weekly("Fri 22:00-1:00"), LISBON, "2026-11-23", "2026-11-30") == [
        ("Fri 27 22:00", 180)
    ]
    assert shown(
        weekly("Fri 20:00-24:00", "Sat 0:00-2:00"), LISBON, "2026-11-23", "2026-11-30"
    ) == [("Fri 27 20:00", 360)]
    assert shown(weekly("Fri 22:00-1:00"), LISBON, "2026-11-28", "2026-11-30") == [
        ("Sat 28 00:00", 60)
    ], "one that began before the time asked for is cut, not lost"


def test_spring_and_autumn():
    """A night over a clock change is an hour shorter in spring and longer in autumn.

    In New York the clock went from 2:00 to 3:00 on 8 March 2026 and back on 1 November 2026
    (Energy Policy Act of 2005, section 110).
    """
    nights = weekly("Sat 22:00-6:00")
    assert shown(nights, NEW_YORK, "2026-03-07 12:00", "2026-03-08 12:00") == [
        ("Sat 07 22:00", 7 * 60)
    ]
    assert shown(nights, NEW_YORK, "2026-10-31 12:00", "2026-11-01 12:00") == [
        ("Sat 31 22:00", 9 * 60)
    ]
    evening = weekly("daily 18:00-21:00")
    before, after = windows_of(
        evening,
        NEW_YORK,
        minute("2026-03-07 12:00", NEW_YORK),
        minute("2026-03-08 23:00", NEW_YORK),
    )
    assert after.start_min - before.start_min == 23 * 60


@pytest.mark.parametrize(
    ("line", "windows"),
    [
        ("Sun 2:10-2:50", []),
        ("Sun 1:00-2:30", [("Sun 08 01:00", 60)]),
        ("Sun 2:30-4:00", [("Sun 08 03:00", 60)]),
        ("Sun 1:30-3:30", [("Sun 08 01:30", 60)]),
    ],
)
def test_a_window_in_the_gap(line, windows):
    """Times that the clock skips are no time to work in, and what is left of a window stays."""
    assert shown(weekly(line), NEW_YORK, "2026-03-08", "2026-03-09") == windows


def test_a_time_shown_twice_is_the_first():
    """In autumn hours begin, and end, at the first of two times that read the same."""
    first, last = minute("2026-11-01", NEW_YORK), minute("2026-11-02", NEW_YORK)
    (window,) = windows_of(weekly("Sun 1:30-3:00"), NEW_YORK, first, last)
    assert instant_of(window.start_min) == datetime(2026, 11, 1, 5, 30, tzinfo=UTC)
    assert window.end_min - window.start_min == 150
    (window,) = windows_of(weekly("Sun 0:30-1:30"), NEW_YORK, first, last)
    assert window.end_min - window.start_min == 60


def test_a_day_that_never_was():
    """Where a whole day was skipped, as in Apia on 30 December 2011, there are no hours on it.

    IANA time zone database, australasia, Pacific/Apia.
    """
    assert shown(weekly("daily 9:00-10:00"), APIA, "2011-12-29", "2012-01-01") == [
        ("Thu 29 09:00", 60),
        ("Sat 31 09:00", 60),
    ]


def test_leap_days():
    """29 February has its weekday's hours, and a holiday on it is one in leap years only."""
    from finishsched.model.hours import Holiday

    tuesdays = weekly("Tue 18:00-20:00")
    assert ("Tue 29 18:00", 120) in shown(tuesdays, LISBON, "2028-02-28", "2028-03-02")
    closed = weekly("daily 18:00-20:00", holidays=(Holiday(2, 29),))
    assert len(shown(closed, LISBON, "2028-02-27", "2028-03-02")) == 3
    assert len(shown(closed, LISBON, "2027-02-27", "2027-03-02")) == 3


def test_holidays_days_away_and_extra_evenings():
    """A holiday spares an extra evening; a day away spares nothing, and only its person."""
    from finishsched.model.hours import Holiday

    hours = weekly(
        "daily 18:00-20:00",
        holidays=(Holiday(11, 25), Holiday(11, 26, 2026)),
        extras=(read_extra("Wed 2026-11-25 10:00-11:00"), read_extra("2026-11-28 9:00-9:30")),
        away=(read_away("2026-11-28 to 2026-12-11"), read_away("2026-11-27 19:00-19:30")),
    )
    assert shown(hours, LISBON, "2026-11-24", "2026-12-13") == [
        ("Tue 24 18:00", 120), ("Wed 25 10:00", 60), ("Fri 27 18:00", 60), ("Fri 27 19:30", 30),
        ("Sat 12 18:00", 120),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "start", "count"),
    [
        ("FREQ=MONTHLY;BYDAY=1SU", "2026-01-04 10:00", 12),
        ("FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,TH", "2026-01-06 18:30", 52),
        ("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1", "2026-01-30 09:00", 12),
        ("FREQ=DAILY;COUNT=10", "2026-02-01 09:00", 10),
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "2026-02-01 09:00", 0),
        ("FREQ=DAILY;UNTIL=20260105T090000Z", "2026-01-01 09:00", 5),
    ],
)
def test_rules_of_rfc_5545(rule, start, count):
    """A year of a rule has the instances that RFC 5545, 3.3.10 gives it, as dateutil reads it."""
    line = RuleHours(rule, datetime.fromisoformat(start), 3600.0)
    found = windows_of(Hours((line,)), LISBON, minute("2026-01-01"), minute("2027-01-01"))
    assert len(found) == count
    if "UNTIL" not in rule and count:
        ends = [datetime.fromisoformat(day) for day in ("2026-01-01", "2027-01-01")]
        plain = rrulestr(rule, dtstart=line.start).between(*ends, inc=True)
        walls = [
            instant_of(window.start_min).astimezone(LISBON).replace(tzinfo=None) for window in found
        ]
        assert walls == plain


@given(
    st.sampled_from(
        ["FREQ=DAILY;INTERVAL=3", "FREQ=DAILY;BYDAY=MO,FR", "FREQ=WEEKLY;INTERVAL=5;BYDAY=TU,SA",
         "FREQ=WEEKLY;INTERVAL=2;WKST=SU;BYDAY=SU,MO", "FREQ=DAILY;BYMONTH=11;INTERVAL=2",
         "FREQ=YEARLY;BYYEARDAY=1,100,366", "FREQ=MONTHLY;INTERVAL=5;BYMONTHDAY=-1"]
    ),
    st.dates(date(1970, 1, 1), date(2025, 1, 1)),
)  # fmt: skip
def test_an_old_rule_goes_on_as_it_began(rule, first):
    """However long ago a rule began, this November has the instances that dateutil counts."""
    start = datetime.combine(first, datetime.min.time()) + timedelta(hours=9)
    found = windows_of(
        Hours((RuleHours(rule, start, 3600.0),)), LISBON, minute("2026-11-01"), minute("2026-12-01")
    )
    ends = [datetime.fromisoformat(day) for day in ("2026-11-01", "2026-12-01")]
    walls = [instant_of(w.start_min).astimezone(LISBON).replace(tzinfo=None) for w in found]
    assert walls == rrulestr(rule, dtstart=start).between(*ends, inc=True)


@pytest.mark.parametrize("freq", ["DAILY", "WEEKLY", "MONTHLY", "YEARLY"])
def test_a_rule_that_no_day_satisfies_has_no_hours(freq):
    """The 30th of February never comes, and is not looked for day by day up to the year 9999."""
    began = datetime.fromisoformat("2026-01-01 18:00")
    line = RuleHours(f"FREQ={freq};BYMONTH=2;BYMONTHDAY=30", began, 3600.0)
    for year in ("2026", "2027", "2028"):
        assert shown(Hours((line,)), LISBON, f"{year}-01-01", f"{year}-12-31") == []


@pytest.mark.parametrize("day", ["1970-01-01", "1999-12-31", "2024-02-29", "2399-12-31"])
def test_a_rule_begins_on_its_first_day(day):
    """A daily rule has its first session on the day it begins, in whatever year that is."""
    line = RuleHours("FREQ=DAILY", datetime.fromisoformat(f"{day} 18:00"), 3600.0)
    begin = minute(f"{day} 18:00", LISBON)
    assert windows_of(Hours((line,)), LISBON, begin, begin + 60)[0].start_min == begin


def test_a_rule_of_the_leap_day():
    """A day that comes every four years is found, whenever its rule began."""
    for start in ("2024-02-29 18:00", "2025-01-01 18:00"):
        rule = "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29"
        line = RuleHours(rule, datetime.fromisoformat(start), 3600.0)
        assert shown(Hours((line,)), LISBON, "2027-01-01", "2028-12-31") == [("Tue 29 18:00", 60)]


def test_a_rule_over_a_clock_change():
    """A start that the clock skips is taken by the offset before the gap (RFC 5545, 3.3.5)."""
    line = RuleHours("FREQ=DAILY;COUNT=1", datetime.fromisoformat("2026-03-08 02:30"), 5400.0)
    assert shown(Hours((line,)), NEW_YORK, "2026-03-08", "2026-03-09") == [("Sun 08 03:30", 90)]


_times = st.integers(0, 1439)
_zones = st.sampled_from(
    ["UTC", "America/New_York", "Europe/Lisbon", "Australia/Lord_Howe", "Asia/Kathmandu",
     "Pacific/Apia", "America/St_Johns"]
)  # fmt: skip


@given(_zones, st.dates(date(2020, 1, 1), date(2030, 1, 1)), _times, st.integers(1, 1440))
def test_the_wall_clock_reads_so_all_through(zone, day, opens, length):
    """At every minute of a window the clock on the wall reads within its hours, or reads twice."""
    from finishsched.model.hours import WeeklyHours

    zone = ZoneInfo(zone)
    hours = Hours((WeeklyHours((day.weekday(),), (Span(opens, opens + length),)),))
    begin = minute(f"{day - timedelta(days=1)}", zone)
    found = windows_of(hours, zone, begin, begin + 4 * 1440)
    assert all(a.end_min < b.start_min for a, b in pairwise(found))
    midnight = datetime.combine(day, datetime.min.time())
    for window in found:
        first = instant_of(window.start_min).astimezone(zone).replace(tzinfo=None)
        last = instant_of(window.end_min - 1).astimezone(zone).replace(tzinfo=None)
        slack = timedelta(hours=2)
        assert midnight + timedelta(minutes=opens) <= first
        assert last < midnight + timedelta(minutes=opens + length) + slack


@given(_zones, st.integers(0, 365 * 1440), st.integers(0, 20 * 1440), st.integers(0, 20 * 1440))
def test_windows_of_two_stretches_are_those_of_both(zone, start, one, two):
    """Asked for a time in two parts, the answer is the same but for the cut between them."""
    zone = ZoneInfo(zone)
    hours = weekly("Mon-Fri 18:30-23:30", "Sat 22:00-4:00", "Sun 1:00-3:00, 9:00-12:00")
    base = minute("2026-01-01") + start

    def minutes(first, last):
        return {
            m for w in windows_of(hours, zone, first, last) for m in range(w.start_min, w.end_min)
        }

    whole = minutes(base, base + one + two)
    assert whole == minutes(base, base + one) | minutes(base + one, base + one + two)
