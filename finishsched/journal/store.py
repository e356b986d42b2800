"""The journal in SQLite: entries are added, each durable before it is acknowledged."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from finishsched.journal.air_rows import StoredAir, add_rows, find_stale
from finishsched.journal.events import (
    AirRead,
    Event,
    NewEvent,
    from_row,
    random_id,
    to_row,
    utc_text,
)
from finishsched.journal.faults import (
    MOVED,
    READ_ONLY,
    JournalFaultError,
    fault,
    in_plain_words,
    may_be_looked_at,
    system_in_plain_words,
)
from finishsched.journal.files import connect, connect_to_look, patiently
from finishsched.journal.progress import EMPTY_BOOK, Book, fold
from finishsched.model.plain import text_hash

BUSY_WAIT_S = 10.0
"""How long to wait for another program that writes, before giving up."""

_COLUMNS = "seq, id, at, logged_at, piece, kind, body"


class Journal:
    """One open journal. Several processes may have the same one open; each sees every entry.

    Every method raises JournalFaultError when the file cannot be read or written.
    """

    def __init__(self, path: Path, db: sqlite3.Connection, wait_s: float) -> None:
        self.path = path
        self._db = db
        self._wait_s = wait_s
        self._book = EMPTY_BOOK
        self._file = _identity(path)
        self._seen: tuple[int, int] | None = None
        """The file's time and size when it was opened only to be read."""

    @classmethod
    def open(cls, path: Path, *, create: bool = True, wait_s: float = BUSY_WAIT_S) -> Self:
        """Open the journal at ``path``; where there is none, make one when ``create`` says so.

        ``wait_s`` is how long, in seconds, to wait for another program that writes.

        Raises:
            JournalFaultError: when there is none, it is damaged, it was written by a later
                release, it is something else, or it cannot be read or written.

        """
        with in_plain_words(path), system_in_plain_words(path):
            return cls(path, connect(path, create=create, wait_s=wait_s), wait_s)

    @classmethod
    def open_or_look(cls, path: Path) -> Self:
        """Open the journal at ``path`` or, where it may not be written, only to be read.

        Raises:
            JournalFaultError: as ``open`` does.

        """
        try:
            return cls.open(path)
        except JournalFaultError as error:
            if not may_be_looked_at(error) or not path.is_file():
                raise
        with in_plain_words(path), system_in_plain_words(path):
            looked = cls(path, connect_to_look(path), 0.0)
            looked._seen = _stamp(path)
            return looked

    @property
    def only_looked_at(self) -> bool:
        """True when nothing can be written: entries are refused, a look is not remembered."""
        return self._seen is not None

    def close(self) -> None:
        """Close the journal; the last one to do so leaves a single file."""
        with in_plain_words(self.path):
            self._db.close()

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
        with in_plain_words(self.path), self._writing():
            self._catch_up()
            new = build(self._book)
            events = _numbered(new, self._book.last_seq, now)
            self._insert(new, events)
        if events:
            self._file_in(events, events[-1].seq, now)
        return events

    def book(self) -> Book:
        """Return the book with every entry so far; only entries new since last time are read."""
        with in_plain_words(self.path):
            patiently(self._catch_up, self._wait_s)
        return self._book

    def events(self, after_seq: int = 0, piece: str | None = None) -> tuple[Event, ...]:
        """Return the entries later than ``after_seq``, undone ones too; of one piece, or all."""
        with in_plain_words(self.path):
            return tuple(
                event for event in self._read(after_seq) if piece is None or event.piece == piece
            )

    def snapshot(self, hash_: str) -> str:
        """Return the text of the snapshot named by its SHA-256 ``hash_``.

        Raises:
            JournalFaultError: when there is none of that name.

        """
        with in_plain_words(self.path):
            row = self._db.execute("SELECT body FROM snapshots WHERE hash = ?", (hash_,)).fetchone()
        if row is None:
            raise JournalFaultError(
                f"{self.path}: the journal holds no snapshot {hash_[:12]}",
                "keep the file as it is, and bring back the newest copy beside it",
            )
        return str(row[0])

    def data_version(self) -> int:
        """Return a number that is another one once another connection has written."""
        with in_plain_words(self.path):
            self._refuse_moved()
            if self._seen is not None:
                return self._look_again(self._seen)
            return int(self._db.execute("PRAGMA data_version").fetchone()[0])

    def look(self, now: datetime) -> None:
        """Remember that somebody looked at ``now``; this is no entry."""
        if self.only_looked_at:
            return
        with in_plain_words(self.path), self._writing():
            self._db.execute(
                "INSERT INTO last_look (one, at) VALUES (1, ?)"
                " ON CONFLICT (one) DO UPDATE SET at = excluded.at",
                (utc_text(now, "microseconds"),),
            )

    def last_look(self) -> datetime | None:
        """Return when somebody last looked; None when nobody ever did."""
        with in_plain_words(self.path):
            row = self._db.execute("SELECT at FROM last_look").fetchone()
        return datetime.fromisoformat(row[0]) if row else None

    def check(self) -> list[str]:
        """Return everything that is wrong inside the file, in plain words; empty when sound."""
        findings: list[str] = []
        for finder in (
            self._find_damage,
            self._find_gaps,
            self._find_unreadable,
            self._find_lost,
            self._find_stale,
        ):
            try:
                with in_plain_words(self.path):
                    findings.extend(finder())
            except JournalFaultError as error:
                findings.append(str(error))
        return list(dict.fromkeys(findings))

    @contextmanager
    def _writing(self) -> Iterator[None]:
        """Hold the journal for writing; keep all of it or, when anything goes wrong, nothing."""
        if self.only_looked_at:
            raise fault(self.path, READ_ONLY)
        self._refuse_moved()
        patiently(lambda: self._db.execute("BEGIN IMMEDIATE"), self._wait_s)
        try:
            yield
            self._refuse_moved()
            self._db.execute("COMMIT")
        finally:
            if self._db.in_transaction:
                self._db.execute("ROLLBACK")

    def _look_again(self, seen: tuple[int, int]) -> int:
        """Return another number once the file is another one, and read it anew then."""
        stamp = _stamp(self.path)
        if stamp != seen:
            self._db.close()
            self._db, self._book, self._seen = connect_to_look(self.path), EMPTY_BOOK, stamp
        return hash(stamp)

    def _refuse_moved(self) -> None:
        """Refuse to go on in a file that nobody would find again: it has no name any more."""
        if _identity(self.path) != self._file:
            raise fault(self.path, MOVED)

    def _catch_up(self) -> None:
        last_seq, air_at = self._db.execute(
            "SELECT (SELECT max(seq) FROM events), (SELECT logged_at FROM air_written)"
        ).fetchone()
        if last_seq is None or last_seq <= self._book.last_seq:
            return
        rows = self._db.execute(
            f"SELECT {_COLUMNS} FROM events WHERE kind <> 'air' AND seq > ? AND seq <= ?"  # noqa: S608  # constant
            " ORDER BY seq",
            (self._book.last_seq, last_seq),
        )
        written_at = datetime.fromisoformat(air_at) if air_at else None
        self._file_in(map(from_row, rows), last_seq, written_at)

    def _file_in(
        self, events: Iterable[Event], last_seq: int, air_written_at: datetime | None
    ) -> None:
        """File what is new up to entry ``last_seq``; readings of the air stay in their table."""
        work = [event for event in events if not isinstance(event.what, AirRead)]
        book = fold(self._book, work)
        written = [at for at in (book.last_logged_at, air_written_at) if at is not None]
        self._book = replace(
            book,
            last_seq=last_seq,
            readings=(),
            last_logged_at=max(written, default=None),
            told_air=StoredAir(self.path, self._db, last_seq, book.undone),
        )

    def _read(self, after_seq: int) -> Iterator[Event]:
        rows = self._db.execute(
            f"SELECT {_COLUMNS} FROM events WHERE seq > ? ORDER BY seq",  # noqa: S608  # constant
            (after_seq,),
        )
        return map(from_row, rows)

    def _insert(self, new: Iterable[NewEvent], events: Sequence[Event]) -> None:
        for hash_, body in (pair for entry in new for pair in entry.snapshots):
            if text_hash(body) != hash_:
                raise ValueError(f"snapshot {hash_} is named by another text's hash")
            self._db.execute("INSERT INTO snapshots (hash, body) VALUES (?, ?)", (hash_, body))
        self._db.executemany(
            f"INSERT INTO events ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)",  # noqa: S608  # constant
            map(to_row, events),
        )
        add_rows(self._db, events)

    def _find_damage(self) -> Iterator[str]:
        for (line,) in self._db.execute("PRAGMA integrity_check"):
            if line != "ok":
                yield f"{self.path}: damaged: {line}"

    def _find_gaps(self) -> Iterator[str]:
        query = "SELECT count(*), coalesce(max(seq), 0), coalesce(min(seq), 1) FROM events"
        count, last, first = self._db.execute(query).fetchone()
        if count != last or first != 1:
            yield f"{self.path}: {last} entries were written, {count} are there"

    def _find_unreadable(self) -> Iterator[str]:
        for row in self._db.execute(f"SELECT {_COLUMNS} FROM events ORDER BY seq"):  # noqa: S608  # constant
            try:
                from_row(row)
            except JournalFaultError as error:
                yield f"{self.path}: {error.message}"

    def _find_stale(self) -> Iterator[str]:
        for line in find_stale(self._db):
            yield f"{self.path}: {line}"

    def _find_lost(self) -> Iterator[str]:
        held: set[str] = set()
        for hash_, body in self._db.execute("SELECT hash, body FROM snapshots"):
            held.add(hash_)
            if text_hash(body) != hash_:
                yield f"{self.path}: snapshot {hash_[:12]} is not the text that it was"
        named = self._db.execute(
            "SELECT seq, value FROM events, json_each(iif(json_valid(body), body, '{}'))"
            " WHERE key IN ('schedule_hash', 'piece_hash', 'rework_hash') ORDER BY seq"
        )
        for seq, hash_ in named:
            if hash_ not in held:
                yield f"{self.path}: entry {seq} names snapshot {str(hash_)[:12]}, which is lost"


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
