"""``join``: tell what was done on a piece before anybody logged it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.shop_door import open_shop
from finishsched.cli.work.piece_words import after_entry

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop


@click.command("join")
@click.argument("piece")
@click.argument("done", nargs=-1, required=True)
@shop_option
@json_option
def command(piece: str, done: tuple[str, ...], shop: str | None, as_json: bool) -> None:
    """Join PIECE in the middle of its work: tell what is DONE, in words.

    DONE is a list of what is over: sanded to P220, filled, sealed, 3 coats, step 12, and 'since'
    with when the last of it ended: since yesterday, since 18:30. The journal gets the entries that
    would have been logged, each marked as told afterwards: the film counts as laid, and no time is
    taken for evidence of how anything dries. 'dry' at the end says that the last wait is over.
    """
    now = world().now()
    with open_shop(shop, now) as workshop:
        _tell(workshop, piece, " ".join(done), as_json=as_json)


def _tell(workshop: Workshop, piece: str, done: str, *, as_json: bool) -> None:
    from finishsched.workshop.begin.joining import tell_done
    from finishsched.workshop.standing.views import piece_view
    from finishsched.workshop.standing.where import find

    now = world().now()
    ref = find(workshop, piece).ref
    told = tell_done(workshop, ref, done, now)
    view = piece_view(workshop, ref, now)
    said = f"{len(told)} entries told afterwards" if told else "nothing is done yet"
    answer(
        as_json,
        lambda: {
            "piece": ref,
            "entries": len(told),
            "state": view.state.value,
            "step": view.step.key if view.step else None,
        },
        lambda: after_entry(view, said, workshop.zone),
    )
