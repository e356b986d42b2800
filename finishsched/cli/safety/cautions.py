"""``cautions``: what to mind at the steps in hand, each once a day."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import open_shop, tell_faults
from finishsched.model.names import in_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from finishsched.workshop.safety.cautions_today import CautionsToday


@click.command("cautions")
@click.argument("pieces", metavar="[PIECES]", required=False)
@click.option("--read", is_flag=True, help="Log that you have read them, for today.")
@click.option("--undo", is_flag=True, help="Take back the newest --read.")
@click.option("--by", default="", metavar="NAME", help="Who reads them.")
@click.option("--dry-run", is_flag=True, help="With --read: say which, and log nothing.")
@shop_option
@json_option
def command(
    pieces: str | None,
    read: bool,
    undo: bool,
    by: str,
    dry_run: bool,
    shop: str | None,
    as_json: bool,
) -> None:
    """Say what to mind at the step in hand of PIECES, or of every piece.

    Cautions that were read today are set apart: by NAME, or by the first of the shop's people. A
    step that your own entry brought in hand, and that you then log done, had its cautions shown
    to you.
    """
    if read and undo:
        raise CommandError("--read and --undo are one entry each; give them one by one")
    if dry_run and not read:
        raise CommandError("--dry-run goes with --read; leave it out")
    from finishsched.journal.events import as_json as event_json
    from finishsched.workshop.safety.cautions_today import (
        all_cautions_today,
        cautions_of,
        cautions_read,
        cautions_unread,
    )

    now = world().now()
    with open_shop(shop, now) as workshop:
        # As with every entry, the first of the shop's people where nobody is named.
        people = workshop.papers.shop.people
        by = by or (people[0] if people else "")

        def found() -> tuple[CautionsToday, ...]:
            if pieces is None:
                return all_cautions_today(workshop, now, by)
            return cautions_of(workshop, pieces, now, by)

        event = None
        if undo:
            event = cautions_unread(workshop, now, by=by)
        elif read and not dry_run:
            new = [caution for one in found() for caution in one.new]
            event = cautions_read(workshop, new, now, by=by)
        today = found()
        tell_faults(workshop, now)
        answer(
            as_json,
            lambda: {"event": event_json(event) if event else None, **_data(today)},
            lambda: (*_lines(today), *(("nothing was logged",) if dry_run else ())),
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
    alike: dict[tuple[object, ...], list[CautionsToday]] = {}
    for one in told:
        alike.setdefault((one.new, one.read), []).append(one)
    for first, *others in alike.values():
        yield in_words(one.ref for one in (first, *others))
        yield from (f"  mind: {caution.text}" for caution in first.new)
        yield from (f"  read today: {caution.text}" for caution in first.read)
    yield told[0].deferral
