"""Simulated shops whose true needs are known: our own law, and many that are not.

A shop gives the log of need over book of its waits in order, and when each is looked at. Its maker
is obedient: looks when told, and after 'not yet' again a quarter of the time later (common
practice, no source). All figures are our assumption.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TypeAlias

from finishsched.drying.dry_checks import Check, Group, WaitKind
from finishsched.drying.learning import Learnt, learn

BOOK_S = 7200.0
WAIT = Group("varnish", WaitKind.AFTER)
BEGIN = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)
BETWEEN_SHOPS = math.log(1.35)
QUARTER = math.log(1.25)
TENTHS = 2 * 1.28155
"""Standard deviations between a normal spread's outer tenths (any normal table)."""

Logs: TypeAlias = Callable[[int], float]


@dataclass
class Shop:
    """One shop: what its waits need, how they are looked at, and what it is called after."""

    need: Logs
    """The log of need over book of a wait, by its number; asked once for each, in order."""
    spread: float
    """How far one wait strays from the next as a log: all that an oracle does not know."""
    days: Callable[[int], float] = float
    """When a wait is looked at, in days."""
    looks_at: float = 1.0
    """Times the time that was told."""
    always_ready: bool = False
    """True where the thumb never says 'not yet'."""
    thumb: float = 0.0
    """The log by which the thumb is too early (below 0) or too late."""

    def at(self, number: int) -> datetime:
        """Return when a wait is over."""
        return BEGIN + timedelta(days=self.days(number))

    def check(self, number: int, need: float, told: float) -> Check:
        """Return what an obedient maker sees of a wait that needs ``need`` when told ``told``."""
        look, not_yet_s = math.log(told * self.looks_at), 0.0
        while not self.always_ready and look < need + self.thumb:
            not_yet_s, look = BOOK_S * math.exp(look), look + QUARTER
        return Check(*WAIT, BOOK_S, not_yet_s, BOOK_S * math.exp(look), at=self.at(number))


def own_law(rng: random.Random, factor: float = 0.0, spread: float = 0.0) -> Shop:
    """Return a shop such as the learning takes them to be."""
    middle = math.log(factor) if factor else rng.gauss(0, BETWEEN_SHOPS)
    strays = spread or rng.uniform(math.log(1.2), math.log(1.35))
    return Shop(lambda _: middle + rng.gauss(0, strays), strays)


def noisy(rng: random.Random) -> Shop:
    """Return a shop in which one wait is half again as long as the next."""
    return own_law(rng, spread=math.log(1.49))


def quick(rng: random.Random) -> Shop:
    """Return a shop in which everything takes less than half the book's time."""
    return own_law(rng, factor=0.45)


def slow(rng: random.Random) -> Shop:
    """Return a shop in which everything takes 1.6 times the book's time."""
    return own_law(rng, factor=1.6)


def other_air(rng: random.Random) -> Shop:
    """Return a shop where warmth counts more than by the law, and damp air above 55 % brakes."""
    warmth_k, damp = _weather(rng, 3.0), _weather(rng, 12.0)
    return _with(own_law(rng), lambda _: -0.04 * warmth_k() + 0.012 * max(0.0, 50 + damp() - 55))


def no_air(rng: random.Random) -> Shop:
    """Return a shop where the air has no effect, so that correcting for it does harm."""
    warmth_k = _weather(rng, 3.0)
    return _with(own_law(rng), lambda _: 0.03 * warmth_k())


def biased_thumb(rng: random.Random) -> Shop:
    """Return a noisy shop with a thumb that says ready about a tenth too early."""
    shop = noisy(rng)
    shop.thumb = rng.gauss(-0.1, 0.1)
    return shop


def winter(rng: random.Random) -> Shop:
    """Return a shop that slows by 1.6 over thirty coats, whose waits go together."""
    shop = own_law(rng)
    middle, strays = rng.gauss(0, BETWEEN_SHOPS), _weather(rng, shop.spread, share=0.5)
    shop.need = lambda number: middle + math.log(1.6) * number / 30 + strays()
    shop.days = lambda number: 3.0 * number
    return shop


def one_in_eight(rng: random.Random) -> Shop:
    """Return a shop where one wait in eight takes 1.9 times as long."""
    return _with(own_law(rng), lambda _: math.log(1.9) * (rng.random() < 1 / 8))


