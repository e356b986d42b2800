"""``reduce``: what to add to a solution to thin or strengthen it, or what an addition makes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import json_option, shop_option, why_data, why_lines, why_option
from finishsched.cli.faults import Words
from finishsched.cli.mixing.mixing_words import (
    alcohol_options,
    bench_units,
    shop_at_hand,
    volume_or_mass,
)
from finishsched.units import CUT, VOLUME
from finishsched.workshop.base.shown import cut_words

if TYPE_CHECKING:
    from finishsched.mixing.cut import Reduction
    from finishsched.model.shop import Alcohol, Shop

Added = tuple[float | None, float | None]
"""Alcohol in ml, or in g."""


@click.command("reduce")
@click.option("--from", "from_", metavar="CUT", help="The cut at hand, such as '3 lb'.")
@click.option("--to", metavar="CUT", help="The cut wanted, such as '1 lb'.")
@click.option("--have", metavar="VOLUME", help="How much of it is at hand.")
@click.option("--makes", metavar="VOLUME", help="How much is wanted in the end.")
@click.option("--add", metavar="VOLUME|MASS", help="Alcohol to add: which cut does it make?")
@alcohol_options
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    from_: str | None,
    to: str | None,
    have: str | None,
    makes: str | None,
    add: str | None,
    strength: str | None,
    at: str | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say how much alcohol thins a solution, or how much flakes strengthen it.

    Give the cut at hand, the cut wanted, and one of --have or --makes. Or ask which cut the charge
    of a pad becomes: reduce --from '2 lb' --have '5 ml' --add '2 ml'.
    """
    words = Words()
    from_g_per_l = words.need("--from", from_, CUT)
    _one_question(words, to=to, have=have, makes=makes, add=add)
    to_g_per_l = words.read("--to", to, CUT)
    have_ml = words.read("--have", have, VOLUME)
    makes_ml = words.read("--makes", makes, VOLUME)
    added = (None, None) if add is None else volume_or_mass(words, "--add", add)
    here = shop_at_hand(words, shop, strength, at)
    words.settle()
    thinned = _reduction(from_g_per_l, to_g_per_l, (have_ml, makes_ml), added, here.alcohol)
    from finishsched.cli.safety.caution_words import answer_minding
    from finishsched.safety.cautions import mixing_cautions

    answer_minding(
        mixing_cautions(),
        lambda: {
            **_data(thinned),
            "warnings": list(thinned.warnings),
            "why": why_data(thinned.reasons, here.units),
        },
        lambda: _lines(thinned, here, why=why, asked=add is None),
        as_json=as_json,
    )


def _one_question(
    words: Words, *, to: str | None, have: str | None, makes: str | None, add: str | None
) -> None:
    if add is None:
        if to is None:
            words.fault("--to is missing; write for example --to '2 lb'")
        if have is None and makes is None:
            words.fault("no amount is given; write --have '250 ml' or --makes '250 ml'")
    else:
        if to is not None:
            words.fault("--to and --add cannot both decide the cut; give one of them")
        if have is None and makes is None:
            words.fault("--add needs what it is added to; write --have '5 ml'")
        elif have is None:
            words.fault("--makes and --add do not go together; write --have '5 ml'")
    if have is not None and makes is not None:
        words.fault("--have and --makes cannot both decide the amount; give one of them")


def _reduction(
    from_g_per_l: float,
    to_g_per_l: float | None,
    amount: tuple[float | None, float | None],
    added: Added,
    spirit: Alcohol,
) -> Reduction:
    from finishsched.mixing.alcohol import alcohol_g_per_ml
    from finishsched.mixing.cut import reduce_from, reduce_to_make, thin_by

    have_ml, makes_ml = amount
    if to_g_per_l is None:
        add_ml, add_g = added
        if add_g is not None:
            add_ml = add_g / alcohol_g_per_ml(spirit.strength_percent_vol, spirit.at_c)
        return thin_by(from_g_per_l, have_ml or 0.0, add_ml or 0.0, spirit)
    if have_ml is not None:
        return reduce_from(from_g_per_l, to_g_per_l, have_ml, spirit)
    return reduce_to_make(from_g_per_l, to_g_per_l, makes_ml or 0.0, spirit)


def _data(thinned: Reduction) -> dict[str, Any]:
    names = (
        "to_lb_per_gal",
        "add_alcohol_ml",
        "add_alcohol_g",
        "add_flakes_g",
        "have_ml",
        "makes_ml",
        "parts_alcohol_per_part",
    )
    return {name: getattr(thinned, name) for name in names}


def _lines(thinned: Reduction, shop: Shop, *, why: bool, asked: bool) -> Iterable[str]:
    volume, mass = bench_units(shop)
    units = shop.units
    start = f"{volume(thinned.have_ml)} of {cut_words(thinned.from_g_per_l, units)}"
    yield f"to {start} add" if asked else f"{start} with"
    if thinned.add_flakes_g > 0:
        yield f"  flakes   {mass(thinned.add_flakes_g)}"
    elif thinned.add_alcohol_ml > 0:
        parts = thinned.parts_alcohol_per_part
        yield f"  alcohol  {volume(thinned.add_alcohol_ml)}  or weigh {mass(thinned.add_alcohol_g)}"
        yield f"           {parts:.2f} parts of alcohol to 1 part of solution, by volume"
    else:
        yield "  nothing: it is the cut you want"
    yield f"  makes    {volume(thinned.makes_ml)} of {cut_words(thinned.to_g_per_l, units)}"
    for warning in thinned.warnings:
        yield f"  mind: {warning}"
    if why:
        yield from why_lines(thinned.reasons, units)
