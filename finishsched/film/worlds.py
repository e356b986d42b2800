"""Many possible shops at once: how what is uncertain is carried through a ledger.

A quantity is a column: its value in the likely world first, then in each of ``WORLDS`` others, all
equally probable. In each world every shared cause (how much this shop lays, how hard its hand cuts)
has one value from the first coat to the last, so that who cuts hard today is taken to cut hard next
week too. What differs from place to place within a face is no part of this: ``odds`` counts it.

The worlds are a lattice, the same every time, not drawn: answers never flicker, and a few of them
do what needs thousands of draws.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from enum import IntEnum
from functools import cache, lru_cache
from typing import Any, TypeAlias

from finishsched.model.ranges import Range

WORLDS = 64
"""Besides the likely one. Odds come within half a point of those of a thousand worlds."""

END_Z = 1.645
"""The low and high of a range are its 5 % and 95 % points, as of a normal distribution."""

FURTHEST_Z = 2.6
"""No cause is drawn further out than this."""

Column: TypeAlias = tuple[float, ...]
"""A quantity in every world, the likely one first."""


class Cause(IntEnum):
    """What is one and the same through the whole work on a piece, and not exactly known."""

    LAID = 0
    """How much reaches the surface of what a coat is said to take."""
    SOLIDS = 1
    HAND = 2
    """How hard this hand cuts, at every abrading step."""
    UNEVEN = 3
    GROUND = 4
    """How deep its hollows are, and how much it drinks."""
    FILLER = 5
    GAUGE = 6
    EDGE = 7
    """How much harder the paper presses at an edge."""
    ARRIS = 8
    """How much thinner the film lies there."""
    GIVEN = 9
    """How far a thickness that somebody stated is out."""


def column(value: float) -> Column:
    """Return what is the same in every world.

    Source: by definition.

    Args:
        value: um, a share or any unit; any value.

    """
    return (value,) * (WORLDS + 1)


@lru_cache(maxsize=512)
def drawn(range_: Range, cause: Cause, *, most: float = math.inf) -> Column:
    """Return a range in every world: likely in the first, then as its cause has it.

    Source: our assumption: either side is half of a normal distribution whose 5 % or 95 % point is
    the range's end.

    Args:
        range_: low, likely and high in any unit, 0 or more.
        cause: which of the causes shared by all coats decides it.
        most: in the same unit, never above it; infinite for no bound.

    """
    low, likely, high = range_.low, range_.likely, range_.high
    if low == high:
        return column(likely)
    down, up = (likely - low) / END_Z, (high - likely) / END_Z
    values = (likely + z * (up if z > 0 else down) for z in _causes()[cause])
    return tuple(min(max(value, 0.0), most) for value in values)


def spread(values: Column) -> Range:
    """Return a column as a range: 5 %, likely, 95 %, and the likely never outside."""
    likely, others = values[0], sorted(values[1:])
    at = round(0.05 * (WORLDS - 1))
    return Range(min(likely, others[at]), likely, max(likely, others[-1 - at]))


def chance(values: Sequence[float]) -> float:
    """Return the mean of a probability over the worlds, the likely one apart.

    Source: a mean, by definition.

    Args:
        values: likelihood in each world, 0 to 1.

    """
    return sum(values[1:]) / WORLDS


def each(function: Callable[..., float], *columns: Iterable[Any]) -> Column:
    """Return ``function`` of the columns, world by world."""
    return tuple(map(function, *columns))


@cache
def _causes() -> tuple[Column, ...]:
    """Return, for each cause, how many standard deviations it is off in each world.

    A lattice by the powers of a generalised golden ratio, the root of x^(d+1) = x + 1: no two
    causes are in step, and any few of them fill their space evenly.
    """
    ratio = 2.0
    for _ in range(40):
        ratio = (1 + ratio) ** (1 / (len(Cause) + 1))
    found = []
    for cause in Cause:
        step = ratio ** -(cause + 1)
        points = [(0.5 + step * number) % 1.0 for number in range(1, WORLDS + 1)]
        ranks = {point: rank for rank, point in enumerate(sorted(points))}
        # By its rank and not by the point itself: each cause alone is then exactly normal.
        shares = ((ranks[point] + 0.5) / WORLDS for point in points)
        found.append((0.0, *map(_normal_z, shares)))
    return tuple(found)


def _normal_z(share: float) -> float:
    """Return the point of a normal distribution below which ``share`` (0 to 1) lies."""
    low, high = -FURTHEST_Z, FURTHEST_Z
    for _ in range(30):
        middle = (low + high) / 2
        if 0.5 * math.erfc(-middle / math.sqrt(2)) < share:
            low = middle
        else:
            high = middle
    return (low + high) / 2
