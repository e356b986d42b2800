"""Answers from the ledger: how far a grade may go now, how many coats make it safe, when it fills.

Every answer is pure: a state, a stroke, a limit of odds in; a word, a number or none out.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from finishsched.film.abrading import (
    STOP_USED_PERCENT,
    USUAL,
    WARN_USED_PERCENT,
    Abrading,
    Stroke,
)
from finishsched.film.dishing import FLAT_UM
from finishsched.film.face import FaceLine, FaceState, Loss, enter_face
from finishsched.film.grade_steps import WIDEST_RATIO
from finishsched.film.ledger import Laid, Line, State, enter
from finishsched.film.materials import FILM, WOOD_SPREAD
from finishsched.film.meeting import Part
from finishsched.film.odds import Stake, Stakes
from finishsched.film.strokes import rates_of, strokes_for
from finishsched.film.zones import ZoneKind
from finishsched.model.film import Reach
from finishsched.model.grades import FEPA_UM, Grade, grade_of
from finishsched.model.ranges import Range

_FEPA = tuple(grade_of(f"P{number}") for number in FEPA_UM)
"""The coarsest first."""

NO_TESTS: Mapping[str, tuple[float, ...]] = MappingProxyType({})

GRAIN_OVER_RIDGES = 2.5
"""How many times the ridges a grain may be and still level them (our assumption)."""
FLAT_RIDGES_UM = 1.0
"""Ridges lower than this count as flat (our assumption)."""

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

    Where there is no film to cut, only a scuff is allowed.

    Source: the odds of ``odds.py`` (our assumption).

    Args:
        stroke: the abrading.
        face: as it is now.
        most_odds: likelihood of a loss that nobody is asked about, 0 to 1.
        stakes: what counts as a loss here.
        by: the shares that removal is reckoned by.

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

    Source: the odds of ``odds.py`` (our assumption).

    Args:
        stroke: the abrading.
        coat: what each coat lays.
        face: as it is now.
        most_odds: likelihood of a loss that nobody is asked about, 0 to 1.
        stakes: what counts as a loss here.
        by: the shares that removal is reckoned by.

    """
    states = [face]

    def safe(coats: int) -> bool:
        while len(states) <= coats:
            states.append(enter_face(coat, states[-1], stakes, by).after)
        line = enter_face(stroke, states[coats], stakes, by)
        worst = line.worst
        return line.odds is not None and (worst is None or worst.odds <= most_odds)

    # More coats never raise the odds, so that halving finds the first that is safe; by doubling
    # before that, no more coats are laid than it takes.
    unsafe, far = -1, 0
    while not safe(far):
        if far == MOST_COATS:
            return None
        unsafe, far = far, min(2 * far + 1, MOST_COATS)
    return unsafe + 1 + bisect_left(range(unsafe + 1, far), 1, key=safe)


@dataclass(frozen=True, slots=True)
class Bearing:
    """What one grade may still do at the zone that is nearest to going through."""

    loss: Loss
    bears_um: Range
    """What lies there before it goes through, likely and its ends."""
    strokes: Range
    """Over the whole face, by the hand's own rate or the model's; a stroke is 150 mm under 10 N."""
    measured: int
    """How many tests of this hand's rate stand behind it."""


def nearest(line: FaceLine, hands: Mapping[str, tuple[float, ...]] = NO_TESTS) -> Bearing | None:
    """Return what the abrading of ``line`` bears where it goes through first; None where it cannot.

    Source: the odds and strokes of this room (our assumption).

    Args:
        line: of the ledger, an abrading.
        hands: the maker's own tests by material: depth measured over depth reckoned, no unit, above
            0.

    """
    stroke = line.work
    if not isinstance(stroke, Stroke):
        return None
    # What is cut back is meant to go: of that nothing is lost, and the ground under it counts.
    others = () if stroke.reach is Reach.CUT_BACK else line.losses
    loss = next(iter((*line.lost, *others)), None) or _thinnest(line)
    loss = loss or next(iter(line.losses), None)
    if loss is None:
        return None
    part = next(one for one in line.before.parts if one.zone.name == loss.zone)
    film, left = part.state.film_um, part.left_um
    of_ground = loss.stake.is_of_ground and left is not None
    bears_um = left + film if of_ground and left is not None else film
    material = part.zone.material if of_ground else FILM
    rate = rates_of(hands, material)
    presses = part.zone.presses(stroke.backing).likely
    area_mm2 = line.before.parts[0].zone.area_mm2

    def strokes(depth_um: float, cuts: float) -> float:
        return strokes_for(
            material, stroke.grade, depth_um / (cuts * presses), area_mm2, wet=stroke.wet
        )

    likely = strokes(bears_um.likely, rate.factor.likely)
    low = min(likely, strokes(bears_um.low, rate.factor.high))
    high = max(likely, strokes(bears_um.high, rate.factor.low))
    return Bearing(loss, bears_um, Range(low, likely, high), rate.tests)


