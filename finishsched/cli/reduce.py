"""``reduce``: what to add to a solution to thin or strengthen it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, why_data, why_lines, why_option
from finishsched.cli.faults import Words
from finishsched.cli.mixing_words import bench_units, shops_alcohol, show_cut
from finishsched.units import CUT, VOLUME

if TYPE_CHECKING:
    from finishsched.mixing.cut import Reduction
    from finishsched.model.shop import ShownUnits


@click.command("reduce")
@click.option("--from", "from_", metavar="CUT", help="The cut at hand, such as '3 lb'.")
@click.option("--to", metavar="CUT", help="The cut wanted, such as '1 lb'.")
@click.option("--have", metavar="VOLUME", help="How much of it is at hand.")
@click.option("--makes", metavar="VOLUME", help="How much is wanted in the end.")
@click.option("--strength", metavar="STRENGTH", help="Of the alcohol: '95 %vol', '190 proof'.")
@click.option("--at", metavar="TEMPERATURE", help="Of the alcohol: '20 degC', '68 degF'.")
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    from_: str | None,
    to: str | None,
    have: str | None,
    makes: str | None,
    strength: str | None,
    at: str | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say how much alcohol thins a solution, or how much flakes strengthen it.

    Give the cut at hand, the cut wanted, and one of --have or --makes.
    """
    from finishsched.mixing.cut import reduce_from, reduce_to_make

    words = Words()
    from_g_per_l = words.need("--from", from_, CUT)
    to_g_per_l = words.need("--to", to, CUT)
    have_ml = words.read("--have", have, VOLUME)
    makes_ml = words.read("--makes", makes, VOLUME)
    if have is None and makes is None:
        words.fault("no amount is given; write --have '250 ml' or --makes '250 ml'")
    if have is not None and makes is not None:
        words.fault("--have and --makes cannot both decide the amount; give one of them")
    spirit, units = shops_alcohol(words, shop, strength, at)
    words.settle()
    if have_ml is not None:
        thinned = reduce_from(from_g_per_l, to_g_per_l, have_ml, spirit)
    else:
        thinned = reduce_to_make(from_g_per_l, to_g_per_l, makes_ml or 0.0, spirit)
    answer(
        as_json,
        lambda: {
            **_data(thinned),
            "warnings": list(thinned.warnings),
            "why": why_data(thinned.reasons),
        },
        lambda: _lines(thinned, units, why=why),
    )


def _data(thinned: Reduction) -> dict[str, Any]:
    names = (
        "add_alcohol_ml",
        "add_alcohol_g",
        "add_flakes_g",
        "have_ml",
        "makes_ml",
        "parts_alcohol_per_part",
    )
    return {name: getattr(thinned, name) for name in names}


def _lines(thinned: Reduction, units: ShownUnits, *, why: bool) -> Iterable[str]:
    volume, mass = bench_units(units)
    yield f"to {volume(thinned.have_ml)} of {show_cut(thinned.from_g_per_l, units)} add"
    if thinned.add_flakes_g > 0:
        yield f"  flakes   {mass(thinned.add_flakes_g)}"
    elif thinned.add_alcohol_ml > 0:
        parts = thinned.parts_alcohol_per_part
        yield f"  alcohol  {volume(thinned.add_alcohol_ml)}  or weigh {mass(thinned.add_alcohol_g)}"
        yield f"           {parts:.2f} parts of alcohol to 1 part of solution, by volume"
    else:
        yield "  nothing: it is the cut you want"
    yield f"  makes    {volume(thinned.makes_ml)} of {show_cut(thinned.to_g_per_l, units)}"
    for warning in thinned.warnings:
        yield f"  mind: {warning}"
    if why:
        yield from why_lines(thinned.reasons)
