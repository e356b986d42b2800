"""Entries in words, the same on every face."""

from __future__ import annotations

from collections.abc import Mapping

from finishsched.journal import events
from finishsched.model.step import Step


def one_line(text: str) -> str:
    """Return text of a person or a document as one line, without control or direction signs.

    Such signs could move the cursor, or turn the order of what stands on a label.
    """
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def entry_words(what: events.Payload, steps: Mapping[str, Step]) -> str:
    """Return one entry in words."""
    if isinstance(what, events.StepDone):
        return ", ".join([f"done: {_title(what.step, steps)}", *_details(what)])
    if isinstance(what, events.StepSkipped):
        return f"skipped: {_title(what.step, steps)} ({what.reason})"
    if isinstance(what, events.DryReady | events.DryNotYet):
        verdict = "ready" if isinstance(what, events.DryReady) else "not yet"
        return ", ".join(filter(None, [f"{verdict}: {_title(what.step, steps)}", what.note]))
    return _other_words(what)


def _other_words(what: events.Payload) -> str:
    match what:
        case events.PieceStarted():
            return f"begun on {what.schedule_id}"
        case events.ScheduleAdopted():
            return f"goes on by the new text of {what.schedule_id}"
        case events.Noted() | events.DefectSeen():
            return f"{what.kind}: {what.text}"
        case events.AirRead():
            return f"air: {what.air.temperature_c:g} degC, {what.air.humidity_percent:g} %"
        case _:
            return what.kind


def _title(key: str, steps: Mapping[str, Step]) -> str:
    step = steps.get(key)
    return f"{step.number}, {step.title}" if step else key


def _details(what: events.StepDone) -> list[str]:
    amount = ""
    if what.amount_g is not None:
        amount = f"{what.amount_g:.3g} g"
    elif what.amount_ml is not None:
        amount = f"{what.amount_ml:.3g} ml"
    batch = f"of {what.batch}" if what.batch else ""
    used = " ".join(word for word in (amount, batch) if word)
    return [words for words in (used, what.note) if words]
