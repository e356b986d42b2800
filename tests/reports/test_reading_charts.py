"""Readings in the record: a table, charts beside the sheen wanted, and bars in plain text."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.model.readings import SHEENS, read_reading, sheen_band, sheen_of
from finishsched.reports.reading_charts import BAR, colour_chart, gloss_chart, text_lines
from finishsched.reports.record import record_page, record_text
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.film.gauge_entries import log_film
from finishsched.workshop.papers.records import record_of

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
SLOPE = "letter-box/slope"
READ = (
    (0, "gloss 60: 42"), (0, "colour 42 18 22"), (1, "gloss 60: 91"),
    (1, "gloss 20: 60 at the top edge"), (1, "colour 42 21 26"), (1, "thumbnail no mark"),
)  # fmt: skip


@pytest.fixture(scope="module")
def record(tmp_path_factory):
    """Return the record of a piece that is to be of high gloss, read on two days."""
    folder = tmp_path_factory.mktemp("readings") / "shop"
    make_demo(folder, NOW)
    with Workshop.open(folder, NOW) as workshop:
        for day, words in READ:
            at = NOW - timedelta(days=1 - day)
            log_film(workshop, SLOPE, read_reading(words), NOW, at=at)
        yield record_of(workshop, SLOPE, NOW), folder


@pytest.mark.parametrize("sheen", SHEENS)
def test_the_band_of_a_sheen_holds_what_is_called_so(sheen):
    """From just above its lower end to its upper one a gloss has that name (table of the model)."""
    low, high = sheen_band(sheen)
    assert sheen_of(high) == sheen
    assert sheen_of(low + 0.01) == sheen
    assert low == 0 or sheen_of(low) != sheen
    assert sheen_band("") is None


def test_each_angle_and_zone_has_a_line_and_the_band_lies_at_the_top(record):
    """Two readings at 60 degrees rise into the band of high gloss; the edge has its own line."""
    chart = gloss_chart(record[0])
    assert [line["text"] for line in chart["lines"]] == ["60°", "20° edges"]
    rising = chart["lines"][0]["dots"]
    assert rising[0][1] > rising[1][1]
    band = chart["band"]
    assert band["top"] <= rising[1][1] <= band["top"] + band["height"] < rising[0][1]
    assert chart["lines"][0]["dash"] != chart["lines"][1]["dash"]


def test_colour_is_how_far_it_went(record):
    """From a*, b* of 18, 22 to 21, 26 it is 5 by CIE 1976 (ISO/CIE 11664-4:2019): 3, 4, 5."""
    chart = colour_chart(record[0])
    (line,) = chart["lines"]
    top = next(mark.at for mark in chart["marks"] if mark.text in ("5", "6"))
    assert line["dots"][0][1] > line["dots"][1][1] >= top


def test_the_page_shows_table_and_charts_and_no_hostile_sign(record):
    """A row for each reading, two drawings of its own, nothing fetched."""
    page = record_page([record[0]], record[1])
    assert page.count("<svg") >= 2
    assert "high gloss, as wanted" in page
    told = page.partition("What was read of the surface")[2].partition("</table>")[0]
    assert told.count("<tr><td") == len(READ)
    assert not re.search(r'(?:src|href)="https?:', page)


def test_plain_text_has_bars_within_its_width(record):
    """The star of the last reading lies where the sheen that is wanted lies."""
    bars = [line for line in text_lines(record[0]) if line.endswith("|")]
    assert len(bars) == 2
    inside = [line.partition("|")[2][:-1] for line in bars]
    assert all(len(one) == BAR for one in inside)
    assert "=*=" in inside[1]
    assert "=*" not in inside[0]
    assert all(line in record_text([record[0]]) for line in bars)
    assert all(len(line) <= 78 for line in record_text([record[0]]).splitlines()[:-8])


def test_a_record_without_readings_has_no_such_part(record):
    """Nothing was read of it: no heading, no empty drawing."""
    with Workshop.open(record[1], NOW) as workshop:
        other = record_of(workshop, "tea-chest/lid", NOW)
    assert gloss_chart(other) is None
    assert "What was read" not in record_page([other], record[1])
    assert "What was read" not in record_text([other])
