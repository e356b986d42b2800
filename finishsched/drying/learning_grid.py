"""The arithmetic under learning: chances on a grid of factors and spreads, in plain Python.

A point of the grid is a log factor (how many times the book a wait really takes) and a sigma (how
far one wait strays from the next, as a log). Progress is rounded to the finer marks, 1 % apart:
'not yet' downwards and 'ready' upwards, so that rounding never claims more than was seen.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from itertools import accumulate, repeat
from operator import add, mul, sub, truediv

Row = tuple[float, ...]
"""One figure for each factor of the grid."""
Look = tuple[int, int, int]
"""Above one mark, at or below another, so many times over."""

MARK = 0.01
MARKS_A_STEP = 4
STEP = MARK * MARKS_A_STEP
STEPS_EACH_WAY = 60
"""Factors from 1/11 to 11."""
LOG_FACTORS = tuple(STEP * j for j in range(-STEPS_EACH_WAY, STEPS_EACH_WAY + 1))
SIGMAS = tuple(0.10 * 1.35**k for k in range(7))
"""From x/1.1 to x/1.8."""

FLAT: Row = (1.0,) * len(LOG_FACTORS)
NOTHING_SEEN: tuple[Row, ...] = ((0.0,) * len(LOG_FACTORS),) * len(SIGMAS)

FAR = 1e6
TOP = 390
"""The mark that stands for 'never seen ready'; its negative for 'nothing seen before'."""

WILD_SHARE = 0.05
WILD_SIGMA = math.log(4)
"""One entry in twenty is taken to be wild: mistyped, forgotten or of another coat (assumed)."""

NEGLIGIBLE = 1e-7
LEAST = 1e-200
"""Stands for chances too small for a float, so that none is nought and can be divided by."""


def look_between(not_yet: float, ready: float) -> tuple[int, int]:
    """Return the marks around a need above ``not_yet`` and up to ``ready`` times the book.

    'Not yet' at or after 'ready' is a contradiction: the need is then taken to lie between the two.
    """
    low, high = sorted((not_yet, ready))
    below = -TOP if low <= 0 else _mark(low, math.floor)
    above = TOP if math.isinf(high) else _mark(high, math.ceil)
    return below, max(above, below + 1)


def _mark(times_book: float, rounded: Callable[[float], int]) -> int:
    """Return the mark of a progress; beyond 1/49 and 49 times the book none is told apart."""
    log = math.log(min(FAR, max(1 / FAR, times_book)))
    return min(TOP - 2, max(1 - TOP, rounded(log / MARK)))


@lru_cache(maxsize=64)
def evidence(looks: tuple[Look, ...]) -> tuple[Row, ...]:
    """Return for each sigma the log likelihood of the looks at each factor."""
    seen = [_log_chances(below, above) for below, above, times in looks for _ in range(times)]
    if not seen:
        return NOTHING_SEEN
    return tuple(tuple(map(sum, zip(*rows, strict=True))) for rows in zip(*seen, strict=True))


@lru_cache(maxsize=256)
def _log_chances(below: int, above: int) -> tuple[Row, ...]:
    """Return for each sigma the log chance of a need between two marks, at each factor.

    Kept, because looks a quarter of the time apart fall on the same few marks again and again.
    """
    tables = [_with_wild(sigma) for sigma in SIGMAS]
    chances = [map(sub, _share_below(above, t), _share_below(below, t)) for t in tables]
    return tuple(tuple(map(math.log, row)) for row in chances)


def _share_below(mark: int, table: Row, first: int = 0, factors: int = len(FLAT)) -> Row:
    """Return the share of needs at or below a mark, for so many factors from the ``first``."""
    if abs(mark) >= TOP:
        return (float(mark > 0),) * factors
    start = TOP - mark + first * MARKS_A_STEP
    return table[start : start + factors * MARKS_A_STEP : MARKS_A_STEP]


@cache
def _core(sigma: float) -> Row:
    """Return the normal distribution at falling distances, as ``_share_below`` reads it."""
    most = TOP + STEPS_EACH_WAY * MARKS_A_STEP
    scale = MARK / (sigma * math.sqrt(2))
    return tuple(0.5 * math.erfc(-scale * distance) for distance in range(most, -most - 1, -1))


@cache
def _with_wild(sigma: float) -> Row:
    pairs = zip(_core(sigma), _core(WILD_SIGMA), strict=True)
    return tuple((1 - WILD_SHARE) * tame + WILD_SHARE * wild for tame, wild in pairs)


def weigh(logs: Sequence[Row], sigma_likely: float, doubt: float) -> list[Row]:
    """Return likelihoods, the greatest of them 1, with sigma's prior worked in.

    Sigma is lognormal about ``sigma_likely`` with the log spread ``doubt``.
    """
    priors = [-0.5 * (math.log(sigma / sigma_likely) / doubt) ** 2 for sigma in SIGMAS]
    most = max(prior + max(row) for prior, row in zip(priors, logs, strict=True))
    return [
        tuple(map(math.exp, map(add, row, repeat(prior - most))))
        for prior, row in zip(priors, logs, strict=True)
    ]


def over_sigmas(rows: Sequence[Row]) -> Row:
    """Return the chances of the factor alone."""
    return tuple(map(sum, zip(*rows, strict=True)))


def mean_sigma(joint: Sequence[Row]) -> float:
    """Return the mean of sigma; all chances sum to 1."""
    return sum(sigma * sum(row) for sigma, row in zip(SIGMAS, joint, strict=True))


@cache
def bell(spread: float) -> Row:
    """Return the chances of a factor whose log is normal about nought with this spread."""
    return smooth(tuple(float(j == STEPS_EACH_WAY) for j in range(len(LOG_FACTORS))), spread)


@lru_cache(maxsize=256)
def smooth(row: Row, spread: float) -> Row:
    """Return what a row says about a neighbour whose log factor differs by about ``spread``."""
    kernel, width = _kernel(spread), len(row)
    return tuple(max(LEAST, sum(map(mul, kernel[width - 1 - j :], row))) for j in range(width))


@cache
def _kernel(spread: float) -> Row:
    """Return the chances of steps up and down, all across the grid, so that none is ruled out."""
    most = len(LOG_FACTORS) - 1
    weights = [math.exp(-0.5 * (STEP * k / spread) ** 2) for k in range(-most, most + 1)]
    whole = sum(weights)
    return tuple(weight / whole for weight in weights)


def product(rows: Sequence[Row]) -> Row:
    """Return the rows multiplied, scaled so that the greatest is 1."""
    whole = FLAT
    for row in rows:
        both = tuple(map(mul, whole, row))
        whole = _shrunk(both, max(both))
    return whole


def posterior(rows: Sequence[Row], prior: Row) -> list[Row]:
    """Return likelihoods times the prior of the factor, their sum 1."""
    joint = [tuple(map(mul, row, prior)) for row in rows]
    whole = sum(map(sum, joint))
    return [_shrunk(row, whole) for row in joint]


def _shrunk(row: Row, by: float) -> Row:
    return tuple(map(truediv, row, repeat(by)))


def log_factor_at(share: float, row: Row) -> float:
    """Return the log factor below which ``share`` of the chances lie; they sum to 1."""
    gone = 0.0
    for j, upto in enumerate(accumulate(row)):
        if upto >= share:
            return LOG_FACTORS[j] + STEP * ((share - gone) / (upto - gone) - 0.5)
        gone = upto
    return LOG_FACTORS[-1]


def log_need_at(share: float, joint: Sequence[Row]) -> float:
    """Return the log of need over book below which the next wait falls with this chance."""
    factors = over_sigmas(joint)
    credible = [j for j, chance in enumerate(factors) if chance > NEGLIGIBLE]
    first, last = credible[0], credible[-1]
    rows = [row[first : last + 1] for row in joint]

    def chance_below(mark: int) -> float:
        return _chance_below(mark, rows, first)

    guess, reach = _guess(share, factors, mean_sigma(joint)), 4
    while not chance_below(guess - reach) < share <= chance_below(guess + reach):
        reach *= 4
    marks = range(guess - reach, guess + reach)
    high = marks[0] + bisect_left(marks, share, key=chance_below)
    under, over = chance_below(high - 1), chance_below(high)
    return MARK * (high - (over - share) / (over - under))


def _guess(share: float, factors: Row, sigma: float) -> int:
    """Return a mark near which to search: where a normal spread about the factor would have it."""
    mean: float = sum(map(mul, factors, LOG_FACTORS))
    squares: float = sum(map(mul, factors, (log * log for log in LOG_FACTORS)))
    spread = math.hypot(math.sqrt(max(0.0, squares - mean * mean)), sigma)
    return round((mean + 3.2 * (share - 0.5) * spread) / MARK)


def _chance_below(mark: int, rows: Sequence[Row], first: int) -> float:
    """Return the chance that the next need is at or below a mark; wild entries are no needs.

    ``rows`` hold the chances of each sigma for the factors from the ``first``.
    """
    return sum(
        sum(map(mul, row, _share_below(mark, _core(sigma), first, len(row))))
        for sigma, row in zip(SIGMAS, rows, strict=True)
    )
