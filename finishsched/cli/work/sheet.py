"""``sheet``: the schedule of a piece as a list to tick, to hang on the wall."""

from __future__ import annotations

from pathlib import Path

import click

from finishsched.cli.common import (
    answer,
    file_at,
    force_option,
    json_option,
    shop_option,
    world,
    write_page,
)
from finishsched.cli.faults import CommandError
from finishsched.cli.outgoing import say
from finishsched.cli.shop_door import open_shop


@click.command("sheet")
@click.argument("piece")
@click.option("--out", metavar="FILE.html", help="Write a page that prints on A4 or letter paper.")
@force_option
@shop_option
@json_option
def command(piece: str, out: str | None, force: bool, shop: str | None, as_json: bool) -> None:
    """Print the bench sheet of PIECE: every step with a box to tick, what is done ticked already.

    Each step says how, with what, how much to mix, how long to wait and which dry check ends the
    wait, with room for date, air and hand. What is ticked by pencil is not logged.
    """
    from finishsched.cli.work.sheet_words import sheet_data, sheet_text
    from finishsched.workshop.papers.bench_sheet import bench_sheet

    file = _page_file(out) if out is not None else None
    now = world().now()
    with open_shop(shop, now) as workshop:
        sheet = bench_sheet(workshop, piece, now)
    if file is None:
        if as_json:
            answer(as_json, lambda: sheet_data(sheet, None), tuple)
            return
        # The sheet is set in its own columns, and must not be folded again.
        for line in sheet_text(sheet, world().columns):
            say(line)
        return
    from finishsched.reports.sheet import sheet_page

    write_page(file, "sheet", sheet_page(sheet), force=force)
    answer(as_json, lambda: sheet_data(sheet, str(file)), lambda: (f"wrote {file}",))


def _page_file(name: str) -> Path:
    file = file_at("--out", name)
    if file.suffix.lower() not in (".html", ".htm"):
        raise CommandError(f"--out: {name!r} is not a page; write a name that ends in .html")
    return file
