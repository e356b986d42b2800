"""``parts``: other mixtures of the bench, and how long a two-part one stays workable."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import json_option, shop_option, why_data, why_lines, why_option
from finishsched.cli.faults import Words
from finishsched.cli.mixing.mixing_words import shop_here, volume_or_mass
from finishsched.units import DENSITY, DURATION, LOADING, SHARE, TEMPERATURE, VOLUME, show
from finishsched.workshop.base.shown import PLAIN, shown_of, tell_in

if TYPE_CHECKING:
    from finishsched.mixing.parts import Mixture
    from finishsched.model.shop import Shop, ShownUnits

FAR_K = 15.0
"""Further than this from the data sheet's temperature a pot life is a guide (our assumption)."""

Recipe = Callable[[], "Mixture"]
_MIXTURES = "--ratio '2:1', --thin '25 %', --thin-parts '3:1' or --dissolve '10 g/l'"


@click.command("parts")
@click.option("--ratio", metavar="RATIO", help="Two parts or more: '2:1', '100:38', '1:1.8'.")
@click.option("--by", metavar="volume|weight", help="What the ratio counts; the data sheet says.")
@click.option("--thin", metavar="PERCENT", help="Share of thinner in what is applied: '25 %'.")
@click.option("--thin-parts", metavar="RATIO", help="Material to thinner by volume: '3:1'.")
@click.option("--dissolve", metavar="STRENGTH", help="Powder for a volume of liquid: '10 g/l'.")
@click.option("--makes", metavar="VOLUME|MASS", help="How much is wanted.")
@click.option("--names", metavar="NAMES", help="Of the parts: 'resin, hardener'.")
@click.option("--density", metavar="DENSITIES", help="Of the parts: '1.10 g/ml, 0.98 g/ml'.")
@click.option("--pot-life", metavar="TIME", help="By the data sheet: '30 min'.")
@click.option("--pot-life-at", metavar="TEMPERATURE", help="Where it holds: '22 degC'.")
@click.option("--at", metavar="TEMPERATURE", help="Of the room; else the shop's usual air.")
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    ratio: str | None,
    by: str | None,
    thin: str | None,
    thin_parts: str | None,
    dissolve: str | None,
    makes: str | None,
    names: str | None,
    density: str | None,
    pot_life: str | None,
    pot_life_at: str | None,
    at: str | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say how much of each part goes into a mixture.

    Glue or epoxy by a ratio, varnish or oil with thinner, dye or stain from powder: give one of
    --ratio, --thin, --thin-parts or --dissolve, and --makes. Hide glue is a ratio by weight:
    --ratio 1:1.8 --by weight --names 'dry glue, water'. With --pot-life it says how long a two-part
    mix stays workable in your room.
    """
    words = Words()
    ways = {"--ratio": ratio, "--thin": thin, "--thin-parts": thin_parts, "--dissolve": dissolve}
    way = _one_way(words, ways, makes, only_pot_life=pot_life is not None)
    _only_with_ratio(words, way, {"--by": by, "--density": density})
    named = None if names is None else [name.strip() for name in names.split(",")]
    recipe: Recipe | None = None
    if way == "--ratio":
        recipe = _by_ratio(words, ratio or "", by, makes, named, density)
    elif way is not None:
        recipe = _by_volume(words, way, ways[way] or "", makes, named)
    here = shop_here(shop)
    times = _pot_life(words, pot_life, pot_life_at, at, here)
    words.settle()
    mixture = recipe() if recipe else None
    from finishsched.cli.safety.caution_words import answer_minding
    from finishsched.safety.cautions import parts_cautions

    answer_minding(
        parts_cautions(sets=times is not None),
        lambda: _data(mixture, times, here),
        lambda: _lines(mixture, times, here, why=why),
        as_json=as_json,
    )


def _one_way(
    words: Words, ways: dict[str, str | None], makes: str | None, *, only_pot_life: bool
) -> str | None:
    given = [name for name, text in ways.items() if text is not None]
    if len(given) > 1:
        words.fault(f"{' and '.join(given)} are different mixtures; give one of them")
    if not given and (makes is not None or not only_pot_life):
        words.fault(f"no mixture is given; write one of {_MIXTURES}")
    if given and makes is None:
        words.fault("--makes is missing; write for example --makes '250 ml'")
    return given[0] if given else None


def _only_with_ratio(words: Words, way: str | None, options: dict[str, str | None]) -> None:
    for name, text in options.items():
        if text is not None and way != "--ratio":
            words.fault(f"{name} goes with --ratio; leave it out")


def _by_ratio(
    words: Words,
    ratio: str,
    by: str | None,
    makes: str | None,
    names: list[str] | None,
    density: str | None,
) -> Recipe:
    """Read a ratio with all that belongs to it; the recipe is worked out when nothing is amiss."""
    from finishsched.mixing.parts import By, mix_parts

    parts = _ratio(words, "--ratio", ratio)
    if by not in ("volume", "weight"):
        said = "is missing" if by is None else f"{by!r} is neither volume nor weight"
        words.fault(f"--by {said}; write --by volume or --by weight, whichever the data sheet says")
        by = None
    counted = By(by or "volume")
    amount = (None, None) if makes is None else volume_or_mass(words, "--makes", makes)
    densities = _densities(words, density, len(parts))
    kind = by if amount == (None, None) else "volume" if amount[1] is None else "weight"
    if by is not None and kind != by and density is None:
        words.fault(
            f"--density is missing: parts by {by} do not tell a {kind} without it; write each "
            "part's own from its data sheet, such as --density '1.10 g/ml, 0.98 g/ml'"
        )
    named = _names(words, names, [f"part {number}" for number in range(1, len(parts) + 1)])
    return lambda: mix_parts(
        named, parts, counted, makes_ml=amount[0], makes_g=amount[1], densities_g_per_ml=densities
    )


def _by_volume(
    words: Words, way: str, text: str, makes: str | None, names: list[str] | None
) -> Recipe:
    """Read a thinning, or a powder for a liquid."""
    from finishsched.mixing.parts import By, dissolve, mix_parts, thin

    makes_ml = words.read("--makes", makes, VOLUME) or 1.0
    if way == "--dissolve":
        strength_g_per_l = words.need(way, text, LOADING)
        stain = _names(words, names, ["powder", "liquid"])
        return lambda: dissolve(strength_g_per_l, makes_ml, stain)
    named = _names(words, names, ["material", "thinner"])
    if way == "--thin-parts":
        parts = _ratio(words, way, text)
        if len(parts) != 2:
            words.fault(f"--thin-parts: {text!r} is not two parts; write material to thinner: 3:1")
        return lambda: mix_parts(named, parts, By.VOLUME, makes_ml=makes_ml)
    share = words.need(way, text, SHARE)
    if not 0 < share < 100:
        words.fault(f"--thin: {share:g} % is no mixture; it may be more than 0 to under 100 %")
    return lambda: thin(share, makes_ml, named)


def _ratio(words: Words, option: str, text: str) -> list[float]:
    try:
        parts = [float(part) for part in text.split(":")]
    except ValueError:
        parts = []
    if len(parts) < 2 or not all(math.isfinite(part) and 0 < part <= 1e6 for part in parts):
        words.fault(f"{option}: {text!r} is no ratio; write two parts or more above zero: 2:1")
        return [1.0, 1.0]
    return parts


def _densities(words: Words, text: str | None, parts: int) -> list[float] | None:
    if text is None:
        return None
    found = [words.need("--density", one.strip(), DENSITY) for one in text.split(",")]
    if len(found) != parts:
        words.fault(f"--density: {len(found)} for {parts} parts; write one for each, with commas")
    return found


def _names(words: Words, names: list[str] | None, usual: list[str]) -> list[str]:
    if names is None:
        return usual
    if len(names) != len(usual) or not all(names):
        words.fault(
            f"--names: {len(names)} for {len(usual)} parts; write one for each, with commas"
        )
        return usual
    return names


Times = tuple[float, float, float]
"""Pot life by the data sheet in s, where it holds and the room's temperature in degC."""


