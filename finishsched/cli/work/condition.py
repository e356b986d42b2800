"""``condition``: what an old piece shows before anybody works on it."""

from __future__ import annotations

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
from finishsched.cli.shop_door import open_shop

if TYPE_CHECKING:
    from finishsched.workshop.papers.conditions import Condition


@click.command("condition")
@click.argument("piece")
@click.option("--out", metavar="FILE.html", help="Write it as a page that prints well.")
@force_option
@shop_option
@json_option
def command(piece: str, out: str | None, force: bool, shop: str | None, as_json: bool) -> None:
    """Write the condition report of an old PIECE: found, tried on a spot, not to be touched.

    Each line of it is an entry: log PIECE --reading 'found flaking at the left edge', 'swab
    alcohol: sticky', 'leave the label inside'. A piece need not be begun. It describes, and a
    conservator decides.
    """
    if out is not None and not out.lower().endswith((".html", ".htm")):
        raise CommandError(f"--out: {out!r} is not a page; write a name that ends in .html")
    now = world().now()
    with open_shop(shop, now) as workshop:
        from finishsched.workshop.papers.conditions import condition_of, text_lines

        report = condition_of(workshop, piece, now)
        if out is None:
            answer(as_json, lambda: _data(report), lambda: text_lines(report))
            return
        from finishsched.reports.condition import condition_page

        path = file_at("--out", out)
        write_page(path, "condition", condition_page(report, workshop.folder), force=force)
        answer(as_json, lambda: _data(report) | {"file": str(path)}, lambda: [f"wrote {path}"])


def _data(report: Condition) -> dict[str, Any]:
    from finishsched.journal.events import utc_text
    from finishsched.workshop.papers.conditions import DEFERS, sections

    return {
        "piece": report.ref,
        "title": report.title,
        "facts": dict(report.facts),
        **{
            head.replace(" ", "_"): [
                {"at": utc_text(one.at), "what": one.what, "where": one.where, "by": one.by}
                for one in lines
            ]
            for head, lines in sections(report)
        },
        "deferral": DEFERS,
    }
