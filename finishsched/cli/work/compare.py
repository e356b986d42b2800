"""``compare``: pieces or the strips of a sample board side by side, and which is to be the way."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING, Any

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

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.begin.written import Written
    from finishsched.workshop.papers.compared import Compared

_NARROWEST = 16


@click.command("compare")
@click.argument("pieces", metavar="[BOARD|PIECES]", required=False)
@click.option("--choose", metavar="STRIP", help="The way that is to be taken.")
@click.option("--for", "target", metavar="PIECE", help="With --choose: the piece that takes it.")
@click.option("--out", metavar="FILE.html", help="Write it as a sheet to print.")
@force_option
@shop_option
@json_option
def command(
    pieces: str | None,
    choose: str | None,
    target: str | None,
    out: str | None,
    force: bool,
    shop: str | None,
    as_json: bool,
) -> None:
    """Set the strips of a sample BOARD, or any PIECES, side by side: time, coats, film, readings.

    A sample board is a job with 'board: yes'; each of its pieces is a strip with a schedule of its
    own. Read and judge them with log: --reading 'gloss 60: 42', 'smell faint', 'judged 8: warm'.
    --choose with --for writes the schedule of the strip into the document of a piece.
    """
    if (choose is None) != (target is None):
        raise CommandError("--choose and --for go together: a strip, and the piece that takes it")
    if out is not None and not out.lower().endswith((".html", ".htm")):
        raise CommandError(f"--out: {out!r} is not a page; write a name that ends in .html")
    now = world().now()
    with open_shop(shop, now) as workshop:
        rows = _rows(workshop, pieces, now)
        written = _take(workshop, rows, choose, target or "", now) if choose is not None else None
        if out is not None:
            from finishsched.reports.compare import compare_page

            path = file_at("--out", out)
            write_page(path, "compare", compare_page(rows, pieces or rows[0].ref), force=force)
            answer(as_json, lambda: _data(rows, written), lambda: [f"wrote {path}"])
            return
        if as_json:
            answer(as_json, lambda: _data(rows, written), tuple)
            return
        for line in _lines(rows, world().columns):
            say(line)
        if written is not None:
            say(f"{written.path}: {target} takes the schedule of {choose}")
            if _is_begun(workshop, target or ""):
                say(f"  it goes on as it began until you tell: finishsched log {target} adopt")


def _is_begun(workshop: Workshop, piece: str) -> bool:
    from finishsched.workshop.standing.where import find

    return find(workshop, piece).progress is not None


def _rows(workshop: Workshop, pieces: str | None, now: datetime) -> tuple[Compared, ...]:
    from finishsched.workshop.papers.compared import boards, compared

    if pieces is not None:
        return compared(workshop, pieces, now)
    found = boards(workshop)
    if len(found) == 1:
        return compared(workshop, found[0], now)
    raise CommandError(
        f"which board? there are {', '.join(found)}" if found
        else "there is no sample board; write a job with 'board: yes', or name pieces to compare"
    )  # fmt: skip


def _take(
    workshop: Workshop, rows: tuple[Compared, ...], choose: str, target: str, now: datetime
) -> Written:
    """Write the schedule of the strip that was chosen into the document of a piece."""
    from finishsched.workshop.begin.boards import taken_for
    from finishsched.workshop.begin.written import put

    names = {name: row.ref for row in rows for name in (row.ref, row.ref.partition("/")[2])}
    if choose not in names:
        raise CommandError(f"--choose: no strip {choose!r}; there are {', '.join(names)}")
    written = taken_for(workshop.papers, workshop.folder, names[choose], target)
    if written.before != written.after:
        put(workshop.folder, written, now)
    return written


def _data(rows: Iterable[Compared], written: Written | None) -> dict[str, Any]:
    from dataclasses import asdict

    return {"pieces": [asdict(row) for row in rows], "written": written.path if written else None}


def _lines(rows: tuple[Compared, ...], width: int) -> Iterable[str]:
    """Give the table: a column a piece where they fit, else a block a piece."""
    from finishsched.workshop.papers.compared import facts, table

    lines = table(rows)
    head = max(len(name) for name, _ in lines)
    column = (width - head - 2 * len(rows)) // len(rows)
    if column < _NARROWEST:
        for row in rows:
            yield row.title
            yield from (f"  {name:<{head}}  {said}" for name, said in facts(row) if said)
        return
    for name, cells in (("", tuple(row.title for row in rows)), *lines):
        folded = [textwrap.wrap(cell, column) or [""] for cell in cells]
        for at in range(max(map(len, folded))):
            shown = [f"{cell[at] if at < len(cell) else '':<{column}}" for cell in folded]
            yield f"{name if at == 0 else '':<{head}}  {'  '.join(shown)}".rstrip()