def _pot_life(
    words: Words, pot_life: str | None, pot_life_at: str | None, at: str | None, shop: Shop | None
) -> Times | None:
    at_c = words.read("--at", at, TEMPERATURE)
    published_c = words.read("--pot-life-at", pot_life_at, TEMPERATURE)
    if pot_life is None:
        for name, text in (("--pot-life-at", pot_life_at), ("--at", at)):
            if text is not None:
                words.fault(f"{name} goes with --pot-life; write it too, or leave {name} out")
        return None
    published_s = words.need("--pot-life", pot_life, DURATION)
    if published_s <= 0:
        words.fault("--pot-life: it must be more than nothing; write for example 30 min")
    if pot_life_at is None:
        words.fault("--pot-life-at is missing; write where the data sheet's time holds: '22 degC'")
    if at is None and shop is None:
        words.fault("--at is missing; write how warm the room is: --at '20 degC'")
    if at_c is None:
        at_c = shop.usual_air.temperature_c if shop else 20.0
    return published_s, published_c or 0.0, at_c


def _data(mixture: Mixture | None, times: Times | None, shop: Shop | None) -> dict[str, Any]:
    data: dict[str, Any] = {
        "parts": [],
        "makes_ml": None,
        "makes_g": None,
        "pot_life_minutes": None,
    }
    if mixture is not None:
        data["parts"] = [
            {
                "name": part.name,
                "ratio": part.ratio,
                "volume_ml": part.volume_ml,
                "mass_g": part.mass_g,
            }
            for part in mixture.parts
        ]
        data["makes_ml"], data["makes_g"] = mixture.makes_ml, mixture.makes_g
    reasons = mixture.reasons if mixture else ()
    if times is not None:
        from finishsched.drying.rates import pot_life_reason, pot_life_s

        data["pot_life_minutes"] = pot_life_s(*times) / 60
        reasons = (*reasons, pot_life_reason(*times))
    warnings = [*_too_fine(mixture, shop), *_warnings(times, shop)]
    return {**data, "warnings": warnings, "why": why_data(reasons, _units(shop))}


