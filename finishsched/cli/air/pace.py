"""``pace``: how long the waits take here, by dry checks, and how to overrule or forget that."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import (
    answer,
    dry_run_option,
    json_option,
    shop_option,
    why_data,
    why_lines,
    why_option,
    world,
)
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.shop_door import open_shop, tell_notices

if TYPE_CHECKING:
    from finishsched.model.shop import ShownUnits
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.standing.paces import PaceRow


@click.command("pace")
@click.argument("product", required=False)
@click.argument("kind", required=False)
@click.option("--set", "factor", metavar="TIMES", help="Take this pace: 1.2 times the book.")
@click.option("--forget", is_flag=True, help="Count only the dry checks from now on.")
@click.option("--as-learnt", is_flag=True, help="Drop your own setting, and go by what is learnt.")
@click.option("--undo", is_flag=True, help="Take back the last entry about a pace.")
@click.option("--by", default="", metavar="NAME", help="Whose hands.")
@dry_run_option
@shop_option
@why_option
@json_option
def command(  # one parameter for each option
    product: str | None,
    kind: str | None,
    factor: str | None,
    forget: bool,
    as_learnt: bool,
    undo: bool,
    by: str,
    shop: str | None,
    why: bool,
    as_json: bool,
) -> None:
    """Say what dry checks have taught about each kind of wait.

    KIND is one of between, first, after, level, cure. With PRODUCT and KIND: that one, or with
    --set, --forget or --as-learnt an entry about it.
    """
    actions = [
        name
        for name, given in (
            ("--set", factor is not None),
            ("--forget", forget),
            ("--as-learnt", as_learnt),
            ("--undo", undo),
        )
        if given
    ]
    times = _checked(product, kind, actions, factor)
    now = world().now()
    with open_shop(shop, now) as workshop:
        tell_notices(workshop, now)
        said = _entered(workshop, (product, kind), actions, times, by)
        rows, units = _rows(workshop, product, kind), workshop.papers.shop.units
        logged = {"logged": said} if said else {}
        answer(
            as_json,
            lambda: {"paces": [_data(row, units) for row in rows], **logged},
            lambda: (said,) if undo else (*([said] if said else []), *_lines(rows, units, why=why)),
        )


def _checked(
    product: str | None, kind: str | None, actions: list[str], factor: str | None
) -> float | None:
    """Return the factor, and refuse what does not go together.

    Raises:
        CommandError: with every fault.

    """
    words = Words()
    if len(actions) > 1:
        words.fault(f"{' and '.join(actions)} are one entry each; give them one by one")
    if product is not None and kind is None:
        words.fault("the kind of wait is missing; write between, first, after, level or cure")
    if actions and actions != ["--undo"] and kind is None and product is None:
        words.fault(f"{actions[0]} is about one kind of wait; write PRODUCT and KIND before it")
    if actions == ["--undo"] and product is not None:
        words.fault("--undo takes back the last entry of all; leave out PRODUCT and KIND")
    try:
        times = None if factor is None else float(factor)
    except ValueError:
        times = None
        words.fault(f"--set: {factor!r} is no number; write how many times the book, such as 1.2")
    words.settle()
    return times


def _entered(
    workshop: Workshop,
    named: tuple[str | None, str | None],
    actions: list[str],
    times: float | None,
    by: str,
) -> str:
    """Make the entry that is asked for, and return in words what it was."""
    from finishsched.journal.events import PaceSet
    from finishsched.workshop.base.shown import PLAIN
    from finishsched.workshop.base.words import entry_words
    from finishsched.workshop.standing.paces import set_pace, undo_pace

    now = world().now()
    if actions == ["--undo"]:
        return f"undone {entry_words(undo_pace(workshop, now), {}, PLAIN)}"
    if not actions:
        return ""
    if named[0] is None or named[1] is None:
        raise CommandError("write PRODUCT and KIND")
    forget = actions == ["--forget"]
    event = set_pace(workshop, PaceSet(named[0], named[1], times, forget, by), now)
    return f"logged {entry_words(event.what, {}, PLAIN)}"


def _rows(workshop: Workshop, product: str | None, kind: str | None) -> tuple[PaceRow, ...]:
    from finishsched.workshop.standing.paces import pace_of, paces

    if product is None or kind is None:
        return paces(workshop)
    return (pace_of(workshop, product, kind),)


def _lines(rows: tuple[PaceRow, ...], units: ShownUnits, *, why: bool) -> Iterable[str]:
    if not rows:
        yield "no dry check has been logged yet: every wait goes by the book"
    for row in rows:
        yield f"{row.group.product} {row.group.kind.short}  ({row.group.kind.value})"
        yield f"  {row.learnt.words}{_range(row)}"
        if row.learnt.advice:
            yield f"  {row.learnt.advice}"
        if why:
            yield from why_lines([row.learnt.reason], units)


def _range(row: PaceRow) -> str:
    learnt = row.learnt
    if learnt.overruled:
        return f"; the next wait between {learnt.earliest:.2g} and {learnt.latest:.2g} times"
    return (
        f" (between {learnt.low:.2g} and {learnt.high:.2g}; the next wait between "
        f"{learnt.earliest:.2g} and {learnt.latest:.2g}; 8 in 10)"
    )


def _data(row: PaceRow, units: ShownUnits) -> dict[str, Any]:
    from finishsched.journal.events import utc_text

    learnt, own = row.learnt, row.own
    return {
        "product": row.group.product,
        "title": row.title,
        "kind": row.group.kind.short,
        "waits": row.group.kind.value,
        "factor": round(learnt.factor, 3),
        "factor_low": round(learnt.low, 3),
        "factor_high": round(learnt.high, 3),
        "next_earliest": round(learnt.earliest, 3),
        "next_latest": round(learnt.latest, 3),
        "checks": learnt.checks,
        "other_checks": learnt.others,
        "overruled": learnt.overruled,
        "counted_since": utc_text(own.since, "seconds") if own and own.since else None,
        "words": learnt.words,
        "not_yet": learnt.not_yet,
        "one_sided": learnt.one_sided,
        "advice": learnt.advice,
        "why": why_data([learnt.reason], units),
    }
