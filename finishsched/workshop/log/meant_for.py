"""An entry that went to the wrong piece: taken back there, and taken where it was meant."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.making import Made, of_the_jar
from finishsched.workshop.standing.ledger import new_events
from finishsched.workshop.standing.one_go import in_one_go
from finishsched.workshop.standing.sitting import coats_ahead
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.undoing import (
    CAN_MOVE,
    entry_meant,
    hanging_on,
    with_what_it_ended,
)
from finishsched.workshop.standing.where import find
from finishsched.workshop.stock.reckoned import reckoner_of


def moved(workshop: Workshop, entry: Entry, book: Book, now: datetime) -> Made:
    """Return what takes an entry back from ``entry.piece`` and makes it on ``entry.to``.

    What ``entry`` does not tell otherwise is as it was. Both entries say where the other is.

    Raises:
        RefusedError: when it cannot stand on the other piece, or later entries hang on it.

    """
    wrong, right = find(workshop, entry.piece, book), find(workshop, entry.to, book)
    if wrong.ref == right.ref:
        raise RefusedError(
            f"the entry is about {right.ref} already", "name another piece with --to"
        )
    live = book.live(wrong.ref)
    target = entry_meant(entry, wrong, live)
    taken = with_what_it_ended(target, live)
    hanging = [e for e in hanging_on(taken[0], live, wrong) if e not in taken]
    if hanging:
        raise RefusedError(
            f"{len(hanging)} later entries of {wrong.ref} hang on that one",
            "take those back first",
        )
    said = _said_again(target, right, entry)
    written = workshop.papers.schedule_of(right.piece)
    reckoner = reckoner_of(workshop, book, said.at or now)
    new = [
        of_the_jar(n, reckoner, right, charged=False)
        for n in new_events(said, right, written, book, now)
    ]
    note = f"meant for {right.ref}"
    back = [
        NewEvent(at=now, piece=wrong.ref, what=events.Undone(one.id, by=entry.by, note=note))
        for one in reversed(taken)
    ]
    return Made(in_one_go([*back, *new]), (right.ref, wrong.ref))


def _said_again(target: Event, right: Standing, entry: Entry) -> Entry:
    what = target.what
    if not isinstance(what, CAN_MOVE):
        raise RefusedError(
            f"a {what.kind!r} entry belongs to its own piece",
            "undo it, and log it where it was meant",
        )
    told = Entry(
        What.NOTE,
        right.ref,
        at=entry.at or target.at,
        by=getattr(what, "by", "") or entry.by,
        text=entry.text or f"logged on {target.piece} first",
    )
    if isinstance(what, events.StepDone):
        told = replace(
            told,
            what=What.GO_ON if _goes_on(right) else What.DONE,
            # What was only reckoned there is reckoned anew here.
            batch=entry.batch or ("" if what.jar_told else what.batch),
            amount_ml=None if what.reckoned else what.amount_ml,
            amount_g=None if what.reckoned else what.amount_g,
            air=what.air,
            moisture_percent=what.moisture_percent,
            took_min=what.took_min if entry.took_min is None else entry.took_min,
        )
        if entry.amount_ml is not None or entry.amount_g is not None:
            told = replace(told, amount_ml=entry.amount_ml, amount_g=entry.amount_g)
        return told
    if isinstance(what, events.WentEarly):
        return replace(told, what=What.EARLY, text=entry.text or what.note)
    if isinstance(what, events.DryReady):
        return replace(told, what=What.READY)
    if isinstance(what, events.DryNotYet):
        return replace(told, what=What.NOT_READY)
    if isinstance(what, events.Noted):
        return replace(told, text=what.text)
    assert isinstance(what, events.DefectSeen)  # noqa: S101  # the last that can move
    return replace(told, what=What.DEFECT, text=what.text, seen=what.seen)


def _goes_on(right: Standing) -> bool:
    waiting = right.progress is not None and right.progress.waiting
    return waiting and bool(coats_ahead(right))
