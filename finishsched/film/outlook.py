"""Answers from the ledger: how far a grade may go now, how many coats make it safe, when it fills.

Every answer is pure: a state, a stroke, a limit of odds in; a word, a number or none out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from finishsched.film.abrading import (
    STOP_USED_PERCENT,
    USUAL,
    WARN_USED_PERCENT,
    Abrading,
    Stroke,
)
from finishsched.film.ledger import Laid, Line, State, enter, odds_of
from finishsched.model.film import Reach

MOST_COATS = 60
"""Further ahead than this nobody looks for a safe film."""


@dataclass(frozen=True, slots=True)
class Filling:
    """When the hollows are as high as the ground: indexes into the ledger's lines."""

    likely: int | None
    """None when they likely never are."""
    at_worst: int | None


@dataclass(frozen=True, slots=True)
class VeneerUse:
    """How much of a veneer a state has used, and what that calls for."""

    used_percent: float
    """Likely."""
    warn: bool
    """30 % or more is likely used, or 50 % may be."""
    stop: bool
    """50 % or more is likely used."""


def reach_allowed(
    stroke: Stroke, state: State, most_odds: float, by: Abrading = USUAL
) -> Reach | None:
    """Return how far the grade of ``stroke`` may go at ``state``; None when not even a scuff.

    ``most_odds`` is the likelihood of cutting through that nobody is asked about, 0 to 1. Where
    there is no film to cut, only a scuff is allowed.
    """
    allowed = None
    for reach in Reach:
        odds = odds_of(replace(stroke, reach=reach), state, by)
        if odds is None:
            return Reach.SCUFF
        if odds > most_odds:
            return allowed
        allowed = reach
    return allowed


def coats_until_safe(
    stroke: Stroke, coat: Laid, state: State, most_odds: float, by: Abrading = USUAL
) -> int | None:
    """Return how many coats like ``coat`` it takes until ``stroke`` is safe; None beyond sight.

    0 when it is safe now. A film that is no more than a seal is never called safe.
    """
    for coats in range(MOST_COATS + 1):
        odds = odds_of(stroke, state, by)
        if odds is not None and odds <= most_odds:
            return coats
        state = enter(coat, state, by).after
    return None


def filling(lines: Sequence[Line]) -> Filling:
    """Return at which line the relief is filled for good, likely and at worst."""
    return Filling(
        _filled_from([line.after.relief_um.likely for line in lines]),
        _filled_from([line.after.relief_um.high for line in lines]),
    )


def coats_until_filled(coat: Laid, state: State, by: Abrading = USUAL) -> int | None:
    """Return how many coats like ``coat`` likely fill the relief; None beyond sight."""
    for coats in range(MOST_COATS + 1):
        if state.relief_um.likely <= 0:
            return coats
        state = enter(coat, state, by).after
    return None


def veneer_use(state: State) -> VeneerUse | None:
    """Return how much of the veneer is used; None for solid wood."""
    used = state.veneer_used_percent
    if used is None:
        return None
    return VeneerUse(
        used.likely,
        warn=used.likely >= WARN_USED_PERCENT or used.high >= STOP_USED_PERCENT,
        stop=used.likely >= STOP_USED_PERCENT,
    )


def _filled_from(relief_um: Sequence[float]) -> int | None:
    """Return the first index from which on nothing is left to fill."""
    found = None
    for index in reversed(range(len(relief_um))):
        if relief_um[index] > 0:
            break
        found = index
    return found
