"""Laws of the cure clock."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from finishsched.drying.clock import ClockState, cure_clock, look_again_s
from finishsched.model.schedule import Wait

LAID = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
WAIT = Wait(earliest_s=3600, likely_s=7200, next_by_s=86400)

waits = st.tuples(
    st.floats(0, 1e6),
    st.floats(0, 1e6),
    st.none() | st.floats(0, 1e6),
    st.none() | st.floats(0, 1e6),
).map(lambda t: Wait(t[0], t[0] + t[1], None if t[2] is None else t[0] + t[1] + t[2], t[3]))
spans = st.floats(0, 3e6).map(lambda s: timedelta(seconds=s))


def _state(minutes, **given):
    return cure_clock(
        Wait(**{"earliest_s": 3600, "likely_s": 7200, **given}),
        LAID,
        [],
        LAID + timedelta(minutes=minutes),
    ).state


@pytest.mark.parametrize(
    ("minutes", "state"),
    [
        (0, ClockState.DRYING),
        (59, ClockState.DRYING),
        (60, ClockState.NEARLY),
        (119, ClockState.NEARLY),
        (120, ClockState.CHECK),
        (10_000, ClockState.CHECK),
    ],
)
def test_states_follow_the_wait(minutes, state):
    """Drying, nearly, check: at the wait's own times, and never on to ready by time alone."""
    assert _state(minutes) is state


def test_the_window_closes():
    """Past its window the wait says so, whatever the dry check may say."""
    assert _state(1441, next_by_s=86400) is ClockState.CLOSED


@given(waits, st.lists(spans, max_size=4), spans)
@example(
    Wait(0.0, 969394.2305873507, 969394.2305873507),
    [timedelta(days=29, seconds=74327, microseconds=932118)],
    timedelta(0),
)
def test_the_range_is_always_in_order(wait, checks, later):
    """Earliest <= likely <= latest, whatever the wait and the checks."""
    clock = cure_clock(wait, LAID, [LAID + span for span in checks], LAID + later)
    assert clock.earliest_at <= clock.likely_at <= clock.latest_at
    assert 0 <= clock.percent <= 100


@given(waits, st.lists(spans, max_size=4), spans, spans)
def test_a_clock_is_worked_out_not_kept(wait, checks, first, second):
    """Looking earlier or later never changes when it will likely be ready."""
    times = [LAID + span for span in checks]
    one, two = (cure_clock(wait, LAID, times, LAID + span) for span in (first, second))
    assert (one.earliest_at, one.likely_at, one.latest_at) == (
        two.earliest_at,
        two.likely_at,
        two.latest_at,
    )


@given(waits, spans, spans)
def test_not_yet_only_ever_extends(wait, first, second):
    """A dry check that failed never brings the likely time nearer, in whatever order they come."""
    early, late = sorted((LAID + first, LAID + second))
    none = cure_clock(wait, LAID, [], LAID)
    one = cure_clock(wait, LAID, [early], LAID)
    two = cure_clock(wait, LAID, [late, early], LAID)
    assert none.likely_at <= one.likely_at <= two.likely_at
    assert two.likely_at >= late + timedelta(minutes=5)


def test_a_quarter_of_the_time_and_five_minutes_at_least():
    """Two hours taken: look again in half an hour. Four minutes: in five (common practice)."""
    assert look_again_s(7200) == 1800
    assert look_again_s(240) == 300


def test_overdue_past_the_slow_end():
    """Without a stated slow end it is 1.47 times the likely wait."""
    slow_end = LAID + timedelta(seconds=7200 * 1.47)
    assert not cure_clock(WAIT, LAID, [], slow_end - timedelta(seconds=1)).overdue
    assert cure_clock(WAIT, LAID, [], slow_end).overdue


@pytest.mark.parametrize(("minutes", "left_min"), [(0, 120), (90, 30), (150, -30)])
def test_what_is_left_is_told_to_the_likely_time(minutes, left_min):
    """Of a likely wait of two hours, and below nothing once it has passed."""
    clock = cure_clock(WAIT, LAID, [], LAID + timedelta(minutes=minutes))
    assert clock.left_s == left_min * 60
