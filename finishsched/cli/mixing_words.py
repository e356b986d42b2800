"""What the mixing commands share: the shop's alcohol and units, and amounts in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from finishsched.cli.common import shop_named
from finishsched.cli.faults import Words
from finishsched.model.shop import Alcohol, ShownUnits
from finishsched.units import CUT, MASS, STRENGTH, TEMPERATURE, VOLUME, show

if TYPE_CHECKING:
    from finishsched.model.shop import Shop

COLDEST_C, WARMEST_C = -20.0, 40.0
"""Where the density formula of OIML R 22 holds."""


def shops_alcohol(
    words: Words, shop: str | None, strength: str | None, at: str | None
) -> tuple[Alcohol, ShownUnits]:
    """Return the alcohol to reckon with, and the units to answer in.

    What the command states goes before what the shop's document states, and that before 95 %vol at
    20 degC.
    """
    folder = shop_named(shop)
    found: Shop | None = None
    if folder is not None:
        from finishsched.workshop.folder import shop_document

        found = shop_document(folder)
    spirit = found.alcohol if found else Alcohol()
    strength_percent_vol = words.read("--strength", strength, STRENGTH)
    if strength_percent_vol is not None:
        spirit = replace(spirit, strength_percent_vol=strength_percent_vol)
    at_c = words.read("--at", at, TEMPERATURE)
    if at_c is not None:
        if not COLDEST_C <= at_c <= WARMEST_C:
            words.fault(
                f"--at: alcohol at {at_c:g} degC; "
                f"its density is known from {COLDEST_C:g} to {WARMEST_C:g} degC"
            )
        spirit = replace(spirit, at_c=at_c)
    return spirit, found.units if found else ShownUnits()


def show_cut(cut_g_per_l: float, units: ShownUnits) -> str:
    """Return a cut as the shop says it: ``2-lb cut`` or ``240 g/L cut``."""
    text = show(cut_g_per_l, CUT, units.cut)
    if units.cut == "lb/gal":
        return f"{text.removesuffix(' lb/gal')}-lb cut"
    return f"{text} cut"


def bench_units(units: ShownUnits) -> tuple[Callable[[float], str], Callable[[float], str]]:
    """Return how to show a volume in ml and a mass in g, in the shop's units."""
    return (
        lambda volume_ml: show(volume_ml, VOLUME, units.volume),
        lambda mass_g: show(mass_g, MASS, units.mass),
    )
