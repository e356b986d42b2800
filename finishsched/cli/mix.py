"""``mix``: a fresh batch by weight and by volume."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, why_data, why_lines, why_option
from finishsched.cli.faults import Words
from finishsched.cli.mixing_words import bench_units, shops_alcohol, show_cut
from finishsched.units import CUT, MASS, SHARE, TEMPERATURE, VOLUME, show

if TYPE_CHECKING:
    from finishsched.mixing.cut import FreshBatch
    from finishsched.model.shop import Alcohol, ShownUnits


@click.command("mix")
@click.option("--cut", metavar="CUT", help="Such as '2 lb', '240 g/L', '20 %w/v'.")
@click.option("--makes", metavar="VOLUME", help="How much solution is wanted.")
@click.option("--alcohol", metavar="VOLUME|MASS", help="How much alcohol to use.")
@click.option("--flakes", metavar="MASS", help="How much flakes to use.")
@click.option("--strength", metavar="STRENGTH", help="Of the alcohol: '95 %vol', '190 proof'.")
@click.option("--at", metavar="TEMPERATURE", help="Of the alcohol: '20 degC', '68 degF'.")
@click.option("--moisture", metavar="PERCENT", help="Share of the flakes that is not resin.")
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    cut: str | None,
    makes: str | None,
    alcohol: str | None,
    flakes: str | None,
    strength: str | None,
    at: str | None,
    moisture: str | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say what to weigh and measure for a fresh batch of a cut.

    Give the cut, and one of --makes, --alcohol or --flakes.
    """
    words = Words()
    cut_g_per_l = words.need("--cut", cut, CUT)
    amounts = {"--makes": makes, "--alcohol": alcohol, "--flakes": flakes}
    _one_of(words, amounts)
    moisture_percent = words.read("--moisture", moisture, SHARE) or 0.0
    if moisture_percent >= 100:
        words.fault(
            "--moisture: 100 % leaves no resin; write the share that is not resin, such as 5 %"
        )
    measured = [_amount(words, name, text) for name, text in amounts.items() if text is not None]
    spirit, units = shops_alcohol(words, shop, strength, at)
    words.settle()
    batch = _batch(cut_g_per_l, *measured[0], spirit, moisture_percent)
    answer(
        as_json,
        lambda: {**_data(batch), "warnings": list(batch.warnings), "why": why_data(batch.reasons)},
        lambda: _lines(batch, spirit, units, why=why),
    )


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
    if "oz" in text.lower() and not any(word in text.lower() for word in ("fl", "fluid")):
        words.fault(
            f"{name}: {text!r} could be a weight or a volume; "
            "write floz for fluid ounces, or g for weight"
        )
        return "alcohol_ml", 1.0
    measure, value = words.read_any(name, text, (VOLUME, MASS))
    return ("alcohol_ml" if measure is VOLUME else "alcohol_g"), value


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


def _data(batch: FreshBatch) -> dict[str, Any]:
    names = (
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
    return {name: getattr(batch, name) for name in names}


def _lines(batch: FreshBatch, spirit: Alcohol, units: ShownUnits, *, why: bool) -> Iterable[str]:
    volume, mass = bench_units(units)
    yield f"{show_cut(batch.cut_g_per_l, units)}, makes {volume(batch.makes_ml)}"
    yield f"  flakes   {mass(batch.flakes_g)}"
    warmth = show(spirit.at_c, TEMPERATURE, units.temperature)
    strength = f"{spirit.strength_percent_vol:g} %vol at {warmth}"
    yield f"  alcohol  {volume(batch.alcohol_ml)}  or weigh {mass(batch.alcohol_g)}  ({strength})"
    yield (
        f"  dry resin {batch.mass_percent:.1f} % by weight, "
        f"{batch.volume_solids_percent:.1f} % by volume"
    )
    for warning in batch.warnings:
        yield f"  mind: {warning}"
    if why:
        yield from why_lines(batch.reasons)
