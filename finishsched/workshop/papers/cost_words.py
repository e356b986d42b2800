"""What a piece cost and what a like one would, in lines: for the command line and the bench."""

from __future__ import annotations

from collections.abc import Iterable

from finishsched.model.ranges import Range
from finishsched.model.shop import ShownUnits
from finishsched.units import AREA, MASS, VOLUME, show
from finishsched.workshop.papers.costs import Cost, Quote


def cost_lines(cost: Cost, quote: Quote | None, units: ShownUnits) -> Iterable[str]:
    """Give hours, material and the sum, and the quote where one is wanted."""
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
        price = units.either("45 EUR", "45 USD")
        yield f"  an hour has no price; write for example 'hour: {price}' in shop.yaml"
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
