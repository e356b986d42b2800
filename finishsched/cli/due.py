"""``due``: what can be done now, what is next, and every running cure clock."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, why_option, world
from finishsched.cli.shop_door import open_shop, tell

if TYPE_CHECKING:
    from finishsched.workshop.answers import DueAnswer, PieceView


@click.command("due")
@shop_option
@why_option
@json_option
def command(shop: str | None, why: bool, as_json: bool) -> None:
    """Say what can be done now, what is next, and every clock that runs."""
    now = world().now()
    with open_shop(shop, now) as workshop:
        due = workshop.due(now)
        tell(due.notices)
        answer(as_json, lambda: _data(due), lambda: _lines(due, why=why))


def _data(due: DueAnswer) -> dict[str, Any]:
    from finishsched.cli.piece_words import clock_data, piece_data

    return {
        "now": [piece_data(view) for view in due.at_hand],
        "next": [piece_data(view) for view in due.coming],
        "clocks": [clock_data(view, view.clock) for view in due.clocks if view.clock],
        "notices": list(due.notices),
    }


def _lines(due: DueAnswer, *, why: bool) -> Iterable[str]:
    if not due.at_hand and not due.coming:
        yield "nothing is due: no piece is begun or waiting"
        return
    if due.at_hand:
        yield "now"
    for view in due.at_hand:
        yield from _piece_lines(due, view, why=why)
    if due.coming:
        yield "next"
    for view in due.coming:
        yield from _piece_lines(due, view, why=why)


def _piece_lines(due: DueAnswer, view: PieceView, *, why: bool) -> Iterable[str]:
    from finishsched.cli.piece_words import sheet_lines, step_words, when_words
    from finishsched.workshop.answers import State

    when = when_words(view, due.now, due.zone)
    yield f"  {view.state.mark} {view.state.value:<13} {view.ref}  {step_words(view)}"
    if when:
        yield f"      {when}"
    if view.pace:
        yield f"      {view.pace}"
    for warning in view.warnings:
        yield f"      before you coat: {warning}"
    if view.state in (State.CHECK, State.CLOSED) and view.step is not None:
        yield f"      dry check: {view.step.dry_check}"
    if view.state is State.TO_DO and view.sheet is not None:
        for line in sheet_lines(view.sheet):
            yield f"      {line}"
    if why:
        for reason in view.why:
            yield f"      why  {reason}"
