"""Telling an earlier entry otherwise: its time, hands, jar or amount. Both tellings are kept."""

from __future__ import annotations

from datetime import datetime

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book
from finishsched.workshop.base.entries import AHEAD, Entry, RefusedError
from finishsched.workshop.base.wall_clock import in_typed_minute
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.undoing import entry_meant

IN_ORDER = (
    events.PieceStarted, events.StepDone, events.DryReady, events.WentEarly, events.DryNotYet,
)  # fmt: skip
"""Entries that happen one after the other."""


def amend_event(entry: Entry, standing: Standing, book: Book, now: datetime) -> NewEvent:
    """Return the entry that tells an earlier one otherwise: by number, by step, or the newest.

    Raises:
        RefusedError: when there is no such entry, nothing is told otherwise, or it cannot be true.

    """
    live = book.live(standing.ref)
    target = entry_meant(entry, standing, live)
    used = entry.batch or entry.amount_ml is not None or entry.amount_g is not None
    used = used or entry.took_min is not None
    if entry.at is None and not entry.by and not used:
        raise RefusedError(
            "nothing is told otherwise",
            "give --at, --by, --used, --took, --batch or --to with 'amend'",
        )
    if used and not isinstance(target.what, events.StepDone):
        raise RefusedError(
            "that entry has no amount, no time and no jar",
            "name the step that was done, or its entry",
        )
    told = events.Amended(
        event_id=target.id,
        at=None if entry.at is None else _in_order(entry.at, target, live, now),
        hands=entry.by or None,
        batch=entry.batch or None,
        amount_ml=entry.amount_ml,
        amount_g=entry.amount_g,
        note=entry.text,
        took_min=entry.took_min,
    )
    return NewEvent(at=now, piece=standing.ref, what=told)


def _in_order(at: datetime, target: Event, live: tuple[Event, ...], now: datetime) -> datetime:
    """Return when the entry happened; refuse what is not between those before and after it."""
    if at > now + AHEAD:
        raise RefusedError("an entry from the time to come", "correct the time")
    if not isinstance(target.what, IN_ORDER):
        return at
    others = [e for e in live if isinstance(e.what, IN_ORDER) and e.id != target.id]
    before = max((e.at for e in others if e.seq < target.seq), default=None)
    after = min((e.at for e in others if e.seq > target.seq), default=None)
    at = in_typed_minute(at, before)
    if (before and at < before) or (after and at > after):
        raise RefusedError(
            "that is not between the entries before and after it",
            "correct the time, or amend those first",
        )
    return at
