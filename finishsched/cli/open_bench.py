"""``bench``: open the dashboard on the shop found from here."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, json_option, shop_named, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import open_shop

if TYPE_CHECKING:
    from finishsched.bench.first_picture import Picture
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
    if as_json:
        with open_shop(shop, now) as workshop:
            answer(as_json, lambda: _data(workshop), tuple)
        return
    with _at_first(shop_named(shop)) as picture, open_shop(shop, now) as workshop:
        workshop.reads_anew = partial(_tell_reading, workshop, picture)
        if world().at_terminal:
            from finishsched.cli.welcome import remember

            remember(workshop.folder)
        show(workshop, picture.hand_over, begin_first=begin_first)


def _at_first(folder: Path | None) -> AbstractContextManager[Picture]:
    """Return what shows the first picture of a shop, where there is a terminal for it."""
    from finishsched.bench.first_picture import NO_PICTURE, first_picture

    if folder is None or not world().at_terminal:
        return nullcontext(NO_PICTURE)
    return first_picture(folder)


def _tell_reading(workshop: Workshop, picture: Picture, done: int, of: int) -> None:
    from finishsched.workshop.standing.sentences import reads_anew_words

    picture.tell(reads_anew_words(done, of, workshop.folder))


def _no_picture() -> bool:
    return False


def show(
    workshop: Workshop, hand_over: Callable[[], bool] = _no_picture, *, begin_first: bool = False
) -> None:
    """Run the bench until it is left; in a new shop it opens on the form for a piece.

    ``hand_over`` gives it the terminal, and tells whether a first picture is on that.

    Raises:
        CommandError: when there is no terminal to show it in.

    """
    from finishsched.documents.user_settings import read_settings

    settings = read_settings(world().settings_file())
    if not world().at_terminal:
        raise CommandError(
            "the bench needs a terminal; finishsched due says the same in plain lines"
        )
    from finishsched.bench.at_terminal import run

    run(workshop, settings, world().now, hand_over, begin_first=begin_first)


def _data(workshop: Workshop) -> dict[str, object]:
    from finishsched.cli.work.piece_words import clock_data, piece_data
    from finishsched.workshop.views.views import bench_view

    view = bench_view(workshop, world().now())
    return {
        "shop": view.shop,
        "pieces": [piece_data(piece) for piece in view.pieces],
        "clocks": [clock_data(piece, piece.clock) for piece in view.pieces if piece.clock],
        "notices": [notice.text for notice in view.notices],
    }