def tins(rng: random.Random) -> Shop:
    """Return a shop with a new tin every five coats, that is quick or slow."""
    kinds = [math.log(rng.choice((0.75, 1.35))) for _ in range(10)]
    return _with(own_law(rng), lambda number: kinds[number // 5])


def never_not_yet(rng: random.Random) -> Shop:
    """Return a shop with a thumb that says ready whenever it is asked."""
    shop = own_law(rng)
    shop.always_ready = True
    return shop


def late_looks(rng: random.Random) -> Shop:
    """Return a shop where nobody looks before half again the time that was told."""
    shop = own_law(rng)
    shop.looks_at = 1.5
    return shop


def evenings(rng: random.Random, coats: int = 4) -> Shop:
    """Return a shop with so many coats every second evening, which share what is unknown."""
    middle = rng.gauss(0, BETWEEN_SHOPS)
    shared = [rng.gauss(0, 0.2) for _ in range(40)]
    return Shop(
        lambda number: middle + shared[number // coats] + rng.gauss(0, 0.13),
        math.hypot(0.2, 0.13),
        lambda number: 2.0 * (number // coats) + (number % coats) / 24,
    )


def long_evenings(rng: random.Random) -> Shop:
    """Return a shop with ten coats of an evening that share most of what is unknown."""
    return evenings(rng, 10)


SHOPS: dict[str, Callable[[random.Random], Shop]] = {
    "our own law": own_law,
    "noisy, x1.49": noisy,
    "another law of the air": other_air,
    "air has no effect": no_air,
    "noisy, biased thumb": biased_thumb,
    "slows by 1.6 in a winter": winter,
    "one wait in eight x1.9": one_in_eight,
    "quick, 0.45": quick,
    "slow, 1.6": slow,
    "a new tin every five coats": tins,
    "never says 'not yet'": never_not_yet,
    "looks half again too late": late_looks,
    "four coats an evening": evenings,
    "ten coats an evening": long_evenings,
}


@dataclass
class Score:
    """How often ranges held, and how wide they were beside an oracle's."""

    asked: int = 0
    held: int = 0
    width: float = 0.0
    oracle: float = 0.0

    def add(self, learnt: Learnt, need: float, spread: float) -> None:
        """Take in one next wait."""
        low, high = math.log(learnt.earliest), math.log(learnt.latest)
        self.asked += 1
        self.held += low <= need <= high
        self.width += high - low
        self.oracle += TENTHS * spread

    @property
    def coverage(self) -> float:
        """How many of a hundred next waits fell into their range."""
        return 100 * self.held / self.asked

    @property
    def times_oracle(self) -> float:
        """How many times as wide as that of somebody who knows all but the straying."""
        return self.width / self.oracle


def scores(
    kind: Callable[[random.Random], Shop],
    marks: dict[int, range],
    shops: int,
    seed: int = 1,
) -> dict[int, Score]:
    """Return the scores of so many shops, each mark's over the waits of its range."""
    found = {mark: Score() for mark in marks}
    last = max(max(waits) for waits in marks.values())
    for number in range(shops):
        _follow(kind(random.Random(1000 * seed + number)), marks, last, found)  # noqa: S311
    return found


def _follow(shop: Shop, marks: dict[int, range], last: int, found: dict[int, Score]) -> None:
    checks: list[Check] = []
    for number in range(last + 1):
        learnt = learn(checks, WAIT, at=shop.at(number))
        need = shop.need(number)
        for mark, waits in marks.items():
            if number in waits:
                found[mark].add(learnt, need, shop.spread)
        checks.append(shop.check(number, need, learnt.likely))


def _weather(rng: random.Random, spread: float, share: float = 0.7) -> Callable[[], float]:
    """Return what gives a figure that strays so far, and keeps a share from time to time."""
    now = [rng.gauss(0, spread)]

    def following() -> float:
        now[0] = share * now[0] + math.sqrt(1 - share**2) * rng.gauss(0, spread)
        return now[0]

    return following


def _with(shop: Shop, more: Logs) -> Shop:
    """Return a shop whose needs have something added."""
    before = shop.need
    shop.need = lambda number: before(number) + more(number)
    return shop
