"""The open file behind a journal: asked in SQL, and answering from what is sound once it is not."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from finishsched.journal.derived import sum_of
from finishsched.journal.events import Event, Row, from_row
from finishsched.journal.faults import JournalFaultError, in_plain_words, is_damage
from finishsched.journal.shelf_memo import ShelfMemo

if TYPE_CHECKING:
    from finishsched.journal.salvage import Salvaged

Told = TypeVar("Told")

_SUMS_AT_ONCE = 500
_MISSHAPEN = (TypeError, ValueError, OverflowError, OSError)
"""How reading a column fails that holds something else than was written."""


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
        self.shelf_memo = ShelfMemo(path)

    @classmethod
    def of_damaged(cls, path: Path, found: Salvaged) -> Source:
        """Return a source that answers from what was salvaged."""
        from finishsched.journal.salvage import in_memory  # noqa: PLC0415  # where damage is

        source = cls(path, in_memory(found))
        source.lost = found.told
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

    def asked(
        self,
        read: Callable[[Any], Told],
        query: str,
        given: Sequence[int | float | str | None] = (),
    ) -> list[Told]:
        """Return what ``read`` makes of each row; one of which it can make nothing is damage.

        Raises:
            JournalFaultError: for anything but damage.

        """
        rows = self.ask(query, given)
        if not self.damaged:
            with suppress(*_MISSHAPEN):
                return [read(row) for row in rows]
            self.fall_back()
            rows = self.ask(query, given)
        return [read(row) for row in rows]

    def events(
        self,
        query: str,
        given: Sequence[int | float | str | None] = (),
        known: dict[int, Event] | None = None,
    ) -> list[Event]:
        """Return the entries whose rows ``query`` finds; ``known`` ones are not read anew.

        What is read is added to ``known``, by its number. An entry that is not as it was written
        is damage.
        """
        known = {} if known is None else known
        if not self.damaged:
            found = self._as_written(query, given, known)
            if found is not None:
                return found
            known.clear()
        return [_read(row, known) for row in self.ask(query, given)]

    def fall_back(self) -> None:
        """Go on with what is sound of the file."""
        from finishsched.journal.salvage import in_memory, salvage  # noqa: PLC0415  # where damage is

        found = salvage(self.path)
        was, self.db = self.db, in_memory(found)
        self.lost = found.told
        was.close()

    def close(self) -> None:
        """Let go of the file."""
        self.db.close()

    def _as_written(
        self,
        query: str,
        given: Sequence[int | float | str | None],
        known: dict[int, Event],
    ) -> list[Event] | None:
        """Return what ``events`` does; None once damage has shown, with what is sound at hand."""
        rows = self.ask(query, given)
        changed = self._any_changed([row for row in rows if row[0] not in known])
        if not changed and not self.damaged:
            with suppress(JournalFaultError):
                return [_read(row, known) for row in rows]
        if not self.damaged:
            self.fall_back()
        return None

    def _any_changed(self, rows: Sequence[Row]) -> bool:
        """Tell whether a row is not the one that its sum was made of; one without a sum is."""
        for begin in range(0, len(rows), _SUMS_AT_ONCE):
            some = rows[begin : begin + _SUMS_AT_ONCE]
            marks = ", ".join("?" * len(some))
            query = f"SELECT seq, crc FROM sums WHERE seq IN ({marks})"  # noqa: S608  # marks
            sums = dict(self.ask(query, [row[0] for row in some]))
            if any(sums.get(row[0], made) != made for row in some if (made := sum_of(row))):
                return True
        return False


def text_of(row: Sequence[object]) -> str:
    """Return the text that a row of one column holds.

    Raises:
        TypeError: where it holds something else.

    """
    if not isinstance(row[0], str):
        raise TypeError("a text is wanted")
    return row[0]


def _read(row: Row, known: dict[int, Event]) -> Event:
    event = known.get(row[0])
    if event is None:
        event = known[row[0]] = from_row(row)
    return event
