"""What can be wrong with a journal, in plain words that name the file and the way out."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from finishsched.refusals import RefusalError


class JournalFaultError(RefusalError):
    """The journal cannot be read or written: what is wrong, and what would put it right."""


READ_ONLY = (
    "the journal cannot be written",
    "make the file and its folder writable for you, then do it again",
)
FULL = (
    "no room is left for the journal",
    "nothing was written; make room on the disk, then do it again",
)
CANNOT_OPEN = (
    "the journal cannot be opened",
    "check that its folder is there and that you may read and write in it",
)
NOT_OURS = (
    "this is no journal of finishsched",
    "name another folder, or move this file out of the way",
)
EMPTY = (
    "the journal is an empty file",
    "bring back a copy of it; if there was never anything in it, delete it",
)
LOG_ALONE = (
    "this is the log of a journal that is gone, and may hold its last entries",
    "bring the journal back beside it, or move the log away to begin a new journal",
)
WILL_NOT = (
    "the disk would not read or write the journal",
    "check that the disk is there, sound, and has room, then do it again",
)
MOVED = (
    "the journal was moved, deleted or replaced while it was open",
    "nothing was written; put it back, then close finishsched and open it again",
)
DAMAGED = (
    "the journal is damaged",
    "bring back all that is sound of it: finishsched restore this folder into a new one",
)
MISSING = ("there is no journal here", "name the shop's folder, or make the first entry")
TOO_OLD_SQLITE = (
    "the journal needs SQLite 3.37 or newer",
    f"update Python, whose own SQLite is {sqlite3.sqlite_version}",
)


def may_be_looked_at(error: JournalFaultError) -> bool:
    """Tell whether the journal that this is about can perhaps be read, though not written."""
    return error.remedy in (READ_ONLY[1], CANNOT_OPEN[1], FULL[1], WILL_NOT[1])


def is_damage(error: JournalFaultError) -> bool:
    """Tell whether the file that this is about is damaged, and what is sound of it may be read."""
    return error.remedy == DAMAGED[1]


_BY_SQLITE_CODE = {
    sqlite3.SQLITE_BUSY: (
        "another program keeps the journal to itself",
        "nothing was written; close the other program or wait a little, then do it again",
    ),
    sqlite3.SQLITE_READONLY: READ_ONLY,
    sqlite3.SQLITE_PERM: READ_ONLY,
    sqlite3.SQLITE_CANTOPEN: CANNOT_OPEN,
    sqlite3.SQLITE_FULL: FULL,
    sqlite3.SQLITE_IOERR: WILL_NOT,
    sqlite3.SQLITE_CORRUPT: DAMAGED,
    sqlite3.SQLITE_NOTADB: NOT_OURS,
    sqlite3.SQLITE_CONSTRAINT: (
        "the journal only takes new entries; what is written stays",
        "undo an entry by a new one",
    ),
}
_BY_OS_ERROR = {
    errno.EACCES: READ_ONLY,
    errno.EPERM: READ_ONLY,
    errno.EROFS: READ_ONLY,
    errno.ENOSPC: FULL,
    errno.EDQUOT: FULL,
    errno.EFBIG: FULL,
    errno.ENOENT: CANNOT_OPEN,
    errno.ENOTDIR: CANNOT_OPEN,
}


def fault(path: Path, words: tuple[str, str]) -> JournalFaultError:
    """Return the fault of the journal at ``path`` in ``words``: what is wrong, and the remedy."""
    return JournalFaultError(f"{path}: {words[0]}", words[1])


def newer_version(path: Path, found: int, known: int) -> JournalFaultError:
    """Return the fault of a journal that a later release of the program wrote."""
    return JournalFaultError(
        f"{path}: the journal has version {found}, this program knows up to version {known}",
        "update finishsched; the journal was left as it is",
    )


def primary_code(error: sqlite3.Error) -> int:
    """Return SQLite's primary result code of ``error``, or -1 when it carries none."""
    code = getattr(error, "sqlite_errorcode", None)
    return -1 if code is None else int(code) & 0xFF


@contextmanager
def in_plain_words(path: Path) -> Iterator[None]:
    """Turn what SQLite says into a fault that names ``path``.

    Raises:
        JournalFaultError: in place of any sqlite3.Error.

    """
    try:
        yield
    except sqlite3.Error as error:
        words = _BY_SQLITE_CODE.get(primary_code(error)) or _of_no_code(error)
        raise fault(path, words or _unforeseen(str(error))) from error
    except UnicodeDecodeError as error:
        # SQLite quotes in its message what is damaged, which need not be text any more.
        raise fault(path, DAMAGED) from error


@contextmanager
def system_in_plain_words(path: Path) -> Iterator[None]:
    """Turn what the operating system says into a fault that names ``path``.

    Raises:
        JournalFaultError: in place of any OSError.

    """
    try:
        yield
    except OSError as error:
        words = _BY_OS_ERROR.get(error.errno or 0)
        raise fault(path, words or _unforeseen(error.strerror or str(error))) from error


def _of_no_code(error: sqlite3.Error) -> tuple[str, str] | None:
    """Return what Python's own layer finds wrong: a text that is no UTF-8."""
    return DAMAGED if "decode to UTF-8" in str(error) else None


def _unforeseen(what: str) -> tuple[str, str]:
    return f"the journal failed ({what})", "nothing was written; report this message"
