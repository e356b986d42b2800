"""The journal in SQLite: entries are added, each durable before it is acknowledged."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from finishsched.journal import derived
from finishsched.journal.air_rows import StoredAir
from finishsched.journal.derived import COLUMNS
from finishsched.journal.events import AirRead, Event, NewEvent, random_id, to_row, utc_text
from finishsched.journal.faults import (
    MOVED,
    READ_ONLY,
    JournalFaultError,
    fault,
    in_plain_words,
    is_damage,
    may_be_looked_at,
    system_in_plain_words,
)
from finishsched.journal.files import connect, connect_to_look, patiently
from finishsched.journal.progress import EMPTY_BOOK, Book, fold
from finishsched.journal.source import Source, text_of
from finishsched.journal.stored import StoredFiled, Written
from finishsched.model.plain import text_hash

BUSY_WAIT_S = 10.0
"""How long to wait for another program that writes, before giving up."""


class Journal:
    """One open journal. Several processes may have the same one open; each sees every entry.

    Every method raises JournalFaultError when the file cannot be read or written.
    """

    def __init__(self, source: Source, wait_s: float) -> None:
        self.path = source.path
        self._source = source
        self._wait_s = wait_s
        self._book = EMPTY_BOOK
        self._knows_damage = False
        self.wrote = False
        """True once an entry was written, and is safe on the disk."""
        self._file = _identity(self.path)
        self._seen: tuple[int, int] | None = None
        """The file's time and size when it was opened only to be read."""
        self._refused: JournalFaultError | None = None
        """Why it was opened only to be read."""
        self._held_open = False
        """True while what is written is kept, or let go of, later."""

    @classmethod
    def open(cls, path: Path, *, create: bool = True, wait_s: float = BUSY_WAIT_S) -> Self:
        """Open the journal at ``path``; where there is none, make one when ``create`` says so.

        ``wait_s`` is how long, in seconds, to wait for another program that writes.

        Raises:
            JournalFaultError: when there is none, it is damaged, it was written by a later
                release, it is something else, or it cannot be read or written.

        """
        with in_plain_words(path), system_in_plain_words(path):
            return cls(Source(path, connect(path, create=create, wait_s=wait_s)), wait_s)

    @classmethod
    def open_or_look(cls, path: Path) -> Self:
        """Open the journal at ``path`` or, where it may not be written, only to be read.

        Raises:
            JournalFaultError: as ``open`` does.

        """
        try:
            return cls.open(path)
        except JournalFaultError as error:
            if not path.is_file() or not (may_be_looked_at(error) or is_damage(error)):
                raise
            damaged, refused = is_damage(error), error
        with in_plain_words(path), system_in_plain_words(path):
            if damaged:
                from finishsched.journal.salvage import salvage  # noqa: PLC0415  # where damage is

                looked = cls(Source.of_damaged(path, salvage(path)), 0.0)
            else:
                looked = cls(Source(path, connect_to_look(path)), 0.0)
            looked._seen, looked._refused = _stamp(path), refused
            return looked

    @property
    def only_looked_at(self) -> bool:
        """True when nothing can be written: entries are refused, a look is not remembered."""
        return self._seen is not None or self._source.damaged

    @property
    def why_only_looked_at(self) -> str:
        """What is wrong with the place, in words, where nothing can be written."""
        return self._refused.message if self._refused else ""

    @property
    def lost(self) -> tuple[str, ...]:
        """What is not sound in the file, in words, as far as that has shown by now."""
        return self._source.lost

    @property
    def is_writing(self) -> bool:
        """True while entries are written that are not yet kept, and may be let go of again."""
        return self._source.db.in_transaction

    def close(self) -> None:
        """Close the journal; the last one to do so leaves a single file."""
        with in_plain_words(self.path):
            self._source.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def append(self, build: Callable[[Book], NewEvent], now: datetime) -> Event:
        """Write the entry that ``build`` makes of the book as it stands; durable on return.

        No other program can write between what ``build`` sees and what it answers. It refuses by
        raising, which leaves the journal as it was. ``now`` is kept as the time of writing.
        """
        return self.append_all(lambda book: (build(book),), now)[0]

    def append_all(
        self, build: Callable[[Book], Sequence[NewEvent]], now: datetime
    ) -> tuple[Event, ...]:
        """Write several entries or none, all or nothing, as ``append`` writes one."""
        with in_plain_words(self.path), self._writing() as db:
            self._catch_up()
            new = build(self._book)
            self._refuse_damaged()
            events = _numbered(new, self._book.last_seq, now)
            self._insert(db, new, events)
            book = self._with(events)
            derived.keep_undone(db, self._book.undone, book.undone)
        self._book = book
        self.wrote = self.wrote or bool(events)
        return events

    @contextmanager
    def only_trying(self) -> Iterator[None]:
        """While it lasts entries are taken, judged and read as ever; then none of them was written.

        No other program can write meanwhile.
        """
        with self._together(keep=False):
            yield

    @contextmanager
    def in_one_write(self) -> Iterator[None]:
        """While it lasts entries are taken, and at its end written, all of them or none.

        No other program can write meanwhile.
        """
        with self._together(keep=True):
            yield

    @contextmanager
    def _together(self, *, keep: bool) -> Iterator[None]:
        wrote, kept = self.wrote, False
        try:
            with in_plain_words(self.path), self._holding() as db:
                self._held_open = True
                yield
                if keep:
                    self._refuse_moved()
                    db.execute("COMMIT")
                    kept = True
        finally:
            self._held_open = False
            if not kept:
                self.wrote, self._book = wrote, EMPTY_BOOK

    def book(self) -> Book:
        """Return the book with every entry so far; what it tells is read when it is asked for."""
        with in_plain_words(self.path):
            patiently(self._catch_up, self._wait_s)
        return self._book

    def events(self, after_seq: int = 0, piece: str | None = None) -> tuple[Event, ...]:
        """Return the entries later than ``after_seq``, undone ones too; of one piece, or all."""
        query = (
            f"SELECT {COLUMNS} FROM events WHERE seq > ? AND (? IS NULL OR piece = ?) ORDER BY seq"  # noqa: S608  # constant
        )
        return tuple(self._source.events(query, (after_seq, piece, piece)))

    def snapshot(self, hash_: str) -> str:
        """Return the text of the snapshot named by its SHA-256 ``hash_``.

        Raises:
            JournalFaultError: when there is none of that name.

        """
        query = "SELECT body FROM snapshots WHERE hash = ?"
        texts = self._source.asked(text_of, query, (hash_,))
        if not (texts and text_hash(texts[0]) == hash_) and not self._source.damaged:
            self._source.fall_back()
            texts = self._source.asked(text_of, query, (hash_,))
        if not texts:
            raise JournalFaultError(
                f"{self.path}: the journal holds no snapshot {hash_[:12]}",
                "keep the file as it is, and bring back the newest copy beside it",
            )
        return texts[0]

    def data_version(self) -> int:
        """Return a number that is another one once another connection has written."""
        with in_plain_words(self.path):
            self._refuse_moved()
            if self._seen is not None:
                return self._look_again(self._seen)
            return int(self._source.db.execute("PRAGMA data_version").fetchone()[0])

    def look(self, now: datetime) -> None:
        """Remember that somebody looked at ``now``; no entry, let go where it cannot be kept."""
        if self.only_looked_at or self._held_open:
            return
        # What follows an entry that was acknowledged must not look as if it had been refused.
        with suppress(JournalFaultError), in_plain_words(self.path), self._hurried() as db:
            db.execute(
                "INSERT INTO last_look (one, at) VALUES (1, ?)"
                " ON CONFLICT (one) DO UPDATE SET at = excluded.at",
                (utc_text(now, "microseconds"),),
            )

    def last_look(self) -> datetime | None:
        """Return when somebody last looked; None when nobody ever did."""
        rows = self._source.ask("SELECT at FROM last_look")
        try:
            return datetime.fromisoformat(rows[0][0]) if rows else None
        except (ValueError, TypeError):
            return None

    def check(self, *, quickly: bool = False) -> list[str]:
        """Return everything that is wrong inside the file, in plain words; empty when sound.

        ``quickly`` looks at every snapshot, the file's own order, and the newest entries.
        """
        from finishsched.journal.soundness import find_faults  # noqa: PLC0415  # seldom asked

        return find_faults(self._source, quickly=quickly)

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """Hold the journal for writing; keep all of it or, when anything goes wrong, nothing."""
        if self._held_open:
            yield self._source.db
            return
        with self._holding() as db:
            yield db
            self._refuse_moved()
            db.execute("COMMIT")

    @contextmanager
    def _holding(self) -> Iterator[sqlite3.Connection]:
        """Hold the journal for writing; what is not committed is gone at the end."""
        self._refuse_damaged()
        if self.only_looked_at:
            raise self._refused or fault(self.path, READ_ONLY)
        self._refuse_moved()
        db = self._source.db
        patiently(lambda: db.execute("BEGIN IMMEDIATE"), self._wait_s)
        try:
            yield db
        finally:
            # The source lets go of a file in which damage shows.
            if not self._source.damaged and db.in_transaction:
                db.execute("ROLLBACK")

    @contextmanager
    def _hurried(self) -> Iterator[sqlite3.Connection]:
        """Hold the journal for writing, or give up at once where another program does."""
        waits_s, self._wait_s = self._wait_s, 0.0
        self._source.db.execute("PRAGMA busy_timeout = 0")
        try:
            with self._writing() as db:
                yield db
        finally:
            self._wait_s = waits_s
            self._source.db.execute(f"PRAGMA busy_timeout = {round(waits_s * 1000)}")

    def _look_again(self, seen: tuple[int, int]) -> int:
        """Return another number once the file is another one, and read it anew then."""
        stamp = _stamp(self.path)
        if stamp != seen and not self._source.damaged:
            self._source.close()
            self._source = Source(self.path, connect_to_look(self.path))
            self._book, self._seen = EMPTY_BOOK, stamp
        return hash(stamp)

    def _refuse_damaged(self) -> None:
        """Refuse to log on in a damaged journal: what is sound of it goes into a new one first."""
        if self._source.damaged:
            raise JournalFaultError(
                f"{self.path}: {self.lost[0]}; nothing is logged in a damaged journal",
                f"bring back what is sound: finishsched restore {self.path.parent} NEW-DIR",
            )

    def _refuse_moved(self) -> None:
        """Refuse to go on in a file that nobody would find again: it has no name any more."""
        if _identity(self.path) != self._file:
            raise fault(self.path, MOVED)

    def _catch_up(self) -> None:
        if self._source.damaged and not self._knows_damage:
            # What was read before the damage showed may name what is lost.
            self._book, self._knows_damage = EMPTY_BOOK, True
        query = "SELECT (SELECT max(seq) FROM events), (SELECT logged_at FROM last_written)"
        ((last_seq, written_at),) = self._source.asked(_last, query)
        known = self._book.last_seq
        if last_seq is None or last_seq <= known:
            return
        book = self._with(self.events(known)) if known else self._begun()
        self._book = replace(book, last_seq=last_seq, last_logged_at=written_at)

    def _begun(self) -> Book:
        """Return the book of everything that was written, of which nothing is read yet."""
        ((last_seq,),) = self._source.ask("SELECT coalesce(max(seq), 0) FROM events")
        undone = frozenset(self._source.asked(text_of, "SELECT id FROM undone"))
        filed = StoredFiled(Written(self._source, last_seq))
        return self._told(Book(last_seq, filed, undone), last_seq)

    def _with(self, events: Sequence[Event]) -> Book:
        """Return the book with what is new; readings of the air stay in their table."""
        work = [event for event in events if not isinstance(event.what, AirRead)]
        book = fold(self._book, work)
        written = [event.logged_at for event in events]
        written += [self._book.last_logged_at] if self._book.last_logged_at else []
        book = replace(book, readings=(), last_logged_at=max(written, default=None))
        return self._told(book, events[-1].seq if events else book.last_seq)

    def _told(self, book: Book, last_seq: int) -> Book:
        air = StoredAir(self._source, last_seq, book.undone)
        return replace(book, last_seq=last_seq, told_air=air)

    def _insert(
        self, db: sqlite3.Connection, new: Sequence[NewEvent], events: Sequence[Event]
    ) -> None:
        for hash_, body in (pair for entry in new for pair in entry.snapshots):
            if text_hash(body) != hash_:
                raise ValueError(f"snapshot {hash_} is named by another text's hash")
            db.execute("INSERT INTO snapshots (hash, body) VALUES (?, ?)", (hash_, body))
        rows = list(map(to_row, events))
        db.executemany(
            f"INSERT INTO events ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)",  # noqa: S608  # constant
            rows,
        )
        derived.add(db, events, rows)


def _last(row: tuple[int | None, str | None]) -> tuple[int | None, datetime | None]:
    """Return the number of the last entry, and when one was last written."""
    last_seq, logged_at = row
    return last_seq, None if logged_at is None else datetime.fromisoformat(logged_at)


def _identity(path: Path) -> tuple[int, int] | None:
    """Return what tells a file from every other; None when there is none at ``path``."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_dev, status.st_ino


def _stamp(path: Path) -> tuple[int, int]:
    status = path.stat()
    return status.st_mtime_ns, status.st_size


def _numbered(new: Sequence[NewEvent], last_seq: int, now: datetime) -> tuple[Event, ...]:
    return tuple(
        Event(seq, entry.id or random_id(), entry.at, now, entry.piece, entry.what)
        for seq, entry in enumerate(new, start=last_seq + 1)
    )
