"""``vent``: what an amount of solvent does to a room's air, or the shop's vapour budget today."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option, why_option
from finishsched.cli.faults import Exit, Words
from finishsched.cli.mixing.mixing_words import volume_or_mass
from finishsched.units import AIR_FLOW, DURATION, SHARE, SPACE

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from finishsched.model.product import Product
    from finishsched.model.shop import Shop
    from finishsched.safety.solvents import Part
    from finishsched.safety.ventilation import RoomAir

_EXAMPLE = "write for example --solvent ethanol --used '60 ml' --over '30 min' --room '30 m3'"


@click.command("vent")
@click.option("--solvent", "solvents", multiple=True, metavar="S", help="A liquid or a product.")
@click.option(
    "--used", "amounts", multiple=True, metavar="VOLUME|MASS", help="How much; one for each."
)
@click.option("--over", metavar="DURATION", help="How long it takes to be used and to dry.")
@click.option("--room", metavar="VOLUME", help="Its volume, length x width x height: '30 m3'.")
@click.option("--flow", metavar="FLOW", help="Fresh air through the room, such as '60 m3/h'.")
@click.option("--mixing", metavar="K", help="Mixing factor: 1 for perfect, up to 10 for poor.")
@click.option("--methanol", metavar="PERCENT", help="Methanol in the denatured alcohol, by weight.")
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    solvents: tuple[str, ...],
    amounts: tuple[str, ...],
    over: str | None,
    room: str | None,
    flow: str | None,
    mixing: str | None,
    methanol: str | None,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> Exit:
    """Say what a solvent does to the air of a room: vapour, peak, share of LEL, air needed.

    --solvent and --used may be given several times, in the same order. Bare, in a shop, it follows
    the vapour of all that was used today. The figures are a room's average. Exit status 1 when a
    limit is passed, or a tenth of the lower explosive limit.
    """
    if not any((solvents, amounts, over, room, flow, mixing, methanol)):
        from finishsched.cli.safety.vent_budget import tell_budget

        return tell_budget(shop, why=why, as_json=as_json)
    reader = Words()
    folder = shop_named(shop)
    here = _shop(folder)
    parts, assumptions = _parts(
        reader, solvents, amounts, _methanol(reader, methanol, here), folder
    )
    over_h = reader.need("--over", over, DURATION) / 3600
    air, assumed = _room(reader, (room, flow, mixing), here)
    if over is not None and over_h <= 0:
        reader.fault("--over: no time at all; write for example --over '30 min'")
    reader.settle()
    from finishsched.cli.safety.vent_words import vent_data, vent_lines
    from finishsched.model.shop import ShownUnits
    from finishsched.safety.ventilation import vent_answer

    found = vent_answer(parts, over_h, air, here.limits if here else ())
    said = (*assumptions, *assumed)
    units = here.units if here else ShownUnits()
    answer(
        as_json,
        lambda: vent_data(found, said, units),
        lambda: vent_lines(found, said, units, why=why),
    )
    return Exit.NO if found.over_limit or found.over_fire else Exit.DONE


def _shop(folder: Path | None) -> Shop | None:
    if folder is None:
        return None
    from finishsched.workshop.base.documents import shop_document

    return shop_document(folder)


def _methanol(reader: Words, text: str | None, shop: Shop | None) -> float | None:
    given = reader.read("--methanol", text, SHARE)
    return shop.alcohol.methanol_percent if given is None and shop else given


def _parts(
    reader: Words,
    solvents: Sequence[str],
    amounts: Sequence[str],
    methanol_percent: float | None,
    folder: Path | None,
) -> tuple[Sequence[Part], tuple[str, ...]]:
    """Return the liquids and their amounts, and what had to be taken for granted about them."""
    from finishsched.safety.contents import added, assumptions_of, parts_of_product, presumed

    if len(solvents) != len(amounts) or not solvents:
        reader.fault(
            f"{len(solvents)} of --solvent and {len(amounts)} of --used; each solvent has its "
            f"amount: {_EXAMPLE}"
        )
    products = [_product(reader, name, folder) for name in solvents]
    used = [volume_or_mass(reader, "--used", text) for text in amounts]
    named = [one for one in products if one is not None]
    found = [
        part
        for product, (ml, grams) in zip(named, used, strict=False)
        for part in parts_of_product(product, ml=ml, grams=grams, methanol_percent=methanol_percent)
    ]
    if len(named) == len(used) and used and not found:
        reader.fault("nothing of that leaves as vapour; name a solvent or a product that holds one")
    liquids = [share.liquid for one in named for share in presumed(one).solvents or ()]
    return added(found), assumptions_of(liquids, methanol_percent)


def _product(reader: Words, name: str, folder: Path | None) -> Product | None:
    """Return the product of that name; for a liquid, one that is nothing but that liquid."""
    from finishsched.model.product import Product, ProductKind
    from finishsched.model.solvent import Liquid, SolventShare
    from finishsched.safety.solvents import SOLVENTS, liquid_named

    liquid = liquid_named(name)
    if liquid is not None:
        density = SOLVENTS[liquid].density_g_per_ml if liquid in SOLVENTS else None
        pure = (SolventShare(liquid, by_volume_percent=100.0),)
        return Product(
            liquid.value, liquid.value, ProductKind.THINNER, density_g_per_ml=density, solvents=pure
        )
    from finishsched.documents.library import shipped_products
    from finishsched.documents.wording import did_you_mean

    products: Mapping[str, Product] = shipped_products()
    if folder is not None:
        from finishsched.workshop.base.documents import read_papers

        products = read_papers(folder).products
    for spelt in (name, "-".join(name.lower().split())):
        if spelt in products:
            return products[spelt]
    known = [*(liquid.value for liquid in Liquid), *products]
    remedy = did_you_mean(name, known, f"there are {', '.join(liquid.value for liquid in Liquid)}")
    reader.fault(f"--solvent: no solvent or product {name!r}; {remedy}")
    return None


def _room(
    reader: Words, written: tuple[str | None, str | None, str | None], shop: Shop | None
) -> tuple[RoomAir, tuple[str, ...]]:
    """Return the room as the options say, and as the shop's document says where they do not."""
    from finishsched.safety.ventilation import POOR_MIXING, RoomAir

    room, flow, mixing = written
    own = next((one for one in shop.rooms if one.volume_m3), None) if shop else None
    volume_m3 = reader.read("--room", room, SPACE)
    if room is None and own is None:
        reader.need("--room", None, SPACE)
    from_shop = volume_m3 is None and own is not None
    flow_m3_per_h = reader.read("--flow", flow, AIR_FLOW)
    factor = _factor(reader, mixing)
    said = []
    if from_shop and own is not None:
        volume_m3 = own.volume_m3
        said.append(f"the room is {own.name!r} of the shop's document")
        flow_m3_per_h = own.air_flow_m3_per_h if flow_m3_per_h is None else flow_m3_per_h
        factor = own.mixing_factor if factor is None else factor
    if flow_m3_per_h is None:
        said.append("no flow is given, so the room is taken as shut")
    if factor is None:
        said.append(
            f"no mixing factor is given, so {POOR_MIXING:g} is taken, the poor end for a small "
            "room with a window fan (from memory)"
        )
    return RoomAir(volume_m3 or 1.0, flow_m3_per_h or 0.0, factor or POOR_MIXING), tuple(said)


def _factor(reader: Words, text: str | None) -> float | None:
    if text is None:
        return None
    try:
        factor = float(text)
    except ValueError:
        factor = 0.0
    if not 1 <= factor <= 10:
        reader.fault(f"--mixing: {text!r} is no mixing factor; write a number from 1 to 10")
        return 1.0
    return factor
