"""Laws of learning from dry checks, and the pooling against an independent computation."""

import bisect
import itertools
import math
import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.drying.dry_checks import Check, Group, WaitKind
from finishsched.drying.learning import PRIORS, Prior, learn
from finishsched.drying.learning_bank import SIGMAS, WILD_SHARE, WILD_SIGMA
from finishsched.drying.learning_kin import KIND_SHARE, PRODUCT_SHARE, SHOP_SHARE
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


def test_without_checks_the_range_holds_the_spread_within_a_shop_too():
    """With no evidence the factor is 1; the next wait's range is wider than the factor's."""
    learnt = learn([], WAIT)
    assert learnt.factor == pytest.approx(1, abs=1e-6)
    assert (learnt.low, learnt.high) == pytest.approx((1 / 1.47, 1.47), rel=2e-3)
    assert learnt.latest == pytest.approx(1.7, rel=0.03)
    assert learnt.earliest == pytest.approx(1 / 1.7, rel=0.03)
    assert (learnt.checks, learnt.others, learnt.of_late) == (0, 0, 0)


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
def test_the_order_of_writing_does_not_matter(checks, chance):
    """Dated checks in any order give the same answer to the last digit: time alone orders them."""
    dated = [replace(c, at=DAY + timedelta(hours=5 * i)) for i, c in enumerate(checks)]
    shuffled = list(dated)
    chance.shuffle(shuffled)
    assert learn(shuffled, WAIT) == learn(dated, WAIT)


@settings(max_examples=25, deadline=None)
@given(shops_checks)
def test_n_is_so_many_checks(checks):
    """One check with n of 3 says the same as three checks."""
    singles = [
        Check(*c.group, c.book_s, c.not_yet_s, c.ready_s) for c in checks for _ in range(c.n)
    ]
    assert learn(singles, WAIT) == learn(checks, WAIT)


@settings(max_examples=50, deadline=None)
@given(st.floats(0.3, 3), st.floats(1.05, 1.5), st.integers(0, 8))
def test_not_yet_lengthens_and_ready_never_does(middle, times, many):
    """Beside steady checks, a look that was 'not yet' late lengthens; an early 'ready' shortens."""
    steady = [Check(*WAIT, 1.0, middle / 1.15, middle * 1.15)] * many
    before = learn(steady, WAIT).factor
    assert learn([*steady, Check(*WAIT, 1.0, before * times)], WAIT).factor > before
    assert learn([*steady, Check(*WAIT, 1.0, 0, before / times)], WAIT).factor <= before


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
    """Thirty waits of six times the book are no slips of the pen: the range follows them."""
    learnt = learn([_slow(WAIT, 6, 30)], WAIT)
    assert learnt.factor > 4.5
    assert learnt.earliest < 6 < learnt.latest


def test_near_kin_say_more_than_far_ones():
    """A slow wait moves the same product's other wait more than another product's, itself most."""
    checks = [_slow(WAIT, 1.6)]
    own, kin, stranger = (learn(checks, group).factor for group in (WAIT, KIN, STRANGER))
    assert 1.02 < stranger < kin < own < 1.65


def test_own_checks_outweigh_kin():
    """Thirty checks of its own speak for a wait against three hundred of others."""
    kin = [_slow(KIN, 0.7, 150), _slow(STRANGER, 0.7, 150)]
    assert learn([*kin, _slow(WAIT, 1.4, 30)], WAIT).factor == pytest.approx(1.4, rel=0.07)


def test_the_pooling_is_that_of_the_model():
    """Factor and next wait agree within 6 % with the model worked out by drawing at random.

    The draws weigh 8 000 whole shops (one factor for the shop, one for each product, one for each
    wait) by the chance of the checks: importance sampling, which has no tree, no filter, and no
    fading. The checks hold a 'not yet' each, so that no rule of one-sided evidence steps in.
    """
    checks = [
        Check(*WAIT, 1.0, 1.1, 1.4),
        Check(*KIN, 1.0, 1.2, 1.5),
        Check(*STRANGER, 1.0, 1.0, 1.6),
        Check(*STRANGER, 1.0, 1.3),
    ]
    drawn = list(_draws(checks, 8_000))
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
        assert mine == pytest.approx(math.exp(_weighted_quantile(pairs, share)), rel=0.06)


