"""``join``: tell what was done on a piece before anybody logged it."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import click

from finishsched.cli.common import (
    answer,
    dry_run_option,
    json_option,
    of_several,
    shop_option,
    world,
)
from finishsched.cli.shop_door import open_shop
from finishsched.model.names import in_words
from finishsched.numerals import counted

if TYPE_CHECKING:
    from collections.abc import Iterable

    from finishsched.workshop.base.workshop import Workshop


@click.command("join")
@click.argument("pieces")
@click.argument("done", nargs=-1, required=True)
@dry_run_option
@shop_option
@json_option
def command(pieces: str, done: tuple[str, ...], shop: str | None, as_json: bool) -> None:
    """Join PIECES in the middle of their work: tell what is DONE, in words.

    DONE is a list of what is over: sanded to P220, filled and levelled, sealed, 3 coats of shellac,
    step 12, each with 'since' and when it ended, if you know: since yesterday, since Monday 18:30.
    The journal gets the entries that would have been logged, each marked as told afterwards: the
    film counts as laid, and no time is taken for evidence of how anything dries. 'dry' at the end
    says that the last wait is over. Several pieces are joined all or none, each by its own
    schedule.
    """
    now = world().now()
    with open_shop(shop, now) as workshop:
        _tell(workshop, pieces, " ".join(done), as_json=as_json)


def _tell(workshop: Workshop, pieces: str, done: str, *, as_json: bool) -> None:
    from finishsched.cli.work.piece_words import after_entry
    from finishsched.workshop.begin.joining import tell_done
    from finishsched.workshop.standing.several import find_several
    from finishsched.workshop.views.views import piece_view

    now = world().now()
    refs = [standing.ref for standing in find_several(workshop, pieces)]
    told = tell_done(workshop, ",".join(refs), done, now)
    views = [piece_view(workshop, ref, now) for ref in refs]
    counts = Counter(event.piece for event in told)

    def lines() -> Iterable[str]:
        from finishsched.cli.work.log_words import next_lines

        said = f"{counted(len(told), 'entry')} told afterwards" if told else "nothing is done yet"
        if len(views) == 1:
            return after_entry(views[0], said, workshop.zone)
        return (f"{in_words(refs)}: {said}", *next_lines(views, workshop))

    answer(
        as_json,
        lambda: of_several(
            [
                {
                    "piece": view.ref,
                    "entries": counts[view.ref],
                    "state": view.state.value,
                    "step": view.step.key if view.step else None,
                }
                for view in views
            ]
        ),
        lines,
    )
