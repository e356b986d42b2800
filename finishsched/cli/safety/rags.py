"""``rags``: which rags can still catch fire by themselves, and where they went."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, world
from finishsched.cli.faults import CommandError
from finishsched.cli.shop_door import keep_as_told, open_shop, read_instant, tell_faults
from finishsched.model.names import in_words

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import tzinfo

    from finishsched.workshop.safety.rags import RagsAnswer


@click.command("rags")
@click.argument("where", nargs=-1, metavar="[WHERE]")
@click.option("--at", metavar="TIME", help="When they were put there: 18:30, or a date and time.")
@click.option("--by", default="", metavar="NAME", help="Whose hands.")
@click.option("--of", "pieces", default="", metavar="PIECES", help="Only those used on PIECES.")
@click.option("--undo", is_flag=True, help="Take back the newest entry about rags.")
@click.option("--dry-run", is_flag=True, help="Say whose rags they are, and log nothing.")
@shop_option
@json_option
def command(
    where: tuple[str, ...],
    at: str | None,
    by: str,
    pieces: str,
    undo: bool,
    dry_run: bool,
    shop: str | None,
    as_json: bool,
) -> None:
    """Say which rags are open, with what is to be done; or log WHERE they went.

    For example: finishsched rags 'flat outdoors'.
    """
    if undo and (where or at or pieces or dry_run):
        raise CommandError("--undo stands alone; leave out where the rags went, when and whose")
    if at and not where:
        raise CommandError("--at goes with where the rags went; write it, or leave --at out")
    from finishsched.journal.events import as_json as event_json
    from finishsched.workshop.safety.rags import open_rags, rags_dealt_with, rags_undone

    now = world().now()
    with open_shop(shop, now) as workshop:
        event = None
        if undo:
            event = rags_undone(workshop, now, by=by)
        elif where and not dry_run:
            instant = read_instant(at, workshop.zone)
            event = rags_dealt_with(
                workshop, " ".join(where), now, by=by, at=instant, pieces=pieces
            )
        found = open_rags(workshop, now, pieces)
        keep_as_told(workshop, found.notices, now)
        tell_faults(workshop, now)
        said = "" if event is None else "undone: where the rags went" if undo else "logged"
        if where and dry_run:
            said = "nothing was logged; these would be out of harm's way"
        zone = workshop.zone
        answer(
            as_json,
            lambda: {"event": event_json(event) if event else None, **rags_data(found)},
            lambda: _lines(found, said, zone),
        )


def rags_data(found: RagsAnswer) -> dict[str, Any]:
    """Return what is open as JSON values."""
    from finishsched.journal.events import utc_text

    return {
        "rags": [
            {
                "product": one.product,
                "title": one.title,
                "pieces": list(one.refs),
                "since": utc_text(one.since, "seconds"),
                "words": one.words,
            }
            for one in found.rags
        ],
        "line": found.line,
        "deferral": found.deferral,
    }


def _lines(found: RagsAnswer, said: str, zone: tzinfo) -> Iterable[str]:
    from finishsched.workshop.base.spans import wall

    if said:
        yield said
    if not found.rags:
        yield "no rags are open"
        return
    for one in found.rags:
        yield f"! {one.title}, since {wall(one.since, found.now, zone)}: {in_words(one.refs)}"
    for words in dict.fromkeys(one.words for one in found.rags):
        yield f"  {words}"
    yield f"  {found.deferral}"
    yield "  then log it: finishsched rags 'flat outdoors'"
