"""The packs to buy, and the jars to fill, that hold an amount best: by exact search."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import reduce
from typing import NamedTuple

FINEST_STEP = 0.01
"""Sizes are told apart to this many grams or millilitres, which no kitchen scale does."""

_STEPS_IN_LARGEST = 5_000
"""And to this share of the largest, so that the search is over in a moment."""

_SEARCHED_EXACTLY = 12
"""Up to so many times the largest size the search is exact; a larger amount first gets its bulk in
the size of best value."""

_PRICE_STEPS = 1000


class _Way(NamedTuple):
    """The cheapest way to a sum, then the one of fewest packs; compared in that order."""

    cost: int
    packs: int
    last: int
    """The size that was taken last; -1 where nothing was taken."""


def best_cover(
    amount: float,
    sizes: Sequence[float],
    prices: Sequence[float] | None = None,
) -> tuple[int, ...]:
    """Return how many of each of ``sizes`` hold ``amount`` together.

    With a price for each size: at the least cost, then with the least left over. Without prices:
    with the least left over. In either case the fewest then win.

    Source: exact search.

    Args:
        amount: ml, g or any unit; 0 or less takes none.
        sizes: in the same unit, each above 0, at least one.
        prices: of each size in one currency, 0 or more, no unit else; or None.

    Raises:
        ValueError: for a size that is not above zero, or when there is no size at all.

    """
    if not sizes or not all(math.isfinite(size) and size > 0 for size in sizes):
        raise ValueError(f"sizes {list(sizes)}; there must be one, and all above zero")
    if amount <= 0:
        return (0,) * len(sizes)
    grain = max(FINEST_STEP, max(sizes) / _STEPS_IN_LARGEST)
    weights = [max(1, round(size / grain)) for size in sizes]
    need = max(1, round(amount / grain))
    costs = [round(price * _PRICE_STEPS) for price in prices] if prices else None
    while True:
        counts = _cover(need, weights, costs)
        held = sum(size * count for size, count in zip(sizes, counts, strict=True))
        if held >= amount * (1 - 1e-12):
            return counts
        # Sizes rounded up a little have left it short; by how much is known, so once is enough.
        need += max(1, math.ceil((amount - held) / grain))


def jars_for(volume_ml: float, jars_ml: Sequence[float]) -> tuple[float, ...]:
    """Return the jars that hold ``volume_ml``: as few as can be, then as small, largest first.

    Source: exact search.

    Args:
        volume_ml: ml, 0 or more.
        jars_ml: the sizes there are, in ml, each above 0.

    Raises:
        ValueError: when there is no size, or one that is not above 0.

    """
    sizes = sorted(set(jars_ml), reverse=True)
    counts = best_cover(volume_ml, sizes, prices=[1.0] * len(sizes))
    return tuple(size for size, count in zip(sizes, counts, strict=True) for _ in range(count))


def _cover(need: int, weights: list[int], costs: list[int] | None) -> tuple[int, ...]:
    """Return how many of each size hold the need.

    Args:
        need: in whole steps.
        weights: of each size, in the same steps.
        costs: of each size; None where only what is left over counts.

    """
    step = reduce(math.gcd, weights)
    weights = [weight // step for weight in weights]
    need = -(-need // step)
    largest = max(weights)
    best = _best_value(weights, costs)
    bulk = 0
    if need > _SEARCHED_EXACTLY * largest:
        left_to_search = (_SEARCHED_EXACTLY - 2) * largest
        bulk = (need - left_to_search) // weights[best]
    counts = _search(need - bulk * weights[best], weights, costs)
    counts[best] += bulk
    return tuple(counts)


def _best_value(weights: list[int], costs: list[int] | None) -> int:
    """Return which size holds most for its cost; the largest where nothing costs anything."""
    if costs is None:
        return weights.index(max(weights))
    return min(range(len(weights)), key=lambda kind: costs[kind] / weights[kind])


def _search(need: int, weights: list[int], costs: list[int] | None) -> list[int]:
    """Return the counts of the best cover, by the cheapest way to every sum up to the need."""
    each_costs = costs or [0] * len(weights)
    cheapest: list[_Way | None] = [None] * (need + max(weights))
    cheapest[0] = _Way(0, 0, -1)
    for total in range(need):
        found = cheapest[total]
        if found is None:
            continue
        for kind, weight in enumerate(weights):
            cost = found.cost + each_costs[kind]
            packs = found.packs + 1
            there = cheapest[total + weight]
            if there is None or (cost, packs) < (there.cost, there.packs):
                cheapest[total + weight] = _Way(cost, packs, kind)
    return _counts(_best_end(need, cheapest), weights, cheapest)


def _best_end(need: int, cheapest: list[_Way | None]) -> int:
    """Return the sum that holds the need at the least cost, then least over, then fewest packs."""
    ends: list[tuple[int, int, int]] = []
    for total, way in enumerate(cheapest):
        if way is not None and total >= need:
            ends.append((way.cost, total, way.packs))
    _, total, _ = min(ends)
    return total


def _counts(total: int, weights: list[int], cheapest: list[_Way | None]) -> list[int]:
    """Return how many of each size make up a sum, going back from the last that was taken."""
    counts = [0] * len(weights)
    while total > 0:
        way = cheapest[total]
        assert way is not None  # noqa: S101
        counts[way.last] += 1
        total -= weights[way.last]
    return counts
