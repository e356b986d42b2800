"""Which pieces are put by, as the file beside the journal has them.

The file is of one state of the journal: of its last entry then, by whose random name it is known.
Entries are only ever added to a journal, so whatever no later entry is about still stands as it did
then. What a document wants is asked of those that were read, since of the others nothing changed.
"""

from __future__ import annotations

import errno
import json
import sqlite3
import weakref
from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from fnmatch import fnmatchcase
from pathlib import Path
from typing import NamedTuple, TypeAlias
from zlib import crc32

from finishsched.journal.progress import Book
from finishsched.workshop.base.documents import Papers, job_of
from finishsched.workshop.base.place import PUT_BY_FILE
from finishsched.workshop.base.put_by_file import connect_put_by, connected, make_tables
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.finding import plain_name
from finishsched.workshop.standing.put_by import Marks, PutBy, busy_times
from finishsched.workshop.standing.standing import Standing

STILL_TEACH, TEACH_FOR = 5, timedelta(days=730)
"""Of each schedule the last few go on teaching what waits and amounts are here, for two years; what
lies further back has faded (our assumption)."""
_MANY_ENTRIES = 500
"""After so many the state is kept anew, so that what came since is quickly looked through."""
_SIGNS = frozenset("*?[")

Rest: TypeAlias = tuple[str, int, int, str, str]
"""A document of which nothing need be read: a row of the file."""

_SCHEDULES = """
    WITH RECURSIVE each (schedule) AS (
        SELECT min(schedule) FROM pieces
        UNION ALL
        SELECT (SELECT min(schedule) FROM pieces WHERE schedule > each.schedule) FROM each
        WHERE schedule IS NOT NULL
    )
    SELECT schedule FROM each WHERE schedule IS NOT NULL
"""
"""Each once, found by the index alone."""


class _State(NamedTuple):
    """Of which state of the journal a file is."""

    seq: int
    mark: str
    in_hand: tuple[str, ...]
    """Every piece of the journal that was not put by."""


_NONE = _State(0, "", ())


