"""Take back what was begun: the document, and what was told of its pieces afterwards."""

from __future__ import annotations

from datetime import datetime

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.workshop.base.entries import TOLD_AFTERWARDS, RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.written import Written, newest, undo


def take_back(workshop: Workshop, now: datetime) -> Written:
    """Undo the newest document that was written, with the entries told of pieces it began.

    Raises:
        RefusedError: when there is none, when it was changed since, or when something was logged
            on its pieces; everything is as it was.

    """
    last = newest(workshop.folder)
    refs = last.pieces if last else ()
    book = workshop.book()
    for ref in refs:
        if any(getattr(event.what, "note", "") != TOLD_AFTERWARDS for event in book.live(ref)):
            raise RefusedError(
                f"something was logged on {ref} since", f"finishsched log {ref} undo, each of them"
            )
    undone = undo(workshop.folder)
    if any(book.live(ref) for ref in refs):
        workshop.append_all(lambda now_book: _unsaid(refs, now_book, now), now)
    workshop.changed()
    return undone


def _unsaid(refs: tuple[str, ...], book: Book, now: datetime) -> list[NewEvent]:
    return [
        NewEvent(at=now, piece=ref, what=events.Undone(event_id=event.id, note="taken back"))
        for ref in refs
        for event in reversed(book.live(ref))
    ]
