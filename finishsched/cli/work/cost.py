"""``cost``: the hours and the material of pieces, and a quote for a like one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import Words
from finishsched.cli.shop_door import open_shop
from finishsched.units import AREA

if TYPE_CHECKING:
    from finishsched.workshop.papers.costs import Cost, Quote


@click.command("cost")
@click.argument("pieces", metavar="PIECES")
@click.option("--like", metavar="AREA", help="A quote for a like piece: '0.2 m2', '2 sqft'.")
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
        from finishsched.workshop.papers.cost_words import cost_lines
        from finishsched.workshop.papers.costs import cost_of, quote_for

        cost = cost_of(workshop, pieces)
        quote = quote_for(cost, area_m2) if area_m2 is not None else None
        units = workshop.papers.shop.units
        answer(as_json, lambda: _data(cost, quote), lambda: cost_lines(cost, quote, units))


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