class Away:
    """The pieces that are put by: those in the file, or in memory where none can be written."""

    def __init__(
        self, folder: Path, db: sqlite3.Connection, state: _State, *, is_file: bool
    ) -> None:
        self._folder = folder
        self._state = state
        self._woken: set[str] = set()
        self.in_hand: set[str] = set(state.in_hand)
        """Every piece of the journal that is not put by, by the last book that was asked."""
        self._db, self._is_file = db, is_file
        weakref.finalize(self, db.close)

    @property
    def is_known(self) -> bool:
        """False where every piece has to be read first to know which ones are put by."""
        return self._state.seq > 0

    def __contains__(self, ref: str) -> bool:
        return ref in self._refs("SELECT ref FROM pieces WHERE ref = ?", ref)

    def refs(self) -> list[str]:
        """Return every piece."""
        return self._refs("SELECT ref FROM pieces")

    def since(self, since: datetime) -> list[str]:
        """Return those that were worked on after all ``since`` then."""
        return self._refs("SELECT ref FROM pieces WHERE last_s >= ?", since.timestamp())

    def began_s(self, refs: Iterable[str]) -> Iterator[float]:
        """Give when the work on those of ``refs`` began that are put by, since 1970 in UTC."""
        for ref in refs:
            query = "SELECT first_s FROM pieces WHERE ref = ?"
            yield from (first_s for (first_s,) in self._db.execute(query, (ref,)))

    def who_teach(self, here: Iterable[Standing], book: Book) -> set[str]:
        """Return those that are read all the same, for what is learnt from them.

        They are the last few of each schedule; and those that were in work while others were that
        are not put by, since the same pad may have served both.
        """
        if book.last_logged_at is None:
            return set()
        since_s = (book.last_logged_at - TEACH_FOR).timestamp()
        last = (
            "SELECT ref FROM pieces WHERE schedule = ? AND last_s >= ?"
            " ORDER BY last_s DESC, ref DESC LIMIT ?"
        )
        most = STILL_TEACH + len(self._woken)
        found: set[str] = set()
        for (schedule,) in self._db.execute(_SCHEDULES).fetchall():
            found.update(self._refs(last, schedule, since_s, most)[:STILL_TEACH])
        for begin_s, end_s in busy_times(here, book):
            beside = "SELECT ref FROM pieces WHERE last_s >= ? AND first_s <= ?"
            found.update(self._refs(beside, begin_s, end_s))
        return found

    def could_mean(self, text: str) -> set[str]:
        """Return those that a part of a list of names may stand for."""
        found: set[str] = set()
        for part in text.split(","):
            name = part.strip().removeprefix("-").strip()
            if name:
                found.update(self._called(name))
        return found

    def _called(self, name: str) -> Iterator[str]:
        stem = name.rpartition("-")[0] if " " in name else ""  # of a span, such as front-3 to 7
        for called in {name.partition("+")[0], plain_name(name), *([f"{stem}-"] if stem else [])}:
            yield from self._refs("SELECT ref FROM names WHERE name = ?", called)
        if _SIGNS & set(name):
            for ref in self.refs():
                if fnmatchcase(ref, name) or fnmatchcase(ref.partition("/")[2], name):
                    yield ref

    def touch(self, refs: Iterable[str]) -> None:
        """Have pieces in hand from now on, about which an entry came."""
        refs = set(refs)
        self.in_hand |= refs
        self._woken |= refs

    def keep(
        self, new: Mapping[str, PutBy], book: Book, workshop: Workshop, *, is_settled: bool
    ) -> None:
        """Have ``new`` pieces put by, and keep the file; where that cannot be, it is done anew.

        It is not kept where the entries of ``book`` may be let go of again.
        """
        self.in_hand.difference_update(new)
        self._woken.difference_update(new)
        at_rest = list(self._to_rest(workshop.papers, new))
        many = book.last_seq - self._state.seq > _MANY_ENTRIES
        if not (new or many or at_rest):
            return
        mark = book.filed.mark_at(book.last_seq)
        state = _State(book.last_seq, mark, tuple(sorted(self.in_hand)))
        if not (is_settled and mark and self._kept_in_file(state, new, at_rest)) and new:
            self._copy_into_memory()
            self._write(state, new, ())

    def _to_rest(self, papers: Papers, new: Collection[str]) -> Iterator[Rest]:
        """Give the documents of which every piece is put by, and that are not known for it yet."""
        for job in papers.in_hand:
            file = papers.files.get(job.id)
            refs = [f"{job.id}/{piece.id}" for piece in job.each_piece()]
            if file is None or not all(ref in new or ref in self for ref in refs):
                continue
            row = (*file, job.id, job.title)
            known = "SELECT * FROM documents WHERE name = ?"
            if self._db.execute(known, row[:1]).fetchall() != [row]:
                yield row

    def _kept_in_file(
        self, state: _State, new: Mapping[str, PutBy], at_rest: Iterable[Rest]
    ) -> bool:
        """Tell whether it could be kept for those who ask later."""
        was = (self._db, self._is_file)
        try:
            if not self._is_file:
                if self.refs():
                    return False  # made where it could not be kept
                self._hold(_file_to_write(self._folder), is_file=True)
            self._write(state, new, at_rest)
        except (sqlite3.Error, OSError):
            self._db, self._is_file = was
            return False
        return True

    def _write(self, state: _State, new: Mapping[str, PutBy], at_rest: Iterable[Rest]) -> None:
        """Write all that is otherwise now, or nothing.

        Raises:
            sqlite3.Error: when it cannot be written, or another program wrote since.

        """
        db = self._db
        db.execute("BEGIN IMMEDIATE")
        try:
            if not self.is_known:
                make_tables(db)
            elif _state_in(db) != self._state:
                raise sqlite3.OperationalError("another program kept a later state")
            for ref in (*self._woken, *new):
                for table in ("pieces", "names", "heating"):
                    db.execute(f"DELETE FROM {table} WHERE ref = ?", (ref,))  # noqa: S608  # constants
                if ref in self._woken:
                    db.execute("DELETE FROM documents WHERE job = ?", (job_of(ref),))
            _put(db, new)
            db.executemany("INSERT OR REPLACE INTO documents VALUES (?, ?, ?, ?, ?)", at_rest)
            db.execute("DELETE FROM state")
            row = (state.seq, state.mark, json.dumps(state.in_hand))
            db.execute("INSERT INTO state VALUES (1, ?, ?, ?, ?)", (*row, _sum(row)))
            db.execute("COMMIT")
        finally:
            if db.in_transaction:
                db.execute("ROLLBACK")
        self._state, self._woken = state, set()

    def _copy_into_memory(self) -> None:
        """Go on with a copy, which nobody else sees, and which is gone with this."""
        if self._is_file:
            copy = connected("file::memory:")
            self._db.backup(copy)
            self._hold(copy, is_file=False)

    def _hold(self, db: sqlite3.Connection, *, is_file: bool) -> None:
        """Go on with another file, which is closed at the end."""
        self._db, self._is_file = db, is_file
        weakref.finalize(self, db.close)

    def _refs(self, query: str, *given: str | float) -> list[str]:
        """Return those pieces that ``query`` finds and that did not wake."""
        return [ref for (ref,) in self._db.execute(query, given) if ref not in self._woken]

    def _rows_of(self, job: str) -> list[tuple[str, str, str]]:
        """Return the pieces of a job, each with its mark and with what was wanted of it."""
        # In the order of signs a zero follows a slash.
        query = "SELECT ref, mark, wanted FROM pieces WHERE ref > ? AND ref < ?"
        return list(self._db.execute(query, (f"{job}/", f"{job}0")))

    def look_again(self, papers: Papers, book: Book, marks: Marks) -> None:
        """Wake the pieces that an entry since, or a document as it now reads, is about."""
        touched = book.filed.touched_since(self._state.seq)
        self.touch(ref.partition("+")[0] for ref in touched if ref is not None)
        known = self._db.execute("SELECT job FROM documents")
        unread = {job for (job,) in known} - papers.resting.ids
        for job in unread.union(job.id for job in papers.in_hand):
            for ref, mark, wanted in self._rows_of(job):
                if mark != marks.of(ref) or wanted != marks.wanted(ref):
                    self.touch((ref,))
        if None in touched and book.filed.took_back_since(self._state.seq):
            rows = self._db.execute("SELECT ref, used_on, at_s FROM heating")
            self.touch(ref for ref, *used in rows if not marks.are_rags_out([(used[0], used[1])]))


