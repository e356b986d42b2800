"""``again``: a finished piece's schedule as it was done, or a job as a template."""

from __future__ import annotations

import click

from finishsched.cli.begin.asking import agree, can_ask, show_text
from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.shop_door import open_shop


@click.command("again")
@click.argument("piece", metavar="PIECE|JOB")
@click.option("--as", "called", default="", metavar="NAME", help="What the new one is called.")
@click.option("--show", is_flag=True, help="Show what would be written, and write nothing.")
@shop_option
@json_option
def command(piece: str, called: str, show: bool, shop: str | None, as_json: bool) -> None:
    """Use PIECE or JOB again.

    A finished piece gives its schedule as it was really done, as a new schedule of the shop: coats,
    amounts and waits as logged, each wait as the median between the shortest and the longest, and
    one line of lessons. A job gives a new job with the same pieces and no date.
    """
    from finishsched.workshop.begin.again import draft_again
    from finishsched.workshop.begin.written import put

    with open_shop(shop, world().now()) as workshop:
        written = draft_again(workshop, piece, called)
        asks = can_ask() and not as_json
        if show or asks:
            show_text(written.after.splitlines())
        keep = not show and (not asks or agree(f"Write {written.path}?"))
        if keep:
            put(workshop.folder, written, world().now())
    said = f"wrote {written.path}" if keep else "nothing was written"
    answer(
        as_json,
        lambda: {"file": written.path, "text": written.after, "written": keep},
        lambda: [said],
    )
