"""A journal as JSON Lines: a copy that any program can read, and that gives the same journal back.

The first line says what it is, then one line for each snapshot, then one for each entry in the
order of writing, undone ones too. The last line holds the SHA-256 of all lines before it.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable, Container, Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from finishsched.journal import derived
from finishsched.journal.derived import COLUMNS, sum_of
from finishsched.journal.events import PAYLOADS, Row, from_row, random_id
from finishsched.journal.faults import (
    DAMAGED,
    JournalFaultError,
    fault,
    in_plain_words,
    is_damage,
    may_be_looked_at,
    system_in_plain_words,
)
from finishsched.journal.files import build, connect, connect_to_look, give_name
from finishsched.journal.lines_reader import FORMAT, FORMAT_VERSION, KEYS, LinesReader, canonical
from finishsched.journal.salvage import (
    Salvaged,
    is_snapshot,
    put_rows,
    put_snapshots,
    salvage,
    settle,
    snapshots_named,
)

_write = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


@dataclass(frozen=True, slots=True)
class Copied:
    """How much was copied, and in words what was not sound of it."""

    entries: int
    snapshots: int
    lost: tuple[str, ...] = ()


def copy_lines(path: Path, program: str, keep: Callable[[Iterator[str]], None]) -> tuple[str, ...]:
    """Have ``keep`` write the lines of the journal at ``path``; return what is not sound of it.

    Of a damaged journal it is called once more, with the lines of all that is sound.

    Raises:
        JournalFaultError: when there is none, or nothing of it can be read.

    """
    try:
        keep(journal_lines(path, program))
    except JournalFaultError as error:
        if not is_damage(error):
            raise
    else:
        return _find_damage(path)
    found = salvage(path)
    keep(_sealed(_written(program, found.snapshots, found.rows)))
    return found.lost or (f"{path}: {found.told[0]}",)


def journal_lines(path: Path, program: str, wait_s: float = 10.0) -> Iterator[str]:
    """Give the lines of the journal at ``path``, each with its line end, as it is at one instant.

    Raises:
        JournalFaultError: when there is none, it cannot be read, or anything in it is not sound.

    """
    with in_plain_words(path), system_in_plain_words(path), closing(_to_read(path, wait_s)) as db:
        db.execute("BEGIN")
        snapshots = db.execute("SELECT hash, body FROM snapshots ORDER BY hash")
        rows = _sound_rows(db, path)
        yield from _sealed(_written(program, _sound_snapshots(snapshots, path), rows))


def _to_read(path: Path, wait_s: float) -> sqlite3.Connection:
    """Return an open connection; one that only looks where the journal may not be written."""
    try:
        with in_plain_words(path), system_in_plain_words(path):
            return connect(path, create=False, wait_s=wait_s)
    except JournalFaultError as error:
        if not may_be_looked_at(error) or not path.is_file():
            raise
    return connect_to_look(path)


def _find_damage(path: Path) -> tuple[str, ...]:
    """Return what else is wrong with a file of which every row could be read."""
    found: list[str] = []
    try:
        with in_plain_words(path), closing(_to_read(path, 10.0)) as db:
            found += (line for (line,) in db.execute("PRAGMA integrity_check(5)") if line != "ok")
            found += derived.find_stale(db)
    except JournalFaultError as error:
        if not is_damage(error):
            raise
        found = found or [error.message.removeprefix(f"{path}: ")]
    return tuple(f"{path}: damaged, and every entry could still be read: {line}" for line in found)


def _sound_snapshots(snapshots: Iterable[tuple[str, str]], path: Path) -> Iterator[tuple[str, str]]:
    for hash_, text in snapshots:
        if not is_snapshot(hash_, text):
            raise fault(path, DAMAGED)
        yield hash_, text


def _sound_rows(db: sqlite3.Connection, path: Path) -> Iterator[Row]:
    held = {hash_ for (hash_,) in db.execute("SELECT hash FROM snapshots")}
    query = f"SELECT crc, {COLUMNS} FROM events LEFT JOIN sums USING (seq) ORDER BY seq"  # noqa: S608  # constant
    for wanted, (crc, *columns) in enumerate(db.execute(query), start=1):
        row: Row = tuple(columns)
        if row[0] != wanted or crc not in (None, sum_of(row)) or not _is_readable(row, held):
            raise fault(path, DAMAGED)
        yield row


def _is_readable(row: Row, held: Container[str]) -> bool:
    """Tell whether an entry would come back; one of a later release's kind does as it stands."""
    try:
        if row[5] in PAYLOADS:
            from_row(row)
        return all(hash_ in held for hash_ in snapshots_named(row))
    except (JournalFaultError, ValueError, TypeError):
        return False