def away_of(workshop: Workshop, book: Book, marks: Marks) -> Away:
    """Return what was kept of pieces put by, without those about which anything is otherwise."""
    db = None if workshop.lost else connect_put_by(workshop.folder)
    if db is not None:
        try:
            state = _state_in(db)
            if state is not None and state.mark == book.filed.mark_at(state.seq):
                away = Away(workshop.folder, db, state, is_file=True)
                away.look_again(workshop.papers, book, marks)
                return away
        except (sqlite3.Error, ValueError, TypeError):
            pass  # nothing of use is in it
        db.close()
    nothing = connected("file::memory:")
    make_tables(nothing)
    return Away(workshop.folder, nothing, _NONE, is_file=False)


def _state_in(db: sqlite3.Connection) -> _State | None:
    """Return of which state a file is; None where that cannot be relied on.

    Raises:
        sqlite3.Error, ValueError, TypeError: when it cannot be read.

    """
    rows = db.execute("SELECT seq, mark, in_hand, sum FROM state").fetchall()
    for seq, mark, in_hand, kept in rows:
        if _sum((seq, mark, in_hand)) == kept and mark:
            return _State(seq, mark, tuple(map(str, json.loads(in_hand))))
    return None


def _sum(row: tuple[object, ...]) -> int:
    return crc32(repr(row).encode("utf-8", "surrogatepass"))


def _put(db: sqlite3.Connection, new: Mapping[str, PutBy]) -> None:
    db.executemany(
        "INSERT INTO pieces VALUES (?, ?, ?, ?, ?, ?)",
        (
            (ref, one.mark, one.wanted, one.schedule, one.first_s, one.last_s)
            for ref, one in new.items()
        ),
    )
    names = ((name, ref) for ref, one in new.items() for name in _names(ref, one))
    db.executemany("INSERT INTO names VALUES (?, ?)", names)
    used = ((ref, on, at_s) for ref, one in new.items() for on, at_s in one.heating)
    db.executemany("INSERT INTO heating VALUES (?, ?, ?)", used)


def _names(ref: str, one: PutBy) -> set[str]:
    """Return all that a piece may be called; that of its span ends with a hyphen."""
    job, _, own = ref.partition("/")
    found = {ref, own, job, plain_name(ref), plain_name(own), plain_name(one.title)}
    found |= {f"{stem}-" for stem in (ref.rpartition("-")[0], own.rpartition("-")[0]) if stem}
    return found | ({one.alike, f"{job}/{one.alike}"} if one.alike else set())


def _file_to_write(folder: Path) -> sqlite3.Connection:
    """Return the open file, made where there is none, or where something else has its name.

    Raises:
        sqlite3.Error, OSError: when it cannot be made.

    """
    file = folder / PUT_BY_FILE
    if file.exists() and not file.is_file():
        raise OSError(errno.EINVAL, "it is no plain file", str(file))
    uri = f"{file.absolute().as_uri()}?mode=rwc"
    db = connected(uri)
    try:
        db.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except sqlite3.DatabaseError as error:
        db.close()
        if isinstance(error, sqlite3.OperationalError):
            raise
        file.unlink()
        db = connected(uri)
    return db
