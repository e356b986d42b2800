"""Volumes by the measures that stand in a kitchen of ounces: spoons, and fractions of a cup.

Source: NIST Handbook 44 (2024), Appendix C: 1 cup = 8 fl oz = 16 tbsp, 1 tbsp = 3 tsp. Which
spoons a set holds is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

TSP_IN_A_TBSP, TSP_IN_A_CUP = 3, 48
ML_IN_A_TSP = 29.5735295625 / 6
"""A fluid ounce is six teaspoons."""
QUARTERS = tuple(Fraction(quarters, 4) for quarters in range(1, 12))
"""Of a teaspoon: up to less than a tablespoon."""
CUPS = tuple(sorted({Fraction(n, d) for d in (3, 4) for n in range(1, 4 * d + 1)}))
SPOONED_UNITS = ("floz", "cup", "pt", "qt")
"""The units of a shop that has such measures."""


def spoons(ml: float, within: float) -> str:
    """Return ``2 tsp``, ``1 tbsp + 2 tsp`` or ``1/4 cup``; empty where no measure is so near.

    ``ml`` is a volume, above 0; ``within`` the share by which it may be missed.
    """
    tsp = ml / ML_IN_A_TSP
    near = (words for words, held in _measures() if abs(tsp / held - 1) <= within)
    return next(near, "")


def _measures() -> Iterator[tuple[str, float]]:
    """Give each way of measuring and how many teaspoons it holds, the simplest first."""
    for whole in (1, 2, 3):
        yield f"{whole} tbsp", whole * TSP_IN_A_TBSP
    for cups in CUPS:
        yield f"{_mixed(cups)} cup{'s' if cups > 1 else ''}", float(cups * TSP_IN_A_CUP)
    for part in sorted(QUARTERS, key=lambda one: one.denominator):
        yield f"{_mixed(part)} tsp", float(part)
    for whole in (1, 2, 3):
        for tsp in (1, 2):
            yield f"{whole} tbsp + {tsp} tsp", whole * TSP_IN_A_TBSP + tsp


def _mixed(number: Fraction) -> str:
    """Return a fraction as spoons are marked: ``1/2``, ``1 1/4``, ``2``."""
    whole, rest = divmod(number, 1)
    return " ".join(str(part) for part in (whole, rest) if part)
