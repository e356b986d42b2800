"""Laws of the air over time."""

from itertools import pairwise, takewhile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.drying.course import Course, Readings
from finishsched.drying.evaporation import magnus_pa
from finishsched.drying.forecast import DAY_S, HOUR_S, DailyPattern, Reading, daily_pattern
from finishsched.model.shop import Air

USUAL = Air(19.0, 55.0)
HOUR_AHEAD_S = 3600.0

readings = st.lists(
    st.builds(
        Reading,
        st.integers(0, 40 * 24 * 12).map(lambda step: step * 300.0),
        st.floats(-5, 35),
        st.floats(5, 100),
        st.floats(0, 1),
    ),
    max_size=40,
)
instants = st.floats(-2 * DAY_S, 50 * DAY_S)


def _course(items):
    return Course(Readings.of(items), USUAL, lambda _: HOUR_AHEAD_S)


def _until(course, from_s, to_s):
    return list(takewhile(lambda piece: piece.start_s < to_s, course.pieces(from_s)))


@given(readings, st.randoms())
def test_the_order_of_import_does_not_matter(items, random):
    """The same readings in any order, or one by one, are the same readings."""
    shuffled = random.sample(items, len(items))
    assert Readings.of(items) == Readings.of(shuffled)
    grown = _course([])
    for reading in shuffled:
        grown.add(reading)
    assert grown.readings == Readings.of(items)


@given(readings, st.floats(0, 40 * DAY_S).map(lambda at_s: Reading(at_s, 3.0, 90.0)))
def test_a_later_reading_changes_nothing_before_it(items, late):
    """The air before a reading does not depend on it."""
    before, after = _course(items), _course(items)
    after.add(late)
    for back_s in (1, HOUR_S, 5 * HOUR_S, 3 * DAY_S):
        at_s = late.at_s - back_s
        assert before.at(at_s)[1:] == after.at(at_s)[1:]
        assert before.origin(at_s) == after.origin(at_s)


@given(readings, instants)
def test_pieces_join_without_gap(items, from_s):
    """Each piece begins where the one before ends, and the air is that of its instants."""
    course = _course(items)
    pieces = _until(course, from_s, from_s + 3 * DAY_S)
    assert pieces[0].start_s == from_s
    for piece, following in pairwise(pieces):
        assert piece.start_s < piece.end_s == following.start_s
    for piece in pieces:
        middle_s = (piece.start_s + piece.end_s) / 2
        assert course.at(middle_s)[1:] == pytest.approx(piece.air[1:])


@given(readings, instants)
def test_air_is_always_air(items, at_s):
    """Whatever was read, the air has a humidity from 0 to 100 % and no wild temperature."""
    air = _course(items).at(at_s)
    assert 0 <= air.humidity_percent <= 100
    assert -50 <= air.temperature_c <= 80


def test_a_reading_holds_for_three_hours():
    """Then it is a forecast, and the words tell which."""
    course = _course([Reading(0.0, 25.0, 40.0, 0.3)])
    assert course.at(3 * HOUR_S - 1)[1:] == (25.0, 40.0, 0.3)
    assert course.at(3 * HOUR_S)[1:] != (25.0, 40.0, 0.3)
    assert course.origin(40 * 60) == "read 40 min ago"
    told = "forecast from what was read 5 h ago and the shop's usual air"
    assert course.origin(5 * HOUR_S) == told
    assert course.origin(-1) == "the shop's usual air"
    assert course.at(-1)[1:] == (19.0, 55.0, 0.1)


def test_no_readings_at_all():
    """Without readings it is the shop's usual air, always."""
    course = _course([])
    assert course.last_s is None
    for at_s in (-1e9, 0.0, 2e9):
        assert course.at(at_s)[1:] == (19.0, 55.0, 0.1)
        assert course.origin(at_s) == "the shop's usual air"


def test_an_odd_reading_fades_into_the_usual_air():
    """Half a day later the room is still off by 1/e, a week later as usual."""
    course = _course([Reading(0.0, 29.0, 40.0)])
    assert course.at(12 * HOUR_S).temperature_c == pytest.approx(19 + 10 / 2.718, abs=0.2)
    assert course.at(7 * DAY_S).temperature_c == pytest.approx(19, abs=0.01)


