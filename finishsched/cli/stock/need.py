"""``need``: what material a job takes, what of it to mix and what to buy."""

from __future__ import annotations

import click

from finishsched.cli.common import answer, json_option, shop_option, why_option, world
from finishsched.cli.shop_door import open_shop, tell


@click.command("need")
@click.argument("job", metavar="[JOB|PIECES]", default="all")
@click.option("--piece", "pieces", multiple=True, metavar="PIECE", help="Only this piece of it.")
@click.option(
    "--all-left/--whole",
    "left",
    default=True,
    help="Of pieces already begun, what is left (the default), or all from the first step.",
)
@click.option("--coats", is_flag=True, help="List it coat by coat.")
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    job: str,
    pieces: tuple[str, ...],
    left: bool,
    coats: bool,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say what material JOB, or a list of PIECES, takes, what of it to mix, and what to buy.

    Without either it is for all that is open.
    Amounts are what is likely; in brackets what it may be at the least and at the most.
    """
    from finishsched.workshop.stock.needs import job_need

    now = world().now()
    with open_shop(shop, now) as workshop:
        need = job_need(workshop, job, now, pieces, whole=not left)
        tell(need.notices)
        from finishsched.cli.stock.need_data import need_data
        from finishsched.cli.stock.need_words import need_lines
        from finishsched.workshop.plan.mixes_ahead import mixes_as_planned

        products = {coat.mixture.product for coat in need.coats}
        mixes = mixes_as_planned(workshop, products, [one.ref for one in need.pieces], now)
        answer(
            as_json,
            lambda: need_data(need, mixes),
            lambda: need_lines(need, mixes, workshop.zone, coats=coats, why=why),
        )
