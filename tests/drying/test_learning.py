"""Laws of learning from dry checks, and the pooling against an independent computation."""

import bisect
import itertools
import math
import random
from datetime import UTC, datetime
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.drying import learning_grid as grid
from finishsched.drying.clock import SLOW_END
from finishsched.drying.dry_checks import Check, Group, WaitKind
from finishsched.drying.learning import PRIORS, Prior, learn
from finishsched.model.product import Mechanism

WAIT = Group("varnish", WaitKind.AFTER)
KIN = Group("varnish", WaitKind.FIRST)
STRANGER = Group("shellac", WaitKind.BETWEEN)
DAY = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)

groups = st.sampled_from([WAIT, KIN, STRANGER])
progress = st.floats(0.02, 30)
any_checks = st.builds(
    lambda group, not_yet, ready, n: Check(*group, 1.0, not_yet, ready, n),
    groups,
    st.just(0.0) | progress,
    st.just(math.inf) | progress,
    st.integers(1, 3),
)
shops_checks = st.lists(any_checks, max_size=8)


def _slow(group, factor, many=20):
    return Check(*group, 100, 95 * factor, 105 * factor, many)


def test_without_checks_the_assumption_stands():
    """With no evidence the factor is 1 and its range, and the wait's, is the assumed x/1.47."""
    learnt = learn([], WAIT)
    assert learnt.factor == pytest.approx(1, abs=1e-6)
    assert (learnt.low, learnt.high) == pytest.approx((1 / SLOW_END, SLOW_END), rel=2e-3)
    assert (learnt.earliest, learnt.latest) == pytest.approx((1 / SLOW_END, SLOW_END), rel=2e-3)
    assert (learnt.checks, learnt.others) == (0, 0)


def test_a_wait_that_nobody_looked_at_tells_nothing():
    """A check with neither 'not yet' nor 'ready' is no evidence and is not counted."""
    assert learn([Check(*WAIT, 100)], WAIT) == learn([], WAIT)


@settings(max_examples=30, deadline=None)
@given(shops_checks)
def test_the_ranges_are_always_in_order(checks):
    """Low <= factor <= high and earliest <= likely <= latest, finite, whatever was entered."""
    for group in (WAIT, STRANGER):
        learnt = learn(checks, group)
        assert 0 < learnt.low <= learnt.factor <= learnt.high < math.inf
        assert 0 < learnt.earliest <= learnt.likely <= learnt.latest < math.inf


@settings(max_examples=25, deadline=None)
@given(shops_checks, st.randoms())
def test_order_does_not_matter(checks, chance):
    """The same checks in any order give the same answer to the last digit."""
    shuffled = list(checks)
    chance.shuffle(shuffled)
    assert learn(shuffled, WAIT) == learn(checks, WAIT)


@settings(max_examples=25, deadline=None)
@given(shops_checks)
def test_n_is_so_many_checks(checks):
    """One check with n of 3 says the same as three checks."""
    singles = [
        Check(*c.group, c.book_s, c.not_yet_s, c.ready_s) for c in checks for _ in range(c.n)
    ]
    assert learn(singles, WAIT) == learn(checks, WAIT)


@settings(max_examples=50, deadline=None)
@given(shops_checks, groups, progress)
def test_another_not_yet_never_lowers_the_factor(checks, group, not_yet):
    """One more wait that was 'not yet', of this wait or of its kin, never shortens the answer."""
    before = learn(checks, WAIT).factor
    assert learn([*checks, Check(*group, 1.0, not_yet)], WAIT).factor >= before * (1 - 1e-9)


@settings(max_examples=50, deadline=None)
@given(shops_checks, groups, progress)
def test_another_ready_never_raises_the_factor(checks, group, ready):
    """One more wait that was ready at the first look never lengthens the answer."""
    before = learn(checks, WAIT).factor
    assert learn([*checks, Check(*group, 1.0, 0, ready)], WAIT).factor <= before * (1 + 1e-9)


@pytest.mark.parametrize("book_s", [60.0, 7200.0, 3e6])
def test_only_times_the_book_matters(book_s):
    """The same shares of a short and of a long wait teach the same."""
    checks = [Check(*WAIT, book_s, share * book_s, 1.25 * share * book_s) for share in (0.9, 1.3)]
    alike = [Check(*WAIT, 1.0, share, 1.25 * share) for share in (0.9, 1.3)]
    assert learn(checks, WAIT).factor == pytest.approx(learn(alike, WAIT).factor, rel=1e-9)


