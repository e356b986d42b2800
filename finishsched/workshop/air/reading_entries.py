"""Readings of the air as entries, and the taking back of the last one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from finishsched.drying.air import refuse_surface
from finishsched.journal.events import AirRead, Event, NewEvent, Undone
from finishsched.journal.progress import Book
from finishsched.journal.told_air import AirReading
from finishsched.model.shop import Air
from finishsched.workshop.base.can_be_read import refuse_impossible_air
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop

AHEAD = timedelta(minutes=1)

Append = Callable[[Callable[[Book], NewEvent], datetime], Event]


def add_air(
    workshop: Workshop,
    air: Air,
    now: datetime,
    source: str = "by hand",
    surface_c: float | None = None,
) -> Event:
    """Log a reading of the air, and of the floor or the work; its own instant, or ``now``.

    Raises:
        RefusedError: for a reading of no room, or from the time to come.

    """
    return workshop.append(lambda _: _air_entry(air, now, source, surface_c), now)


def _air_entry(air: Air, now: datetime, source: str, surface_c: float | None = None) -> NewEvent:
    """Return the entry of a reading, at its own instant or else ``now``.

    Raises:
        RefusedError: for a reading of no room, or from the time to come.

    """
    at = air.at or now
    refuse_impossible_air(air)
    if surface_c is not None:
        refuse_surface(surface_c)
    if at > now + AHEAD:
        raise RefusedError("a reading from the time to come", "leave the time out, or correct it")
    read = Air(air.temperature_c, air.humidity_percent, air.movement_m_per_s, at)
    return NewEvent(at=at, piece=None, what=AirRead(read, source, surface_c))


def undo_air(append: Append, now: datetime) -> AirReading:
    """Take back the reading that was logged last, and return it.

    A reading that belongs to a coat is taken back with its coat.

    Raises:
        RefusedError: when there is none.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    found: list[AirReading] = []

    def build(book: Book) -> NewEvent:
        last = book.told_air.last_written()
        if last is None:
            raise RefusedError("no reading of the air is logged", "there is nothing to take back")
        found.append(last)
        return NewEvent(now, None, Undone(last.event_id))

    append(build, now)
    return found[-1]
