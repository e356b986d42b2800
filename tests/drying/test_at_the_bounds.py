"""Drying to the letter: bounds of air, words of where it is known from, one look worked by sums."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.drying.air import (
    NoSuchAirError,
    refuse_humidity,
    refuse_surface,
    refuse_temperature,
)
from finishsched.drying.clock import cure_clock
from finishsched.drying.course import Course, Readings
from finishsched.drying.dry_checks import Check, Group, WaitKind
from finishsched.drying.evaporation import water_depression_k
from finishsched.drying.figures import Phase
from finishsched.drying.forecast import HOUR_S, Reading
from finishsched.drying.laws import interval_factor, law_for
from finishsched.drying.learning import learn
from finishsched.drying.learning_bank import (
    WILD_SHARE,
    WILD_SIGMA,
    Bank,
    Bell,
    Look,
    _collapsed,
    _Filter,
)
from finishsched.drying.learning_kin import _shown, _together
from finishsched.model.product import Mechanism
from finishsched.model.schedule import Wait
from finishsched.model.shop import Air

LAID = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
NORMAL = NormalDist()


@pytest.mark.parametrize(
    ("refuse", "good", "bad"),
    [
        (refuse_temperature, (-10.0, 60.0), (-10.1, 60.1)),
        (refuse_surface, (-20.0, 80.0), (-20.1, 80.1)),
        (refuse_humidity, (1.0, 100.0), (0.9, 100.1)),
    ],
)
def test_air_at_the_bound_itself_is_taken(refuse, good, bad):
    """What is just beyond it is refused."""
    for value in good:
        refuse(value)
    for value in bad:
        with pytest.raises(NoSuchAirError):
            refuse(value)


@pytest.mark.parametrize(
    ("minutes", "percent"), [(0, 0.0), (30, 25.0), (60, 50.0), (120, 100.0), (240, 100.0)]
)
def test_a_clock_counts_to_a_hundred_at_the_likely_time(minutes, percent):
    """Of a likely wait of two hours; one that is likely over at once is at a hundred."""
    now = LAID + timedelta(minutes=minutes)
    assert cure_clock(Wait(3600, 7200), LAID, [], now).percent == pytest.approx(percent)
    assert cure_clock(Wait(0, 0), LAID, [], now).percent == 100.0


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (-1, "the shop's usual air"), (0.5, "read 30 min ago"), (2.5, "read 2 h ago"),
        (4, "forecast from what was read 4 h ago and the shop's usual air"),
        (100, "forecast from what was read 4 days ago and the shop's usual air"),
    ],
)  # fmt: skip
def test_the_air_says_what_it_is_known_from(hours, words):
    """Before the first reading, just after it, and when it is long ago."""
    at_s = 1.7e9
    course = Course(Readings.of([Reading(at_s, 18.0, 60.0)]), Air(19.0, 55.0), lambda _: 0.0)
    assert course.origin(at_s + hours * HOUR_S) == words


@pytest.mark.parametrize(("mechanism", "times"), [(Mechanism.SOLVENT, 4.0), (Mechanism.WATER, 4.0)])
def test_a_film_twice_as_thick_takes_four_times_as_long(mechanism, times):
    """Films from which something leaves: the square of the thickness (published for solvents)."""
    law = law_for(mechanism, Phase.CURE)
    twice = law.laid(film_ratio=2.0)
    ratio = interval_factor(twice, law.reference) / interval_factor(law, law.reference)
    assert ratio == pytest.approx(times)


def _wait(ready, not_yet=0.0):
    return Check("varnish", WaitKind.AFTER, 100.0, not_yet, ready, 1)


@pytest.mark.parametrize(
    ("ready", "not_yet", "words"),
    [
        (100.0, 0.0, "0 held a 'not yet': one-sided, so book and other waits keep the slow end"),
        (105.0, 95.0, "6 held a 'not yet': enough for the range to follow the checks themselves"),
    ],
)
def test_the_evidence_is_told_in_a_line(ready, not_yet, words):
    """Passes alone are one-sided; looks that failed first are not; none at all say so."""
    wait = Group("varnish", WaitKind.AFTER)
    checks = [Check(*wait, 100.0, not_yet, ready, 1)] * 6
    assert learn(checks, wait).evidence == f"of the last 6 checks {words}"
    assert learn([], wait).evidence == "no check of this wait is behind it"
    alone = learn(checks[:1], wait)
    assert alone.one_sided is (not_yet == 0)
    assert not learn([], wait).one_sided


def _summed(prior, shared_v, own_v, look):
    """Return mean, variance and what goes with the evening after a look, by sums over a grid.

    A wild entry tells nothing: with its share the prior stays.
    """
    marks = [-5 + 10 * n / 160 for n in range(161)]
    own, evening_sd, sd = math.sqrt(own_v), math.sqrt(shared_v), math.sqrt(prior.variance)
    tame, rows = 0.0, []
    for z in marks:
        for y in marks:
            mean, evening = prior.mean + z * sd, y * evening_sd
            at_prior = NORMAL.pdf(z) * NORMAL.pdf(y) * (10 / 160) ** 2
            seen = NORMAL.cdf((look.upto - mean - evening) / own) - NORMAL.cdf(
                (look.above - mean - evening) / own
            )
            rows.append((mean, evening, at_prior, at_prior * seen))
            tame += at_prior * seen
    wide = math.sqrt(prior.variance + shared_v + WILD_SIGMA**2)
    wild = NORMAL.cdf((look.upto - prior.mean) / wide) - NORMAL.cdf(
        (look.above - prior.mean) / wide
    )
    whole = (1 - WILD_SHARE) * tame + WILD_SHARE * wild
    weighed = [
        (m, e, ((1 - WILD_SHARE) * with_look + WILD_SHARE * wild * before) / whole)
        for m, e, before, with_look in rows
    ]
    mean = sum(m * w for m, _, w in weighed)
    evening = sum(e * w for _, e, w in weighed)
    return (
        mean, sum((m - mean) ** 2 * w for m, _, w in weighed),
        evening, sum((e - evening) ** 2 * w for _, e, w in weighed),
        sum((m - mean) * (e - evening) * w for m, e, w in weighed),
    )  # fmt: skip


@settings(max_examples=8)
@given(
    st.floats(-0.4, 0.4), st.floats(0.02, 0.3), st.sampled_from([(0.0, 0.6), (-0.3, 0.3),
    (0.2, math.inf), (-math.inf, -0.1)]),
)  # fmt: skip
def test_one_look_is_taken_in_by_its_exact_moments(mean, variance, ends):
    """Factor, evening and how they go together: as summed over a fine grid, by Bayes' rule."""
    prior, look = Bell(mean, variance), Look(*ends)
    found = _Filter(prior, sigma=0.3, kept=1.0, shared=0.5, weight=1.0)
    found.see(look)
    exact = _summed(prior, 0.045, 0.045, look)
    ours = (found.mean, found.var, found.evening, found.evening_v, found.both)
    assert ours == pytest.approx(exact, abs=2e-3)


