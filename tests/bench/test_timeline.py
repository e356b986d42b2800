"""The coming days in character cells."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from fakes import HOUR, NOW, ZONE

from finishsched.bench.drawing.timeline import day_of, day_rows, letters_of
from finishsched.workshop.plan.timeline import Bar, Row, Stretch, Timeline

TODAY = date(2026, 11, 25)


def bar(what: Stretch, start: float, hours: float, **more: object) -> Bar:
    """Return a stretch that begins so many hours from now."""
    begins = NOW + start * HOUR
    return Bar(what, begins, begins + hours * HOUR, **more)  # type: ignore[arg-type]


def a_timeline() -> Timeline:
    """Return one pair of hands, two pieces and a rack, from 18:42 on the wall."""
    work = bar(Stretch.WORK, 0.3, 0.5, ref="a/lid")
    return Timeline(
        NOW,
        NOW + 48 * HOUR,
        ZONE,
        hands=(Row("Ana", (bar(Stretch.OPEN, -1, 4), work)),),
        pieces=(
            Row("a/lid", (work, bar(Stretch.WAIT, 0.8, 2), bar(Stretch.MAYBE, 2.8, 1))),
            Row("a/case", (bar(Stretch.WAIT, 20, 2),)),
        ),
        stores=(Row("rack", (bar(Stretch.HELD, 0.8, 2, amount=2),), capacity=2),),
    )


def rows(width: int, day: date = TODAY) -> list[str]:
    """Return the rows as text."""
    titles = {"a/lid": "The lid", "a/case": "The case"}
    return [row.plain for row in day_rows(a_timeline(), day, width, titles)]


@pytest.mark.parametrize("width", [57, 77, 117, 197])
def test_no_row_is_wider_than_the_screen(width):
    """At every width each row fits, and all cells of the day are there."""
    found = rows(width)
    assert max(len(row) for row in found) <= width
    cells = len(day_of(TODAY, ZONE, width).starts) - 1
    assert cells in (24, 48, 96)
    assert len({len(row) - cells for row in found[:2]}) == 1


def test_a_row_says_what_is_when():
    """Work, drying, perhaps still drying and hours each have a sign of their own in their hour."""
    heads, ana, lid, rack = rows(77)
    label = len(ana) - 48
    cells = {name: row[label:] for name, row in (("ana", ana), ("lid", lid), ("rack", rack))}
    at = {hour: int(2 * hour) for hour in (17.5, 19, 20, 22)}
    assert cells["ana"][at[17.5] :] == "···a·····    "
    assert cells["lid"][at[19]] == "█"
    assert cells["lid"][at[20]] == "─"
    assert cells["lid"][at[22]] == "~"
    assert cells["rack"][at[20]] == "2"
    assert heads[label + 37] == "▼"
    assert heads[label + 36] != "▼"


def test_a_piece_without_anything_on_a_day_takes_no_row():
    """Each day shows what lies on it; a day with nothing says so."""
    assert not any("The case" in row for row in rows(77))
    tomorrow = rows(77, TODAY + timedelta(days=1))
    assert any("The case" in row for row in tomorrow)
    assert not any("The lid" in row for row in tomorrow)
    assert rows(77, TODAY + timedelta(days=9))[-1] == "no work and no wait on this day"


@pytest.mark.parametrize(
    ("day", "hours"),
    [(date(2026, 3, 29), 23), (date(2026, 10, 25), 25), (date(2026, 11, 25), 24)],
)
def test_a_day_is_as_long_as_it_is(day, hours):
    """Where clocks change a day has 23 or 25 hours (Berlin, 2026: 29 March and 25 October)."""
    cut = day_of(day, ZoneInfo("Europe/Berlin"), 80)
    assert cut.starts[-1] - cut.starts[0] == timedelta(days=1)  # by the wall
    assert (cut.starts[-1].timestamp() - cut.starts[0].timestamp()) / 3600 == hours
    assert len({b.timestamp() - a.timestamp() for a, b in cut.cells}) == 1


def test_every_piece_has_a_letter_of_its_own():
    """The letters in the row of hands tell the pieces apart."""
    assert letters_of(a_timeline()) == {"a/lid": "a", "a/case": "b"}


def test_work_shorter_than_a_cell_still_shows():
    """Two minutes of work are seen."""
    begins = datetime(2026, 11, 25, 12, 10, tzinfo=UTC)
    work = Bar(Stretch.WORK, begins, begins + timedelta(minutes=2), ref="a/lid")
    one = Timeline(NOW, NOW, ZONE, (Row("Ana", (work,)),), (Row("a/lid", (work,)),), ())
    drawn = [row.plain for row in day_rows(one, TODAY, 77, {})]
    assert drawn[1].rstrip().endswith("a")
    assert "█" in drawn[2]
