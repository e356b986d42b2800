"""The open shop: its documents as last read, its journal, and the writing of entries.

An answer or an entry is a function that takes the open workshop; each stands in the package of its
question. What such a function wants to keep between two calls, it keeps with ``held``.
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Self, TypeVar

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.journal.store import Journal
from finishsched.workshop.base import documents as shop_folder
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.base.place import JOURNAL_FILE
from finishsched.workshop.base.resting import Stamped
from finishsched.workshop.base.write_whole import sweep_shop
from finishsched.workshop.base.zone import zone_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

Kept = TypeVar("Kept")


def _unheard(done: int, of: int) -> None:
    """Tell nobody."""


@dataclass(slots=True)
class _Read:
    """What has been read, kept until something changes."""

    papers: Papers
    stamps: tuple[Stamped, ...]
    version: int
    held: dict[type, object] = field(default_factory=dict)


class Workshop:
    """One open shop folder. Not for use by two threads at once."""

    def __init__(self, folder: Path, journal: Journal, now: datetime) -> None:
        self._folder = folder
        self._journal = journal
        self._read = self._read_documents()
        self.last_look = journal.last_look()
        """When somebody had the shop before the eyes, before it was opened."""
        self.opened_at = now
        self.began: tuple[Notice, ...] = ()
        """What is to be said about the opening itself."""
        self.reads_anew: Callable[[int, int], None] = _unheard
        """Called while very many pieces are read to know which are finished: how many, of all."""
        self._lent: Mapping[str, str] = {}
        self._is_trying = False

    @classmethod
    def open(cls, folder: Path, now: datetime) -> Workshop:
        """Open the shop in ``folder``; its journal is made when there is none yet.

        Raises:
            JournalFaultError: when the journal cannot be opened.

        """
        file = folder / JOURNAL_FILE
        found = file.exists()
        journal = Journal.open_or_look(file)
        if not journal.only_looked_at:
            sweep_shop(folder)
        opened = cls(folder, journal, now)
        if not found:
            opened.began = (Notice("no journal was here: a new one was begun"),)
        elif journal.only_looked_at and not journal.lost:
            why = journal.why_only_looked_at.removeprefix(f"{file}: ")
            opened.began = (Notice(f"{why}: look, but nothing is logged"),)
        return opened

    def close(self) -> None:
        """Let go of the journal, and of all that was kept."""
        self._read.held.clear()
        self._journal.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def folder(self) -> Path:
        """Where the shop is."""
        return self._folder

    @property
    def papers(self) -> Papers:
        """The documents as last read."""
        return self._read.papers

    @property
    def stamps(self) -> tuple[Stamped, ...]:
        """The documents' files as they were when they were read."""
        return self._read.stamps

    @property
    def zone(self) -> tzinfo:
        """The shop's time zone, or the machine's."""
        return zone_of(self.papers.shop)

    def held(self, kind: type[Kept], make: Callable[[], Kept]) -> Kept:
        """Return the one ``kind`` that is kept for the documents as last read, made when new."""
        found = self._read.held.get(kind)
        if not isinstance(found, kind):
            found = self._read.held[kind] = make()
        return found

    def book(self) -> Book:
        """Return everything that the journal says now."""
        return self._journal.book()

    def every_event(self) -> tuple[events.Event, ...]:
        """Return every entry in the order of writing, undone ones and undos too."""
        return self._journal.events()

    @property
    def took_entries(self) -> bool:
        """True once an entry was taken, and is safe on the disk, since the shop was opened."""
        return self._journal.wrote

    @property
    def is_settled(self) -> bool:
        """False while entries are tried, or being written: what follows from them may go again."""
        return not (self._is_trying or self._journal.is_writing)

    @property
    def lost(self) -> tuple[str, ...]:
        """What is not sound in the journal, in words, as far as that has shown by now."""
        return self._journal.lost

    def append(self, build: Callable[[Book], NewEvent], now: datetime) -> events.Event:
        """Write the entry that ``build`` makes of the journal as it is inside the write lock.

        Raises:
            JournalFaultError: when it cannot be kept; the journal is as it was.

        """
        return self._journal.append(build, now)

    def append_all(
        self, build: Callable[[Book], Sequence[NewEvent]], now: datetime
    ) -> tuple[events.Event, ...]:
        """Write several entries or none, as ``append`` writes one."""
        return self._journal.append_all(build, now)

    @contextmanager
    def in_one_write(self) -> Iterator[None]:
        """While it lasts entries are taken; at its end all of them are written, or none.

        Raises:
            JournalFaultError: where nothing could be logged.

        """
        try:
            with self._journal.in_one_write():
                yield
        except BaseException:
            self._read.held.clear()
            raise

    @contextmanager
    def only_trying(self) -> Iterator[None]:
        """While it lasts every entry is taken and answered for as ever; then none was logged.

        Raises:
            JournalFaultError: where nothing could be logged.

        """
        with self._journal.only_trying():
            try:
                yield
            finally:
                self._read.held.clear()

    @contextmanager
    def trying(self, snapshots: Mapping[str, str]) -> Iterator[None]:
        """While it lasts, answer for books with entries not yet written, and their snapshots."""
        self._lent, self._is_trying = snapshots, True
        try:
            yield
        finally:
            self._lent, self._is_trying = {}, False
            self._read.held.clear()

    def text_of(self, hash_: str) -> str:
        """Return the snapshot with a hash, of the journal or of entries being tried."""
        return self._lent.get(hash_) or self._journal.snapshot(hash_)

    def changed(self) -> bool:
        """Tell whether another process wrote, or a document was edited, since last asked."""
        version, stamps = self._journal.data_version(), shop_folder.stamps(self._folder)
        if version == self._read.version and stamps == self._read.stamps:
            return False
        if stamps != self._read.stamps:
            self._read = self._read_documents()
        self._read.version = version
        return True

    def _read_documents(self) -> _Read:
        stamps = shop_folder.stamps(self._folder)
        papers = shop_folder.read_papers(self._folder, stamps)
        return _Read(papers, stamps, self._journal.data_version())

    def mark_looked(self, now: datetime) -> None:
        """Keep that somebody has the shop before the eyes, for the next one who opens it."""
        self._journal.look(now)
