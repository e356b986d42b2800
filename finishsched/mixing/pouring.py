"""The most that jars can bring to a batch, and which of them bring it: solved exactly.

Think of the alcohol and the resin poured so far as a point. Each jar moves it up and to the right,
by more resin the stronger it is. Poured weakest first, the points are the most alcohol for their
resin; strongest first, the least. Both lines only rise. So:

- when all jars together hold no more of either than the batch wants, all of them go in;
- else, when weakest first the resin is reached with alcohol to spare, that is the most alcohol that
  any choice brings in, and only alcohol is lacking;
- else, when strongest first the alcohol is reached with resin lacking, that is the most resin that
  any choice brings in, and only resin is lacking;
- else the wanted point lies between the two lines, and nothing is lacking.

In each case no choice of jars that keeps within the batch brings in more alcohol, and none brings
in more resin, so that what is lacking is least by every measure at once. Sums are exact fractions:
two jars of one cut are of exactly one cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from finishsched.mixing.cut import DISSOLVED_G_PER_ML

ALCOHOL, RESIN = 0, 1
Contents = tuple[Fraction, Fraction]
"""Alcohol in ml, and flakes in g."""


def contents(cut_g_per_l: float, volume_ml: float) -> Contents:
    """Return what is in ``volume_ml`` of a solution of this cut: alcohol in ml, flakes in g.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, 0 or more.
        volume_ml: ml, 0 or more.

    """
    per_ml = Fraction(cut_g_per_l) / 1000
    alcohol_ml = Fraction(volume_ml) / (1 + per_ml / Fraction(DISSOLVED_G_PER_ML))
    return alcohol_ml, alcohol_ml * per_ml


def most_of(held: Sequence[Contents], wanted: Contents) -> Contents:
    """Return the most of ``wanted`` that the jars can bring in: see the head of this module."""
    all_held = together(held)
    if all_held[ALCOHOL] <= wanted[ALCOHOL] and all_held[RESIN] <= wanted[RESIN]:
        return all_held
    weak_first = sorted(held, key=lambda full: full[RESIN] / full[ALCOHOL])
    if all_held[RESIN] >= wanted[RESIN]:
        thinnest = _poured_until(weak_first, RESIN, wanted[RESIN])
        if thinnest[ALCOHOL] <= wanted[ALCOHOL]:
            return thinnest
        strongest = _poured_until(weak_first[::-1], RESIN, wanted[RESIN])
        if strongest[ALCOHOL] <= wanted[ALCOHOL]:
            return wanted
    return _poured_until(weak_first[::-1], ALCOHOL, wanted[ALCOHOL])


def _poured_until(in_order: Iterable[Contents], part: int, enough: Fraction) -> Contents:
    poured = (Fraction(0), Fraction(0))
    for full in in_order:
        share = min(Fraction(1), (enough - poured[part]) / full[part])
        poured = (poured[ALCOHOL] + share * full[ALCOHOL], poured[RESIN] + share * full[RESIN])
    return poured


def oldest_first(held: Sequence[Contents], poured: Contents) -> list[Fraction]:
    """Return the share of each jar in ``poured``, the first as large as the rest can follow."""
    shares = []
    alcohol_ml, resin_g = poured
    for index, full in enumerate(held):
        share = _furthest((alcohol_ml, resin_g), full, held[index + 1 :])
        shares.append(share)
        alcohol_ml, resin_g = alcohol_ml - share * full[ALCOHOL], resin_g - share * full[RESIN]
    return shares


def _furthest(poured: Contents, full: Contents, rest: Sequence[Contents]) -> Fraction:
    """Return the most of the jar ``full`` that leaves of ``poured`` what ``rest`` can make."""
    most = Fraction(1)
    for side, bound in _bounds(rest):
        toward = -_dot(side, full)
        if toward > 0:
            most = min(most, (bound - _dot(side, poured)) / toward)
    return max(Fraction(0), most)


def reachable_share(held: Sequence[Contents], wanted: Contents) -> Fraction:
    """Return the largest share of ``wanted``, in its own proportion, that the jars make alone."""
    most = Fraction(1)
    for side, bound in _bounds(held):
        toward = _dot(side, wanted)
        if toward > 0:
            most = min(most, bound / toward)
    return max(Fraction(0), most)


def _bounds(held: Sequence[Contents]) -> Iterable[tuple[Contents, Fraction]]:
    """Give the straight lines round all that the jars can make, each as a side and how far it is.

    All sums of shares of vectors in a plane fill a convex shape whose sides run along the vectors.
    The lines along the axes close it where all vectors run one way, or there are none.
    """
    one, none = Fraction(1), Fraction(0)
    sides = [(one, none), (-one, none), (none, one), (none, -one)]
    for alcohol_ml, resin_g in held:
        sides += [(resin_g, -alcohol_ml), (-resin_g, alcohol_ml)]
    for side in sides:
        yield side, sum((max(none, _dot(side, full)) for full in held), none)


def _dot(one: Contents, other: Contents) -> Fraction:
    return one[0] * other[0] + one[1] * other[1]


def together(held: Iterable[Contents]) -> Contents:
    """Return what is in all of ``held``."""
    held = tuple(held)
    return (
        sum((full[ALCOHOL] for full in held), Fraction(0)),
        sum((full[RESIN] for full in held), Fraction(0)),
    )
