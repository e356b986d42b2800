"""Hygrometers' files: any layout gives its readings back, and nothing is guessed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hygrometer_files import air_of, log_of
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.workshop.air.hygrometer.cells import HygrometerFaultError
from finishsched.workshop.air.hygrometer.names import Role, role_of
from finishsched.workshop.air.hygrometer.times import read_time
from finishsched.workshop.air.imported import gaps_between

LISBON = ZoneInfo("Europe/Lisbon")


def fault_of(text, **how):
    """Return the fault of a file that cannot be made out, which is one line."""
    with pytest.raises(HygrometerFaultError) as caught:
        log_of(text, **how)
    assert "\n" not in str(caught.value)
    return str(caught.value)


def reasons(text, **how):
    """Return why rows were skipped, by their lines."""
    return {row.line: row.reason for row in log_of(text, **how).skipped}


def at(day, hour, minute=0):
    """Return an instant of November 2026."""
    return datetime(2026, 11, day, hour, minute, tzinfo=UTC)


ONE = [(at(20, 10), 19.5, 55.0)]


@pytest.mark.parametrize(
    "text",
    [
        "time,temperature C,humidity %\n2026-11-20 10:00,19.5,55\n",
        "humidity;T;timestamp\r\n55;19,5;2026-11-20T10:00:00Z\r\n",
        "\ufeffDatum\tUhrzeit\tTemperatur (°C)\trel. Feuchte (%)\n20.11.2026\t10:00\t19,5\t55,0",
        "Date|Heure|Température|Humidité\n20/11/2026|10h00|19.5|55\n",
        'Fecha y hora,Temp(°F),RH\n"20/11/2026 10:00:00","67,1","55"\n',
        "Logger 7\nserial;33;x\n\n#Time;Temp;%RH;Battery %\n1795168800;19.5;55;99\n",
        "Date Time, GMT+01:00;Temp, °C;RH, %\n2026/11/20 11:00;19.5;55\n",
        "No.,Time,T [K],RH fraction,Dew point\n1,2026-11-20 10:00,292.65,0.55,10\n",
        "time,temp,rh\n,°F,%\n11/20/2026 10:00 AM,67.1,55\n",
        "time,temp,rh\n2026-11-20 12:00+02:00,19.5 °C,55 %\n",
        "unixtime,t,h\n1795168800000,19.5,0.55\n",
        "date,time,Temp(°C),Temp(°F),Humidity\nNov 20 2026,10:00:00,19.5,67.1,55\n",
        "2026-11-20 10:00;19,5 °C;55 %\n",
        "2026-11-20 10:00,292.65,55\n",
        "time,temp,rh\n# a remark\n2026-11-20 10:00,19.5,55\ntime,temp,rh\n",
    ],
)
def test_one_reading_in_many_layouts(text):
    """Whatever the columns, units, signs and dates, the same reading comes out.

    66.2 degF and the like by t/degC = (t/degF - 32) / 1.8, NIST SP 811 (2008), B.8.
    """
    assert air_of(text) == ONE


@pytest.mark.parametrize(
    ("header", "role"),
    [
        ("Luftfeuchtigkeit", Role.HUMIDITY),
        ("r.F. [%]", Role.HUMIDITY),
        ("H.R. (%)", Role.HUMIDITY),
        ("Umidità relativa", Role.HUMIDITY),
        ("RelativeHumidity", Role.HUMIDITY),
        ("TempC", Role.TEMPERATURE),
        ("Temperature_F", Role.TEMPERATURE),
        ("Teplota", Role.TEMPERATURE),
        ("℃", Role.TEMPERATURE),
        ("Datum/Uhrzeit", Role.STAMP),
        ("Tarih", Role.DATE),
        ("Uhrzeit", Role.CLOCK),
        ("Dew point (°C)", None),
        ("Taupunkt", None),
        ("Wood moisture %", None),
        ("Temp max", None),
        ("Battery %", None),
        ("Abs. humidity g/m3", None),
        ("", None),
    ],
)
def test_names_of_columns(header, role):
    """Columns are known by their makers' words, and others that sound like them are not taken."""
    assert role_of(header) is role


def test_times_of_the_standard():
    """The example of RFC 3339, section 5.8: 16:39:57 at -08:00 is 00:39:57 UTC of the next day."""
    assert read_time("1996-12-19T16:39:57-08:00", None) == datetime(
        1996, 12, 20, 0, 39, 57, tzinfo=UTC
    )
    assert read_time("2026-11-20 10:00:00.250", None).microsecond == 250_000


@pytest.mark.parametrize(
    ("rows", "first"),
    [
        (["03/11/2026 10:00", "13/11/2026 10:00"], at(3, 10)),
        (["11/03/2026 10:00", "11/13/2026 10:00"], at(3, 10)),
        (["03/11/2026 23:50", "04/11/2026 00:00"], at(3, 23, 50)),
        (["11/03/2026 23:50", "11/04/2026 00:00"], at(3, 23, 50)),
        (["03.11.2026 10:00", "03.11.26 10:10"], at(3, 10)),
        (["11/11/2026 10:00"], at(11, 10)),
    ],
)
def test_the_order_of_a_date_is_decided_by_the_column(rows, first):
    """A day above 12, a step over midnight, or full stops decide; so does a double."""
    text = "time,temp,rh\n" + "".join(f"{row},19.5,55\n" for row in rows)
    assert air_of(text)[0][0] == first


