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

WORLDS = 128
"""Besides the likely one. Odds come within 1.5 points, or a tenth, of those of thousands of drawn
shops: ``tests/film/test_odds_of_zones.py``."""

GENERATOR = 19
"""Of the lattice: it fills the causes' space as evenly as any whole number below ``WORLDS``, by the
worst error in a Korobov space where each cause in ``_BY_WEIGHT`` weighs 0.8 of the one before
(Korobov, Doklady Akademii Nauk 124, 1959; Sloan and Joe, Lattice Methods for Multiple Integration,
Oxford, 1994; both from memory). Of the three that are within a hundredth, the nearest to drawn
shops."""

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


_BY_WEIGHT = (
    Cause.HAND,
    Cause.EDGE,
    Cause.LAID,
    Cause.ARRIS,
    Cause.UNEVEN,
    Cause.GIVEN,
    Cause.GROUND,
    Cause.SOLIDS,
    Cause.FILLER,
    Cause.GAUGE,
)
"""The causes that decide whether paper goes through before those that seldom do."""


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

    A lattice of one generator: each cause alone is exactly normal, and any few of them fill their
    space evenly, those that decide most odds the most so.
    """
    found = []
    for cause in Cause:
        step = pow(GENERATOR, _BY_WEIGHT.index(cause), WORLDS)
        shares = (((step * number) % WORLDS + 0.5) / WORLDS for number in range(WORLDS))
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
