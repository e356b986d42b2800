"""Pieces, steps and clocks in words, for people and as JSON values."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from datetime import datetime, tzinfo
from typing import Any

from finishsched.drying.clock import CureClock
from finishsched.journal.events import utc_text
from finishsched.numerals import counted
from finishsched.safety.cautions import DEFERRAL
from finishsched.workshop.base.answers import PieceView, State, StepSheet
from finishsched.workshop.base.spans import away, span, wall
from finishsched.workshop.safety.cautions_today import caution_hash


def when_words(view: PieceView, now: datetime, zone: tzinfo) -> str:
    """Return when the piece wants hands."""
    clock = view.clock
    if view.later is not None:
        until = f"not before {wall(view.later.until, now, zone)}: " if view.later.until else ""
        return f"{until}{view.later.why}"
    if clock is None:
        minutes = view.sheet.hands_on_min if view.sheet else 0.0
        if view.state is State.FINISHED:
            return ""
        return f"about {span(minutes * 60, up=True)} of work" if minutes else ""
    likely = wall(clock.likely_at, now, zone)
    if clock.state.value == "window closed" and clock.next_by_at is not None:
        return f"since {wall(clock.next_by_at, now, zone)}"
    if clock.left_s <= 0:
        return f"likely since {likely}"
    latest = wall(clock.latest_at, now, zone)
    return f"{away(clock.likely_at, now)}, likely {likely}, at the latest {latest}"


def step_words(view: PieceView) -> str:
    """Return the step in hand in a line."""
    step = view.step
    if step is None and view.steps_in_all == 0:
        return f"no schedule that can be read: {view.schedule_title}"
    if step is None:
        return f"all {counted(view.steps_in_all, 'step')} over"
    return step.line_of(view.steps_in_all)


News = Callable[[Iterable[str]], Collection[str]]
"""Returns the sentences that are new to who reads them."""
READ_TODAY = "what you read today still holds; finishsched cautions tells it again"


def after_entry(
    view: PieceView, said: str, zone: tzinfo, *, dry_check: bool = True
) -> Iterable[str]:
    """Say what became of an entry, ``said``, and what comes of it; its dry check where wanted."""
    yield f"{view.ref}: {said}"
    if view.state is State.FINISHED:
        yield "  every step is over: the piece is finished"
        return
    if view.clock is not None:
        yield f"  {view.state.value}: {when_words(view, view.clock.now, zone)}"
        if dry_check and view.step is not None and view.step.dry_check:
            yield f"  dry check: {view.step.dry_check}"
        return
    yield f"  next: {step_words(view)}"


def need_lines(sheet: StepSheet) -> Iterable[str]:
    """Say in a line what a step needs; nothing where it needs nothing."""
    mixed = _material_words(sheet)
    wet = f"wet with {sheet.lubricant}" if sheet.lubricant else ""
    needs = [sheet.product, mixed, sheet.abrasive, wet]
    if any(needs):
        yield f"needs: {'; '.join(need for need in needs if need)}"


def log_mix_lines(sheets: Iterable[StepSheet]) -> Iterable[str]:
    """Say how the jars are logged that are to be mixed for some steps, each once."""
    for command in dict.fromkeys(sheet.log_mix for sheet in sheets if sheet.log_mix):
        yield f"once mixed, log the jar: finishsched {command}"


def sheet_lines(
    sheet: StepSheet, read: Collection[str] = (), said_at: str = "", *, log_mix: bool = True
) -> Iterable[str]:
    """Say how a step is done: motion, tool, product, mix, cautions but those ``read`` today.

    Where the same answer says all of them ``said_at`` another piece, that one is named instead.
    How its jar is logged is said where ``log_mix`` has it that nothing said so before.
    """
    step = sheet.step
    yield f"how: {step.how}"
    if step.in_hand:
        yield f"with: {step.in_hand}"
    if sheet.product:
        yield f"product: {sheet.product}"
    if sheet.abrasive:
        yield f"grade: {sheet.abrasive}"
    if sheet.lubricant:
        yield f"wet with: {sheet.lubricant}"
    if sheet.mix:
        yield _material_words(sheet)
    yield from log_mix_lines([sheet]) if log_mix else ()
    yield from (f"mind: {warning}" for warning in sheet.mix_warnings if not sheet.jar)
    if said_at:
        yield f"mind: all that is said at {said_at}"
    else:
        yield from mind_lines([sheet], read)


def _material_words(sheet: StepSheet) -> str:
    """Return what to mix, or from which jar to take it; empty where nothing is laid."""
    if not sheet.mix:
        return ""
    if sheet.jar:
        return f"take: {sheet.mix_makes}, from {sheet.jar}"
    if sheet.as_bought:
        return f"take: {sheet.mix_makes}"
    parts = " + ".join(f"{line.amount} {line.what}" for line in sheet.mix)
    gives = f"; gives {sheet.mix_gives}" if sheet.mix_gives else ""
    return f"mix: {parts} = {sheet.mix_makes}{gives}"


def mind_lines(
    sheets: Iterable[StepSheet],
    read: Collection[str],
    news: News = frozenset,
) -> Iterable[str]:
    """Say the cautions of some steps, each once, but those ``read`` today.

    ``news`` returns the sentences that were not told today. What one was told a piece before is
    not said again for each; that what was read still holds is said once.
    """
    cautions = dict.fromkeys(caution for sheet in sheets for caution in sheet.cautions)
    unread = [caution.text for caution in cautions if caution_hash(caution) not in read]
    fresh = news(unread) if unread else ()
    new = [text for text in unread if text in fresh]
    for text in new:
        yield f"mind: {text}"
    if new:
        yield f"      {DEFERRAL}"
    elif cautions and news([READ_TODAY]):
        yield f"mind: {READ_TODAY}"


def piece_data(view: PieceView) -> dict[str, Any]:
    """Return a piece as JSON values."""
    step, sheet = view.step, view.sheet
    return {
        "piece": view.ref,
        "title": view.title,
        "state": view.state.value,
        "step": step.title if step else None,
        "step_number": step.number if step else None,
        "step_key": step.key if step else None,
        "stage": step.stage.value if step else None,
        "steps_in_all": view.steps_in_all,
        "hands_on_minutes": round(sheet.hands_on_min, 1) if sheet else None,
        "how": step.how if step else None,
        "product": sheet.product if sheet else None,
        "mix": [f"{line.amount} {line.what}" for line in sheet.mix] if sheet else [],
        "mix_makes": sheet.mix_makes if sheet else "",
        "mix_gives": sheet.mix_gives if sheet else "",
        **takes_data(sheet),
        "jar": sheet.jar if sheet else "",
        "dry_check": step.dry_check if step else None,
        "cautions": [caution.text for caution in sheet.cautions] if sheet else [],
        "deferral": sheet.deferral if sheet and sheet.cautions else None,
        "warnings": list(view.warnings),
        "how_much": list(view.how_much),
        "waits_for": list(map(str, view.waits_for)),
        "later": _later_data(view),
        "due": view.due.isoformat() if view.due else None,
    }


def _later_data(view: PieceView) -> dict[str, Any] | None:
    later = view.later
    if later is None:
        return None
    return {"why": later.why, "until": utc_text(later.until, "seconds") if later.until else None}


def takes_data(sheet: StepSheet | None) -> dict[str, Any]:
    """Return what this coat takes, in ml, or in g where it is weighed."""
    takes = sheet.takes if sheet is not None else None
    unit, other = ("g", "ml") if takes is not None and takes.by_mass else ("ml", "g")
    amount = takes.amount if takes is not None else None
    return {
        f"takes_{unit}": amount.likely if amount else None,
        f"takes_low_{unit}": amount.low if amount else None,
        f"takes_high_{unit}": amount.high if amount else None,
        f"takes_{other}": None,
        "pad_ml": takes.pad_ml if takes is not None else None,
        "pad_first_ml": takes.pad_first_ml if takes is not None else None,
    }


def clock_data(view: PieceView, clock: CureClock) -> dict[str, Any]:
    """Return a running cure clock as JSON values."""
    return {
        "piece": view.ref,
        "step": view.step.title if view.step else None,
        "step_key": view.step.key if view.step else None,
        "state": view.state.value,
        "laid_at": utc_text(clock.laid_at, "seconds"),
        "ready_earliest": utc_text(clock.earliest_at, "seconds"),
        "ready_likely": utc_text(clock.likely_at, "seconds"),
        "ready_latest": utc_text(clock.latest_at, "seconds"),
        "next_by": utc_text(clock.next_by_at, "seconds") if clock.next_by_at else None,
        "percent": round(clock.percent, 1),
        "not_yet": clock.not_yet,
        "pace": view.pace,
        "why": list(view.why),
    }
