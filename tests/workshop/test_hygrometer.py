"""Hygrometers' files: any layout gives its readings back, and nothing is guessed."""

from __future__ import annotations

import tempfile
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.workshop.air.hygrometer.cells import HygrometerFaultError
from finishsched.workshop.air.hygrometer.names import Role, role_of
from finishsched.workshop.air.hygrometer.reading import HygrometerReader, read_hygrometer
from finishsched.workshop.air.hygrometer.times import read_time
from finishsched.workshop.air.imported import gaps_between, keep_air
from finishsched.workshop.base.workshop import Workshop

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
LISBON = ZoneInfo("Europe/Lisbon")
ZONE = ZoneInfo("UTC")


def log_of(text, *, zone=ZONE, dates=None, name="log.csv"):
    """Read a file's text."""
    return read_hygrometer(text, name, zone, NOW, dates)


def air_of(text, **how):
    """Return instants, temperatures and humidities of a file that has no bad row."""
    log = log_of(text, **how)
    assert log.skipped == ()
    return [(r.at, r.temperature_c, r.humidity_percent) for r in log.readings]


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


tenths = st.integers(-399, 599).map(lambda n: n / 10)
airs = st.lists(
    st.tuples(st.integers(0, 400_000), tenths, st.integers(2, 100).map(float)),
    min_size=1,
    max_size=12,
    unique_by=lambda row: row[0],
)
BEGIN = datetime(2026, 1, 1, tzinfo=UTC)


def written(value, sign):
    """Write a figure with its decimal sign."""
    return f"{value:.4f}".rstrip("0").rstrip(".").replace(".", sign)


TEMPERATURES = {
    "Temp(°C)": lambda c: c,
    "Temperature_F": lambda c: c * 1.8 + 32,
    "T [K]": lambda c: c + 273.15,
}
HUMIDITIES = {"RH %": lambda h: h, "humidity (0-1)": lambda h: h / 100}
STAMPS = {
    "%Y-%m-%dT%H:%M:%SZ": None,
    "%Y/%m/%d %H:%M": None,
    "%d.%m.%Y %H:%M": "day-first",
    "%m/%d/%Y %I:%M %p": "month-first",
    "%d-%m-%y %H:%M:%S": "day-first",
    "%d %b %Y %H:%M": None,
    "epoch": None,
}


@st.composite
def layouts(draw):
    """Draw a layout: how a row is written, and what must be said of its dates."""
    comma = draw(st.booleans())
    return {
        "delimiter": draw(st.sampled_from(";\t|" if comma else ",;\t|")),
        "sign": "," if comma else ".",
        "temperature": draw(st.sampled_from(sorted(TEMPERATURES))),
        "humidity": draw(st.sampled_from(sorted(HUMIDITIES))),
        "stamp": draw(st.sampled_from(sorted(STAMPS))),
        "apart": draw(st.booleans()),
        "quoted": draw(st.booleans()),
        "end": draw(st.sampled_from(["\n", "\r\n", "\r"])),
        "before": draw(st.sampled_from(["", "\ufeff", "Logger 4\n\n", "# made by a logger\n"])),
        "order": draw(st.permutations(range(4))),
    }


def file_in(layout, rows):
    """Write readings in a layout."""
    stamp, sign = layout["stamp"], layout["sign"]

    def times(instant):
        if stamp == "epoch":
            return [f"{instant.timestamp():.0f}", ""]
        text = f"{instant:{stamp}}"
        if layout["apart"] and " " in text and "%b" not in stamp:
            return text.split(" ", 1)
        return [text, ""]

    parted = times(BEGIN)[1] != ""
    table = [
        [
            "Date" if parted else "Timestamp",
            "Time" if parted else "note",
            layout["temperature"],
            layout["humidity"],
        ]
    ]
    for minute, celsius, percent in rows:
        warm = written(TEMPERATURES[layout["temperature"]](celsius), sign)
        damp = written(HUMIDITIES[layout["humidity"]](percent), sign)
        table.append([*times(BEGIN + timedelta(minutes=minute)), warm, damp])
    quote = '"' if layout["quoted"] else ""
    lines = (
        layout["delimiter"].join(f"{quote}{row[i]}{quote}" for i in layout["order"])
        for row in table
    )
    return layout["before"] + layout["end"].join(lines) + layout["end"]


@given(rows=airs, layout=layouts())
@settings(max_examples=150, deadline=None)
def test_every_layout_gives_the_readings_back(rows, layout):
    """Readings written in any supported layout come back the same, line for line."""
    found = air_of(file_in(layout, rows), dates=STAMPS[layout["stamp"]])
    assert [instant for instant, _, _ in found] == [BEGIN + timedelta(minutes=r[0]) for r in rows]
    assert [c for _, c, _ in found] == pytest.approx([r[1] for r in rows], abs=1e-3)
    assert [h for _, _, h in found] == pytest.approx([r[2] for r in rows], abs=1e-3)


