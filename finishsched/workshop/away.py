"""Log that hands are away, such as on a sick day, and take it back."""

from __future__ import annotations

from datetime import datetime

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.model.hours import Away
from finishsched.workshop.entries import RefusedError
from finishsched.workshop.workshop import Workshop


def log_away(workshop: Workshop, away: Away, now: datetime) -> events.Event:
    """Take the entry, and return it once it is safe on the disk.

    Raises:
        RefusedError: when those days are over.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    if away.last < now.astimezone(workshop.zone).date():
        raise RefusedError("those days are over", "the plan does not need them")
    what = events.HandsAway(
        first=away.first,
        last=away.last,
        who=away.who,
        opens_min=away.span.opens_min if away.span else None,
        closes_min=away.span.closes_min if away.span else None,
    )
    return workshop.append(lambda _: NewEvent(at=now, piece=None, what=what), now)


def back(workshop: Workshop, now: datetime) -> events.Event:
    """Take back the last entry that somebody is away.

    Raises:
        RefusedError: when there is none.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """

    def undo(book: Book) -> NewEvent:
        live = [e for e in book.live(None) if isinstance(e.what, events.HandsAway)]
        if not live:
            raise RefusedError("nobody is logged as away", "nothing was changed")
        return NewEvent(at=now, piece=None, what=events.Undone(event_id=live[-1].id))

    return workshop.append(undo, now)
