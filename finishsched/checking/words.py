"""Figures in the sentences of findings."""

from __future__ import annotations

import math
from collections.abc import Callable

from finishsched.factors import DAY_S, G_PER_L_IN_A_POUND_CUT, HOUR_S, MIN_S

SURE_PERCENT = 97.5
"""From so much on odds are told as all but certain."""
_HAIR = 1e-6
"""Of a step: what a division of floats may be off by."""
_STEPS = (
    (20 * MIN_S, MIN_S, MIN_S, "min"),
    (2 * HOUR_S, 5 * MIN_S, MIN_S, "min"),
    (6 * HOUR_S, HOUR_S / 2, HOUR_S, "h"),
    (2 * DAY_S, HOUR_S, HOUR_S, "h"),
    (5 * DAY_S, DAY_S / 2, DAY_S, "days"),
    (math.inf, DAY_S, DAY_S, "days"),
)
"""Below how long a time is told in which steps, and in which unit."""


def duration(seconds: float) -> str:
    """Return a length of time in words, no finer than they are known: ``90 min``, ``2.5 h``."""
    return _in_steps(seconds, round)


def at_most(seconds: float) -> str:
    """Return what the work gives, so rounded that it never reads as more than it is."""
    return _in_steps(seconds, lambda steps: math.floor(steps + _HAIR))


def at_least(seconds: float) -> str:
    """Return what it wants, so rounded that it never reads as less than it is."""
    return _in_steps(seconds, lambda steps: math.ceil(steps - _HAIR))


def cut(g_per_l: float) -> str:
    """Return a cut as the trade says it: ``2-lb cut``."""
    return f"{g_per_l / G_PER_L_IN_A_POUND_CUT:.3g}-lb cut"


def odds(share: float) -> str:
    """Return how likely something is, in words, no finer than the ledger knows it."""
    percent = 100 * share
    if percent >= SURE_PERCENT:
        return "almost certainly"
    step = 5 if percent >= 10 else 1
    return f"with odds of about {max(1, step * round(percent / step))} %"


def _in_steps(seconds: float, rounded: Callable[[float], int]) -> str:
    """Return a time in whole steps, about a tenth of it each: nobody knows a wait finer."""
    if seconds <= 0:
        return "no time"
    step_s, unit_s, unit = next(
        (step_s, unit_s, unit) for below_s, step_s, unit_s, unit in _STEPS if seconds < below_s
    )
    amount = max(1, rounded(seconds / step_s)) * step_s / unit_s
    return f"{amount:g} {unit}"
