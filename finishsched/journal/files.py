"""The journal's file: made whole or not at all, and opened only when it is ours.

A new journal is built under another name in the same folder and then given its own, so that
whatever stops the program leaves either no journal or a good one, and of two programs that make
one at once the second finds the first one's.
"""

from __future__ import annotations

import glob
import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from pathlib import Path
from typing import TypeVar

from finishsched.journal.events import random_id
from finishsched.journal.faults import (
    DAMAGED,
    EMPTY,
    LOG_ALONE,
    MISSING,
    NOT_OURS,
    READ_ONLY,
    TOO_OLD_SQLITE,
    fault,
    newer_version,
    primary_code,
)
from finishsched.journal.schema import (
    APPLICATION_ID,
    MIGRATIONS,
    make_in_memory,
    migrate,
    version_of,
)

Result = TypeVar("Result")

OLDEST_SQLITE = (3, 37, 0)
"""The first with STRICT tables (sqlite.org, release history)."""

_LOOK_AGAIN_S = 0.02
CLAIM_WAIT_S = 2.0
_PART = 1 << 20
_HELD: dict[tuple[int, int], int] = {}
"""Descriptors of damaged journals that were read, by device and number: held open to the end, and
as plain numbers, so that nothing closes one on its way out."""


def connect(path: Path, *, create: bool, wait_s: float) -> sqlite3.Connection:
    """Return an open connection to the journal at ``path``, made first when ``create`` says so.

    Raises:
        JournalFaultError: when there is none, or the file is not a journal that we can use.
        sqlite3.Error: for what SQLite itself finds wrong.
        OSError: for what the operating system finds wrong.

    """
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise fault(path, TOO_OLD_SQLITE)
    if not path.exists():
        if not create:
            raise fault(path, MISSING)
        _refuse_log_without_journal(path)
        _make(path)
    _refuse_what_holds_nothing(path)
    _sweep(path)
    _refuse_damaged_log(path)
    return _open(path, wait_s)


def connect_to_look(path: Path) -> sqlite3.Connection:
    """Return a connection that reads the journal at ``path`` and leaves no trace beside it.

    For a journal that may not be written. A journal of an earlier version gets what it lacks in
    memory.

    Raises:
        JournalFaultError, sqlite3.Error, OSError: as ``connect`` does.

    """
    _refuse_damaged_log(path)
    db = sqlite3.connect(address_to_look(path), uri=True, isolation_level=None)
    try:
        _refuse_foreign(db, path)
        if version_of(db) < len(MIGRATIONS):
            make_in_memory(db)
    except BaseException:
        db.close()
        raise
    return db


def bytes_of(path: Path) -> bytes:
    """Return all bytes of the journal at ``path``, however often it is open here.

    The file stays open: whoever closes it lets go of all that SQLite holds it by in this process,
    and the next program to leave would take the log away under it ("How To Corrupt An SQLite
    Database File", sqlite.org, 2.2). On Windows each hold is of its own file.

    Raises:
        OSError: when it cannot be read.

    """
    if os.name == "nt":
        return path.read_bytes()
    status = path.stat()
    identity = status.st_dev, status.st_ino
    if identity not in _HELD:
        _HELD[identity] = os.open(path, os.O_RDONLY)
    return b"".join(_parts_of(_HELD[identity]))


def _parts_of(held: int) -> Iterator[bytes]:
    """Give all bytes of an open file, from its beginning, part by part."""
    at = 0
    while part := os.pread(held, _PART, at):
        yield part
        at += len(part)


def log_of(path: Path) -> Path:
    """Return where the log of the journal at ``path`` is, if there is one."""
    return path.with_name(f"{path.name}-wal")


def address_to_look(path: Path) -> str:
    """Return the address by which SQLite reads the journal at ``path`` and makes nothing beside it.

    Without a log, or with an empty one, nobody is writing: then SQLite need not make the files that
    it shares with writers, which it could not make in a full or locked folder.
    """
    log = log_of(path)
    still = "" if log.exists() and log.stat().st_size > 0 else "&immutable=1"
    return f"{path.absolute().as_uri()}?mode=ro{still}"


