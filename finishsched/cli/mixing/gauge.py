"""``gauge``: which cut a jar holds, from a weighed volume or a dried sample."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import (
    json_option,
    shop_named,
    shop_option,
    why_data,
    why_lines,
    why_option,
)
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.mixing.mixing_words import (
    alcohol_options,
    moisture_of,
    shop_at_hand,
    tools_at_hand,
    tools_options,
)
from finishsched.model.said import SaidError, told
from finishsched.units import MASS, VOLUME
from finishsched.workshop.base.mixed_words import tool_words
from finishsched.workshop.base.shown import cut_range_words, cut_words, tell_in

if TYPE_CHECKING:
    from finishsched.mixing.gauge import Gauged, Unstated
    from finishsched.model.shop import Shop


@click.command("gauge")
@click.option("--volume", metavar="VOLUME", help="Of the solution that is weighed.")
@click.option("--weighs", metavar="MASS", help="What that volume weighs, without its jar.")
@click.option("--wet", metavar="MASS", help="What a sample weighs before drying, without its dish.")
@click.option("--dry", metavar="MASS", help="What it weighs when it loses no more.")
@alcohol_options
@click.option("--moisture", metavar="PERCENT", help="Share of the flakes that is not resin.")
@tools_options
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    volume: str | None,
    weighs: str | None,
    wet: str | None,
    dry: str | None,
    strength: str | None,
    at: str | None,
    moisture: str | None,
    scale: str | None,
    measure: str | None,
    trust: str | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say which cut a jar holds, as far as your tools can tell.

    Give --volume and --weighs, or --wet and --dry. The dried sample tells far more: alcohol and
    solution weigh nearly the same.
    """
    words = Words()
    _one_way(words, {"--volume": volume, "--weighs": weighs}, {"--wet": wet, "--dry": dry})
    volume_ml = words.read("--volume", volume, VOLUME)
    weighs_g = words.read("--weighs", weighs, MASS)
    sample = (words.read("--wet", wet, MASS), words.read("--dry", dry, MASS))
    moisture_percent = moisture_of(words, moisture)
    here = shop_at_hand(words, shop, strength, at)
    here = replace(here, tools=tools_at_hand(words, here.tools, scale, measure, trust))
    words.settle()
    has_label = strength is not None or shop_named(shop) is not None
    unstated = _unstated(strength_stated=has_label, moisture_stated=moisture is not None)
    gauged = _gauged((volume_ml, weighs_g), sample, here, moisture_percent, unstated)
    from finishsched.cli.safety.caution_words import answer_minding
    from finishsched.safety.cautions import mixing_cautions

    answer_minding(
        mixing_cautions(),
        lambda: _data(gauged, here),
        lambda: _lines(gauged, here, why=why),
        as_json=as_json,
    )


def _one_way(words: Words, weighed: dict[str, str | None], dried: dict[str, str | None]) -> None:
    given = [way for way in (weighed, dried) if any(way.values())]
    if not given:
        words.fault(
            "no weighing is given; write --volume '100 ml' --weighs '88 g', "
            "or --wet '20 g' --dry '4.6 g'"
        )
    if len(given) > 1:
        words.fault("a weighed volume and a dried sample are two ways; give one of them")
    for way in given:
        for missing in (name for name, text in way.items() if text is None):
            words.fault(f"{missing} is missing; {' and '.join(way)} go together")


def _unstated(*, strength_stated: bool, moisture_stated: bool) -> Unstated:
    from finishsched.mixing.gauge import NOT_STATED, Unstated

    return Unstated(
        None if strength_stated else NOT_STATED.strength_percent_vol,
        None if moisture_stated else NOT_STATED.moisture_percent,
    )


Pair = tuple[float | None, float | None]


def _gauged(
    weighed: Pair, dried: Pair, shop: Shop, moisture_percent: float, unstated: Unstated
) -> Gauged:
    from finishsched.mixing.gauge import gauge_by_drying, gauge_by_weight

    (volume_ml, weighs_g), (wet_g, dry_g) = weighed, dried
    known = (shop.alcohol, shop.tools, moisture_percent)
    try:
        if volume_ml is not None and weighs_g is not None:
            return gauge_by_weight(volume_ml, weighs_g, *known)
        return gauge_by_drying(wet_g or 0.0, dry_g or 0.0, *known, unstated)
    except SaidError as error:
        raise CommandError(told(error.words, tell_in(shop.units))) from None
    except ValueError as error:
        raise CommandError(str(error)) from None


def _data(gauged: Gauged, shop: Shop) -> dict[str, Any]:
    cut, low, high = gauged.cut.in_pounds
    return {
        "cut_lb_per_gal": cut,
        "cut_low": low,
        "cut_high": high,
        "cut_g_per_l": gauged.cut.g_per_l,
        "mass_percent": gauged.mass_percent,
        "density_g_per_ml": gauged.density_g_per_ml,
        "warnings": list(gauged.warnings),
        "why": why_data(gauged.reasons, shop.units),
    }


def _lines(gauged: Gauged, shop: Shop, *, why: bool) -> Iterable[str]:
    cut = gauged.cut
    yield f"{cut_words(cut.g_per_l, shop.units)}"
    yield f"  between  {cut_range_words(cut.low_g_per_l, cut.high_g_per_l, shop.units)}"
    yield f"           on {tool_words(shop)}"
    yield f"  dry resin {gauged.mass_percent:.1f} % by weight"
    for warning in gauged.warnings:
        yield f"  mind: {warning}"
    if why:
        yield from why_lines(gauged.reasons, shop.units)
