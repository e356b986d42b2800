"""What the mixing commands share: the shop at hand, common options, and amounts in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import click

from finishsched.cli.common import Command, shop_named
from finishsched.cli.faults import Words
from finishsched.model.shop import Alcohol, Shop, ShownUnits, Tools
from finishsched.units import (
    MASS,
    SHARE,
    STRENGTH,
    TEMPERATURE,
    VOLUME,
    show,
)
from finishsched.workshop.base.shown import Shown, shown_of, tell_in

COLDEST_C, WARMEST_C = -20.0, 40.0
"""Where the density formula of OIML R 22 holds."""

MOST_TRUST_PERCENT = 50.0


def alcohol_options(command: Command) -> Command:
    """Add the options that state the alcohol."""
    at = click.option("--at", metavar="TEMPERATURE", help="Of the alcohol: '20 degC', '68 degF'.")
    strength = click.option(
        "--strength", metavar="STRENGTH", help="Of the alcohol: '95 %vol', '190 proof'."
    )
    return strength(at(command))


def tools_options(command: Command) -> Command:
    """Add the options that state what one measures with."""
    trust = click.option("--trust", metavar="PERCENT", help="How far a measure may be out: '5 %'.")
    measure = click.option(
        "--measure", metavar="VOLUME", help="The measure's smallest mark: '5 ml'."
    )
    scale = click.option("--scale", metavar="MASS", help="The smallest step of the scale: '1 g'.")
    return scale(measure(trust(command)))


def shop_here(shop: str | None) -> Shop | None:
    """Return the shop found from here, or None; its document is read only where there is one."""
    folder = shop_named(shop)
    if folder is None:
        return None
    from finishsched.workshop.base.documents import shop_document

    return shop_document(folder)


def shop_at_hand(
    words: Words, shop: str | None, strength: str | None = None, at: str | None = None
) -> Shop:
    """Return the shop to reckon with: its alcohol, tools, and the units to answer in.

    What the command states goes before what the shop's document states, and that before 95 %vol at
    20 degC and a kitchen's tools.
    """
    found = shop_here(shop) or Shop("")
    return replace(found, alcohol=_alcohol(words, found, strength, at))


def _alcohol(words: Words, shop: Shop, strength: str | None, at: str | None) -> Alcohol:
    spirit, tell = shop.alcohol, tell_in(shop.units)
    strength_percent_vol = words.read("--strength", strength, STRENGTH)
    if strength_percent_vol is not None:
        spirit = replace(spirit, strength_percent_vol=strength_percent_vol)
    at_c = words.read("--at", at, TEMPERATURE)
    if at_c is not None:
        if not COLDEST_C <= at_c <= WARMEST_C:
            words.fault(
                f"--at: alcohol at {tell(at_c, 'degC')}; "
                f"its density is known from {tell(COLDEST_C, 'degC')} to {tell(WARMEST_C, 'degC')}"
            )
        spirit = replace(spirit, at_c=at_c)
    return spirit


def tools_at_hand(
    words: Words, tools: Tools, scale: str | None, measure: str | None, trust: str | None
) -> Tools:
    """Return the shop's ``tools``, as far as the command states no others."""
    scale_g = words.read("--scale", scale, MASS)
    measure_ml = words.read("--measure", measure, VOLUME)
    error_percent = words.read("--trust", trust, SHARE)
    if error_percent is not None and error_percent > MOST_TRUST_PERCENT:
        words.fault(
            f"--trust: a measure that may be out by {error_percent:g} % measures nothing; "
            f"it may be 0 to {MOST_TRUST_PERCENT:g} %, and a kitchen measure is good to about 5 %"
        )
    return Tools(
        scale_g=tools.scale_g if scale_g is None else scale_g,
        measure_ml=tools.measure_ml if measure_ml is None else measure_ml,
        measure_error_percent=(
            tools.measure_error_percent if error_percent is None else error_percent
        ),
    )


def moisture_of(words: Words, moisture: str | None) -> float:
    """Return the share of the flakes that is not resin, in percent; 0 when it is not stated."""
    moisture_percent = words.read("--moisture", moisture, SHARE) or 0.0
    if moisture_percent >= 100:
        words.fault(
            "--moisture: 100 % leaves no resin; write the share that is not resin, such as 5 %"
        )
    return moisture_percent


def volume_or_mass(words: Words, option: str, text: str) -> tuple[float | None, float | None]:
    """Return an amount as millilitres or as grams, and None for the other; both None at a fault.

    A bare ounce is refused: it could be either.
    """
    from finishsched.workshop.base.typed import read_amount

    amount = words.take(option, text, read_amount)
    return (amount.volume_ml, amount.mass_g) if amount else (None, None)


def bench_units(shop: Shop) -> tuple[Callable[[float], str], Callable[[float], str]]:
    """Return how to show ml and g: in the shop's units, a mass as its scale reads."""
    shown = shown_of(shop)
    return (
        lambda volume_ml: show(volume_ml, VOLUME, shop.units.volume),
        lambda mass_g: shown.mass(mass_g, 3),
    )


def both_units(shop: Shop) -> tuple[Callable[[float], str], Callable[[float], str]]:
    """Return how to show a volume and a mass in the shop's units and in its kitchen's."""
    volumes = dict.fromkeys((shop.units.volume, shop.kitchen.volume))
    masses = dict.fromkeys((shop.units.mass, shop.kitchen.mass))
    scales = [Shown(ShownUnits(mass=unit), shop.tools.scale_g) for unit in masses]
    return (
        lambda volume_ml: ", ".join(show(volume_ml, VOLUME, unit) for unit in volumes),
        lambda mass_g: ", ".join(shown.mass(mass_g, 3) for shown in scales),
    )