def test_water_in_the_air_stays():
    """As the room cools its humidity rises by the same water, and no further than 100 %."""
    course = _course([Reading(0.0, 25.0, 60.0)])
    later = course.at(7 * DAY_S)
    water_pa = magnus_pa(25) * 0.6
    assert magnus_pa(later.temperature_c) * later.humidity_percent / 100 == pytest.approx(water_pa)
    assert _course([Reading(0.0, 25.0, 90.0)]).at(7 * DAY_S).humidity_percent == 100


def _week(warm_hour):
    """Five days of hourly readings, 24 degC at one hour of the wall clock, otherwise 18."""
    for hour in range(5 * 24):
        local = (hour + 1) % 24
        yield Reading(hour * HOUR_S, 24.0 if local == warm_hour else 18.0, 50.0)


def test_the_shop_s_own_day_is_expected_again():
    """With three days and more read, the warm hour of the wall clock comes again tomorrow."""
    course = _course(_week(warm_hour=14))
    assert course.origin(5 * DAY_S + 8 * HOUR_S).endswith("the daily pattern")
    tomorrow = [course.at(6 * DAY_S + hour * HOUR_S).temperature_c for hour in range(24)]
    assert max(tomorrow) == tomorrow[13] > 20.5
    assert min(tomorrow) == pytest.approx(18, abs=0.1)


def test_two_days_make_no_pattern():
    """With fewer than three days there is no pattern to go by."""
    two_days = [Reading(hour * HOUR_S, 20.0, 50.0) for hour in range(48)]
    assert daily_pattern(two_days, lambda _: 0.0) is None
    assert daily_pattern([*two_days, Reading(2 * DAY_S, 20.0, 50.0)], lambda _: 0.0)


def test_hours_without_readings_lie_between_their_neighbours():
    """Read only at 8 and at 20, noon lies a third of the way, and midnight as well."""
    days = range(3)
    read = [Reading(day * DAY_S + 8 * HOUR_S, 12.0, 50.0) for day in days]
    read += [Reading(day * DAY_S + 20 * HOUR_S, 24.0, 50.0) for day in days]
    pattern = daily_pattern(read, lambda _: 0.0)
    assert pattern is not None
    assert pattern.hours_c[12] == pytest.approx(16)
    assert pattern.hours_c[0] == pytest.approx(20)


def test_a_pattern_runs_evenly_between_hours():
    """Half past an hour is its mean; on the stroke, the mean of two."""
    pattern = DailyPattern((10.0, 20.0, *[10.0] * 22))
    assert pattern.temperature_c(1.5 * HOUR_S) == pytest.approx(20)
    assert pattern.temperature_c(1.0 * HOUR_S) == pytest.approx(15)


@pytest.mark.parametrize(
    "reading",
    [
        Reading(0.0, 99.0, 50.0),
        Reading(0.0, float("nan"), 50.0),
        Reading(0.0, 20.0, 101.0),
        Reading(0.0, 20.0, 50.0, -1.0),
        Reading(float("inf"), 20.0, 50.0),
    ],
)
def test_what_is_no_air_is_refused(reading):
    """No impossible reading gets in, at the beginning or later, and nothing changes."""
    with pytest.raises(ValueError, match=r"no air|no humidity|no instant"):
        Readings.of([reading])
    course = _course([])
    with pytest.raises(ValueError, match=r"no air|no humidity|no instant"):
        course.add(reading)
    assert len(course.readings) == 0


def test_the_air_is_the_same_in_however_many_bites_it_is_read(monkeypatch):
    """Readings an hour or five apart, taken two, three or all at a time, give the same pieces."""
    at_s, items = 0.0, []
    for number in range(12):
        at_s += HOUR_S if number % 3 else 5 * HOUR_S
        items.append(Reading(at_s, 15.0 + number, 60.0))
    found = {}
    for bite in (2, 3, 1000):
        monkeypatch.setattr("finishsched.drying.course.CHUNK", bite)
        found[bite] = _until(_course(items), 0.0, at_s + 10 * HOUR_S)
    assert found[2] == found[3] == found[1000]
