"""``sheet``: the schedule of a piece as a list to tick, to hang on the wall."""

from __future__ import annotations

import re
from pathlib import Path

import click

from finishsched.cli.common import (
    answer,
    force_option,
    json_option,
    of_several,
    page_file_at,
    shop_option,
    world,
    write_page,
)
from finishsched.cli.outgoing import say
from finishsched.cli.shop_door import open_shop


@click.command("sheet")
@click.argument("piece", metavar="PIECES")
@click.option("--out", metavar="FILE.html", help="Write a page that prints on A4 or letter paper.")
@force_option
@shop_option
@json_option
def command(piece: str, out: str | None, force: bool, shop: str | None, as_json: bool) -> None:
    """Print the bench sheet of PIECES: every step with a box to tick, what is done ticked already.

    Each step says how, with what, how much to mix, how long to wait and which dry check ends the
    wait, with room for date, air and hand. What is ticked by pencil is not logged.
    """
    from finishsched.cli.work.sheet_words import sheet_data, sheet_text
    from finishsched.workshop.papers.bench_sheet import row_sheets

    file = page_file_at("--out", out) if out is not None else None
    now = world().now()
    with open_shop(shop, now) as workshop:
        sheets = row_sheets(workshop, piece, now)
    if file is None:
        if as_json:
            answer(as_json, lambda: of_several([sheet_data(one, None) for one in sheets]), tuple)
            return
        # The sheet is set in its own columns, and must not be folded again.
        for sheet in sheets:
            for line in sheet_text(sheet, world().columns):
                say(line)
        return
    from finishsched.reports.sheet import sheet_page

    files = [_own_file(file, sheet.ref, alone=len(sheets) == 1) for sheet in sheets]
    for sheet, own in zip(sheets, files, strict=True):
        write_page(own, "sheet", sheet_page(sheet), force=force)
    data = [sheet_data(sheet, str(own)) for sheet, own in zip(sheets, files, strict=True)]
    answer(as_json, lambda: of_several(data), lambda: [f"wrote {own}" for own in files])


def _own_file(file: Path, ref: str, *, alone: bool) -> Path:
    """Return the file of one sheet: of several, each has its piece in its name."""
    return (
        file
        if alone
        else file.with_name(f"{file.stem}-{re.sub('[^a-z0-9]+', '-', ref)}{file.suffix}")
    )
