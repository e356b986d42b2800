"""Hard beside soft under one paper: what an inlay keeps standing, and what a hand can take down.

A backing that gives presses less on what lies deeper, so that the soft part goes down until the
pressures make both wear alike: a step D = D_end (1 - exp(-L / L0)), with
D_end = p (Ks - Kh) / (c (fh Ks + fs Kh)) and L0 = 1 / (c (fh Ks + fs Kh)); c, how stiff the backing
is, E / t of a thin layer or pi E / 2 w of a deep one over parts w wide (Johnson, Contact Mechanics,
Cambridge, 1985; from memory). Never more than (1 - Kh / Ks) of what the soft part lost. Relief at
inlay in wood was never measured in print.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from finishsched.film.abrading import Backing
from finishsched.film.zones import HAND_MPA, PAPER_MM, STIFF_MPA

FLAT_UM = 5.0
"""A step that shows in a gloss (our assumption)."""

HARD_SHARE = 0.2
"""Of the face under the pad that is the harder part (our assumption)."""

HAND_N = 10.0
STROKE_MM = 150.0
BLOCK_MM2 = 5000.0
"""Force, length of a stroke and face of a block (our assumption: 10 N, 150 mm, 50 cm2)."""

PATIENCE_STROKES = 600
"""More strokes than this nobody gives one inlay at one step, besides those of the face: some ten
minutes (our assumption)."""


@dataclass(frozen=True, slots=True)
class Beside:
    """An inlay beside the field, as one paper meets both."""

    inlay_wear: float
    """K of the inlay, mm3/(N m)."""
    field_wear: float
    """K of what the field is made of on top: film or wood."""
    width_mm: float
    """How wide the inlay's parts are, above 0."""
    area_mm2: float


def step_after(beside: Beside, backing: Backing, stands_um: float, field_cut_um: float) -> float:
    """Return how far the inlay stands out afterwards, in um; below 0 it is hollowed.

    A hard inlay ends at most as high as its backing lets it, and rises over the field by no more
    than the field lost more than it.

    Source: Preston's law, 1927, with an elastic backing; its figures are our assumption.

    Args:
        beside: how fast inlay and field wear, and how wide the inlay is.
        backing: what is behind the paper.
        stands_um: um that it stood out before, any; below 0 for hollowed.
        field_cut_um: um that the field lost meanwhile, 0 or more.

    """
    hard, soft = sorted((beside.inlay_wear, beside.field_wear))
    if hard == soft or field_cut_um <= 0:
        return min(stands_um, 0.0) if hard == soft else stands_um
    sign = 1.0 if beside.inlay_wear < beside.field_wear else -1.0
    stiff = _stiff_n_per_mm3(backing, beside.width_mm)
    mean_wear = HARD_SHARE * soft + (1 - HARD_SHARE) * hard
    end_um = 1000 * HAND_MPA * (soft - hard) / (stiff * mean_wear)
    # Path over L0, the grade's own share of K in both.
    paths = field_cut_um / 1000 / (beside.field_wear * HAND_MPA) * stiff * mean_wear
    before_um = sign * stands_um
    eased_um = end_um + (before_um - end_um) * math.exp(-paths)
    most_um = before_um + (1 - hard / soft) * field_cut_um
    return sign * min(eased_um, max(most_um, before_um))


def hand_takes_um(beside: Beside, cutting: float, strokes: float = PATIENCE_STROKES) -> float:
    """Return what strokes take off an inlay that stands proud and bears the whole block, in um.

    Source: Preston's law, 1927; force and stroke of a hand are our assumption.

    Args:
        beside: how fast the inlay wears, and its area.
        cutting: share of K that the grade has (``strokes.grade_share``), above 0 to 1.
        strokes: how many, 0 or more.

    """
    volume_mm3 = beside.inlay_wear * cutting * HAND_N * strokes * STROKE_MM / 1000
    return 1000 * volume_mm3 / beside.area_mm2


def _stiff_n_per_mm3(backing: Backing, width_mm: float) -> float:
    if backing in (Backing.HARD, Backing.WORKED):
        return STIFF_MPA[backing] / PAPER_MM
    return math.pi * STIFF_MPA[backing] / (2 * width_mm)
