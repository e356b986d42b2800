"""``mix``: a fresh batch by weight and by volume, and what the shop's tools make of it."""

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
from finishsched.cli.faults import Words
from finishsched.cli.mixing.mixing_words import (
    alcohol_options,
    bench_units,
    both_units,
    moisture_of,
    shop_at_hand,
    shop_here,
    tools_at_hand,
    tools_options,
    volume_or_mass,
)
from finishsched.units import CUT, MASS, TEMPERATURE, VOLUME, convert, show
from finishsched.workshop.base.mixed_words import coarse_words, gives_words, readings, tool_words
from finishsched.workshop.base.shown import cut_words, shown_of

if TYPE_CHECKING:
    from finishsched.mixing.cut import FreshBatch
    from finishsched.mixing.measure import CutRange, OnTools
    from finishsched.model.shop import Alcohol, Shop


@click.command("mix")
@click.option("--cut", metavar="CUT", help="Such as '2 lb', '240 g/L', '20 %w/v'.")
@click.option("--recipe", metavar="PRODUCT", help="Instead of a cut: one made of others.")
@click.option("--of", metavar="'PART: AMOUNT'", help="With --recipe: all there is of a part.")
@click.option("--makes", metavar="VOLUME", help="How much solution is wanted.")
@click.option("--alcohol", metavar="VOLUME|MASS", help="How much alcohol to use.")
@click.option("--flakes", metavar="MASS", help="How much flakes to use.")
@alcohol_options
@click.option("--moisture", metavar="PERCENT", help="Share of the flakes that is not resin.")
@tools_options
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    cut: str | None,
    recipe: str | None,
    of: str | None,
    makes: str | None,
    alcohol: str | None,
    flakes: str | None,
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
    """Say what to weigh and measure for a fresh batch of a cut.

    Give the cut, and one of --makes, --alcohol or --flakes. It also says what your scale and
    measures can read of it, and how near the cut that comes. --recipe does the same for a product
    whose document says what the shop makes it of.
    """
    from finishsched.mixing.measure import on_tools

    words = Words()
    if recipe is not None:
        _by_recipe(words, recipe, {"--cut": cut, "--alcohol": alcohol, "--flakes": flakes},
                   makes, of, shop, as_json=as_json)  # fmt: skip
        return
    if of is not None:
        words.fault("--of goes with --recipe; add that, or leave it out")
    cut_g_per_l = words.need("--cut", cut, CUT)
    amounts = {"--makes": makes, "--alcohol": alcohol, "--flakes": flakes}
    _one_of(words, amounts)
    moisture_percent = moisture_of(words, moisture)
    measured = [_amount(words, name, text) for name, text in amounts.items() if text is not None]
    here = shop_at_hand(words, shop, strength, at)
    here = replace(here, tools=tools_at_hand(words, here.tools, scale, measure, trust))
    words.settle()
    batch = _batch(cut_g_per_l, *measured[0], here.alcohol, moisture_percent)
    really = on_tools(batch, here.tools)
    from finishsched.cli.safety.caution_words import answer_minding
    from finishsched.safety.cautions import mixing_cautions

    answer_minding(
        mixing_cautions(),
        lambda: _data(batch, really, here),
        lambda: _lines(batch, really, here, why=why),
        as_json=as_json,
    )


def _by_recipe(  # what was written, and where
    words: Words,
    recipe: str,
    of_a_cut: dict[str, str | None],
    makes: str | None,
    of: str | None,
    shop: str | None,
    *,
    as_json: bool,
) -> None:
    from finishsched.cli.mixing.recipe_words import mix_recipe
    from finishsched.workshop.base.documents import products_at_hand

    for name, text in of_a_cut.items():
        if text is not None:
            words.fault(f"{name} is for a cut; leave it out, the recipe says what goes in")
    from finishsched.model.shop import Shop

    here = shop_here(shop)
    products = products_at_hand(shop_named(shop))
    mix_recipe(words, recipe, makes, of, products, here or Shop(""), as_json=as_json)


def _one_of(words: Words, amounts: dict[str, str | None]) -> None:
    given = [name for name, text in amounts.items() if text is not None]
    if len(given) == 0:
        words.fault(
            "no amount is given; write one of --makes '250 ml', --alcohol '1 cup', --flakes '30 g'"
        )
    if len(given) > 1:
        words.fault(f"{' and '.join(given)} cannot both decide the amount; give one of them")


