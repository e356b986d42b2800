"""``due``: what can be done now, what is next, and every running cure clock."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from finishsched.cli.common import answer, json_option, shop_option, why_option, world
from finishsched.cli.shop_door import open_shop, tell_notices

if TYPE_CHECKING:
    from finishsched.workshop.base.answers import DueAnswer, PieceView
    from finishsched.workshop.safety.now import SafetyNow
    from finishsched.workshop.views.row_views import RowView


@click.command("due")
@click.argument("pieces", required=False)
@shop_option
@why_option
@json_option
def command(pieces: str | None, shop: str | None, why: bool, as_json: bool) -> None:
    """Say what can be done now, what is next, and every clock that runs.

    Of PIECES only, where some are named: one, a list with commas, a job or a pattern. Those that
    are alike and at the same step are told in one row, with one batch and one pad for all.
    """
    from finishsched.workshop.views.row_views import row_views
    from finishsched.workshop.views.views import due_answer

    now = world().now()
    with open_shop(shop, now) as workshop:
        from finishsched.cli.work.now_words import now_data, now_lines
        from finishsched.workshop.plan.for_later import due_with_later
        from finishsched.workshop.plan.what_now import what_now
        from finishsched.workshop.safety.now import safety_now

        found = what_now(workshop, now)
        due = due_with_later(due_answer(workshop, now), found)
        if pieces is not None:
            from finishsched.workshop.standing.several import find_several

            named = {one.ref for one in find_several(workshop, pieces)}
            due = _only(due, named)
            held = tuple(one for one in found.held if named & {*one.refs, one.ref})
            found = replace(found, held=held)
        rows = row_views(workshop, (*due.at_hand, *due.coming), now)
        ready = {view.ref for view in due.at_hand}
        # One that waits for its last is told once, as the bench shows it, under its one name.
        at_hand = tuple(row for row in rows if all(view.ref in ready for view in row.each))
        coming = tuple(row for row in rows if row not in at_hand)
        safety = safety_now(workshop, due, now)
        tell_notices(workshop, now)
        answer(
            as_json,
            lambda: {
                **_data(due, safety),
                "rows": [_row_data(row) for row in (*at_hand, *coming)],
                "suggested": now_data(found),
            },
            lambda: (
                *_lines(due, at_hand, coming, safety, pieces or "", why=why),
                *now_lines(found, now, due.zone, {v.ref for v in due.coming if v.later}),
            ),
        )


def _only(due: DueAnswer, refs: set[str]) -> DueAnswer:
    """Return what is due of some pieces only."""

    def kept(views: Iterable[PieceView]) -> tuple[PieceView, ...]:
        return tuple(view for view in views if view.ref in refs)

    of_others = {view.ref for view in (*due.at_hand, *due.coming, *due.clocks)} - refs
    windows = tuple(window for window in due.windows if window.name not in of_others)
    at_hand, coming, clocks = map(kept, (due.at_hand, due.coming, due.clocks))
    return replace(due, at_hand=at_hand, coming=coming, clocks=clocks, windows=windows)


def _row_data(row: RowView) -> dict[str, Any]:
    from finishsched.cli.work.piece_words import takes_data

    view = row.view
    return {
        "name": row.row.name,
        "title": row.row.title,
        "pieces": list(row.row.refs),
        "state": view.state.value,
        "step": view.step.title if view.step else None,
        "hands_on_minutes": round(view.sheet.hands_on_min, 1) if view.sheet else None,
        "mix": [f"{line.amount} {line.what}" for line in view.sheet.mix] if view.sheet else [],
        "mix_makes": view.sheet.mix_makes if view.sheet else "",
        "mix_gives": view.sheet.mix_gives if view.sheet else "",
        "jar": view.sheet.jar if view.sheet else "",
        **takes_data(view.sheet),
    }


def _data(due: DueAnswer, safety: SafetyNow) -> dict[str, Any]:
    from finishsched.cli.safety.rags import rags_data
    from finishsched.cli.work.piece_words import clock_data, piece_data
    from finishsched.cli.work.window_words import window_data

    def at_hand(view: PieceView) -> dict[str, Any]:
        return {
            **piece_data(view),
            "cautions_new": list(safety.new_cautions(view)),
            "vapour_warnings": list(safety.before.get(view.ref, ())),
        }

    return {
        "now": [at_hand(view) for view in due.at_hand],
        "rags": rags_data(safety.rags)["rags"],
        "vapour": safety.vapour_line,
        "next": [piece_data(view) for view in due.coming],
        "clocks": [clock_data(view, view.clock) for view in due.clocks if view.clock],
        "windows": [window_data(window) for window in due.windows],
        "notices": [notice.text for notice in due.notices],
    }


def _lines(
    due: DueAnswer,
    at_hand: Iterable[RowView],
    coming: Iterable[RowView],
    safety: SafetyNow,
    named: str,
    *,
    why: bool,
) -> Iterable[str]:
    from finishsched.cli.work.window_words import window_lines

    if not due.at_hand and not due.coming:
        of_them = f" of {named}: finished, or without a schedule" if named else ""
        yield f"nothing is due{of_them or ': no piece is begun or waiting'}"
        yield from window_lines(due, why=why)
        return
    told = _Told()
    for title, rows in (("now", at_hand), ("next", coming)):
        if rows:
            yield title
        for row in rows:
            yield from _piece_lines(due, row, safety, told, why=why)
    yield from window_lines(due, why=why)
    if safety.vapour_line:
        yield safety.vapour_line
    yield from _rags_line(due, safety)


def _rags_line(due: DueAnswer, safety: SafetyNow) -> Iterable[str]:
    """Say in a line whose rags lie open; what to do with them is told as it gets worse."""
    from finishsched.model.names import in_words
    from finishsched.workshop.base.spans import wall

    rags = safety.rags.rags
    if rags:
        since = wall(min(one.since for one in rags), due.now, due.zone)
        refs = in_words(dict.fromkeys(ref for one in rags for ref in one.refs))
        yield f"! rags open since {since}, of {refs}: finishsched rags"


class _Told:
    """What one answer has told of the pieces so far: the same is said once."""

    def __init__(self) -> None:
        self._warnings: set[str] = set()
        self._said: dict[frozenset[str], str] = {}

    def new(self, warning: str) -> bool:
        """Tell whether a warning is told for the first time; it counts as told then."""
        is_new = warning not in self._warnings
        self._warnings.add(warning)
        return is_new

    def said_at(self, name: str, sentences: Iterable[str]) -> str:
        """Return the row at which all ``sentences`` are told; empty where ``name`` tells them."""
        wanted = frozenset(sentences)
        if not wanted:
            return ""
        for told, other in self._said.items():
            if wanted <= told:
                return other
        self._said[wanted] = name
        return ""

    def deferring_once(self, lines: Iterable[str]) -> Iterable[str]:
        """Give lines, the sentence that defers to the data sheet with the first cautions alone."""
        from finishsched.safety.cautions import DEFERRAL

        return (line for line in lines if line.strip() != DEFERRAL or self.new(DEFERRAL))


def _piece_lines(
    due: DueAnswer, row: RowView, safety: SafetyNow, told: _Told, *, why: bool
) -> Iterable[str]:
    """Say how a row stands; what was ``told`` of another is not told again."""
    from finishsched.cli.work.piece_words import sheet_lines, step_words, when_words
    from finishsched.workshop.base.answers import State

    view = row.view
    name = view.ref if row.row.count == 1 else f"{view.title} ({view.ref})"
    when = when_words(view, due.now, due.zone)
    yield f"  {view.mark} {view.word:<13} {name}  {step_words(view)}"
    if when:
        yield f"      {when}"
    for line in (*(f"waits for {line}" for line in view.waits_for), view.pace):
        yield from [f"      {line}"] if line else []
    before = [text for ref in row.row.refs for text in safety.before.get(ref, ())]
    for warning in (*view.warnings, *before):
        if told.new(warning):
            yield f"      {'before you coat' if view.state is State.TO_DO else 'mind'}: {warning}"
    if view.state.wants_check and view.step is not None:
        at = told.said_at(name, [f"dry check: {view.step.dry_check}"])
        yield f"      dry check: {f'as at {at}' if at else view.step.dry_check}"
    hands_on = view.state is State.TO_DO and view.later is None and not view.waits_for
    if hands_on and view.sheet is not None:
        said_at = told.said_at(name, safety.new_cautions(view))
        log_mix = told.new(view.sheet.log_mix)
        lines = sheet_lines(view.sheet, safety.read, said_at, log_mix=log_mix)
        yield from (f"      {line}" for line in told.deferring_once(lines))
    if why:
        for reason in (*view.why, *view.how_much):
            yield f"      why  {reason}"