def _draws(checks, many):
    """Give a wait's log factor, a next need of it as a log, and the weight of a drawn shop."""
    rng, prior, normal = random.Random(3), Prior(), NormalDist()  # noqa: S311
    whole = math.log(prior.factor_spread)
    shares = (SHOP_SHARE, PRODUCT_SHARE, KIND_SHARE)
    of_shop, of_product, of_kind = (math.sqrt(share) * whole for share in shares)
    doubt = math.log(prior.sigma_spread)
    bumps = [-0.5 * (math.log(s / math.log(prior.wait_spread)) / doubt) ** 2 for s in SIGMAS]

    def chance(check, theta, sigma):
        def below(x):
            z = math.log(x) - theta if x else -math.inf
            return (1 - WILD_SHARE) * normal.cdf(z / sigma) + WILD_SHARE * normal.cdf(
                z / WILD_SIGMA
            )

        return (1 if math.isinf(check.ready_s) else below(check.ready_s)) - below(check.not_yet_s)

    for _ in range(many):
        shop = rng.gauss(0, of_shop)
        products = {"varnish": rng.gauss(0, of_product), "shellac": rng.gauss(0, of_product)}
        thetas = {
            g: shop + products[g.product] + rng.gauss(0, of_kind) for g in (WAIT, KIN, STRANGER)
        }
        sigmas = dict(
            zip(thetas, rng.choices(SIGMAS, [math.exp(b) for b in bumps], k=3), strict=True)
        )
        weight = math.prod(chance(c, thetas[c.group], sigmas[c.group]) for c in checks)
        need = rng.gauss(thetas[WAIT], WILD_SIGMA if rng.random() < WILD_SHARE else sigmas[WAIT])
        yield thetas[WAIT], need, weight


def _weighted_quantile(pairs, share):
    ordered = sorted(pairs)
    upto = list(itertools.accumulate(weight for _, weight in ordered))
    return ordered[bisect.bisect_left(upto, share * upto[-1])][0]


def _at_the_bell(many, between_h=2.0):
    """Return waits that were looked at just when told, and were always ready."""
    checks = []
    for number in range(many):
        at = DAY + timedelta(hours=between_h * number)
        told = learn(checks, WAIT, at=at).likely
        checks.append(Check(*WAIT, 7200.0, 0.0, 7200.0 * told, at=at))
    return checks


def test_passes_at_the_bell_are_no_ratchet():
    """Twelve passes when told: three quarters of the book at least, its slow end, no kin."""
    checks = _at_the_bell(12)
    own, kin, before = learn(checks, WAIT), learn(checks, KIN), learn([], WAIT)
    assert own.likely == pytest.approx(0.75, abs=1e-9)
    assert own.latest >= before.latest
    assert kin.likely == pytest.approx(1, abs=1e-9)
    assert own.one_sided
    assert "look earlier once" in own.advice


def test_one_not_yet_in_six_lets_the_range_follow():
    """A 'not yet' beside passes ends the rule of one-sided evidence, and the advice with it."""
    passes = _at_the_bell(5)
    told = learn([*passes, Check(*WAIT, 7200.0, 2500, 3100, at=DAY + timedelta(days=1))], WAIT)
    assert not told.one_sided
    assert told.advice == ""
    assert told.likely < 0.75
    assert "1 held a 'not yet'" in told.evidence


@pytest.mark.parametrize("days_late", [1, 3, 7])
def test_late_looks_teach_next_to_nothing(days_late):
    """Two hours that were looked at days late leave the wait's likely time where it was."""
    late = [Check(*WAIT, 7200.0, 0.0, 86_400.0 * days_late)] * 9
    assert learn(late, WAIT).likely == pytest.approx(1, abs=0.06)


def test_what_was_learnt_fades_with_time():
    """A slow shop of last winter is half forgotten after half a year, and its range is wider."""
    checks = [replace(_slow(WAIT, 1.6, 1), at=DAY + timedelta(days=i)) for i in range(12)]
    soon = learn(checks, WAIT, at=DAY + timedelta(days=13))
    later = learn(checks, WAIT, at=DAY + timedelta(days=200))
    assert 1.1 < later.factor < soon.factor
    assert later.latest / later.earliest > soon.latest / soon.earliest


def test_the_coats_of_one_evening_are_not_so_many_witnesses():
    """Ten slow coats of one evening say less of next week than ten on ten days."""
    slow = _slow(WAIT, 1.6, 1)
    evening = [replace(slow, at=DAY + timedelta(hours=i / 2)) for i in range(10)]
    days = [replace(slow, at=DAY - timedelta(days=9 - i)) for i in range(10)]
    next_week = DAY + timedelta(days=7)
    tonight = learn(evening, WAIT, at=DAY + timedelta(hours=5.5))
    assert learn(evening, WAIT, at=next_week).factor < learn(days, WAIT, at=next_week).factor
    assert tonight.factor > learn(evening, WAIT, at=next_week).factor


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
            "no check of this wait yet; 9 checks of other waits here suggest 1.1 times the book",
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
