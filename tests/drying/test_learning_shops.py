"""Learning put to the test on simulated shops whose true factors are known.

The shops are drawn as the brief of the model has it: a shop's true factor lognormal about 1 with a
spread of x/1.35, its waits straying by x/1.2 to x/1.35. People look first near the likely time,
and after 'not yet' again a quarter of the time later (common practice, no source).
"""

import math
import random
import statistics

import pytest

from finishsched.drying.dry_checks import Check, Group, WaitKind
from finishsched.drying.learning import learn
from finishsched.workshop.stock.needs import job_need

BOOK_S = 7200.0
WAIT = Group("varnish", WaitKind.AFTER)
SHOPS = 2000


class Shop:
    """A shop whose factor and sigma are known."""

    def __init__(self, rng, factor=None):
        self.rng = rng
        self.factor = factor or math.exp(rng.gauss(0, math.log(1.35)))
        self.sigma = rng.uniform(math.log(1.2), math.log(1.35))

    def need(self):
        """Return the true need of the next wait, in times the book."""
        return self.factor * math.exp(self.rng.gauss(0, self.sigma))

    def check(self, group=WAIT):
        """Return a wait as people look at it."""
        need_s, look_s, not_yet_s = BOOK_S * self.need(), BOOK_S * self.rng.uniform(0.85, 1.1), 0.0
        while look_s < need_s:
            not_yet_s, look_s = look_s, 1.25 * look_s
        return Check(*group, BOOK_S, not_yet_s, look_s)

    def checks(self, many, group=WAIT):
        """Return so many waits."""
        return [self.check(group) for _ in range(many)]


def _shops(many, seed, factor=None):
    rng = random.Random(seed)  # noqa: S311
    return [Shop(rng, factor) for _ in range(many)]


@pytest.mark.parametrize("many", [3, 10, 30])
def test_the_range_of_the_next_wait_is_honest(many):
    """After 3, 10 and 30 checks the 80 % range holds 75 to 85 % of next true needs, 2000 shops."""
    held = 0
    for shop in _shops(SHOPS, seed=many):
        learnt = learn(shop.checks(many), WAIT)
        held += learnt.earliest <= job_need(shop) <= learnt.latest
    assert 0.75 <= held / SHOPS <= 0.85


@pytest.mark.parametrize("many", [1, 10])
def test_the_range_of_the_factor_is_honest(many):
    """After 1 and 10 checks the 80 % range of the factor holds the true one too, 300 shops."""
    held = 0
    for shop in _shops(300, seed=many):
        learnt = learn(shop.checks(many), WAIT)
        held += learnt.low <= shop.factor <= learnt.high
    assert 0.75 <= held / 300 <= 0.86


def test_a_slow_shop_is_found():
    """1.6 times the book is found within 15 % after 10 checks: the median of 300 and most shops."""
    found = [learn(shop.checks(10), WAIT).factor / 1.6 for shop in _shops(300, 5, factor=1.6)]
    assert statistics.median(found) == pytest.approx(1, abs=0.05)
    assert sum(abs(share - 1) < 0.15 for share in found) > 0.85 * len(found)


def test_a_quick_shop_is_found_when_people_look_early():
    """A factor of 0.6 shows, though most of the looks only say that it was ready by then."""
    shop = Shop(random.Random(8), factor=0.6)  # noqa: S311
    early = [
        Check(*WAIT, 100, 45 if need > 0.45 else 0, 60 if need <= 0.6 else 75)
        for need in (job_need(shop) for _ in range(20))
    ]
    assert learn(early, WAIT).factor == pytest.approx(0.6, rel=0.15)


@pytest.mark.parametrize(
    "wild",
    [
        Check(*WAIT, BOOK_S, 10 * BOOK_S, 12.5 * BOOK_S),
        Check(*WAIT, BOOK_S, 10 * BOOK_S),
        Check(*WAIT, BOOK_S, 0.08 * BOOK_S, 0.1 * BOOK_S),
    ],
)
def test_one_wild_entry_hardly_counts(wild):
    """One of ten checks that is tenfold out moves the factor by less than 20 %."""
    for shop in _shops(50, seed=6):
        checks = shop.checks(9)
        without, with_it = learn(checks, WAIT), learn([*checks, wild], WAIT)
        assert abs(with_it.factor / without.factor - 1) < 0.2
        assert with_it.latest < 1.5 * without.latest


def test_ranges_narrow_as_checks_come_in():
    """On average over 60 shops both ranges are narrower after 3, 10 and 30 checks than before."""
    many = (1, 3, 10, 30)
    factor_widths, wait_widths = dict.fromkeys(many, 0.0), dict.fromkeys(many, 0.0)
    for shop in _shops(60, seed=7):
        checks = shop.checks(30)
        for first in many:
            learnt = learn(checks[:first], WAIT)
            factor_widths[first] += math.log(learnt.high / learnt.low) / 60
            wait_widths[first] += math.log(learnt.latest / learnt.earliest) / 60
    assert list(factor_widths.values()) == sorted(factor_widths.values(), reverse=True)
    assert list(wait_widths.values()) == sorted(wait_widths.values(), reverse=True)
    assert factor_widths[30] < 0.3 * 2 * math.log(1.47)


def test_steady_and_unsteady_waits_are_told_apart():
    """Sigma follows what the waits do: 60 waits that stray by x/1.15 or by x/1.5."""
    found = []
    for spread in (1.15, 1.5):
        shop = Shop(random.Random(9), factor=1.2)  # noqa: S311
        shop.sigma = math.log(spread)
        found.append(learn(shop.checks(60), WAIT).sigma)
    assert found == [
        pytest.approx(math.log(1.15), rel=0.3),
        pytest.approx(math.log(1.5), rel=0.3),
    ]


def test_kin_help_a_wait_with_few_checks():
    """With a slow shop's other waits known, a wait's first checks err less, on average of 60."""
    alone, helped = 0.0, 0.0
    other, kin = Group("shellac", WaitKind.BETWEEN), Group("varnish", WaitKind.FIRST)
    rng = random.Random(10)  # noqa: S311
    third = math.log(1.35) / math.sqrt(3)
    for _ in range(60):
        shop, product = rng.gauss(0, third), rng.gauss(0, third)
        own = Shop(rng, math.exp(shop + product + rng.gauss(0, third)))
        near = Shop(rng, math.exp(shop + product + rng.gauss(0, third)))
        far = Shop(rng, math.exp(shop + rng.gauss(0, third) + rng.gauss(0, third)))
        few, many = own.checks(2), [*near.checks(15, kin), *far.checks(15, other)]
        alone += abs(math.log(learn(few, WAIT).factor / own.factor))
        helped += abs(math.log(learn([*few, *many], WAIT).factor / own.factor))
    assert helped < 0.95 * alone
