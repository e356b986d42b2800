"""Take an entry about a piece, and say what a person should hear about one just taken."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.journal.shelf import shelf
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.ledger import new_event
from finishsched.workshop.standing.standing import BEGUN_ANEW
from finishsched.workshop.standing.where import find
from finishsched.workshop.stock.drawing import Listener, measured
from finishsched.workshop.stock.stock import Judge


def log_entry(workshop: Workshop, entry: Entry, now: datetime) -> events.Event:
    """Take an entry, and return it once it is safe on the disk.

    Raises:
        RefusedError: when it cannot be true; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    papers = workshop.papers
    people = papers.shop.people
    if people and not entry.by:
        entry = replace(entry, by=people[0])

    def build(book: Book) -> NewEvent:
        # Read inside the write lock: another process may have logged since we last looked.
        standing = find(workshop, entry.piece, book)
        written = papers.schedule_of(standing.piece)
        new = new_event(entry, standing, written, book, now)
        if not (isinstance(new.what, events.StepDone) and new.what.batch):
            return new
        done = measured(new.what, shelf(book), papers.products, papers.shop)
        return replace(new, what=done)

    return workshop.append(build, now)


def remarks_on(workshop: Workshop, event: events.Event, now: datetime) -> tuple[str, ...]:
    """Return what a person should hear about an entry just taken; none of it refuses it."""
    papers = workshop.papers
    listener = Listener(shelf(workshop.book()), Judge(papers.products, now), papers.shop)
    what = event.what
    if isinstance(what, events.PieceStarted) and what.anew:
        anew = find(workshop, event.piece or "")
        return (BEGUN_ANEW,) if anew.piece.veneer_mm else ()
    if isinstance(what, events.BatchMixed):
        return tuple(listener.of_mixing(what))
    if not isinstance(what, events.StepDone) or event.piece is None:
        return ()
    steps = {step.key: step for step in find(workshop, event.piece).steps}
    return tuple(listener.of_coat(what, event.at, steps.get(what.step)))
