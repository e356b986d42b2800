"""What a shop's own weighings and gauge readings teach, for each product and way of laying it.

Two factors are learned, each starting at 1 with a spread of its own. ``spread`` is what a coat
takes over what its schedule says, taught by amounts logged and bottles weighed. ``film`` is the
film found over the film reckoned, taught by a film gauge. Each observation's logarithm is weighed
against that start by their variances (a normal prior and normal errors), so that one reading moves
the figure some of the way and many readings fix it; a careless one moves it little.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import TypeAlias

from finishsched.mixing.amount import Range
from finishsched.model.schedule import Verb

Z_5_PERCENT = 1.645
"""The low and high of a range are taken for the 5 % and 95 % points of a normal distribution."""

SPREAD_SD = math.log(1.4) / Z_5_PERCENT
"""Of the logarithm of what a coat takes over its schedule's figure: 0.7 to 1.4 (our assumption)."""

FILM_SD = math.log(1.3) / Z_5_PERCENT
"""Of the logarithm of the film found over the film reckoned (our assumption: 0.77 to 1.3)."""


class By(StrEnum):
    """How something was found out."""

    LOGGED = "logged"
    """An amount as somebody poured or guessed it."""
    WEIGHED = "weighed"
    """The bottle before and after."""
    GAUGED = "gauged"


ERROR_SD = {By.LOGGED: 0.35, By.WEIGHED: 0.15}
"""Of the logarithm of one observation, coats differing among themselves (our assumption)."""

GAUGE_SCATTER_SD = 0.10
"""Of the logarithm of a gauge reading from place to place, besides the gauge's own error."""

LARGEST_RATIO = 10.0
"""An observation further off than this is a slip of the pen, and teaches nothing."""

MethodKey: TypeAlias = tuple[str, Verb]
"""A product's id and the way of laying it."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One observation: found over expected."""

    method: MethodKey
    ratio: float
    by: By
    error_sd: float
    """Of its logarithm, above 0."""


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor as learned."""

    range: Range
    readings: int


@dataclass(frozen=True, slots=True)
class Method:
    """What is known of one product laid one way."""

    spread: Factor
    film: Factor


Methods: TypeAlias = Mapping[MethodKey, Method]
NO_METHODS: Methods = MappingProxyType({})


def factor(seen: Iterable[Seen], start_sd: float) -> Factor:
    """Return the factor that observations teach, from 1 with ``start_sd`` of its logarithm.

    Its range never grows wider by a reading, and its middle lies between 1 and what was found.
    """
    precision, total, count = 1 / start_sd**2, 0.0, 0
    for one in seen:
        if not 1 / LARGEST_RATIO <= one.ratio <= LARGEST_RATIO:
            continue
        weight = 1 / one.error_sd**2
        precision += weight
        total += weight * math.log(one.ratio)
        count += 1
    middle, side = total / precision, Z_5_PERCENT / math.sqrt(precision)
    return Factor(Range(math.exp(middle - side), math.exp(middle), math.exp(middle + side)), count)


def methods(seen: Iterable[Seen]) -> Methods:
    """Return what is known of every method that an observation tells of."""
    by_method: dict[MethodKey, list[Seen]] = defaultdict(list)
    for one in seen:
        by_method[one.method].append(one)
    return MappingProxyType({key: _method(own) for key, own in by_method.items()})


def method_of(known: Methods, key: MethodKey) -> Method:
    """Return what is known of a method; the start where nothing was ever observed."""
    return known.get(key) or _method([])


def gauge_sd(film_um: float, error_um: float) -> float:
    """Return the spread of the logarithm of a reading of ``film_um`` (above 0)."""
    own = error_um / Z_5_PERCENT / film_um
    return math.hypot(own, GAUGE_SCATTER_SD)


def _method(own: list[Seen]) -> Method:
    gauged = [one for one in own if one.by is By.GAUGED]
    spread = [one for one in own if one.by is not By.GAUGED]
    return Method(factor(spread, SPREAD_SD), factor(gauged, FILM_SD))
