"""A journal as JSON Lines: a copy that any program can read, and that gives the same journal back.

The first line says what it is, then one line for each snapshot, then one for each entry in the
order of writing, undone ones too. The last line holds the SHA-256 of all lines before it.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from finishsched.journal import derived
from finishsched.journal.events import Row, from_row, random_id
from finishsched.journal.faults import (
    JournalFaultError,
    in_plain_words,
    may_be_looked_at,
    system_in_plain_words,
)
from finishsched.journal.files import build, connect, connect_to_look, give_name
from finishsched.model.plain import text_hash

FORMAT = "finishsched journal"
FORMAT_VERSION = 1
MOST_FAULTS = 50

_COLUMNS = "seq, id, at, logged_at, piece, kind, body"
_KEYS = tuple(_COLUMNS.split(", "))
_write = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode
_canonical = json.JSONEncoder(
    sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
).encode


class LinesFaultError(Exception):
    """Lines that are no whole journal: every fault, each with the number of its line."""

    def __init__(self, faults: Iterable[tuple[int, str]]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"line {line}: {what}" for line, what in self.faults))


@dataclass(frozen=True, slots=True)
class Copied:
    """How much was copied."""

    entries: int
    snapshots: int


def journal_lines(path: Path, program: str, wait_s: float = 10.0) -> Iterator[str]:
    """Give the lines of the journal at ``path``, each with its line end, as it is at one instant.

    Raises:
        JournalFaultError: when there is none, or it cannot be read.

    """
    with in_plain_words(path), system_in_plain_words(path), closing(_to_read(path, wait_s)) as db:
        yield from _sealed(_lines(db, program))


def _to_read(path: Path, wait_s: float) -> sqlite3.Connection:
    """Return an open connection; one that only looks where the journal may not be written."""
    try:
        with in_plain_words(path), system_in_plain_words(path):
            return connect(path, create=False, wait_s=wait_s)
    except JournalFaultError as error:
        if not may_be_looked_at(error) or not path.is_file():
            raise
    return connect_to_look(path)


def restore_lines(lines: Iterable[str], path: Path) -> Copied:
    """Make the journal at ``path`` that ``lines`` were made of: wholly, or not at all.

    A journal that is there already, and in which nothing was ever entered, is filled.

    Raises:
        LinesFaultError: with every fault of the lines.
        JournalFaultError: when anything else is at ``path``, or it cannot be written.

    """
    read = read_lines(lines)
    copied = Copied(len(read.rows), len(read.snapshots))
    if path.exists():
        with (
            in_plain_words(path),
            system_in_plain_words(path),
            closing(connect(path, create=False, wait_s=10.0)) as db,
        ):
            _fill(db, read, path)
        return copied
    making = path.with_name(f".{path.name}.{random_id()}.making")
    with in_plain_words(path), system_in_plain_words(path):
        try:
            build(making)
            with closing(sqlite3.connect(making, isolation_level=None)) as db:
                _fill(db, read, path)
            if not give_name(making, path):
                raise JournalFaultError(
                    f"{path} was made in the meantime", "nothing is written over; name another"
                )
        finally:
            for left in (making, *(Path(f"{making}-{end}") for end in ("wal", "shm"))):
                left.unlink(missing_ok=True)
    return copied


@dataclass(frozen=True, slots=True)
class ReadLines:
    """The lines of a journal, read and found whole."""

    rows: tuple[Row, ...]
    snapshots: tuple[tuple[str, str], ...]


def read_lines(lines: Iterable[str]) -> ReadLines:
    """Return what ``lines`` hold.

    Raises:
        LinesFaultError: with every fault, at most fifty.

    """
    reader = _Reader()
    for number, line in enumerate(lines, start=1):
        reader.take(number, line)
    return reader.settle()


def _lines(db: sqlite3.Connection, program: str) -> Iterator[str]:
    db.execute("BEGIN")
    yield _write({"format": FORMAT, "version": FORMAT_VERSION, "program": program})
    for hash_, body in db.execute("SELECT hash, body FROM snapshots ORDER BY hash"):
        yield _write({"snapshot": hash_, "text": body})
    for row in db.execute(f"SELECT {_COLUMNS} FROM events ORDER BY seq"):  # noqa: S608  # constant
        yield _write(_entry(row))


def _entry(row: Row) -> dict[str, Any]:
    """Return a row for reading; its body as it stands where writing it anew would change it."""
    entry = dict(zip(_KEYS, row, strict=True))
    body = json.loads(row[-1])
    if _canonical(body) == row[-1]:
        entry["body"] = body
    return entry


def _sealed(lines: Iterator[str]) -> Iterator[str]:
    seal, count = hashlib.sha256(), 0
    for line in lines:
        whole = f"{line}\n"
        seal.update(whole.encode())
        count += 1
        yield whole
    yield f"{_write({'lines': count, 'sha256': seal.hexdigest()})}\n"


class _Reader:
    """Takes line after line, and keeps every fault."""

    def __init__(self) -> None:
        self._rows: list[Row] = []
        self._snapshots: dict[str, str] = {}
        self._faults: list[tuple[int, str]] = []
        self._seal = hashlib.sha256()
        self._count = 0
        self._sealed = False

    def take(self, number: int, line: str) -> None:
        if len(self._faults) >= MOST_FAULTS:
            return
        self._count = number
        try:
            self._read(number, json.loads(line))
        except (ValueError, KeyError, TypeError, RecursionError, JournalFaultError) as error:
            said = error.message if isinstance(error, JournalFaultError) else _in_words(error)
            self._faults.append((number, said))
        whole = line if line.endswith("\n") else f"{line}\n"
        self._seal.update(whole.encode("utf-8", "surrogatepass"))

    def settle(self) -> ReadLines:
        if self._count == 0:
            self._faults.append((1, "there is nothing; give a file that export --journal wrote"))
        elif not self._sealed and not self._faults:
            self._faults.append((self._count, "the end is missing: the copy was cut short"))
        if self._faults:
            raise LinesFaultError(self._faults)
        return ReadLines(tuple(self._rows), tuple(self._snapshots.items()))

    def _read(self, number: int, data: Any) -> None:
        if not isinstance(data, dict):
            raise TypeError("no JSON object")
        if self._sealed:
            raise ValueError("something stands after the end")
        if number == 1:
            _refuse_foreign(data)
        elif "snapshot" in data:
            self._take_snapshot(data["snapshot"], data["text"])
        elif "sha256" in data:
            self._take_seal(number, data)
        else:
            self._take_entry(data)

    def _take_snapshot(self, hash_: str, text: str) -> None:
        if text_hash(text) != hash_:
            raise ValueError(f"snapshot {hash_[:12]} is not the text that it was")
        self._snapshots[hash_] = text

    def _take_entry(self, data: dict[str, Any]) -> None:
        body = data["body"]
        text = body if isinstance(body, str) else _canonical(body)
        row: Row = (*(data[key] for key in _KEYS[:-1]), text)
        wanted = len(self._rows) + 1
        if row[0] != wanted:
            raise ValueError(f"entry {row[0]!r} stands where entry {wanted} would")
        from_row(row)
        self._rows.append(row)

    def _take_seal(self, number: int, data: dict[str, Any]) -> None:
        self._sealed = True
        if data["lines"] != number - 1 or data["sha256"] != self._seal.hexdigest():
            raise ValueError("the lines before are not those that were written: one was changed")


def _refuse_foreign(data: dict[str, Any]) -> None:
    if data.get("format") != FORMAT:
        raise ValueError("not a journal of ours; give a file that export --journal wrote")
    if data.get("version") != FORMAT_VERSION:
        raise ValueError(f"of version {data.get('version')!r}, and this program reads 1; update it")


def _in_words(error: Exception) -> str:
    if isinstance(error, json.JSONDecodeError):
        return f"not JSON ({error.msg})"
    if isinstance(error, KeyError):
        return f"without {error.args[0]!r}"
    return f"{error}"


def _fill(db: sqlite3.Connection, read: ReadLines, path: Path) -> None:
    db.execute("PRAGMA synchronous = FULL")
    db.execute("BEGIN IMMEDIATE")
    if db.execute("SELECT 1 FROM events LIMIT 1").fetchone() is not None:
        raise JournalFaultError(
            f"{path} is there already, and holds entries", "nothing is written over; name another"
        )
    db.executemany("INSERT INTO snapshots (hash, body) VALUES (?, ?)", read.snapshots)
    db.executemany(
        f"INSERT INTO events ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)",  # noqa: S608  # constant
        read.rows,
    )
    derived.fill(db)
    db.execute("COMMIT")
    db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
