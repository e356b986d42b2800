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
from types import MappingProxyType
from typing import TypeAlias

from finishsched.mixing.learnt_use import (
    SPREAD_SD,
    Z_5_PERCENT,
    By,
    Factor,
    MethodKey,
    Seen,
    factor,
)

FILM_SD = math.log(1.3) / Z_5_PERCENT
"""Of the logarithm of the film found over the film reckoned (our assumption: 0.77 to 1.3)."""


GAUGE_SCATTER_SD = 0.10
"""Of the logarithm of a gauge reading from place to place, besides the gauge's own error."""


@dataclass(frozen=True, slots=True)
class Method:
    """What is known of one product laid one way."""

    spread: Factor
    film: Factor


Methods: TypeAlias = Mapping[MethodKey, Method]
NO_METHODS: Methods = MappingProxyType({})


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
    """Return the spread of the logarithm of a reading of ``film_um``, no unit.

    Source: the error is taken for 95 %; the scatter from place to place is our assumption.

    Args:
        film_um: um, above 0.
        error_um: um that the gauge is out at most, 0 or more, by its maker's word.

    """
    own = error_um / Z_5_PERCENT / film_um
    return math.hypot(own, GAUGE_SCATTER_SD)


def _method(own: list[Seen]) -> Method:
    gauged = [one for one in own if one.by is By.GAUGED]
    spread = [one for one in own if one.by is not By.GAUGED]
    return Method(factor(spread, SPREAD_SD), factor(gauged, FILM_SD))
