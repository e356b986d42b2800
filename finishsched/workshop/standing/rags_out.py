"""Until when oily rags were out of harm's way, by what was logged of them."""

from __future__ import annotations

from datetime import UTC, datetime

from finishsched.journal.events import RagsDealtWith
from finishsched.journal.progress import Book


class RagsOut:
    """Until when rags were out of harm's way; nobody is let off by waiting."""

    def __init__(self, book: Book) -> None:
        self._all = datetime.min.replace(tzinfo=UTC)
        self._of: dict[str, datetime] = {}
        for event in book.told(None, RagsDealtWith):
            refs = getattr(event.what, "pieces", ())
            for ref in refs:
                self._of[ref] = max(event.at, self._of.get(ref, event.at))
            if not refs:
                self._all = max(event.at, self._all)

    def until(self, ref: str) -> datetime:
        """Return until when the rags used on a piece are."""
        return max(self._all, self._of.get(ref, self._all))