def _thinnest(line: FaceLine) -> Loss | None:
    """Return the ground that is nearest to going through where nothing likely does.

    Of bare wood, and of wood that film is cut back to.

    It has the fewest cuts like this one left: what is there over how hard the paper presses there.
    """
    stroke = line.work
    if not isinstance(stroke, Stroke) or stroke.reach not in (None, Reach.CUT_BACK):
        return None

    def cuts_left(part: Part) -> float:
        left = part.left_um
        assert left is not None  # noqa: S101  # only of those that have any
        presses = part.zone.presses(stroke.backing).likely
        return left.likely / presses if part.zone.material.spread == WOOD_SPREAD else math.inf

    known = [part for part in line.before.parts if part.left_um is not None]
    if not known:
        return None
    part = min(known, key=cuts_left)
    stake = Stake.INLAY if part.zone.kind is ZoneKind.INLAY else Stake.VENEER
    return Loss(stake, 0.0, part.zone.name, 0.0)


def coarsest_safe(
    stroke: Stroke,
    face: FaceState,
    most_odds: float,
    stakes: Stakes,
    by: Abrading = USUAL,
    *,
    next_grade: Grade | None = None,
) -> Grade | None:
    """Return the coarsest FEPA P grade that loses nothing, used as ``stroke`` is; None for none.

    None is coarser than what the next paper takes the scratches out of.

    Source: the odds of ``odds.py`` (our assumption); grains by ISO 6344; how far one grade may
    follow another by ``grade_steps.WIDEST_RATIO``.

    Args:
        stroke: the abrading.
        face: as it is now.
        most_odds: likelihood of a loss that nobody is asked about, 0 to 1.
        stakes: what counts as a loss here.
        by: the shares that removal is reckoned by.
        next_grade: of the paper that follows on this surface; None where none does.

    """
    most_um = WIDEST_RATIO * next_grade.grain_um if next_grade else math.inf
    grades = [grade for grade in _FEPA if grade.grain_um <= most_um]

    def safe(number: int) -> bool:
        line = enter_face(replace(stroke, grade=grades[number]), face, stakes, by)
        return line.worst is None or line.worst.odds <= most_odds

    # A finer grade is never more dangerous, so that halving finds the first that is safe.
    found = bisect_left(range(len(grades)), 1, key=safe)
    return grades[found] if found < len(grades) else None


def finest_that_levels(face: FaceState) -> Grade | None:
    """Return the finest FEPA P grade that takes the ridges of the film down; None for no ridges.

    Its grain is at least ``GRAIN_OVER_RIDGES`` times as high as they are (our assumption): below
    that the paper loads and polishes the ridges before they are down.
    """
    ridges_um = face.likely.ridges_um
    if ridges_um < FLAT_RIDGES_UM:
        return None
    cuts = [grade for grade in _FEPA if grade.grain_um >= GRAIN_OVER_RIDGES * ridges_um]
    return cuts[-1] if cuts else _FEPA[0]


def level_from(lines: Sequence[FaceLine]) -> Mapping[str, int | None]:
    """Return by name from which line on what stands by itself is likely level with its zone.

    None for what still stands out or lies low after the last of ``lines``.
    """
    found: dict[str, int | None] = {}
    for index, line in enumerate(lines):
        for name, step_um in line.after.likely_steps_um().items():
            if abs(step_um) > FLAT_UM:
                found[name] = None
            elif found.get(name) is None:
                found[name] = index
    return found


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
