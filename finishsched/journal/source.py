"""The open file behind a journal: asked in SQL, and answering from what is sound once it is not."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from finishsched.journal.events import Event, Row, from_row
from finishsched.journal.faults import JournalFaultError, in_plain_words, is_damage

if TYPE_CHECKING:
    from finishsched.journal.salvage import Salvaged


class Source:
    """A connection to a journal's file.

    Once damage shows, what is sound of the file is taken into memory, and everything is answered
    from there: so a damaged journal can still be looked at. Nothing can be written any more then.
    """

    def __init__(self, path: Path, db: sqlite3.Connection) -> None:
        self.path = path
        self.db = db
        self.lost: tuple[str, ...] = ()
        """What is not sound, in words; empty while no damage has shown."""

    @classmethod
    def of_damaged(cls, path: Path, found: Salvaged) -> Source:
        """Return a source that answers from what was salvaged."""
        from finishsched.journal.salvage import in_memory  # noqa: PLC0415  # where damage is

        source = cls(path, in_memory(found))
        source.lost = found.lost
        return source

    @property
    def damaged(self) -> bool:
        """True once damage has shown."""
        return bool(self.lost)

    def ask(self, query: str, given: Sequence[int | float | str | None] = ()) -> list[Any]:
        """Return the rows that ``query`` finds.

        Raises:
            JournalFaultError: for anything but damage.

        """
        try:
            with in_plain_words(self.path):
                return self.db.execute(query, given).fetchall()
        except JournalFaultError as error:
            if self.damaged or not is_damage(error):
                raise
        self.fall_back()
        return self.db.execute(query, given).fetchall()

    def events(
        self,
        query: str,
        given: Sequence[int | float | str | None] = (),
        known: dict[int, Event] | None = None,
    ) -> list[Event]:
        """Return the entries whose rows ``query`` finds; ``known`` ones are not read anew.

        What is read is added to ``known``, by its number.
        """
        known = {} if known is None else known
        try:
            return [_read(row, known) for row in self.ask(query, given)]
        except JournalFaultError:
            if self.damaged:
                raise
        self.fall_back()
        known.clear()
        return [_read(row, known) for row in self.ask(query, given)]

    def fall_back(self) -> None:
        """Go on with what is sound of the file."""
        from finishsched.journal.salvage import in_memory, salvage  # noqa: PLC0415  # where damage is

        found = salvage(self.path)
        was, self.db = self.db, in_memory(found)
        self.lost = found.lost or (f"{self.path}: damaged",)
        was.close()

    def close(self) -> None:
        """Let go of the file."""
        self.db.close()


def _read(row: Row, known: dict[int, Event]) -> Event:
    event = known.get(row[0])
    if event is None:
        event = known[row[0]] = from_row(row)
    return event
