"""The air as the faces show it: trend, age, what is read and what is foretold; and its undo."""

from __future__ import annotations

import pytest

from finishsched.model.shop import Air
from finishsched.refusals import RefusalError
from finishsched.workshop.air.reading_entries import add_air, undo_air
from finishsched.workshop.base.answers import Trend
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.views.views import bench_view


def test_the_trend_is_that_of_the_last_hours(workshop, at):
    """A room that cools while its damp stays says so of each."""
    for minutes, warmth in ((0, 21.0), (60, 20.0), (120, 19.0)):
        add_air(workshop, Air(warmth, 50.0), at(minutes))
    air = bench_view(workshop, at(130)).air
    assert (air.warmth, air.damp, air.is_old) == (Trend.FALLING, Trend.STEADY, False)


def test_one_reading_has_no_trend_and_grows_old(workshop, at):
    """Nothing is made up of a single reading; after three hours it no longer stands for now."""
    add_air(workshop, Air(21.0, 50.0), at(0))
    assert bench_view(workshop, at(170)).air.warmth is Trend.UNKNOWN
    assert [bench_view(workshop, at(m)).air.is_old for m in (170, 190)] == [False, True]


def test_what_is_foretold_is_marked(workshop, at):
    """Points begin with the first reading, and those after the last one are forecast."""
    add_air(workshop, Air(21.0, 50.0), at(0))
    points = bench_view(workshop, at(60)).air.points
    assert points[0].at == at(0)
    assert [p.foretold for p in points if p.at <= at(60)] == [False, False]
    assert all(p.foretold for p in points if p.at > at(60))
    assert points[-1].at == at(60 + 12 * 60)


def test_without_a_reading_there_is_no_curve(workshop, at):
    """The usual air is a figure of a document, not a course."""
    air = bench_view(workshop, at(0)).air
    assert (air.read_at, air.points) == (None, ())


def test_the_last_reading_is_taken_back(workshop, at):
    """Undone, a reading changes no clock any more; the one before stands; an empty book refuses."""
    add_air(workshop, Air(21.0, 50.0), at(0))
    clock = bench_view(workshop, at(10)).air
    add_air(workshop, Air(9.0, 90.0), at(5))
    assert undo_air(workshop.append, at(6)).air.temperature_c == 9.0
    assert bench_view(workshop, at(10)).air == clock
    undo_air(workshop.append, at(7))
    with pytest.raises(RefusedError, match="nothing to take back"):
        undo_air(workshop.append, at(8))


@pytest.mark.parametrize("surface_c", [-30.0, 90.0])
def test_a_surface_that_no_shop_has_is_refused(workshop, at, surface_c):
    """A slip of the pen is told with the range."""
    with pytest.raises(RefusalError, match="from -20 to 80 degC"):
        add_air(workshop, Air(20.0, 50.0), at(0), surface_c=surface_c)