def _units(shop: Shop | None) -> ShownUnits:
    from finishsched.model.shop import ShownUnits

    return shop.units if shop else ShownUnits()


def _warnings(times: Times | None, shop: Shop | None) -> Iterable[str]:
    if times is None:
        return
    yield "a deep pot warms itself and sets sooner, even smoking hot; spread it in a flat tray"
    _, published_c, at_c = times
    if abs(at_c - published_c) > FAR_K:
        room, sheet = (tell_in(_units(shop))(celsius, "degC") for celsius in (at_c, published_c))
        yield f"{room} is far from the data sheet's {sheet}: the time is a guide"


def _too_fine(mixture: Mixture | None, shop: Shop | None) -> Iterable[str]:
    """Say where the shop's scale cannot weigh a part usefully: what it reads is another ratio."""
    if mixture is None or shop is None:
        return
    from finishsched.mixing.measure import USEFUL_SHARE

    half_g = shop.tools.scale_g / 2
    for part in mixture.parts:
        if part.mass_g and half_g > USEFUL_SHARE * part.mass_g:
            out = f"{100 * half_g / part.mass_g:.0f} %"
            yield f"this scale weighs that little of {part.name} only to within {out}: make more"


def _lines(
    mixture: Mixture | None, times: Times | None, shop: Shop | None, *, why: bool
) -> Iterable[str]:
    if mixture is not None:
        yield from _part_lines(mixture, shop)
    reasons = mixture.reasons if mixture else ()
    if times is not None:
        from finishsched.drying.rates import pot_life_reason, pot_life_s

        reasons = (*reasons, pot_life_reason(*times))
        published_s, published_c, at_c = times
        room, sheet = (tell_in(_units(shop))(celsius, "degC") for celsius in (at_c, published_c))
        yield (
            f"workable for about {_time(pot_life_s(*times))} at {room} "
            f"({_time(published_s)} at {sheet} by the data sheet)"
        )
    for warning in (*_too_fine(mixture, shop), *_warnings(times, shop)):
        yield f"  mind: {warning}"
    if why:
        yield from why_lines(reasons, _units(shop))


def _part_lines(mixture: Mixture, shop: Shop | None) -> Iterable[str]:
    volume_unit = shop.units.volume if shop else "ml"
    scale = shown_of(shop) if shop else PLAIN

    def amounts(volume_ml: float | None, mass_g: float | None, between: str) -> str:
        by_volume = None if volume_ml is None else show(volume_ml, VOLUME, volume_unit)
        by_weight = None if mass_g is None else scale.mass(mass_g, 3)
        return between.join(one for one in (by_volume, by_weight) if one is not None)

    width = max(len(part.name) for part in mixture.parts)
    for part in mixture.parts:
        yield f"  {part.name:<{width}}  {amounts(part.volume_ml, part.mass_g, '  or weigh ')}"
    if mixture.makes_ml is not None or mixture.makes_g is not None:
        yield f"  {'makes':<{width}}  {amounts(mixture.makes_ml, mixture.makes_g, ', ')}"


def _time(seconds: float) -> str:
    return show(seconds, DURATION, "h" if seconds >= 2 * 3600 else "min", digits=2)
