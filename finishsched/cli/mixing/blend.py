"""``blend``: what jars make together, or how to reach a cut from them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import (
    json_option,
    shop_option,
    why_data,
    why_lines,
    why_option,
    world,
)
from finishsched.cli.faults import Exit, Words
from finishsched.cli.mixing.mixing_words import alcohol_options, bench_units, shop_at_hand
from finishsched.units import CUT, VOLUME
from finishsched.workshop.base.shown import cut_words

if TYPE_CHECKING:
    from finishsched.mixing.blend import Blend, Jar
    from finishsched.model.shop import Shop

KINDS = ("shellac", "varnish", "lacquer", "oil", "waterborne")
_JAR = re.compile(r"\s*(?:(?P<name>[^=:]*)=)?(?P<cut>[^=:]*):(?P<rest>.*)", re.DOTALL)
_BEFORE_WORD = re.compile(rf"[\s,]+(?=(?:waxy|dewaxed|mixed|{'|'.join(KINDS)})\b)")
_EXAMPLE = "write for example --have '3 lb: 200 ml' or --have 'amber = 3 lb: 200 ml waxy'"


@click.command("blend")
@click.option("--have", multiple=True, metavar="JAR", help="A jar: '3 lb: 200 ml'; once for each.")
@click.option("--to", metavar="CUT", help="The cut wanted, such as '2 lb'.")
@click.option("--makes", metavar="VOLUME", help="How much of it is wanted.")
@click.option("--nothing-new", is_flag=True, help="From the jars alone: no flakes, no alcohol.")
@click.option("--dewaxed", is_flag=True, help="Leave waxy jars out.")
@alcohol_options
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    have: tuple[str, ...],
    to: str | None,
    makes: str | None,
    nothing_new: bool,
    dewaxed: bool,
    strength: str | None,
    at: str | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> int:
    """Say what jars make together, or how to reach a cut from them with the least new material.

    A JAR is '[NAME =] CUT: VOLUME', and then, where you know it, waxy or dewaxed, what it is when
    not shellac, and the date it was mixed: 'amber = 3 lb: 200 ml waxy mixed 2026-05-01'. With --to
    and --makes it says what to pour from which jar and what to add; of equal plans the oldest jar
    goes first. Exit status 1 when --nothing-new cannot be done.
    """
    words = Words()
    if not have:
        words.fault(f"no jar is given; {_EXAMPLE}")
    today = world().now().date()
    jars = [_jar(words, number, text, today) for number, text in enumerate(have, start=1)]
    _whole_target(words, to=to, makes=makes, nothing_new=nothing_new, dewaxed=dewaxed)
    to_g_per_l, makes_ml = words.read("--to", to, CUT), words.read("--makes", makes, VOLUME)
    here = shop_at_hand(words, shop, strength, at)
    words.settle()
    from finishsched.mixing.blend import blend_all, blend_to

    if to_g_per_l is None or makes_ml is None:
        blend = blend_all(jars, today)
    else:
        blend = blend_to(
            jars,
            to_g_per_l,
            makes_ml,
            here.alcohol,
            today,
            nothing_new=nothing_new,
            dewaxed=dewaxed,
        )
    from finishsched.cli.safety.caution_words import answer_minding
    from finishsched.safety.cautions import mixing_cautions

    answer_minding(
        mixing_cautions(),
        lambda: _data(blend, here),
        lambda: _lines(blend, here, why=why),
        as_json=as_json,
    )
    return Exit.DONE if blend.cannot is None else Exit.NO


def _whole_target(
    words: Words, *, to: str | None, makes: str | None, nothing_new: bool, dewaxed: bool
) -> None:
    if (to is None) != (makes is None):
        words.fault("--to and --makes go together; give both, or neither")
    for name, given in (("--nothing-new", nothing_new), ("--dewaxed", dewaxed)):
        if given and to is None and makes is None:
            words.fault(f"{name} is for a cut to reach; add --to '2 lb' --makes '250 ml'")


def _jar(words: Words, number: int, text: str, today: date) -> Jar:
    from finishsched.mixing.blend import Jar

    option = f"--have {text[:60]!r}"
    match = _JAR.fullmatch(text)
    if match is None:
        words.fault(f"{option} is no jar; {_EXAMPLE}")
        return Jar(f"jar {number}", 1.0, 1.0)
    volume, *notes = _BEFORE_WORD.split(match["rest"])
    return Jar(
        name=(match["name"] or "").strip() or f"jar {number}",
        cut_g_per_l=words.need(option, match["cut"].strip(), CUT),
        have_ml=words.need(option, volume.strip(), VOLUME),
        **_notes(words, option, notes, today),
    )


def _notes(words: Words, option: str, notes: Sequence[str], today: date) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for note in notes:
        word, _, rest = note.strip(" ,").partition(" ")
        if word == "mixed":
            found["mixed_on"] = _date(words, option, rest.strip(), today)
        elif rest:
            words.fault(
                f"{option}: {rest.strip()!r} says nothing here; after the volume may stand "
                f"waxy, dewaxed, {', '.join(KINDS)}, or mixed and a date"
            )
        elif word in KINDS:
            found["kind"] = word
        elif found.setdefault("waxy", word == "waxy") != (word == "waxy"):
            words.fault(f"{option} is both waxy and dewaxed; write one of them")
    return found


def _date(words: Words, option: str, text: str, today: date) -> date | None:
    from finishsched.workshop.base.typed_days import read_typed_day

    def read(day: str) -> date:
        return read_typed_day(day, today, ahead=False)

    found = words.take(option, text, read)
    if found is None:
        return None
    # A day of grace: here it may be tomorrow already.
    if found > today + timedelta(days=1):
        words.fault(f"{option}: mixed {found}, which is still to come; write the day it was mixed")
    return found


def _data(blend: Blend, shop: Shop) -> dict[str, Any]:
    use = [
        {
            "have_index": index,
            "name": pour.jar.name,
            "cut_lb_per_gal": pour.jar.cut_lb_per_gal,
            "use_ml": pour.use_ml,
            "left_ml": pour.left_ml,
        }
        for index, pour in enumerate(blend.pours)
    ]
    return {
        "cut_lb_per_gal": blend.cut_lb_per_gal,
        "cut_g_per_l": blend.cut_g_per_l,
        "makes_ml": blend.makes_ml,
        "use": use,
        "add_alcohol_ml": blend.add_alcohol_ml,
        "add_alcohol_g": blend.add_alcohol_g,
        "add_flakes_g": blend.add_flakes_g,
        "cannot": blend.cannot,
        "warnings": list(blend.warnings),
        "why": why_data(blend.reasons, shop.units),
    }


def _lines(blend: Blend, shop: Shop, *, why: bool) -> Iterable[str]:
    volume, mass = bench_units(shop)
    units = shop.units
    if blend.cannot is not None:
        yield f"no: {blend.cannot}"
    if blend.makes_ml > 0:
        yield f"{volume(blend.makes_ml)} of {cut_words(blend.cut_g_per_l, units)}"
    for warning in blend.warnings:
        yield f"  mind: {warning}"
    for pour in blend.pours if blend.makes_ml > 0 else ():
        jar = f"{pour.jar.name}, {cut_words(pour.jar.cut_g_per_l, units)}"
        if pour.use_ml > 0:
            left = f"{volume(pour.left_ml)} left" if pour.left_ml > 0 else "all of it"
            yield f"  pour     {volume(pour.use_ml)} from {jar} ({left})"
        else:
            yield f"  nothing  from {jar}"
    if blend.add_alcohol_ml > 0:
        yield f"  alcohol  {volume(blend.add_alcohol_ml)}  or weigh {mass(blend.add_alcohol_g)}"
    if blend.add_flakes_g > 0:
        yield f"  flakes   {mass(blend.add_flakes_g)}"
    if why:
        yield from why_lines(blend.reasons, units)
