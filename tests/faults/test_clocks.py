"""A machine's clock that stands wrong is told wherever times are told."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.workshop.base.spans import wall
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


def test_a_date_of_another_year_shows_its_year():
    """A day beyond this year is not taken for one of this."""
    assert wall(NOW + 400 * DAY, NOW, UTC) == "30 Dec 2027 18:00"
    assert wall(NOW + 20 * DAY, NOW, UTC) == "15 Dec 18:00"
