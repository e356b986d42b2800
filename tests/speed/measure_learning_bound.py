"""How narrow an honest range can be under the truths of ``measure_learning.py``: a table.

    .venv/bin/python tests/speed/measure_learning_bound.py [SHOPS] [SEEDS]

A Bayes range knows the law of its truth, all figures of that law, and how far one wait strays from
the next in this very shop. It does not know the shop's own factor, nor what the weather or the
tin is; as the program does, it looks when it told to, and sees between which two looks a need lay.
Nobody can hold as many waits by narrower ranges but by luck. Held and width are counted as in
``measure_learning.py``; the last column is the narrowest range that holds 74 of a hundred.
Particles (20 000 a shop), numpy; nothing here is ever asserted.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "drying"))

from learning_shops import BETWEEN_SHOPS, BOOK_S, SHOPS, TENTHS

Figures = np.ndarray
PARTICLES = 20_000
MARKS = {3: range(2, 5), 10: range(8, 13), 30: range(28, 33)}
GRID = np.linspace(-2.5, 2.5, 1001)
"""Logs of need over book, and of a factor; between any two of them lies no more than ``FAR``."""
FAR = np.linspace(-5.0, 5.0, 2001)


@dataclass
class Guess:
    """What a shop may be: a great many factors, and beside each what else nobody sees."""

    rng: np.random.Generator
    factor: Figures
    hidden: tuple[Figures, ...] = ()

    def kept(self, chosen: Figures) -> None:
        """Go on with the chosen particles only."""
        self.factor = self.factor[chosen]
        self.hidden = tuple(each[chosen] for each in self.hidden)


Law = Callable[[Guess, int], Figures]
"""Moves what is hidden on to a wait, and returns the log need of each guess but for straying."""


def own_law(guess: Guess, _: int) -> Figures:
    """Return the factor itself."""
    return guess.factor


def tins(guess: Guess, number: int) -> Figures:
    """Open a new tin every five coats."""
    if number % 5 == 0:
        guess.hidden = (np.log(guess.rng.choice((0.75, 1.35), guess.factor.size)),)
    return guess.factor + guess.hidden[0]


def other_air(guess: Guess, number: int) -> Figures:
    """Let warmth and damp go on by seven tenths, as ``learning_shops`` has them."""
    draws = [guess.rng.normal(0, spread, guess.factor.size) for spread in (3.0, 12.0)]
    if number == 0:
        start = [guess.rng.normal(0, spread, guess.factor.size) for spread in (3.0, 12.0)]
        guess.hidden = tuple(start)
    warmth, damp = (
        0.7 * was + math.sqrt(0.51) * new for was, new in zip(guess.hidden, draws, strict=True)
    )
    guess.hidden = (warmth, damp)
    return guess.factor - 0.04 * warmth + 0.012 * np.maximum(0.0, damp - 5)


def no_air(guess: Guess, number: int) -> Figures:
    """Let warmth go on, which the correction for it makes a fault."""
    new = guess.rng.normal(0, 3.0, guess.factor.size)
    was = guess.hidden[0] if number else guess.rng.normal(0, 3.0, guess.factor.size)
    guess.hidden = (0.7 * was + math.sqrt(0.51) * new,)
    return guess.factor + 0.03 * guess.hidden[0]


def one_in_eight(guess: Guess, _: int) -> Figures:
    """Make one wait in eight 1.9 times as long."""
    return guess.factor + math.log(1.9) * (guess.rng.random(guess.factor.size) < 1 / 8)


LAWS: dict[str, Law] = {
    "our own law": own_law,
    "noisy, x1.49": own_law,
    "another law of the air": other_air,
    "air has no effect": no_air,
    "one wait in eight x1.9": one_in_eight,
    "a new tin every five coats": tins,
}


def main() -> None:
    """Measure and print."""
    shops = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    seeds = range(1, 1 + (int(sys.argv[2]) if len(sys.argv) > 2 else 2))
    print(f"{'shops':28}{'held after 3 / 10 / 30':26}{'width':22}width for 74")
    for name, law in LAWS.items():
        told = [
            one for seed in seeds for at in range(shops) for one in _follow(name, law, seed, at)
        ]
        held, width, least = ([] for _ in range(3))
        for mark in MARKS:
            mine = [one for one in told if one.mark == mark]
            oracle = sum(one.oracle for one in mine)
            held.append(f"{100 * sum(one.held for one in mine) / len(mine):.0f}")
            width.append(f"{sum(one.width for one in mine) / oracle:.2f}")
            least.append(f"{sum(one.least for one in mine) / oracle:.2f}")
        print(
            f"{name:28}{' / '.join(held):26}{' / '.join(width):22}{' / '.join(least)}", flush=True
        )


@dataclass(frozen=True)
class Told:
    """One next wait: whether its range held it, and the widths, as logs."""

    mark: int
    held: bool
    width: float
    least: float
    oracle: float


def _follow(name: str, law: Law, seed: int, at: int) -> Iterator[Told]:
    shop = SHOPS[name](random.Random(1000 * seed + at))  # noqa: S311 - made-up shops
    rng = np.random.default_rng(1000 * seed + at)
    guess = Guess(rng, rng.normal(0, BETWEEN_SHOPS, PARTICLES))
    weights = np.full(PARTICLES, 1 / PARTICLES)
    for number in range(1 + max(max(waits) for waits in MARKS.values())):
        means = law(guess, number)
        below = _spread_out(means, weights, shop.spread)
        low, likely, high = (float(np.interp(share, below, GRID)) for share in (0.1, 0.5, 0.9))
        need = shop.need(number)
        for mark, waits in MARKS.items():
            if number in waits:
                width, oracle = high - low, TENTHS * shop.spread
                yield Told(mark, low <= need <= high, width, _narrowest(below, 0.74), oracle)
        seen = shop.check(number, need, math.exp(likely))
        above = math.log(seen.not_yet_s / BOOK_S) if seen.not_yet_s else -math.inf
        upto = math.log(seen.ready_s / BOOK_S)
        weights = weights * (
            _below((upto - means) / shop.spread) - _below((above - means) / shop.spread)
        )
        weights = weights / weights.sum()
        if 1 / np.square(weights).sum() < PARTICLES / 3:
            guess.kept(rng.choice(PARTICLES, PARTICLES, p=weights))
            weights = np.full(PARTICLES, 1 / PARTICLES)


def _spread_out(means: Figures, weights: Figures, spread: float) -> Figures:
    """Return the chance of a need below each figure of the grid."""
    step = GRID[1] - GRID[0]
    counts, _ = np.histogram(
        means, bins=np.append(GRID - step / 2, GRID[-1] + step / 2), weights=weights
    )
    return np.convolve(counts, _below(FAR / spread))[1000:2001]


def _narrowest(below: Figures, share: float) -> float:
    """Return the width of the narrowest stretch of the grid that holds a share of the chances."""
    starts = GRID[below < 1 - share]
    ends = np.interp(below[below < 1 - share] + share, below, GRID)
    return float(np.min(ends - starts))


def _below(z: Figures) -> Figures:
    """Return the chance of a standard normal figure below each; good to 1e-7."""
    # Abramowitz and Stegun, Handbook of Mathematical Functions, NBS 1964, 7.1.26.
    x = np.abs(z) / math.sqrt(2)
    t = 1 / (1 + 0.3275911 * x)
    poly = t * (
        0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))
    )
    tail = 0.5 * poly * np.exp(-np.square(x))
    return np.where(z > 0, 1 - tail, tail)


if __name__ == "__main__":
    main()
