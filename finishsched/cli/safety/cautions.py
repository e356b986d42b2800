"""``cautions``: what to mind at the steps in hand, each once a day."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import open_shop, tell_faults

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from finishsched.workshop.safety.cautions_today import CautionsToday


@click.command("cautions")
@click.argument("piece", required=False)
@click.option("--read", is_flag=True, help="Log that you have read them, for today.")
@click.option("--undo", is_flag=True, help="Take back the newest --read.")
@click.option("--by", default="", metavar="NAME", help="Who reads them.")
@shop_option
@json_option
def command(
    piece: str | None, read: bool, undo: bool, by: str, shop: str | None, as_json: bool
) -> None:
    """Say what to mind at the step in hand of PIECE, or of every piece.

    Cautions that were read today are set apart: by NAME, or by the first of the shop's people. A
    step that your own entry brought in hand, and that you then log done, had its cautions shown
    to you.
    """
    if read and undo:
        raise CommandError("--read and --undo are one entry each; give them one by one")
    from finishsched.journal.events import as_json as event_json
    from finishsched.workshop.safety.cautions_today import (
        all_cautions_today,
        cautions_read,
        cautions_today,
        cautions_unread,
    )

    now = world().now()
    with open_shop(shop, now) as workshop:
        # As with every entry, the first of the shop's people where nobody is named.
        people = workshop.papers.shop.people
        by = by or (people[0] if people else "")

        def found() -> tuple[CautionsToday, ...]:
            if piece is None:
                return all_cautions_today(workshop, now, by)
            return (cautions_today(workshop, piece, now, by),)

        event = None
        if undo:
            event = cautions_unread(workshop, now, by=by)
        elif read:
            new = [caution for one in found() for caution in one.new]
            event = cautions_read(workshop, new, now, by=by)
        today = found()
        tell_faults(workshop)
        answer(
            as_json,
            lambda: {"event": event_json(event) if event else None, **_data(today)},
            lambda: _lines(today),
        )


def _data(today: Sequence[CautionsToday]) -> dict[str, Any]:
    from finishsched.safety.cautions import DEFERRAL

    return {
        "pieces": [
            {
                "piece": one.ref,
                "new": [caution.text for caution in one.new],
                "read": [caution.text for caution in one.read],
            }
            for one in today
        ],
        "deferral": DEFERRAL,
    }


def _lines(today: Sequence[CautionsToday]) -> Iterable[str]:
    told = [one for one in today if one.new or one.read]
    if not told:
        yield "nothing to mind at the steps in hand"
        return
    for one in told:
        yield one.ref
        yield from (f"  mind: {caution.text}" for caution in one.new)
        yield from (f"  read today: {caution.text}" for caution in one.read)
    yield told[0].deferral