def test_contradictions_are_borne():
    """'Not yet' after 'ready' counts as a need between the two, and stops nothing."""
    contradictory = learn([Check(*WAIT, 100, 130, 100)] * 5, WAIT)
    assert contradictory == learn([Check(*WAIT, 100, 100, 130)] * 5, WAIT)
    assert 1 < contradictory.factor < 1.3
    same = learn([Check(*WAIT, 100, 120, 120)] * 5, WAIT)
    assert 1 < same.factor < 1.25


@pytest.mark.parametrize("far", [1e-300, 1e300])
def test_figures_beyond_all_bounds_are_borne(far):
    """A book of a moment or an age gives an answer in order, not an overflow."""
    learnt = learn([Check(*WAIT, far, 1 / far, 2 / far)] * 3, WAIT)
    assert learnt.earliest <= learnt.likely <= learnt.latest


def test_a_book_that_is_plain_wrong_is_seen_through():
    """Thirty waits of six times the book are no slips of the pen: the factor follows them."""
    assert learn([_slow(WAIT, 6, 30)], WAIT).factor == pytest.approx(6, rel=0.1)


def test_near_kin_say_more_than_far_ones():
    """A slow wait moves the same product's other wait more than another product's, itself most."""
    checks = [_slow(WAIT, 1.6)]
    own, kin, stranger = (learn(checks, group).factor for group in (WAIT, KIN, STRANGER))
    assert 1.05 < stranger < kin < own < 1.65


def test_own_checks_outweigh_kin():
    """Thirty checks of its own speak for a wait against three hundred of others."""
    kin = [_slow(KIN, 0.7, 150), _slow(STRANGER, 0.7, 150)]
    assert learn([*kin, _slow(WAIT, 1.4, 30)], WAIT).factor == pytest.approx(1.4, rel=0.07)


def test_the_pooling_is_that_of_the_model():
    """Factor and next wait agree within 4 % with the model worked out by drawing at random.

    The draws weigh 20 000 whole shops (one factor for the shop, one for each product, one for each
    wait) by the chance of the checks: importance sampling, which has no tree and no grid.
    """
    checks = [
        Check(*WAIT, 1.0, 1.1, 1.4),
        Check(*KIN, 1.0, 1.2, 1.5),
        Check(*KIN, 1.0, 0.0, 1.3),
        Check(*STRANGER, 1.0, 1.0, 1.6),
        Check(*STRANGER, 1.0, 1.3),
    ]
    drawn = list(_draws(checks, 20_000))
    learnt = learn(checks, WAIT)
    factors = [(theta, weight) for theta, _, weight in drawn]
    needs = [(need, weight) for _, need, weight in drawn]
    for mine, pairs, share in (
        (learnt.low, factors, 0.1),
        (learnt.factor, factors, 0.5),
        (learnt.high, factors, 0.9),
        (learnt.earliest, needs, 0.1),
        (learnt.latest, needs, 0.9),
    ):
        assert mine == pytest.approx(math.exp(_weighted_quantile(pairs, share)), rel=0.04)


def _draws(checks, many):
    """Give a wait's log factor, a next need of it as a log, and the weight of a drawn shop."""
    rng, prior, normal = random.Random(3), Prior(), NormalDist()  # noqa: S311
    level = math.log(prior.factor_spread) / math.sqrt(3)

    def chance(check, theta, sigma):
        def below(x):
            z = math.log(x) - theta if x else -math.inf
            return 0.95 * normal.cdf(z / sigma) + 0.05 * normal.cdf(z / math.log(4))

        return (1 if math.isinf(check.ready_s) else below(check.ready_s)) - below(check.not_yet_s)

    for _ in range(many):
        shop = rng.gauss(0, level)
        products = {"varnish": rng.gauss(0, level), "shellac": rng.gauss(0, level)}
        thetas = {
            g: shop + products[g.product] + rng.gauss(0, level) for g in (WAIT, KIN, STRANGER)
        }
        sigmas = {
            g: math.log(prior.wait_spread) * math.exp(rng.gauss(0, math.log(prior.sigma_spread)))
            for g in thetas
        }
        weight = math.prod(chance(c, thetas[c.group], sigmas[c.group]) for c in checks)
        yield thetas[WAIT], rng.gauss(thetas[WAIT], sigmas[WAIT]), weight


