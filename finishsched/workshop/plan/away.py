"""Log that hands are away, such as on a sick day, and take it back.

The plan that was shown before such an entry is kept beside the journal, so that taking the entry
back can go on by it. As the plan itself it is worked out from the rest, and never missed.
"""

from __future__ import annotations

import contextlib
from datetime import date, datetime
from pathlib import Path

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.model.hours import Away
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import PLAN_BEFORE_FILE, PLAN_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.base.write_whole import write_chunks
from finishsched.workshop.plan.hands_and_hours import logged_away


def log_away(workshop: Workshop, away: Away, now: datetime) -> events.Event:
    """Take the entry, and return it once it is safe on the disk.

    Raises:
        RefusedError: when those days are over, or logged already.
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

    def entry(book: Book) -> NewEvent:
        if any(_covers(known, away) for known in logged_away(book)):
            who = f"{away.who} is" if away.who else "everybody is"
            raise RefusedError(f"{who} logged as away {_days(away)} already", "nothing was changed")
        return NewEvent(at=now, piece=None, what=what)

    event = workshop.append(entry, now)
    _set_aside(workshop.folder, event)
    return event


def back(workshop: Workshop, now: datetime) -> events.Event:
    """Take back the last entry that somebody is away, and go on by the plan from before it.

    Raises:
        RefusedError: when there is none.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    undone = ""

    def undo(book: Book) -> NewEvent:
        nonlocal undone
        live = book.told(None, events.HandsAway)
        if not live:
            raise RefusedError("nobody is logged as away", "nothing was changed")
        undone = live[-1].id
        return NewEvent(at=now, piece=None, what=events.Undone(event_id=undone))

    event = workshop.append(undo, now)
    _take_up_again(workshop.folder, undone)
    return event


def _covers(known: Away, away: Away) -> bool:
    """Tell whether all that is to be logged is logged already."""
    same_people = known.who in ("", away.who)
    same_days = known.first <= away.first and away.last <= known.last
    if not same_people or not same_days:
        return False
    if known.span is None:
        return True
    span = away.span
    return (
        span is not None
        and known.span.opens_min <= span.opens_min
        and span.closes_min <= known.span.closes_min
    )


def _days(away: Away) -> str:
    days: list[date] = sorted({away.first, away.last})
    words = " to ".join(day.isoformat() for day in days)
    return f"from {words}" if len(days) > 1 else f"on {words}"


def _set_aside(folder: Path, event: events.Event) -> None:
    """Keep the plan that is shown; where that cannot be, taking the entry back replans."""
    with contextlib.suppress(OSError):
        plan = (folder / PLAN_FILE).read_bytes()
        write_chunks(folder / PLAN_BEFORE_FILE, (f"{event.id}\n".encode(), plan))


def _take_up_again(folder: Path, event_id: str) -> None:
    """Show the plan again that was kept with this entry."""
    kept = folder / PLAN_BEFORE_FILE
    with contextlib.suppress(OSError):
        known, _, plan = kept.read_bytes().partition(b"\n")
        if known.decode("utf-8", "replace") == event_id:
            write_chunks(folder / PLAN_FILE, (plan,))
            kept.unlink()
