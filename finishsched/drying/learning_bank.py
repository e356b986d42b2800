"""The arithmetic under learning: a bank of filters that follow a log factor through dry checks.

A filter holds the log of need over book as a normal distribution, beside what an evening has in
common. Each check cuts a piece out of that distribution ('not yet' at a, ready at b), and what is
left is taken as normal again by its exact mean and variance. The filters of a bank differ in how
far one wait strays from the next, in how quickly what was learnt fades, and in how much of the
straying the waits of one evening share; each is weighed by how well it foretold every check.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

SIGMAS = (0.08, 0.20, 0.46)
"""How far one wait strays from the next, as a log: x/1.08 to x/1.6. Three so far apart held more
waits of unsteady shops than four or seven nearer ones, and were no wider for steady ones."""
KEPT_SHARES = ((0.985, 0.5), (0.93, 0.3), (0.75, 0.2))
"""What an age leaves of what was learnt, each with its share before any check (assumed). The last
follows what changes from tin to tin."""
EVENING_SHARES = (0.0, 0.5)
"""How much of the straying, as variance, the waits of one evening share (assumed)."""
WILD_SHARE = 0.03
WILD_SIGMA = 0.8
"""Three entries in a hundred are wild: mistyped, forgotten, or of a coat unlike the others
(assumed)."""
ODD_SHARE = WILD_SHARE / 2
"""So many waits are really unlike the others; the rest of what is wild is in the entries only."""

LEAST = 1e-300
TURNS = 40
ROOT_2 = math.sqrt(2)
ROOT_2_PI = math.sqrt(2 * math.pi)


class Bell(NamedTuple):
    """A normal distribution of a log factor."""

    mean: float
    variance: float


class Look(NamedTuple):
    """What was seen of one wait, as logs of progress over the book."""

    above: float
    """Not yet at this; minus infinity where the first look found it ready."""
    upto: float
    """Ready at this; infinite while it was not."""
    age: float = 1.0
    """How many ages what was learnt before has faded by."""
    new_evening: bool = True


class _Filter:
    """One guess about straying and fading, and where it has the factor."""

    __slots__ = (
        "both", "evening", "evening_v", "kept", "log_weight", "mean", "own_v", "shared_v", "var",
    )  # fmt: skip

    def __init__(
        self, prior: Bell, sigma: float, kept: float, shared: float, weight: float
    ) -> None:
        self.mean, self.var = prior.mean, prior.variance
        self.kept = kept
        self.shared_v, self.own_v = shared * sigma * sigma, (1 - shared) * sigma * sigma
        self.evening, self.evening_v, self.both = 0.0, self.shared_v, 0.0
        self.log_weight = math.log(weight)

    def fade(self, prior: Bell, age: float, *, new_evening: bool) -> None:
        """Let what was learnt fade towards what was taken to be so before any check."""
        kept: float = self.kept**age
        self.mean, self.var = _faded(self.mean, self.var, prior, kept)
        if new_evening:
            self.evening, self.evening_v, self.both = 0.0, self.shared_v, 0.0
        else:
            self.both *= kept

    def see(self, look: Look) -> None:
        """Cut the distribution by one look; a wild entry may have been seen instead."""
        tame_v = self.var + self.evening_v + 2 * self.both
        spread = math.sqrt(tame_v + self.own_v)
        wild_spread = math.sqrt(tame_v + WILD_SIGMA * WILD_SIGMA)
        middle = self.mean + self.evening
        above, upto = look.above - middle, look.upto - middle
        low, high = above / spread, upto / spread
        chance = _between(low, high)
        wild = _between(above / wild_spread, upto / wild_spread)
        seen_tame = (1 - WILD_SHARE) * chance
        whole = seen_tame + WILD_SHARE * wild
        self.log_weight += math.log(max(whole, LEAST))
        if chance < 1e-12 or whole < LEAST:
            return
        # What is left between two cuts of a normal distribution lies so far off its middle, and
        # is so much narrower, in spreads (moments of the truncated normal distribution).
        at_low, at_high = _height(low), _height(high)
        pull = (at_low - at_high) / chance
        narrowed = pull * pull + (_times(high, at_high) - _times(low, at_low)) / chance
        # As far as the look may have been a wild one, all stays as it was, which widens it again.
        tame = seen_tame / whole
        less = tame * narrowed - tame * (1 - tame) * pull * pull
        gain = (self.var + self.both) / spread
        evening_gain = (self.evening_v + self.both) / spread
        self.mean += tame * gain * pull
        self.evening += tame * evening_gain * pull
        self.var = max(1e-9, self.var - gain * gain * less)
        self.evening_v = max(0.0, self.evening_v - evening_gain * evening_gain * less)
        self.both -= gain * evening_gain * less


def _faded(mean: float, variance: float, prior: Bell, kept: float) -> tuple[float, float]:
    """Return mean and variance once so much is kept, the rest what was taken to be so before."""
    squared = kept * kept
    moved = prior.mean + kept * (mean - prior.mean)
    return moved, squared * variance + (1 - squared) * prior.variance


class Bank:
    """All the filters of one kind of wait."""

    def __init__(self, prior: Bell, sigma_likely: float, doubt: float, *, evenings: bool) -> None:
        """Begin before any check.

        ``sigma_likely`` is the likeliest straying as a log, ``doubt`` how little that is known, as
        a log too. ``evenings`` tells whether any evening has several waits, so that what these
        share can be seen.
        """
        self._prior = prior
        shares = EVENING_SHARES if evenings else EVENING_SHARES[:1]
        self._filters = [
            _Filter(prior, sigma, kept, shared, weight * _bump(sigma, sigma_likely, doubt))
            for sigma in SIGMAS
            for kept, weight in KEPT_SHARES
            for shared in shares
        ]

    def see(self, look: Look) -> None:
        """Take one look into every filter."""
        for each in self._filters:
            each.fade(self._prior, look.age, new_evening=look.new_evening)
            each.see(look)

    def factor(self, age: float = 1.0) -> Bell:
        """Return the log factor, so many ages after the last look, as one normal distribution."""
        return _collapsed(self.factors(age).parts)

    def mean_sigma(self) -> float:
        """Return the mean of the straying, as a log."""
        return sum(weight * math.sqrt(f.own_v + f.shared_v) for weight, f in self._weighed())

    def next_wait(self, age: float = 1.0, *, new_evening: bool = True) -> Mixture:
        """Return the log need of the next wait, so many ages after the last look."""
        parts: list[tuple[float, float, float]] = []
        for weight, f in self._weighed():
            kept: float = f.kept**age
            mean, var = _faded(f.mean, f.var, self._prior, kept)
            own_v = f.own_v + f.shared_v
            if not new_evening:
                mean += f.evening
                var = var + f.evening_v + 2 * kept * f.both
                own_v = f.own_v
            parts.append((weight * (1 - ODD_SHARE), mean, math.sqrt(var + own_v)))
            parts.append((weight * ODD_SHARE, mean, math.sqrt(var + WILD_SIGMA * WILD_SIGMA)))
        return Mixture(tuple(parts))

    def factors(self, age: float = 1.0) -> Mixture:
        """Return the log factor itself, so many ages after the last look."""
        parts: list[tuple[float, float, float]] = []
        for weight, f in self._weighed():
            kept: float = f.kept**age
            mean, var = _faded(f.mean, f.var, self._prior, kept)
            parts.append((weight, mean, math.sqrt(var)))
        return Mixture(tuple(parts))

    def _weighed(self) -> list[tuple[float, _Filter]]:
        most = max(f.log_weight for f in self._filters)
        weights = [math.exp(f.log_weight - most) for f in self._filters]
        whole = sum(weights)
        return [(weight / whole, f) for weight, f in zip(weights, self._filters, strict=True)]


class Mixture(NamedTuple):
    """Several normal distributions: weight, mean and spread of each; the weights sum to 1."""

    parts: tuple[tuple[float, float, float], ...]

    def below(self, x: float) -> float:
        """Return the chance of a figure below ``x``."""
        return sum(weight * _below((x - mean) / spread) for weight, mean, spread in self.parts)

    def at(self, share: float) -> float:
        """Return the figure below which ``share`` of the chances lie: Newton in a bracket."""
        low, high = self._bracket(share)
        x = (low + high) / 2
        for _ in range(TURNS):
            off = self.below(x) - share
            low, high = (low, x) if off > 0 else (x, high)
            slope = sum(w / s * _height((x - mean) / s) for w, mean, s in self.parts)
            step = x - off / slope if slope > 0 else math.inf
            following = step if low < step < high else (low + high) / 2
            if abs(following - x) < 1e-10:
                return following
            x = following
        return x

    def _bracket(self, share: float) -> tuple[float, float]:
        low = min(mean - 3 * spread for _, mean, spread in self.parts)
        high = max(mean + 3 * spread for _, mean, spread in self.parts)
        while self.below(low) > share:
            low -= 1
        while self.below(high) < share:
            high += 1
        return low, high


def _collapsed(parts: Sequence[tuple[float, float, float]]) -> Bell:
    """Return the mean and variance of weighed normal distributions."""
    mean = sum(weight * each for weight, each, _ in parts)
    variance = sum(weight * (spread**2 + (each - mean) ** 2) for weight, each, spread in parts)
    return Bell(mean, variance)


def _bump(sigma: float, likely: float, doubt: float) -> float:
    return math.exp(-0.5 * (math.log(sigma / likely) / doubt) ** 2)


def _below(z: float) -> float:
    return 0.5 * math.erfc(-z / ROOT_2)


def _between(low: float, high: float) -> float:
    """Return the chance between two distances, from the tail that loses least by rounding."""
    if low > 0:
        return _below(-low) - _below(-high)
    return _below(high) - _below(low)


def _height(z: float) -> float:
    return math.exp(-0.5 * z * z) / ROOT_2_PI


def _times(z: float, height: float) -> float:
    return z * height if math.isfinite(z) else 0.0
