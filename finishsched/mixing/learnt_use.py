"""What a coat takes here over what its schedule says, learnt from what was weighed and logged.

A factor starts at 1 with a spread of its own. Each observation's logarithm is weighed against that
start by their variances (a normal prior and normal errors), so that one entry moves the figure
some of the way and many fix it; a careless one moves it little. Film and need both ask here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum
from typing import NamedTuple, TypeAlias

from finishsched.model.ranges import Range
from finishsched.model.verbs import Verb

Z_5_PERCENT = 1.645
"""The low and high of a range are taken for the 5 % and 95 % points of a normal distribution."""

SPREAD_SD = math.log(1.4) / Z_5_PERCENT
"""Of the logarithm of what a coat takes over its schedule's figure: 0.7 to 1.4 (our assumption)."""


class By(StrEnum):
    """How something was found out."""

    LOGGED = "logged"
    """An amount as somebody poured or guessed it."""
    WEIGHED = "weighed"
    """The bottle before and after."""
    GAUGED = "gauged"


ERROR_SD = {By.LOGGED: 0.35, By.WEIGHED: 0.15}
"""Of the logarithm of one observation, coats differing among themselves (our assumption)."""

LARGEST_RATIO = 10.0
"""An observation further off than this is a slip of the pen, and teaches nothing."""

MethodKey: TypeAlias = tuple[str, Verb]
"""A product's id and the way of laying it."""


class Seen(NamedTuple):
    """One observation: found over expected."""

    method: MethodKey
    ratio: float
    by: By
    error_sd: float
    """Of its logarithm, above 0."""


class Factor(NamedTuple):
    """A factor as learned."""

    range: Range
    readings: int


def factor(seen: Iterable[Seen], start_sd: float) -> Factor:
    """Return the factor that observations teach, from 1.

    Its range never grows wider by a reading, and its middle lies between 1 and what was found.

    Source: textbook: a normal prior and normal errors weighed by their variances; the spreads are
    our assumption.

    Args:
        seen: what was found over what was said, each with its own spread; outside the largest ratio
            either way it is passed over.
        start_sd: of the logarithm of the factor before any, no unit, above 0.

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
