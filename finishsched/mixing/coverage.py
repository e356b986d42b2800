"""How far a litre goes: area, film and volume solids.

What stays as film is the volume solids; a litre spread 1 um thick covers 1000 m2, a US gallon
1 mil thick 1604.17 sq ft (the units' definitions). A film's thickness is dry unless it says wet.
"""

from __future__ import annotations

import math


def spread_m2_per_l(
    volume_solids_percent: float, dry_film_um: float, loss_percent: float = 0.0
) -> float:
    """Return the area that a litre covers.

    ``volume_solids_percent`` is more than 0 up to 100, ``dry_film_um`` more than 0,
    ``loss_percent`` (what never reaches the surface) 0 to under 100.

    Raises:
        ValueError: outside those ranges.

    """
    _above_zero(dry_film_um, "um of film")
    return 10 * _solids(volume_solids_percent) * _kept(loss_percent) / dry_film_um


def dry_film_um(
    volume_solids_percent: float, spread_m2_per_l: float, loss_percent: float = 0.0
) -> float:
    """Return the dry film that a litre leaves on ``spread_m2_per_l``: the same law, turned round.

    Raises:
        ValueError: for a share or an area that cannot be.

    """
    _above_zero(spread_m2_per_l, "m2 for a litre")
    return 10 * _solids(volume_solids_percent) * _kept(loss_percent) / spread_m2_per_l


def dry_from_wet_um(wet_film_um: float, volume_solids_percent: float) -> float:
    """Return the dry film that a wet film shrinks to."""
    _above_zero(wet_film_um, "um of film")
    return wet_film_um * _solids(volume_solids_percent) / 100


def needed_ml(
    area_m2: float, volume_solids_percent: float, dry_film_um: float, loss_percent: float = 0.0
) -> float:
    """Return what it takes to leave a film on ``area_m2``, in millilitres."""
    _above_zero(area_m2, "m2")
    return 1000 * area_m2 / spread_m2_per_l(volume_solids_percent, dry_film_um, loss_percent)


def _solids(percent: float) -> float:
    if not 0 < percent <= 100:
        raise ValueError(f"volume solids of {percent:g} %; they may be more than 0 up to 100 %")
    return percent


def _kept(loss_percent: float) -> float:
    if not 0 <= loss_percent < 100:
        raise ValueError(f"a loss of {loss_percent:g} %; it may be 0 to under 100 %")
    return 1 - loss_percent / 100


def _above_zero(value: float, noun: str) -> None:
    if not (math.isfinite(value) and value > 0):
        raise ValueError(f"{value:g} {noun}; it must be more than zero")