def patiently(action: Callable[[], Result], wait_s: float) -> Result:
    """Return what ``action`` gives, trying again while another program holds the journal.

    SQLite's own waiting does not cover the moments in which another program opens the journal
    after a crash, or closes it as the last one.
    """
    until_s = time.monotonic() + wait_s
    while True:
        try:
            return action()
        except sqlite3.OperationalError as error:
            if primary_code(error) != sqlite3.SQLITE_BUSY or time.monotonic() >= until_s:
                raise
        time.sleep(_LOOK_AGAIN_S)


def _open(path: Path, wait_s: float) -> sqlite3.Connection:
    uri = f"{path.absolute().as_uri()}?mode=rw"
    db = sqlite3.connect(uri, uri=True, timeout=wait_s, isolation_level=None)
    try:
        patiently(lambda: _prepare(db, path), wait_s)
    except BaseException:
        db.close()
        raise
    return db


def _prepare(db: sqlite3.Connection, path: Path) -> None:
    _refuse_foreign(db, path)
    if db.execute("PRAGMA journal_mode = WAL").fetchone()[0] != "wal":
        raise fault(path, READ_ONLY)
    db.execute("PRAGMA synchronous = FULL")
    # On macOS a plain sync may leave the entry in the drive's own memory.
    db.execute("PRAGMA fullfsync = ON")
    migrate(db)


def _refuse_foreign(db: sqlite3.Connection, path: Path) -> None:
    if db.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise fault(path, NOT_OURS)
    if version_of(db) > len(MIGRATIONS):
        raise newer_version(path, version_of(db), len(MIGRATIONS))


def _refuse_what_holds_nothing(path: Path) -> None:
    if not path.is_file():
        raise fault(path, NOT_OURS)
    until_s = time.monotonic() + CLAIM_WAIT_S
    while path.stat().st_size == 0:
        if time.monotonic() >= until_s:
            raise fault(path, EMPTY)
        time.sleep(_LOOK_AGAIN_S)


def _refuse_log_without_journal(path: Path) -> None:
    """Refuse to make a new journal into which SQLite would play the log of a lost one."""
    log = log_of(path)
    # In this order: another program that makes the journal now has it before it has a log.
    if log.exists() and not path.exists():
        raise fault(log, LOG_ALONE)


def _refuse_damaged_log(path: Path) -> None:
    """Refuse to let SQLite pass over entries that were written, and then write over them."""
    try:
        empty = log_of(path).stat().st_size == 0
    except OSError:
        return
    if empty:
        return
    from finishsched.journal.log_beside import is_damaged  # noqa: PLC0415  # after a crash

    if is_damaged(path):
        raise fault(log_of(path), DAMAGED)


def _make(path: Path) -> None:
    made = path.with_name(f".{path.name}.{random_id()}.making")
    try:
        build(made)
        give_name(made, path)
    except (sqlite3.Error, FileNotFoundError):
        # Another program that was first sweeps away what others still build.
        if not path.exists():
            raise
    finally:
        made.unlink(missing_ok=True)


def build(made: Path) -> None:
    """Make an empty journal at ``made``, where nothing is yet, and leave it closed."""
    # The operating system names what is wrong with a folder or a disk; SQLite only says 'cannot'.
    made.touch(exist_ok=False)
    with closing(sqlite3.connect(made, isolation_level=None)) as db:
        db.execute("PRAGMA synchronous = FULL")
        migrate(db)
        db.execute("PRAGMA journal_mode = WAL")


def give_name(made: Path, path: Path) -> bool:
    """Give the file ``made`` its own name, durably; False when something has that name already."""
    try:
        try:
            os.link(made, path)
        except (FileExistsError, FileNotFoundError):
            raise
        except OSError:
            _claim_name(made, path)
    except FileExistsError:
        return False
    make_name_durable(path.parent)
    return True


def _claim_name(made: Path, path: Path) -> None:
    """Name the file where there are no hard links: whoever makes the empty file may replace it."""
    path.touch(exist_ok=False)
    made.replace(path)


def make_name_durable(folder: Path) -> None:
    """Have the disk keep the names in ``folder`` as they are now."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _sweep(path: Path) -> None:
    """Remove what a program that was killed while making this journal left behind."""
    for left in path.parent.glob(f".{glob.escape(path.name)}.*.making*"):
        with suppress(OSError):
            left.unlink()
