"""What was logged on this bench, for the key that takes back the last of it."""

from __future__ import annotations

from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.journal.progress import Book


class LoggedHere:
    """The entries about pieces and rags that were made here, the newest last."""

    def __init__(self) -> None:
        self._events: list[Event] = []

    def add(self, event: object) -> None:
        """Keep an entry; one that takes another back ends that one."""
        if not isinstance(event, Event):
            return  # what stands in for a workshop makes none
        if isinstance(event.what, events.Undone):
            gone = event.what.event_id
            self._events = [each for each in self._events if each.id != gone]
        elif event.piece is not None or isinstance(event.what, events.RagsDealtWith):
            self._events.append(event)

    def rags_to_undo(self, book: Book, ref: str) -> Event | None:
        """Return the entry about rags that comes before the last entry of a piece to be undone.

        It is the last thing logged here, and nobody has undone it or logged on the piece since.
        """
        last = self._events[-1] if self._events else None
        if last is None or last.piece is not None or last.id in book.undone:
            return None
        of_piece = book.newest(ref, 1)
        return last if not of_piece or of_piece[0].seq < last.seq else None