def restore_lines(lines: Iterable[str], path: Path, *, salvaging: bool = False) -> Copied:
    """Make the journal at ``path`` that ``lines`` were made of: wholly, or not at all.

    A journal that is there already, and in which nothing was ever entered, is filled. When
    ``salvaging``, lines that are not sound are told, and the journal is made of the others.

    Raises:
        LinesFaultError: with every fault of the lines.
        JournalFaultError: when anything else is at ``path``, or it cannot be written.

    """
    with in_plain_words(path), system_in_plain_words(path):
        if path.exists():
            with closing(connect(path, create=False, wait_s=10.0)) as db:
                return _fill(db, lines, path, salvaging=salvaging)
        making = path.with_name(f".{path.name}.{random_id()}.making")
        try:
            build(making)
            with closing(sqlite3.connect(making, isolation_level=None)) as db:
                copied = _fill(db, lines, path, salvaging=salvaging)
            if not give_name(making, path):
                raise JournalFaultError(
                    f"{path} was made in the meantime", "nothing is written over; name another"
                )
        finally:
            for left in (making, *(Path(f"{making}-{end}") for end in ("wal", "shm"))):
                left.unlink(missing_ok=True)
    return copied


def make_of(found: Salvaged, path: Path) -> None:
    """Make at ``path``, where nothing is, the journal that was salvaged."""
    lines = _sealed(_written("", found.snapshots, found.rows))
    restore_lines(lines, path)


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
    reader = LinesReader()
    rows = tuple(reader.rows(lines))
    reader.settle()
    return ReadLines(rows, tuple(reader.snapshots.items()))


def check_lines(lines: Iterable[str]) -> None:
    """Read lines as ``read_lines`` does, keeping none of them.

    Raises:
        LinesFaultError: with every fault, at most fifty.

    """
    reader = LinesReader()
    for _ in reader.rows(lines):
        pass
    reader.settle()


def _written(
    program: str, snapshots: Iterable[tuple[str, str]], rows: Iterable[Row]
) -> Iterator[str]:
    yield _write({"format": FORMAT, "version": FORMAT_VERSION, "program": program})
    for hash_, body in snapshots:
        yield _write({"snapshot": hash_, "text": body})
    for row in rows:
        yield _write(_entry(row))


def _entry(row: Row) -> dict[str, Any]:
    """Return a row for reading; its body as it stands where writing it anew would change it."""
    entry = dict(zip(KEYS, row, strict=True))
    body = json.loads(row[-1])
    if canonical(body) == row[-1]:
        entry["body"] = body
    return entry


def _sealed(lines: Iterator[str]) -> Iterator[str]:
    seal, count = hashlib.sha256(), 0
    for line in lines:
        ended = f"{line}\n"
        seal.update(ended.encode())
        count += 1
        yield ended
    yield f"{_write({'lines': count, 'sha256': seal.hexdigest()})}\n"


def _fill(db: sqlite3.Connection, lines: Iterable[str], path: Path, *, salvaging: bool) -> Copied:
    db.execute("PRAGMA synchronous = FULL")
    db.execute("BEGIN IMMEDIATE")
    try:
        if db.execute("SELECT 1 FROM events LIMIT 1").fetchone() is not None:
            raise JournalFaultError(
                f"{path} is there already, and holds entries",
                "nothing is written over; name another",
            )
        copied = (_fill_salvaged if salvaging else _fill_whole)(db, lines)
        db.execute("COMMIT")
    finally:
        if db.in_transaction:
            db.execute("ROLLBACK")
    db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return copied


def _fill_whole(db: sqlite3.Connection, lines: Iterable[str]) -> Copied:
    """Put the entries in as they are read, however many they are."""
    reader = LinesReader()
    try:
        put_rows(db, reader.rows(lines))
    except sqlite3.IntegrityError:
        reader.faults.append((reader.last_seq, "an entry stands there twice"))
    reader.settle()
    put_snapshots(db, reader.snapshots.items())
    derived.fill(db)
    return Copied(reader.last_seq, len(reader.snapshots))


def _fill_salvaged(db: sqlite3.Connection, lines: Iterable[str]) -> Copied:
    reader = LinesReader(salvaging=True)
    rows = {row[0]: row for row in reader.rows(lines)}
    found = settle(rows, reader.snapshots)
    put_rows(db, found.rows)
    put_snapshots(db, found.snapshots)
    derived.fill(db)
    return Copied(len(found.rows), len(found.snapshots), (*reader.lost(), *found.lost))
