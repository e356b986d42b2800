"""``bench``: open the dashboard on the shop found from here."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import open_shop

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop


@click.command("bench")
@shop_option
@json_option
def command(shop: str | None, as_json: bool) -> None:
    """Open the bench: every piece, every clock, and what to do now.

    With --json it prints what the bench would show, and opens nothing.
    """
    now = world().now()
    begin_first = False
    if world().ask is not None and not as_json and shop_named(shop) is None:
        from finishsched.cli.welcome import choose_shop

        chosen = choose_shop()
        if chosen is None:
            return
        shop, begin_first = str(chosen[0]), chosen[1]
    with open_shop(shop, now) as workshop:
        if as_json:
            answer(as_json, lambda: _data(workshop), tuple)
            return
        if world().at_terminal:
            from finishsched.cli.welcome import remember

            remember(workshop.folder)
        show(workshop, begin_first=begin_first)


def show(workshop: Workshop, *, begin_first: bool = False) -> None:
    """Run the bench until it is left; in a new shop it opens on the form for a piece.

    Raises:
        CommandError: when there is no terminal to show it in.

    """
    from finishsched.documents.user_settings import read_settings

    settings = read_settings(world().settings_file())
    if not world().at_terminal:
        raise CommandError(
            "the bench needs a terminal; finishsched due says the same in plain lines"
        )
    from finishsched.bench.app import run

    run(workshop, settings, world().now, begin_first=begin_first)


def _data(workshop: Workshop) -> dict[str, object]:
    from finishsched.cli.work.piece_words import clock_data, piece_data
    from finishsched.workshop.standing.views import bench_view

    view = bench_view(workshop, world().now())
    return {
        "shop": view.shop,
        "pieces": [piece_data(piece) for piece in view.pieces],
        "clocks": [clock_data(piece, piece.clock) for piece in view.pieces if piece.clock],
        "notices": [notice.text for notice in view.notices],
    }
