"""Pieces joined for an evening: lid and body together, for as long as their next steps agree."""

from __future__ import annotations

from datetime import datetime, time, timedelta

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.model.names import in_words
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.making import Made
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.together import together

EVENING_ENDS = time(4)
"""Who works past midnight works the same evening; at four in the morning it is over."""


def joined(workshop: Workshop, entry: Entry, book: Book, now: datetime) -> Made:
    """Return the entry that joins pieces until the evening is over, or that parts them again.

    Raises:
        RefusedError: when fewer than two are named, when they are not at the same step, or when
            none of those to part are joined.

    """
    refs = tuple(standing.ref for standing in find_several(workshop, entry.piece, book))
    if entry.what is What.PART:
        return _parted(entry, book, now, refs)
    if len(refs) < 2:
        raise RefusedError("one piece cannot be joined", "name two or more, such as lid,body")
    groups = together(find_several(workshop, entry.piece, book))
    if len(groups) > 1:
        told = "; ".join(
            f"{in_words(one.ref for one in group)} at "
            f"{group[0].step.title if group[0].step else 'the end'}"
            for group in groups
        )
        raise RefusedError(
            f"these are not at the same step: {told}", "join those that are, or wait until they are"
        )
    what = events.PiecesJoined(refs, _evening_ends(workshop, now), entry.by, one_line(entry.text))
    return Made((NewEvent(at=now, piece=None, what=what),), refs)


def _parted(entry: Entry, book: Book, now: datetime, refs: tuple[str, ...]) -> Made:
    held = [
        event
        for event in book.told(None, events.PiecesJoined)
        if isinstance(event.what, events.PiecesJoined)
        and now < event.what.until
        and set(refs) & set(event.what.pieces)
    ]
    if not held:
        raise RefusedError("none of these is joined", "nothing was changed")
    undone = [
        NewEvent(at=now, piece=None, what=events.Undone(event.id, by=entry.by)) for event in held
    ]
    return Made(tuple(undone), refs)


def _evening_ends(workshop: Workshop, now: datetime) -> datetime:
    local = now.astimezone(workshop.zone)
    day = local.date() + timedelta(days=1 if local.time() >= EVENING_ENDS else 0)
    return datetime.combine(day, EVENING_ENDS, workshop.zone).astimezone(now.tzinfo)