def test_dates_that_can_be_read_two_ways_are_asked_for():
    """Nothing is guessed; a person's word decides, and rows it cannot be true of are skipped."""
    text = "time,temp,rh\n03/11/2026 10:00,19.5,55\n"
    assert "line 2: 3/11/2026" in fault_of(text)
    assert "--dates" in fault_of(text)
    assert air_of(text, dates="day-first")[0][0] == at(3, 10)
    assert air_of(text, dates="month-first")[0][0] == datetime(2026, 3, 11, 10, tzinfo=UTC)
    both = text + "13/11/2026 10:00,19,50\n11/13/2026 10:00,19,50\n"
    assert "line 3 is day-first, the one on line 4 is not" in fault_of(both)
    assert list(reasons(both, dates="day-first")) == [4]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("time,temp,co2\n2026-11-20 10:00,19,400\n", "line 1 names no humidity"),
        ("time,T1,T2,rh\n2026-11-20 10:00,19,18,55\n", "'T1' and 'T2'"),
        ("time,temp,rh\n2026-11-20 10:00,45,55\n", "could be degC or degF"),
        ("time,temp C,rh %\n2026-11-20 10:00,20,0.55\n", "figures are below 1"),
        ("2026-11-20 10:00,20,55\n", "which column is the temperature"),
        ("a letter\nto nobody\n", "no readings are to be found"),
        ("\x00\x01\x02", "no text"),
    ],
)
def test_what_is_not_plain_is_asked_for(text, words):
    """A layout that could be two is a fault with its place and a remedy."""
    assert words in fault_of(text)
    assert fault_of(text).startswith("log.csv: ")


def test_bad_rows_are_named_by_line_with_the_reason():
    """Every bad row is told, all that is wrong with it at once, and the good ones are taken."""
    text = (
        "time,temp C,rh %\n2026-11-20 10:00,19.5,55\n2026-11-20 10:10,-99.9,155\n"
        "2026-11-20 10:20,ERR,\nnoon,19,50\n2026-11-20,19,50\n2026-11-26 10:00,19,50\n"
        "1970-01-01 00:00,19,50\n2026-11-20 10:30,19,5,55,2\n2026-11-20 10:40\n"
        "2026-11-20 25:00,19,50\n2026-11-20 10:50,nan,50\n2026-11-20 11:00,60.1,100.1\n"
        "2026-11-20 11:10,-40,0\n2026-11-20 11:20,60,100\n"
    )
    log = log_of(text)
    assert [r.line for r in log.readings] == [2, 14, 15]
    told = {row.line: row.reason for row in log.skipped}
    assert sorted(told) == [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]
    assert "outside -40 to 60 degC" in told[3]
    assert "outside 0 to 100 %" in told[3]
    assert told[4] == "'ERR' is no temperature, no humidity"
    assert "no time of day" in told[6]
    assert "still to come" in told[7]
    assert "decimal comma" in told[9]


def test_the_hour_that_the_clock_skips_in_spring():
    """A time that never was on the shop's wall is told, not moved.

    Lisbon went from 01:00 to 02:00 on 29 March 2026: Directive 2000/84/EC, article 2.
    """
    text = "time,temp,rh\n2026-03-29 00:50,19,50\n2026-03-29 01:30,19,50\n2026-03-29 02:00,19,50\n"
    log = log_of(text, zone=LISBON)
    assert [r.at.hour for r in log.readings] == [0, 1]
    assert "skipped when the clocks went forward" in log.skipped[0].reason


@pytest.mark.parametrize("newest_first", [False, True])
@given(
    start=st.integers(0, 59),
    every=st.integers(1, 60),
    zone=st.sampled_from(["Europe/Lisbon", "America/New_York", "Australia/Lord_Howe"]),
)
@settings(max_examples=40, deadline=None)
def test_a_log_that_runs_through_the_double_hour(newest_first, start, every, zone):
    """Wall times written through a whole year's changes give back their instants, in order."""
    if zone == "Australia/Lord_Howe":
        every = min(every, 30)  # its clocks go back by half an hour, not by an hour
    place = ZoneInfo(zone)
    for year, month, day, hour in ((2026, 10, 24, 20), (2025, 11, 1, 20), (2026, 4, 4, 8)):
        first = datetime(year, month, day, hour, start, tzinfo=UTC)
        instants = [first + timedelta(minutes=every * n) for n in range(24 * 60 // every)]
        rows = [f"{i.astimezone(place):%Y-%m-%d %H:%M},20,50\n" for i in instants]
        text = "time,temp,rh\n" + "".join(rows[::-1] if newest_first else rows)
        log = log_of(text, zone=place)
        assert log.skipped == ()
        assert log.clock_steps == ()
        found = [r.at for r in log.readings]
        assert (found[::-1] if newest_first else found) == instants


def test_a_clock_that_steps_back_is_told():
    """Rows after a step are taken at the time they say, and the step's line is known."""
    text = "time,temp,rh\n2026-11-20 10:00,19,50\n2026-11-20 09:55,19,50\n2026-11-20 10:10,19,50\n"
    log = log_of(text)
    assert len(log.readings) == 3
    assert [(step.line, step.back_s) for step in log.clock_steps] == [(3, 300.0)]


def test_gaps_are_what_is_far_longer_than_usual():
    """Seven hours in a log of every ten minutes are a gap; two readings missed are none."""
    minutes = [0, 10, 20, 50, 60, 480, 490]
    gaps = gaps_between([at(20, 0) + timedelta(minutes=m) for m in minutes])
    assert [gap.length_s for gap in gaps] == [7 * 3600.0]