def test_the_next_wait_of_the_same_evening_is_foretold_by_it():
    """After a slow look the next of that evening is likely slow, one of another evening less so."""
    bank = Bank(Bell(0.0, 0.04), math.log(1.2), math.log(2.0), evenings=True)
    for _ in range(3):
        bank.see(Look(0.0, 0.1))
    bank.see(Look(0.5, 0.7))
    same, other = bank.next_wait(new_evening=False), bank.next_wait(new_evening=True)
    assert same.at(0.5) > other.at(0.5) + 0.02
    # A new evening forgets what the one before had in common, and a look later on the same not.
    bank.see(Look(0.0, 0.1, new_evening=True))
    again = bank.next_wait(new_evening=False)
    assert again.at(0.5) < same.at(0.5)


def test_a_refusal_in_fahrenheit_tells_its_bounds_in_fahrenheit():
    """By definition: -10 degC is 14 degF, 60 degC is 140 degF, and 100 degC is 212 degF."""
    with pytest.raises(NoSuchAirError) as refused:
        refuse_temperature(100.0, "degF")
    assert "212 degF" in refused.value.message
    assert refused.value.remedy == "a reading is from 14 to 140 degF"


def test_damp_through_and_through_cools_no_film_of_water():
    """In air that is saturated nothing evaporates, so nothing cools."""
    for temperature_c in (-5.0, 5.0, 20.0, 35.0):
        assert water_depression_k(temperature_c, 100.0) == pytest.approx(0.0, abs=1e-6)


@given(st.floats(-2, 2), st.floats(0.01, 1), st.floats(1.5, 10))
def test_what_checks_showed_by_themselves_with_the_prior_is_what_is_known(mean, variance, wider):
    """The prior that was divided out, put back, gives the finding again: nothing counts twice."""
    known, prior_variance = Bell(mean, variance), wider * variance
    again = _together([_shown(known, prior_variance), Bell(0.0, prior_variance)])
    assert (again.mean, again.variance) == pytest.approx((mean, variance))


def test_two_bells_put_together_are_as_wide_as_they_and_the_way_between_them():
    """Law of total variance (textbook): halves about -1 and 1, each of 1, have a variance of 2."""
    both = _collapsed([(0.5, -1.0, 1.0), (0.5, 1.0, 1.0)])
    assert (both.mean, both.variance) == pytest.approx((0.0, 2.0))
    aside = _collapsed([(0.25, 0.0, 0.5), (0.75, 2.0, 0.5)])
    assert (aside.mean, aside.variance) == pytest.approx((1.5, 0.25 + 0.25 * 0.75 * 4))
