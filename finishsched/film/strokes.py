"""Strokes of a hand: how much each takes, what this hand's own measuring teaches, how many to go.

Depth over a face is h = K F n S / A: only force, path and area count (Preston 1927, Archard 1953,
both from memory). K is that of the material on fresh coarse paper, times g = min(1, d / 100 um)^0.6
for the grain d (0.4 to 1.0 fit belts on wood: Applied Sciences, MDPI, 2021), times dulling
D = 0.3 + 0.7 exp(-x / x0) by the path x that the paper has run, x0 25 m on wood, 10 m dry and 40 m
wet on film (our assumption), times 0.8 wet (our assumption). No figure for a hand's stroke is in
print, so that the scale is good to a factor of three or four until it is measured.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from finishsched.film.dishing import BLOCK_MM2, HAND_N, STROKE_MM
from finishsched.film.materials import Material
from finishsched.model.grades import Grade
from finishsched.model.ranges import Range

COARSE_UM = 100.0
GRAIN_POWER = 0.6
WET_CUTS = 0.8
LASTING_CUT = 0.3
DULLING_M = {"wood": 25.0, "dry film": 10.0, "wet film": 40.0}
END_Z = 1.645

MEASURED_SD = 0.25
"""Of the logarithm of one measured test piece (our assumption: a scale of 1 mg, a caliper)."""


@dataclass(frozen=True, slots=True)
class HandRate:
    """What this hand takes over what the model says, for one class of material."""

    factor: Range
    tests: int


def grade_share(grade: Grade) -> float:
    """Return g: the share of K that a grade has, 0 to 1; grain above 0."""
    return math.pow(min(1.0, grade.grain_um / COARSE_UM), GRAIN_POWER)


def class_of(material: Material) -> str:
    """Return what a measured rate holds for: ``wood``, ``film`` or the inlay's own name."""
    return material.name


def depth_um(
    material: Material, grade: Grade, strokes: float, area_mm2: float, *, wet: bool = False
) -> float:
    """Return how deep ``strokes`` over a face take, in um.

    Likely, by a hand that nobody measured: 10 N, strokes of 150 mm, dulling as the paper runs.

    Source: Preston, 1927, and Archard, 1953 (from memory); the scale is our assumption, good to a
    factor of three or four.

    Args:
        material: what is worn.
        grade: of the paper, fresh.
        strokes: how many, 0 or more.
        area_mm2: mm2, above 0.
        wet: True for wet paper.

    """
    wear = material.wear_mm3_per_nm * grade_share(grade) * (WET_CUTS if wet else 1.0)
    path_m = strokes * STROKE_MM / 1000
    # A spot of paper as wide as the block runs every stroke.
    worn_m = _worn_path_m(path_m, _dulling_m(material, wet=wet))
    return 1000 * wear * HAND_N * worn_m / area_mm2


def strokes_for(
    material: Material, grade: Grade, depth: float, area_mm2: float, *, wet: bool = False
) -> float:
    """Return how many strokes take ``depth`` off a face.

    Source: ``depth_um`` turned round; Preston, 1927 (from memory), with a scale of our assumption.

    Args:
        material: what is worn.
        grade: of the paper, fresh.
        depth: um, 0 or more.
        area_mm2: mm2, above 0.
        wet: True for wet paper.

    """
    wear = material.wear_mm3_per_nm * grade_share(grade) * (WET_CUTS if wet else 1.0)
    want_m = depth * area_mm2 / (1000 * wear * HAND_N)
    return 1000 * _path_m(want_m, _dulling_m(material, wet=wet)) / STROKE_MM


def rate_of(ratios: Iterable[float], spread: float) -> HandRate:
    """Return what tests (measured over reckoned) teach of a hand.

    From 1, so that the range never grows wider by a test.

    Source: textbook: a normal prior and normal errors of the logarithm; their spreads are our
    assumption.

    Args:
        ratios: depth measured over depth reckoned, no unit, each above 0.
        spread: the factor each way within which the start is known, no unit, above 1.

    """
    prior_sd = math.log(spread) / END_Z
    precision, total, tests = 1 / prior_sd**2, 0.0, 0
    for ratio in ratios:
        precision += 1 / MEASURED_SD**2
        total += math.log(ratio) / MEASURED_SD**2
        tests += 1
    middle, side = total / precision, END_Z / math.sqrt(precision)
    ends = (math.exp(middle - side), math.exp(middle), math.exp(middle + side))
    return HandRate(Range(*ends), tests)


def rates_of(seen: Mapping[str, tuple[float, ...]], material: Material) -> HandRate:
    """Return this hand's rate on a material by the tests of its class.

    Source: textbook: a normal prior and normal errors of the logarithm; their spreads are our
    assumption.

    Args:
        seen: by class of material, depth measured over depth reckoned, no unit, above 0.
        material: what is worn.

    """
    return rate_of(seen.get(class_of(material), ()), material.spread)


def passes(strokes: float, face_mm2: float) -> float:
    """Return how often strokes go over a whole face: each covers a block's width and its length.

    Source: areas, by definition; the block and the stroke are our assumption.

    Args:
        strokes: how many, 0 or more.
        face_mm2: mm2, above 0.

    """
    block_mm = math.sqrt(BLOCK_MM2)
    return strokes * block_mm * STROKE_MM / max(face_mm2, block_mm * STROKE_MM)


def _dulling_m(material: Material, *, wet: bool) -> float:
    if material.name == "film":
        return DULLING_M["wet film" if wet else "dry film"]
    return DULLING_M["wood"]


def _worn_path_m(path_m: float, x0_m: float) -> float:
    """Return the path on fresh paper that does as much as ``path_m`` on one that dulls."""
    return LASTING_CUT * path_m + (1 - LASTING_CUT) * x0_m * -math.expm1(-path_m / x0_m)


def _path_m(worn_m: float, x0_m: float) -> float:
    """Return the path that does as much as ``worn_m`` on fresh paper: the inverse."""
    low, high = worn_m, worn_m / LASTING_CUT
    for _ in range(60):
        middle = (low + high) / 2
        if _worn_path_m(middle, x0_m) < worn_m:
            low = middle
        else:
            high = middle
    return high
