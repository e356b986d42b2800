"""Answers from the ledger: how far a grade may go now, how many coats make it safe, when it fills.

Every answer is pure: a state, a stroke, a limit of odds in; a word, a number or none out.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace

from finishsched.film.abrading import (
    STOP_USED_PERCENT,
    USUAL,
    WARN_USED_PERCENT,
    Abrading,
    Stroke,
)
from finishsched.film.face import FaceLine, FaceState, enter_face
from finishsched.film.ledger import Laid, Line, State, enter
from finishsched.film.odds import Stakes
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
    stroke: Stroke, face: FaceState, most_odds: float, stakes: Stakes, by: Abrading = USUAL
) -> Reach | None:
    """Return how far the grade of ``stroke`` may go on ``face``; None when not even a scuff.

    ``most_odds`` is the likelihood of a loss that nobody is asked about, 0 to 1; ``stakes`` what
    counts as one here. Where there is no film to cut, only a scuff is allowed.
    """
    allowed = None
    for reach in Reach:
        line = enter_face(replace(stroke, reach=reach), face, stakes, by)
        if line.odds is None:
            return Reach.SCUFF
        worst = line.worst
        if worst is not None and worst.odds > most_odds:
            return allowed
        allowed = reach
    return allowed


def coats_until_safe(
    stroke: Stroke,
    coat: Laid,
    face: FaceState,
    most_odds: float,
    stakes: Stakes,
    by: Abrading = USUAL,
) -> int | None:
    """Return how many coats like ``coat`` it takes until ``stroke`` is safe; None beyond sight.

    0 when it is safe now. A film that is no more than a seal is never called safe.
    """
    states = [face]
    for _ in range(MOST_COATS):
        states.append(enter_face(coat, states[-1], stakes, by).after)

    def safe(coats: int) -> bool:
        line = enter_face(stroke, states[coats], stakes, by)
        worst = line.worst
        return line.odds is not None and (worst is None or worst.odds <= most_odds)

    # More coats never raise the odds, so that halving finds the first that is safe.
    if not safe(MOST_COATS):
        return None
    return bisect_left(range(MOST_COATS), 1, key=safe)


def filling(lines: Sequence[Line | FaceLine]) -> Filling:
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


def veneer_use(state: State | FaceState) -> VeneerUse | None:
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
