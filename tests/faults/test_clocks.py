"""A machine's clock that stands wrong is told wherever times are told."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.workshop.base.spans import between, reckoned, span, wall, weekday_of
from finishsched.workshop.demo.demo import make_demo

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the demo's shop as it was made at a known instant."""
    folder = tmp_path_factory.mktemp("demo") / "shop"
    make_demo(folder, NOW)
    return folder


@pytest.mark.parametrize(
    ("words", "off"),
    [
        (("record", "tea-chest/lid", "--text"), -DAY),
        (("record", "tea-chest/lid", "--text"), 60 * 365 * DAY),
        (("vent",), -DAY),
        (("vent",), 60 * 365 * DAY),
        (("due",), -DAY),
        (("due",), 60 * 365 * DAY),
    ],
)
def test_a_clock_that_stands_wrong_is_told(demo, words, off, capsys):
    """A day behind, or sixty years ahead: each of these commands says so."""
    world = Surroundings(now=lambda: NOW + off, cwd=demo, variables={"FINISHSCHED_DATA": str(demo)})
    run(words, world)
    assert "this machine's clock stands" in capsys.readouterr().err


@pytest.fixture(scope="module")
def lid(tmp_path_factory):
    """Return a shop with one piece that has three coats: soon planned."""
    folder = tmp_path_factory.mktemp("lid") / "shop"
    told = ("--faces", "220 x 140 mm", "--wood", "walnut", "--sheen", "gloss", "--usual")
    done = ("--done", "sanded to P220, sealed, 3 coats since yesterday 18:30, dry")
    made = Surroundings(now=lambda: NOW, cwd=folder.parent, variables={})
    assert run(("new", str(folder)), made) == 0
    (folder / "jobs/first-box.yaml").unlink()
    assert run(("--shop", str(folder), "begin", "Lid", *told, *done), made) == 0
    return folder


@pytest.mark.parametrize("off", [-DAY, 60 * 365 * DAY])
def test_a_clock_that_stands_wrong_is_told_with_a_plan(lid, tmp_path, off, capsys):
    """Days that are planned from a wrong one are wrong themselves."""
    world = Surroundings(
        now=lambda: NOW + off, cwd=lid, variables={"FINISHSCHED_DATA": str(tmp_path)}
    )
    run(("plan",), world)
    assert "this machine's clock stands" in capsys.readouterr().err


def test_a_date_of_another_year_shows_its_year():
    """A day beyond this year is not taken for one of this."""
    assert wall(NOW + 400 * DAY, NOW, UTC) == "30 Dec 2027 18:00"
    assert wall(NOW + 20 * DAY, NOW, UTC) == "15 Dec 18:00"
    assert weekday_of(NOW.date() + 40 * DAY, NOW.date()) == "Mon 4 Jan 2027"
    assert weekday_of(NOW.date() + 20 * DAY, NOW.date()) == "Tue 15 Dec"


def test_a_plan_into_the_next_year_shows_the_year(demo, capsys):
    """At the end of December neither the end, nor a due date, nor a day's work is of this year."""
    late = datetime(2026, 12, 30, 10, 0, tzinfo=UTC)
    world = Surroundings(
        now=lambda: late, cwd=demo, variables={"FINISHSCHED_DATA": str(demo.parent)}
    )
    run(("plan",), world)
    said = capsys.readouterr().out
    assert re.search(r"^all finished \w+ \d+ (Jan|Feb) 2027 ", said)
    bare = re.findall(r"\d (?:Jan|Feb)\b(?! 2027)", said)
    assert bare == []


def test_a_clock_that_is_decades_off_is_told_in_years_with_both_dates(demo, capsys):
    """Sixty years are not counted in days, and both dates let a person see which is wrong."""
    day = datetime(1966, 11, 25, 18, 0, tzinfo=UTC)
    world = Surroundings(now=lambda: day, cwd=demo, variables={"FINISHSCHED_DATA": str(demo)})
    run(("vent",), world)
    told = capsys.readouterr().err
    assert "stands 60 years before an entry" in told
    assert "it has 25 Nov 1966, the entry 25 Nov 2026" in told
    assert span(21914 * 86_400) == "60 years"
    assert span(400 * 86_400) == "400 d"


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ("18:20:40", "18:21"),
        ("18:20:00", "18:20"),
        ("18:20:00.040", "18:20"),
        ("17:59:40", "17:59"),
        ("23:59:30", "Thu 00:00"),
    ],
)
def test_what_is_to_come_is_told_by_the_minute_in_which_it_has_come(told, said):
    """At 18:00 a clock that ends at 18:20:40 ends at 18:21, in 21 min; what was is told as it was.

    It was told as 18:20, beside 'in 21 min' and a plan that begins the next coat at 18:21.
    """
    now = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
    instant = datetime.fromisoformat(f"2026-11-25T{told}+00:00")
    assert wall(instant, now, UTC) == said


@pytest.mark.parametrize("seen", ["18:00:00", "18:20:59", "18:21:00", "20:00:00"])
def test_an_end_of_a_wait_is_told_by_one_minute_before_and_after_it(seen):
    """At whatever time one looks, a wait that ends at 18:20:40 is told by 18:21.

    It was 'likely 18:21' when it was logged, and 'likely since 18:20' afterwards.
    """
    now = datetime.fromisoformat(f"2026-11-25T{seen}+00:00")
    end = datetime(2026, 11, 25, 18, 20, 40, tzinfo=UTC)
    assert reckoned(end, now, UTC) == "18:21"


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        ("25T18:10", "25T19:00", "18:10 to 19:00"),
        ("25T18:10", "25T18:10", "18:10"),
        ("26T08:00", "26T09:30", "Thu 08:00 to 09:30"),
        ("26T08:00", "27T09:30", "Thu 08:00 to Fri 09:30"),
        ("25T22:00", "26T09:30", "22:00 to Thu 09:30"),
        ("24T08:58", "25T22:20", "Tue 08:58 to Wed 22:20"),
    ],
)
def test_a_span_says_its_days_where_they_are_two(first, last, said):
    """On a Wednesday, from Tuesday morning to 22:20 of today is no span of Tuesday alone."""
    now = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
    ends = [datetime.fromisoformat(f"2026-11-{each}+00:00") for each in (first, last)]
    assert between(*ends, now, UTC) == said
