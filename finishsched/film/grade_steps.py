"""How one abrasive grade follows another, by the ratio of their grains."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from finishsched.model.grades import CAMI_UM, FEPA_UM, Grade, System

GOOD_RATIO = 1.6
WIDEST_RATIO = 2.0
"""Grain of one step over grain of the next: good 1.3 to 1.6, at most 2.0 (printed step rule)."""

WIDEST_TO_POWDER = 3.5
"""Grain of a paper over that of the powder after it: P1000 and pumice before rottenstone (common
practice). Powders roll and break, and clear more than a paper of their grain would."""


class Change(StrEnum):
    """How one grade follows another."""

    FIRST = "first"
    SAME = "same"
    GOOD = "good"
    """Finer by no more than a step should be."""
    WIDE = "wide"
    """Finer by more than is good, and within what is allowed."""
    SKIPPED = "skipped"
    """So much finer that it cannot take out the scratch before it."""
    REVERSED = "reversed"
    """Coarser than the one before."""


@dataclass(frozen=True, slots=True)
class GradeStep:
    """One grade after another."""

    before: Grade
    after: Grade
    ratio: float
    """Grain before over grain after: above 1 is finer."""
    change: Change
    between: tuple[str, ...]
    """Standard grades that were passed over, coarsest first."""


def step_between(before: Grade, after: Grade) -> GradeStep:
    """Return how ``after`` follows ``before``, by the ratio of their grains."""
    ratio = before.grain_um / after.grain_um
    return GradeStep(before, after, ratio, _change(ratio), _passed_over(before, after))


def between(coarse_um: float, fine_um: float, widest: float = WIDEST_RATIO) -> tuple[str, ...]:
    """Return the fewest FEPA grades that lead from one grain to another in good steps.

    None where the finer may follow at once, its grain no more than ``widest`` times finer.
    """
    found: list[str] = []
    now_um = coarse_um
    while now_um > widest * 1.01 * fine_um:
        number, now_um = [
            one for one in FEPA_UM.items() if now_um > one[1] >= now_um / (GOOD_RATIO * 1.01)
        ][-1]
        found.append(f"P{number}")
    return tuple(found)


def _change(ratio: float) -> Change:
    # A hair of tolerance: both tables are rounded.
    if ratio < 1 / 1.03:
        return Change.REVERSED
    if ratio <= 1.03:
        return Change.SAME
    if ratio <= GOOD_RATIO * 1.01:
        return Change.GOOD
    return Change.WIDE if ratio <= WIDEST_RATIO * 1.01 else Change.SKIPPED


def _passed_over(before: Grade, after: Grade) -> tuple[str, ...]:
    """Return the grades of ``after``'s own system between the two."""
    table = CAMI_UM if after.system is System.CAMI else FEPA_UM
    prefix = "CAMI " if after.system is System.CAMI else "P"
    return tuple(
        f"{prefix}{number}"
        for number, grain_um in table.items()
        if after.grain_um * 1.03 < grain_um < before.grain_um / 1.03
    )
