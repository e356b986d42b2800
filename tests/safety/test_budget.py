"""Laws of the vapour budget: nothing is lost, nothing is gained, and time may be cut anywhere."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.model.solvent import Liquid, LocalLimit
from finishsched.safety.budget import (
    HOUR_S,
    Budget,
    Release,
    flow_needed_m3_per_h,
    wait_needed_s,
)
from finishsched.safety.solvents import SOLVENTS
from finishsched.safety.ventilation import RoomAir

ETHANOL, TOLUENE = SOLVENTS[Liquid.ETHANOL], SOLVENTS[Liquid.TOLUENE]
DAY_S = 24 * HOUR_S

releases = st.builds(
    Release,
    solvent=st.sampled_from([ETHANOL, TOLUENE]),
    grams=st.floats(0.01, 500),
    begins_s=st.floats(0, DAY_S),
    laid_over_s=st.just(0.0) | st.floats(1, 4 * HOUR_S),
    dries_s=st.just(0.0) | st.floats(10, 8 * HOUR_S),
)
rooms = st.builds(
    RoomAir,
    volume_m3=st.floats(8, 300),
    flow_m3_per_h=st.just(0.0) | st.floats(1, 1000),
    mixing_factor=st.floats(1, 10),
)


def _rate(room):
    return room.effective_m3_per_h / room.volume_m3 / HOUR_S


def _integral(function, from_s, to_s, pieces=2000):
    """Return the integral by Simpson's rule."""
    step = (to_s - from_s) / pieces
    marks = [from_s + step * number for number in range(pieces + 1)]
    weights = [1, *([4, 2] * (pieces // 2))[:-1], 1]
    return step / 3 * sum(w * function(mark) for w, mark in zip(weights, marks, strict=True))


slow_releases = releases.map(
    lambda one: replace(one, dries_s=max(300.0, one.dries_s) if one.dries_s else 0.0)
)
slow_rooms = st.builds(RoomAir, st.floats(20, 300), st.floats(0, 100), st.floats(1, 10))
"""Slow enough for Simpson's rule to follow."""


@settings(max_examples=60)
@given(slow_releases, slow_rooms, st.floats(60, 12 * HOUR_S))
def test_what_left_and_what_is_there_are_what_was_released(release, room, after_s):
    """Mass balance: vapour in the room + vapour carried out = vapour released, at every instant."""
    rate = _rate(room)
    corners = sorted({release.begins_s, release.laid_at_s, release.begins_s + after_s})
    end_s = corners[-1]
    carried_out = sum(
        _integral(lambda at_s: rate * release.in_air_g(at_s, rate), *pair)
        for pair in pairwise(corners)
    )
    there = release.in_air_g(end_s, rate)
    released = release.released_g(end_s)
    assert there + carried_out == pytest.approx(released, abs=release.grams * 1e-5)
    whole = release.released_g(end_s) + release.wet_g(end_s) + release.to_come_g(end_s)
    assert whole == pytest.approx(release.grams)


@given(st.lists(releases, min_size=1, max_size=4), rooms, st.floats(0, DAY_S), st.floats(0, DAY_S))
def test_cutting_the_day_in_two_changes_nothing(found, room, cut_s, more_s):
    """A budget taken up again at any instant tells the same of every later one."""
    budget = Budget(tuple(found), room)
    again = budget.restarted(cut_s, room)
    at_s = cut_s + more_s
    for weight in (budget.of_limits, budget.of_lel):
        assert again.at(weight, at_s) == pytest.approx(budget.at(weight, at_s), rel=1e-6, abs=1e-9)


@given(st.lists(releases, min_size=1, max_size=4), rooms, st.floats(0, 2 * DAY_S))
def test_no_instant_is_above_the_peak(found, room, at_s):
    """The peak is the most there is, and what lies after ``below_from`` is below."""
    budget = Budget(tuple(found), room)
    peak = budget.peak(budget.of_limits, 0.0, 2 * DAY_S)
    assert budget.at(budget.of_limits, at_s) <= peak.value * (1 + 1e-3) + 1e-12
    ceiling = peak.value / 2
    below_s = budget.below_from(budget.of_limits, ceiling, 0.0)
    if below_s is not None:
        later = budget.peak(budget.of_limits, below_s, below_s + 2 * DAY_S)
        assert later.value <= ceiling * 1.001 + 1e-12


def test_a_crest_between_two_turns_is_found():
    """A spill that goes while a slow film comes crests at no turn of either."""
    film = Release(ETHANOL, 20.0, 0.0, HOUR_S, 20_000.0)
    budget = Budget((Release(ETHANOL, 10.0, 0.0, 0.0, 1800.0), film), RoomAir(30.0, 20.0))
    peak = budget.peak(budget.of_limits, 0.0, DAY_S)
    highest = max(budget.at(budget.of_limits, float(at_s)) for at_s in range(0, int(DAY_S), 10))
    assert peak.value == pytest.approx(highest, rel=1e-5)


@given(releases, rooms, st.floats(1.1, 5))
def test_more_air_is_never_worse(release, room, factor):
    """At every instant, more flow means no more vapour."""
    more = replace(room, flow_m3_per_h=room.flow_m3_per_h * factor + 1)
    for hours in (0.1, 1, 5, 30):
        at_s = release.begins_s + hours * HOUR_S
        there = release.in_air_g(at_s, _rate(room))
        assert release.in_air_g(at_s, _rate(more)) <= there * (1 + 1e-9) + 1e-9


def test_equal_rates_are_no_hole():
    """Where the film dries as fast as the air changes, the form is the limit of its neighbours."""
    room = RoomAir(36.0, 36.0, 1.0)
    for over_s in (0.0, 900.0):
        near, at, far = (
            Release(ETHANOL, 10.0, 0.0, over_s, HOUR_S * factor).in_air_g(4000.0, _rate(room))
            for factor in (0.999, 1.0, 1.001)
        )
        assert min(near, far) <= at <= max(near, far)


def test_a_room_that_is_shut_never_clears():
    """Without any flow the vapour stays, and no time is promised."""
    budget = Budget((Release(TOLUENE, 100.0, 0.0),), RoomAir(20.0))
    assert budget.below_from(budget.of_limits, 1.0, 0.0) is None


def test_what_helps_does_help():
    """After the wait asked for the coat keeps the limit, and five minutes before it does not."""
    room = RoomAir(30.0, 30.0, 3.0)
    earlier = Budget((Release(TOLUENE, 3.6, -HOUR_S, 600.0),), room)
    coat = (Release(TOLUENE, 0.8, 0.0, 600.0, 300.0),)
    both = earlier.with_more(coat)
    tests = [(both.of_limits, 1.0)]
    assert both.peak(both.of_limits, 0.0, DAY_S).value > 1
    flow = flow_needed_m3_per_h(both, tests, 0.0, DAY_S)
    wait_s = wait_needed_s(earlier, coat, tests, 0.0)
    assert flow is None or flow > room.flow_m3_per_h
    assert wait_s is not None
    for put_off_s, holds in ((wait_s, True), (wait_s - 300, False)):
        later = earlier.with_more(replace(one, begins_s=put_off_s) for one in coat)
        assert (later.peak(later.of_limits, put_off_s, put_off_s + DAY_S).value <= 1) == holds


def test_a_flow_that_is_enough():
    """The least flow holds the ceiling, and a twentieth less does not."""
    room = RoomAir(30.0, 10.0, 2.0)
    coat = Budget((Release(TOLUENE, 30.0, 0.0, 1200.0, 60.0),), room)
    tests = [(coat.of_limits, 1.0)]
    flow = flow_needed_m3_per_h(coat, tests, 0.0, DAY_S)
    for share, holds in ((1.0, True), (0.95, False)):
        other = replace(coat, room=replace(room, flow_m3_per_h=flow * share))
        assert (other.peak(other.of_limits, 0.0, DAY_S).value <= 1) == holds


def test_too_much_for_any_air_or_wait():
    """A coat that by itself is too much at once is promised neither air nor a time."""
    room = RoomAir(10.0, 10.0, 1.0)
    spill = (Release(TOLUENE, 1000.0, 0.0),)
    both = Budget(spill, room)
    assert flow_needed_m3_per_h(both, [(both.of_limits, 1.0)], 0.0, DAY_S) is None
    assert wait_needed_s(Budget((), room), spill, [(both.of_limits, 1.0)], 0.0) is None


def test_the_shops_own_limit_counts_where_it_is_lower():
    """Half the limit doubles the share; a higher one changes nothing."""
    release = Release(TOLUENE, 10.0, 0.0)
    room = RoomAir(30.0)
    shares = [
        Budget((release,), room, local).at(Budget((release,), room, local).of_limits, 0.0)
        for local in ((), (LocalLimit(Liquid.TOLUENE, 10.0),), (LocalLimit(Liquid.TOLUENE, 900.0),))
    ]
    assert shares[1] == pytest.approx(2 * shares[0])
    assert shares[2] == shares[0]


def test_what_keeps_every_ceiling_needs_neither_air_nor_a_wait():
    """A drop in a large room: the flow there is will do, and nobody waits."""
    room = RoomAir(60.0, 40.0, 2.0)
    drop = (Release(ETHANOL, 0.1, 0.0, 60.0, 60.0),)
    both = Budget(drop, room)
    tests = [(both.of_limits, 1.0)]
    assert flow_needed_m3_per_h(both, tests, 0.0, DAY_S) == 40.0
    assert wait_needed_s(Budget((), room), drop, tests, 0.0) == 0.0


def test_shares_name_what_brings_the_vapour():
    """Two coats of one piece are one share, the greatest is first, and together they are all."""
    room = RoomAir(30.0, 30.0, 3.0)
    lid = [Release(TOLUENE, 4.0, at_s, what="lid") for at_s in (0.0, 600.0)]
    budget = Budget((Release(TOLUENE, 5.0, 0.0, what="box"), *lid), room)
    shares = budget.shares(budget.of_limits, 900.0)
    assert [what for what, _ in shares] == ["lid", "box"]
    assert sum(share for _, share in shares) == pytest.approx(budget.at(budget.of_limits, 900.0))
    alone = budget.shares(budget.of_limits, 300.0)
    assert dict(alone)["box"] == pytest.approx(1.25 * dict(alone)["lid"])


def test_what_can_burn_adds_up_over_the_liquids():
    """As much of each as makes half its lower explosive limit makes, together, air that burns."""
    room = RoomAir(10.0)
    one = Budget((Release(ETHANOL, 1.0, 0.0), Release(TOLUENE, 1.0, 0.0)), room)
    halves = tuple(
        Release(liquid, 0.5 * liquid.lel_ppm / one.at(one.ppm(liquid.liquid), 0.0), 0.0)
        for liquid in (ETHANOL, TOLUENE)
    )
    both = Budget(halves, room)
    assert both.at(both.of_lel, 0.0) == pytest.approx(1.0)


def test_a_film_that_dries_as_fast_as_the_air_changes_crests_after_one_drying():
    """The crest of equal rates lies between those of its neighbours, as everywhere else."""
    rate = _rate(RoomAir(36.0, 36.0, 1.0))
    near, at, far = (
        Release(ETHANOL, 10.0, 0.0, 900.0, HOUR_S * factor).crest_s(rate)
        for factor in (0.99, 1.0, 1.01)
    )
    assert near < at < far
    assert at == pytest.approx(900.0 + HOUR_S)
