"""Laws of progress: it adds up, never goes back, and its inverse finds the instant."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.drying.course import Course, Readings
from finishsched.drying.figures import Phase
from finishsched.drying.forecast import DAY_S, HOUR_S, Reading
from finishsched.drying.integral import DryingSums
from finishsched.drying.laws import interval_factor, law_for, speed
from finishsched.model.product import Mechanism
from finishsched.model.shop import Air

USUAL = Air(19.0, 55.0)

readings = st.lists(
    st.builds(
        Reading,
        st.integers(0, 20 * 24 * 12).map(lambda step: step * 300.0),
        st.floats(0, 35),
        st.floats(20, 100),
        st.floats(0, 1),
    ),
    max_size=30,
)
instants = st.floats(-2 * DAY_S, 25 * DAY_S)
laws = st.builds(
    lambda mechanism, phase, film: law_for(mechanism, phase).laid(film),
    st.sampled_from(Mechanism),
    st.sampled_from(Phase),
    st.floats(0.5, 2),
)


def _sums(items=(), usual=USUAL):
    return DryingSums(Course(Readings.of(items), usual, lambda _: 0.0))


@given(laws, st.floats(12, 30), st.floats(60, 10 * DAY_S))
def test_in_steady_air_it_is_the_closed_form(law, at_c, stated_s):
    """In air that never changes, the wait is the stated time times the law's factor."""
    air = Air(at_c, 50.0)
    taken_s = stated_s * interval_factor(law, air)
    when_s = _sums(usual=air).when_s(law, 1.7e9, stated_s)
    if taken_s > 60 * DAY_S:
        assert when_s is None
    else:
        assert when_s == pytest.approx(1.7e9 + taken_s, abs=1e-3)


@given(readings, laws, st.lists(instants, min_size=3, max_size=6), st.data())
def test_splitting_changes_nothing(items, law, cuts, data):
    """Progress of the parts adds up to progress of the whole, asked for in any order."""
    sums = _sums(items)
    cuts = sorted(cuts)
    asked = data.draw(st.permutations(list(pairwise(cuts))))
    parts = [sums.progress_s(law, *pair) for pair in asked]
    whole_s = _sums(items).progress_s(law, cuts[0], cuts[-1])
    assert sum(parts) == pytest.approx(whole_s, rel=1e-9, abs=1e-3)
    assert sums.progress_s(law, cuts[0], cuts[-1]) == pytest.approx(whole_s, rel=1e-9, abs=1e-3)
    assert all(part >= 0 for part in parts)


@given(readings, laws, instants, st.floats(0, 5 * DAY_S))
def test_progress_is_the_pace_added_up(items, law, start_s, span_s):
    """The sums agree with adding pace times time over the pieces of the course."""
    course = Course(Readings.of(items), USUAL, lambda _: 0.0)
    end_s, expected_s = start_s + span_s, 0.0
    for from_s, until_s, air in course.pieces(start_s):
        if from_s >= end_s:
            break
        expected_s += (min(until_s, end_s) - from_s) * speed(law, air)
    told_s = DryingSums(course).progress_s(law, start_s, end_s)
    assert told_s == pytest.approx(expected_s, rel=1e-9, abs=1e-3)


@given(readings, laws, instants, st.floats(60, 3 * DAY_S))
def test_when_is_the_inverse_of_progress(items, law, start_s, amount_s):
    """At the instant found, the progress is what was asked for, and not before."""
    sums = _sums(items)
    when_s = sums.when_s(law, start_s, amount_s)
    if when_s is None:
        last_s = max([start_s, *(reading.at_s for reading in items)])
        assert sums.progress_s(law, start_s, last_s + 60 * DAY_S) < amount_s + 1e-3
    else:
        assert sums.progress_s(law, start_s, when_s) == pytest.approx(amount_s, abs=1e-2)
        assert sums.progress_s(law, start_s, when_s - 60) <= amount_s


@given(readings, readings.map(lambda items: items[:6]), laws, instants)
def test_readings_may_come_one_by_one_in_any_order(items, later, law, start_s):
    """Sums that were asked and then grew agree with sums made from all readings at once."""
    grown, end_s = _sums(items), start_s + 8 * DAY_S
    for reading in later:
        grown.progress_s(law, start_s, end_s)
        grown.when_s(law, start_s, HOUR_S)
        grown.add(reading)
    whole_s = _sums([*items, *later]).progress_s(law, start_s, end_s)
    assert grown.progress_s(law, start_s, end_s) == pytest.approx(whole_s, rel=1e-9, abs=1e-3)


@given(readings, laws, instants, st.floats(0, 5 * DAY_S), st.floats(1, DAY_S))
def test_a_later_reading_changes_no_progress_before_it(items, law, start_s, span_s, later_s):
    """What has dried by now does not depend on what is read later."""
    sums, now_s = _sums(items), start_s + span_s
    before_s = sums.progress_s(law, start_s, now_s)
    sums.add(Reading(now_s + later_s, 2.0, 95.0))
    assert sums.progress_s(law, start_s, now_s) == pytest.approx(before_s, rel=1e-9, abs=1e-3)


@given(laws, st.floats(0, DAY_S), st.floats(0, 10))
def test_a_warmer_shop_is_never_later(law, start_s, warmer_k):
    """The same days, warmer by some degrees at the same humidity, never dry less."""
    cold = [Reading(turn * 2 * HOUR_S, 5.0 + turn % 17, 60.0) for turn in range(5 * 12)]
    warm = [Reading(r.at_s, r.temperature_c + warmer_k, r.humidity_percent) for r in cold]
    end_s = cold[-1].at_s
    slow_s = _sums(cold).progress_s(law, start_s, end_s)
    assert _sums(warm).progress_s(law, start_s, end_s) >= slow_s * (1 - 1e-9) - 1e-3


def test_what_never_dries_is_said_to_never_dry():
    """A waterborne coat in a shop of 5 degC is not dry within 60 days."""
    law = law_for(Mechanism.COALESCING, Phase.RECOAT)
    assert _sums(usual=Air(5.0, 50.0)).when_s(law, 0.0, HOUR_S) is None


def test_a_cold_night_holds_a_waterborne_coat_up():
    """It does not go on until the room has 10 degC again, and then from where it stood."""
    law = law_for(Mechanism.COALESCING, Phase.CURE, Air(20.0, 50.0))
    evening = [
        Reading(0.0, 20.0, 50.0),
        Reading(HOUR_S, 5.0, 50.0),
        Reading(3 * HOUR_S, 20.0, 50.0),
    ]
    assert _sums(evening).when_s(law, 0.0, 2 * HOUR_S) == pytest.approx(4 * HOUR_S)
    assert _sums(evening).when_s(law, 0.0, HOUR_S) == pytest.approx(HOUR_S)


def test_nothing_to_wait_for():
    """No amount is there at once, and an end before the start is no progress."""
    law = law_for(Mechanism.SOLVENT, Phase.TOUCH)
    assert _sums().when_s(law, 5.0, 0.0) == 5.0
    assert _sums().when_s(law, 1.7e9, 1e-12) == 1.7e9
    assert _sums().progress_s(law, 5.0, 4.0) == 0


def test_only_so_many_laws_are_kept():
    """A law that was dropped is reckoned afresh, to the same result."""
    course = Course(Readings(), USUAL, lambda _: 0.0)
    sums = DryingSums(course, most_laws=2)
    many = [law_for(kind, Phase.RECOAT) for kind in Mechanism]
    first = [sums.progress_s(law, 0.0, DAY_S) for law in many]
    assert [sums.progress_s(law, 0.0, DAY_S) for law in many] == first
