"""``store``: what stands on the shelf that burns, by class, against what may stand there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import Exit
from finishsched.cli.shop_door import open_shop, tell_faults
from finishsched.units import VOLUME, show

if TYPE_CHECKING:
    from collections.abc import Iterable

    from finishsched.safety.storage import ClassTotal, Held
    from finishsched.workshop.safety.storage import StorageAnswer


@click.command("store")
@shop_option
@json_option
def command(shop: str | None, as_json: bool) -> int:
    """Say what burns on the shelf, by class and jar by jar, against what may stand there.

    Ends with 1 when there is more than the shop's document allows, or too much in one container.
    """
    from finishsched.workshop.safety.storage import storage_answer

    now = world().now()
    with open_shop(shop, now) as workshop:
        found = storage_answer(workshop, now)
        unit = workshop.papers.shop.units.volume
        tell_faults(workshop, now)
        answer(as_json, lambda: _data(found), lambda: _lines(found, unit))
    return Exit.NO if found.over else Exit.DONE


def _data(found: StorageAnswer) -> dict[str, Any]:
    return {
        "totals": [
            {
                "class": total.flame_class.value if total.flame_class else None,
                "there_ml": total.there_ml,
                "allowed_ml": total.allowed_ml,
                "over": total.over,
                "places": list(total.places),
            }
            for total in found.totals
        ],
        "containers": [
            {
                "name": one.name,
                "title": one.title,
                "class": one.flame_class.value,
                "left_ml": one.left_ml,
                "holds_ml": one.holds_ml,
                "container": one.container.value,
                "most_ml": one.most_ml,
                "too_big": one.too_big,
            }
            for one in found.held
        ],
        "stated": found.stated,
        "over": found.over,
        "not_known": list(found.unknown),
        "deferral": found.deferral,
    }


def _lines(found: StorageAnswer, unit: str) -> Iterable[str]:
    if not found.held:
        yield "nothing on the shelf burns, by what is logged"
    for total in found.totals if found.held or found.stated else ():
        yield _total_line(total, unit)
    for one in found.held:
        yield _held_line(one, unit)
    if found.unknown:
        yield f"not known, since no document tells of their product: {', '.join(found.unknown)}"
    if not found.stated:
        yield "shop.yaml does not say how much may stand here; add storage: to it"
    yield "  label every jar: finishsched stock --labels"
    yield f"  {found.deferral}"


def _total_line(total: ClassTotal, unit: str) -> str:
    name = f"class {total.flame_class.value}" if total.flame_class else "all together"
    mark = "! " if total.over else ""
    there = f"{mark}{name}: {show(total.there_ml, VOLUME, unit)}"
    if total.allowed_ml is None:
        return there
    where = f" ({', '.join(_plain(place) for place in total.places)})"
    return f"{there} of {show(total.allowed_ml, VOLUME, unit)} allowed{where}"


def _held_line(one: Held, unit: str) -> str:
    mark = "  ! " if one.too_big else "  "
    line = (
        f"{mark}{one.name}  class {one.flame_class.value}  {show(one.left_ml, VOLUME, unit)}  "
        f"{one.title}"
    )
    if one.too_big and one.most_ml is not None:
        most = show(one.most_ml, VOLUME, unit)
        line += f": a {one.container.value} of it holds {most} at most"
    return line


def _plain(text: str) -> str:
    from finishsched.workshop.base.words import one_line

    return one_line(text)
