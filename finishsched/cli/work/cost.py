"""``cost``: the hours and the material of pieces, and a quote for a like one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import Words
from finishsched.cli.shop_door import open_shop
from finishsched.units import AREA, MASS, VOLUME, show

if TYPE_CHECKING:
    from finishsched.model.ranges import Range
    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.papers.costs import Cost, Quote


@click.command("cost")
@click.argument("pieces", metavar="PIECES")
@click.option("--like", metavar="AREA", help="A quote for a like piece of so much area: '0.2 m2'.")
@shop_option
@json_option
def command(pieces: str, like: str | None, shop: str | None, as_json: bool) -> None:
    """Say what PIECES have cost: hours by kind of work, and material at the shop's prices.

    Hours are those logged with --took, else as the schedule has them. Prices stand in shop.yaml: of
    the packs, and 'hour: 45 EUR' for the hands. --like quotes another of that kind, with its range.
    """
    words = Words()
    area_m2 = words.read("--like", like, AREA)
    words.settle()
    with open_shop(shop, world().now()) as workshop:
        from finishsched.workshop.papers.costs import cost_of, quote_for

        cost = cost_of(workshop, pieces)
        quote = quote_for(cost, area_m2) if area_m2 is not None else None
        units = workshop.papers.shop.units
        answer(as_json, lambda: _data(cost, quote), lambda: _lines(cost, quote, units))


def _data(cost: Cost, quote: Quote | None) -> dict[str, Any]:
    from dataclasses import asdict

    return {
        "pieces": list(cost.refs),
        "area_m2": cost.area_m2,
        "finished": cost.finished,
        "hours": [
            {"kind": one.stage.value, "minutes": one.minutes, "timed_minutes": one.logged_min}
            for one in cost.spent
        ],
        "minutes": cost.minutes,
        "material": [asdict(one) for one in cost.used],
        "material_cost": cost.material,
        "not_priced": list(cost.unpriced),
        "currency": cost.currency or None,
        "in_all": cost.in_all,
        "quote": asdict(quote) if quote else None,
    }


def _lines(cost: Cost, quote: Quote | None, units: ShownUnits) -> Iterable[str]:
    area = show(cost.area_m2, AREA, units.area, digits=2)
    so_far = "finished" if cost.finished else "so far"
    yield f"{', '.join(cost.refs)}: {area}, {so_far}"
    for one in cost.spent:
        timed = f", {one.logged_min:.0f} of it timed" if one.logged_min else ""
        yield f"  {one.stage.value:<9} {one.minutes:>5.0f} min{timed}"
    yield f"  {'in all':<9} {_hours(cost.minutes / 60)}"
    for used in cost.used:
        measure, unit = (MASS, units.mass) if used.by_mass else (VOLUME, units.volume)
        price = "no price" if used.cost is None else _money(used.cost, cost.currency)
        yield f"  {show(used.amount, measure, unit, digits=3):>9}  {used.title}, {price}"
    if cost.currency:
        yield f"  material  {_money(cost.material, cost.currency)}"
    if cost.in_all is not None:
        yield f"  together  {_money(cost.in_all, cost.currency)}"
    else:
        yield "  an hour has no price; write for example 'hour: 45 EUR' in shop.yaml"
    if cost.unpriced:
        yield f"  without a price: {', '.join(cost.unpriced)}"
    if quote is not None:
        yield from _quote_lines(cost, quote, units)


def _quote_lines(cost: Cost, quote: Quote, units: ShownUnits) -> Iterable[str]:
    yield f"a like piece of {show(quote.area_m2, AREA, units.area, digits=2)}"
    hours = quote.hours
    yield f"  hours     {hours.likely:.1f} ({hours.low:.1f} to {hours.high:.1f})"
    if cost.currency:
        yield f"  material  {_between(quote.material, cost.currency)}"
    if quote.in_all is not None:
        yield f"  together  {_between(quote.in_all, cost.currency)}"
    known = cost.hands_known
    by = "the steps timed here" if known else "the schedule, 0.7 to 1.6 times (our assumption)"
    yield f"  hours by {by}; material 0.8 to 1.4 times (our assumption); waits cost nothing here"


def _between(amount: Range, currency: str) -> str:
    return f"{_money(amount.likely, currency)} ({amount.low:.2f} to {amount.high:.2f})"


def _money(amount: float, currency: str) -> str:
    return f"{amount:.2f} {currency}"


def _hours(hours: float) -> str:
    return f"{hours:>5.1f} h"