def _weighted_quantile(pairs, share):
    ordered = sorted(pairs)
    upto = list(itertools.accumulate(weight for _, weight in ordered))
    return ordered[bisect.bisect_left(upto, share * upto[-1])][0]


def test_a_factor_set_by_hand_holds():
    """An overruled factor is taken as it is; the range about it keeps its shape."""
    checks = [_slow(WAIT, 1.5, 9)]
    learnt, ruled = learn(checks, WAIT), learn(checks, WAIT, overrule=1.2)
    assert (ruled.factor, ruled.low, ruled.high) == (1.2, 1.2, 1.2)
    assert ruled.latest / ruled.likely == pytest.approx(learnt.latest / learnt.likely)
    assert ruled.words == "here it takes 1.2 times the book, as you have set it"
    assert ruled.reason.source == "set by hand"


@pytest.mark.parametrize("factor", [0.0, -1.0, math.inf, math.nan])
def test_an_impossible_factor_is_refused(factor):
    """A factor by hand must be a figure that a wait can be multiplied by."""
    with pytest.raises(ValueError, match=r"above 0 and finite, such as 1\.3"):
        learn([], WAIT, overrule=factor)


def test_a_mechanism_brings_its_own_prior():
    """A reaction's next wait is foreseen more closely than a thick oil's, from the same checks."""
    checks = [Check(*WAIT, 100, 90, 115, 4)]
    oil, reaction = (
        learn(checks, WAIT, priors={"varnish": PRIORS[mechanism]})
        for mechanism in (Mechanism.OXIDISING, Mechanism.TWO_PART)
    )
    assert set(PRIORS) == set(Mechanism)
    assert reaction.latest / reaction.earliest < oil.latest / oil.earliest


@pytest.mark.parametrize(
    ("checks", "words"),
    [
        ([], "no check yet: as long as the book says"),
        ([_slow(WAIT, 1.33, 9)], "here it takes 1.3 times the book, from 9 checks"),
        ([Check(*WAIT, 100, 90, 112)], "here it takes as long as the book says, from 1 check"),
        (
            [_slow(KIN, 1.4, 9)],
            "no check of this wait yet; 9 checks of other waits here suggest 1.2 times the book",
        ),
    ],
)
def test_the_finding_is_told_in_words(checks, words):
    """A person reads the factor and how much it rests on."""
    assert learn(checks, WAIT).words == words


def test_the_reason_tells_what_was_counted():
    """Why: the rule, the number of checks, the ranges, and that the priors are assumed."""
    reason = learn([_slow(WAIT, 1.3, 2), _slow(KIN, 1.3, 3)], WAIT).reason
    assert reason.inputs[0] == "2 checks of this wait, 3 of others"
    assert "our assumption" in reason.source


def test_impossible_checks_are_refused_with_every_fault():
    """All figures of a check that cannot be are told at once, with what would be right."""
    with pytest.raises(ValueError, match="book_s") as refused:
        Check(*WAIT, 0.0, -1.0, math.nan, 0, datetime(2026, 1, 1))  # noqa: DTZ001
    assert [part.split(" is ")[0] for part in str(refused.value).split("; ")] == [
        "book_s",
        "not_yet_s",
        "ready_s",
        "n",
        "at",
    ]


def test_an_impossible_prior_is_refused():
    """A spread of 1 would be certainty, which no check could move."""
    with pytest.raises(ValueError, match="above 1, such as"):
        Prior(factor_spread=1.0)


def test_rounding_to_marks_claims_no_more_than_was_seen():
    """The marks about a need are never inside the interval that was looked at."""
    for not_yet, ready in ((0.873, 1.091), (1.0, 1.0), (0.5, 0.501)):
        below, above = grid.look_between(not_yet, ready)
        assert math.exp(grid.MARK * below) <= not_yet + 1e-12
        assert math.exp(grid.MARK * above) >= ready - 1e-12
        assert above > below