csv_like = st.text(
    alphabet=st.one_of(st.sampled_from('0123456789,;|\t\n\r":/-+.TZ %°CFampRH#'), st.characters()),
    max_size=200,
)


@given(
    head=st.sampled_from(["", "time,temp,rh\n", "Date;Time;T;%\n", "2026-11-20 10:00,20,45\n"]),
    body=csv_like,
    zone=st.sampled_from(["UTC", "Europe/Lisbon", "America/New_York"]),
)
@settings(max_examples=300, deadline=None)
def test_no_text_brings_anything_but_a_fault_of_ours(head, body, zone):
    """Any text whatever is read, or refused in one line; what comes out is possible air."""
    try:
        log = log_of(head + body, zone=ZoneInfo(zone))
    except HygrometerFaultError:
        return
    for reading in log.readings:
        assert -40 <= reading.temperature_c <= 60
        assert 0 <= reading.humidity_percent <= 100
        assert reading.at <= NOW + timedelta(minutes=1)
    assert all(row.reason for row in log.skipped)


@given(rows=airs, cuts=st.lists(st.integers(0, 12), max_size=3))
@settings(max_examples=40, deadline=None)
def test_a_file_read_in_parts_reads_as_one(rows, cuts):
    """Fed line by line, as a logger writes, a file gives the readings it gives when whole."""
    text = file_in(
        {
            "delimiter": ",",
            "sign": ".",
            "temperature": "Temp(°C)",
            "humidity": "RH %",
            "stamp": "%Y/%m/%d %H:%M",
            "apart": False,
            "quoted": False,
            "end": "\n",
            "before": "",
            "order": range(4),
        },
        rows,
    )
    lines = text.splitlines(keepends=True)
    places = [0, *sorted(min(cut, len(lines)) for cut in cuts), len(lines)]
    reader = HygrometerReader("log.csv", ZONE)
    parts = [reader.feed("".join(lines[a:b]), NOW) for a, b in pairwise(places)]
    assert [r for part in parts for r in part.readings] == list(log_of(text).readings)


def kept(*files):
    """Import files, each a name and rows, into a new journal; return its readings and answers."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "shop.yaml").write_text("shop: Alder Lane Workshop\n", encoding="utf-8")
        with Workshop.open(Path(folder), NOW) as shop:
            answers = [
                keep_air(shop, [log_of(simple(rows), name=name)], NOW)[0] for name, rows in files
            ]
            air = shop.book().air
            found = [(r.at, r.air.temperature_c, r.air.humidity_percent) for r in air]
    return sorted(found), answers


def simple(rows):
    """Write readings as plain CSV."""
    lines = (f"{BEGIN + timedelta(minutes=m):%Y-%m-%d %H:%M},{c},{h}\n" for m, c, h in rows)
    return "time,temp C,rh %\n" + "".join(lines)


@given(one=airs, other=airs)
@settings(max_examples=15, deadline=None)
def test_the_order_of_importing_does_not_matter(one, other):
    """Two files leave the same readings whichever comes first, and whatever order their rows."""
    first, _ = kept(("a.csv", one), ("b.csv", other))
    second, _ = kept(("b.csv", other[::-1]), ("a.csv", one[::-1]))
    assert first == second


@given(rows=airs)
@settings(max_examples=15, deadline=None)
def test_importing_twice_is_importing_once(rows):
    """The second time nothing is new, under the same name or another."""
    once, _ = kept(("a.csv", rows))
    thrice, answers = kept(("a.csv", rows), ("a.csv", rows), ("b.csv", rows))
    assert once == thrice
    assert [len(answer.readings) for answer in answers] == [len(rows), 0, 0]
    assert [answer.already_there for answer in answers] == [0, len(rows), len(rows)]


def test_one_instant_told_differently():
    """One source tells an instant once, another may tell it otherwise; rows that clash are told."""
    _, answers = kept(
        ("a.csv", [(0, 19.0, 50.0), (0, 20.0, 50.0), (0, 19.0, 50.0)]),
        ("a.csv", [(0, 21.0, 50.0)]),
        ("b.csv", [(0, 21.0, 50.0)]),
    )
    assert [len(answer.readings) for answer in answers] == [1, 0, 1]
    assert [answer.already_there for answer in answers] == [1, 1, 0]
    assert [(row.line, "line 2" in row.reason) for row in answers[0].skipped] == [(3, True)]
