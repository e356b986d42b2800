"""``new``: a shop folder to start from."""

from __future__ import annotations

from collections.abc import Iterable

import click

from finishsched.cli.common import answer, folder_at, json_option
from finishsched.model.shop import UNIT_SETS


@click.command("new")
@click.argument("directory", metavar="DIR")
@click.option(
    "--units",
    type=click.Choice(tuple(UNIT_SETS)),
    default="metric",
    show_default=True,
    help="What answers are shown in: grams and millimetres, or ounces and inches.",
)
@json_option
def command(directory: str, units: str, as_json: bool) -> None:
    """Make DIR a shop folder: plain commented files, and an example job to change."""
    from finishsched.workshop.demo.starter import make_shop

    folder = folder_at("DIR", directory)
    make_shop(folder, units=units)
    answer(as_json, lambda: {"dir": str(folder)}, lambda: _lines(directory))


def _lines(directory: str) -> Iterable[str]:
    yield f"made {directory}"
    yield "  shop.yaml           the place, the people, the alcohol, the usual air"
    yield "  jobs/first-box.yaml an example to change: pieces, faces, schedules"
    yield "  schedules/          your own schedules; finishsched schedules lists the shipped ones"
    yield "  products/           your own products"
    yield f"next: cd {directory}, change the files, then finishsched check, then finishsched"
