"""Any layout of a hygrometer's file gives its readings back; files join as one."""

from __future__ import annotations

import tempfile
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hygrometer_files import NOW, ZONE, air_of, log_of
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.workshop.air.hygrometer.cells import HygrometerFaultError
from finishsched.workshop.air.hygrometer.reading import HygrometerReader
from finishsched.workshop.air.imported import keep_air
from finishsched.workshop.base.workshop import Workshop

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