def _amount(words: Words, name: str, text: str) -> tuple[str, float]:
    """Return what kind of amount the text is, and how much in millilitres or grams."""
    if name == "--makes":
        return "makes_ml", words.need(name, text, VOLUME)
    if name == "--flakes":
        return "flakes_g", words.need(name, text, MASS)
    alcohol_ml, alcohol_g = volume_or_mass(words, name, text)
    return ("alcohol_g", alcohol_g) if alcohol_g is not None else ("alcohol_ml", alcohol_ml or 1.0)


def _batch(
    cut_g_per_l: float, kind: str, amount: float, spirit: Alcohol, moisture_percent: float
) -> FreshBatch:
    from finishsched.mixing import cut

    by_kind = {
        "makes_ml": cut.mix_for_volume,
        "alcohol_ml": cut.mix_for_alcohol,
        "alcohol_g": cut.mix_for_alcohol_mass,
        "flakes_g": cut.mix_for_flakes,
    }
    return by_kind[kind](cut_g_per_l, amount, spirit, moisture_percent)


_BATCH_KEYS = (
    "cut_lb_per_gal",
    "cut_g_per_l",
    "flakes_g",
    "alcohol_ml",
    "alcohol_g",
    "makes_ml",
    "mass_percent",
    "volume_solids_percent",
    "density_g_per_ml",
)


def _data(batch: FreshBatch, really: OnTools, shop: Shop) -> dict[str, Any]:
    readings = ("weigh_flakes_g", "measure_alcohol_ml", "weigh_alcohol_g")
    return {
        **{name: getattr(batch, name) for name in _BATCH_KEYS},
        **{name: getattr(really, name) for name in readings},
        **_cut_data("really", really.measured),
        **_cut_data("weighed", really.weighed),
        "better": "weigh" if really.better_to_weigh else "measure",
        "kitchen": _kitchen_data(batch, shop),
        "warnings": [*batch.warnings, *coarse_words(really.coarse, shop)],
        "why": why_data((*batch.reasons, *really.reasons), shop.units),
    }


def _cut_data(name: str, cut: CutRange) -> dict[str, float | None]:
    likely, low, high = cut.in_pounds
    return {
        f"{name}_lb_per_gal": likely,
        f"{name}_low_lb_per_gal": low,
        f"{name}_high_lb_per_gal": high,
    }


def _kitchen_data(batch: FreshBatch, shop: Shop) -> dict[str, Any]:
    volume, mass = shop.kitchen.volume, shop.kitchen.mass
    return {
        "volume_unit": volume,
        "mass_unit": mass,
        "flakes": convert(batch.flakes_g, MASS, mass),
        "alcohol": convert(batch.alcohol_ml, VOLUME, volume),
        "makes": convert(batch.makes_ml, VOLUME, volume),
    }


def _lines(batch: FreshBatch, really: OnTools, shop: Shop, *, why: bool) -> Iterable[str]:
    volume, mass = both_units(shop)
    _, weight = bench_units(shop)
    yield f"{cut_words(batch.cut_g_per_l, shop.units)}, makes {volume(batch.makes_ml)}"
    yield f"  flakes   {mass(batch.flakes_g)}"
    warmth = show(shop.alcohol.at_c, TEMPERATURE, shop.units.temperature)
    strength = f"{shop.alcohol.strength_percent_vol:g} %vol at {warmth}"
    yield f"  alcohol  {volume(batch.alcohol_ml)}  or weigh {weight(batch.alcohol_g)}  ({strength})"
    yield (
        f"  dry resin {batch.mass_percent:.1f} % by weight, "
        f"{batch.volume_solids_percent:.1f} % by volume"
    )
    yield from _tool_lines(really, shop)
    for warning in (*batch.warnings, *coarse_words(really.coarse, shop)):
        yield f"  mind: {warning}"
    if why:
        yield from why_lines((*batch.reasons, *really.reasons), shop.units)


def _tool_lines(really: OnTools, shop: Shop) -> Iterable[str]:
    """Give what the tools can read, the surer way first."""
    read = readings(really, shown_of(shop))
    yield f"  on {tool_words(shop)}:"
    ways = [
        (f"weigh {read.weighed}", really.weighed),
        (read.measure, really.measured),
    ]
    for number, (way, cut) in enumerate(ways if really.better_to_weigh else ways[::-1]):
        better = "" if number else ", the better way"
        gives = f"gives {gives_words(cut, shop)}"
        yield f"    {read.flakes} of flakes, {way} of alcohol: {gives}{better}"
