"""What is still sound of a damaged journal, and in words what is not.

A row that cannot be read leaves a note in its place, so that numbers stay and nobody wonders. A row
that can be read but is not as it was written stays as it reads now, and is told.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing, suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from finishsched.journal import log_beside
from finishsched.journal.derived import COLUMNS, fill, sum_of
from finishsched.journal.events import Row, from_row, random_id
from finishsched.journal.faults import (
    JournalFaultError,
    in_plain_words,
    system_in_plain_words,
)
from finishsched.journal.files import address_to_look, bytes_of, log_of
from finishsched.journal.leaves import Column, leaf_rows
from finishsched.journal.payloads import Noted
from finishsched.journal.schema import migrate
from finishsched.model.job import Piece
from finishsched.model.plain import PlainFormError, canonical_json, from_plain, text_hash
from finishsched.model.schedule import Schedule

NAMES_OF_SNAPSHOTS = ("schedule_hash", "piece_hash", "rework_hash")
BROKEN = (sqlite3.Error, UnicodeDecodeError)
"""How SQLite tells of damage: by an error of its own, or by a message that is no text."""
_LEAST_ROW_BYTES = 60
"""No entry takes less of the file; so many there may be at most."""
_MENDABLE_BYTES = 32 * 1024
"""A longer text takes too long to be tried bit by bit."""
_NOT_SOUND = "the file is not sound, though every entry could be read"
_NEVER = "2000-01-01T00:00:00.000000Z"


@dataclass(frozen=True, slots=True)
class Salvaged:
    """A whole journal, made of what is sound of a damaged one."""

    rows: tuple[Row, ...]
    snapshots: tuple[tuple[str, str], ...]
    lost: tuple[str, ...]
    """What is not sound, in words."""
    renamed: Mapping[str, str] = field(default_factory=dict)
    """The new name of each damaged snapshot by its old one."""

    @property
    def told(self) -> tuple[str, ...]:
        """What is not sound, in words; never empty."""
        return self.lost or (_NOT_SOUND,)


def salvage(path: Path) -> Salvaged:
    """Return all that is sound in the damaged journal at ``path``, which stays as it is.

    Raises:
        JournalFaultError: when nothing at all can be read.

    """
    with in_plain_words(path), system_in_plain_words(path):
        data = bytes_of(path)
        remains = _Remains()
        try:
            with closing(_open(path)) as db:
                remains.take_asked(db, len(data))
        except BROKEN as error:
            remains.take_leaves(data)
            if not remains.rows:
                raise error from None
        if not remains.whole:
            remains.take_leaves(data)
        if log_beside.is_damaged(path):
            remains.take_log(path, data)
    return remains.settled()


def in_memory(found: Salvaged) -> sqlite3.Connection:
    """Return a journal in memory that holds what was salvaged."""
    db = sqlite3.connect(":memory:", isolation_level=None)
    migrate(db)
    db.execute("BEGIN")
    put_snapshots(db, found.snapshots)
    put_rows(db, found.rows)
    fill(db)
    # What was read before the damage showed still asks by the old name.
    for old, new in found.renamed.items():
        db.execute("INSERT INTO snapshots SELECT ?, body FROM snapshots WHERE hash = ?", (old, new))
    db.execute("COMMIT")
    return db


def put_snapshots(db: sqlite3.Connection, snapshots: Iterable[tuple[str, str]]) -> None:
    """Put snapshots into a journal, within a transaction."""
    db.executemany("INSERT INTO snapshots (hash, body) VALUES (?, ?)", snapshots)


def put_rows(db: sqlite3.Connection, rows: Iterable[Row]) -> None:
    """Put entries into an empty journal, within a transaction."""
    query = f"INSERT INTO events ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)"  # noqa: S608  # constant
    db.executemany(query, rows)


def settle(
    rows: Mapping[int, Row],
    snapshots: Mapping[str, str],
    *,
    known: Mapping[int, str] | None = None,
    last: int = 0,
) -> Salvaged:
    """Return the journal that ``rows`` by their number make, a note in the place of each lost one.

    ``known`` says of lost entries what they were about; ``last`` is the last number there was.
    """
    lost: list[str] = []
    texts = {hash_: text for hash_, text in snapshots.items() if text_hash(text) == hash_}
    renamed = {hash_: text_hash(text) for hash_, text in snapshots.items() if hash_ not in texts}
    for hash_, text in snapshots.items():
        if hash_ in renamed and not _still_reads(text):
            del renamed[hash_]
            lost.append(f"snapshot {hash_[:12]} cannot be read any more")
        elif hash_ in renamed:
            lost.append(f"snapshot {hash_[:12]} is not the text that it was: kept as it reads now")
            texts[renamed[hash_]] = text
    found: list[Row] = []
    ids: set[str] = set()
    at = _NEVER
    for seq in range(1, max([last, *rows]) + 1 if rows or last else 1):
        row = _renamed(rows[seq], renamed) if seq in rows else None
        why = _why_lost(row, texts, ids)
        if row is None or why:
            what = (known or {}).get(seq, "") or _what(row)
            lost.append(f"entry {seq}{what} {why}")
            row = _note(seq, row, at, f"Entry {seq}{what} was lost: it {why}.")
        ids.add(row[1])
        at = row[3]
        found.append(row)
    return Salvaged(tuple(found), tuple(texts.items()), tuple(lost), renamed)


def mended(hash_: str, data: bytes) -> str:
    """Return a snapshot's text; where one bit of it turned, as it was, by its hash."""
    if hashlib.sha256(data).hexdigest() != hash_ and len(data) <= _MENDABLE_BYTES:
        trial = bytearray(data)
        for at in range(len(data)):
            for bit in range(8):
                trial[at] ^= 1 << bit
                if hashlib.sha256(trial).hexdigest() == hash_:
                    return trial.decode()
                trial[at] ^= 1 << bit
    return data.decode("utf-8", "replace")


def _still_reads(text: str) -> bool:
    """Tell whether a damaged snapshot still is what a snapshot can be: a schedule or a piece."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        return False
    from finishsched.checking.defects.rework import Rework  # noqa: PLC0415  # dear, and rarely asked

    for model in (Schedule, Piece, Rework):
        with suppress(PlainFormError):
            from_plain(model, data)
            return True
    return False


def _why_lost(row: Row | None, texts: Mapping[str, str], ids: set[str]) -> str:
    """Return why an entry cannot stay; empty when it can."""
    if row is None:
        return "cannot be read any more"
    try:
        from_row(row)
        "".join(map(str, row)).encode()
    except (JournalFaultError, UnicodeEncodeError):
        return "cannot be read any more"
    missing = [hash_ for hash_ in snapshots_named(row) if hash_ not in texts]
    if missing:
        return f"names snapshot {missing[0][:12]}, which is lost"
    return "stands there twice" if row[1] in ids else ""


def is_snapshot(hash_: object, text: object) -> bool:
    """Tell whether a text is the one that its hash names."""
    return isinstance(text, str) and text_hash(text) == hash_


def snapshots_named(row: Row) -> list[str]:
    """Return the hash of every snapshot that an entry names."""
    if "_hash" not in row[6]:
        return []
    body = json.loads(row[6])
    return [body[name] for name in NAMES_OF_SNAPSHOTS if body.get(name)]


def _renamed(row: Row, renamed: Mapping[str, str]) -> Row:
    """Return the row with the names that damaged snapshots have by their text as it is now."""
    body = row[6]
    for old, new in renamed.items():
        if isinstance(body, str):
            body = body.replace(f'"{old}"', f'"{new}"')
    return (*row[:6], body)


def _what(row: Row | None) -> str:
    return f" ({row[5]})" if row is not None and isinstance(row[5], str) else ""


def _note(seq: int, row: Row | None, at: str, text: str) -> Row:
    """Return a note that stands in the place of a lost entry, where and when that was if known."""
    piece = row[4] if row is not None and isinstance(row[4], str) else None
    whole = (seq, random_id(), at, at, piece, Noted.kind, canonical_json(Noted(text)))
    for known_at in (row[2], row[3]) if row is not None else ():
        with suppress(JournalFaultError):
            dated = (seq, whole[1], known_at, at, piece, Noted.kind, whole[6])
            from_row(dated)
            whole = dated
            break
    return whole


def _open(path: Path) -> sqlite3.Connection:
    """Open a file to be read, however damaged; a log beside it is read where it can be."""
    db = sqlite3.connect(address_to_look(path), uri=True, isolation_level=None)
    try:
        # A broken text is kept as it reads, and known by its sum.
        db.text_factory = lambda data: data.decode("utf-8", "replace")
        db.execute("PRAGMA writable_schema = ON")
    except BaseException:
        db.close()
        raise
    return db


class _Remains:
    """Gathers what is left of a journal."""

    def __init__(self) -> None:
        self.rows: dict[int, Row] = {}
        self.whole = False
        """True once SQLite itself gave every row that there was."""
        self._snapshots: dict[str, str] = {}
        self._sums: dict[int, int] = {}
        self._kinds: dict[int, str] = {}
        self._last = 0
        self._told: list[str] = []

    def take_asked(self, db: sqlite3.Connection, file_bytes: int) -> None:
        """Take what SQLite still finds."""
        self._last = _last_seq(db, file_bytes)
        self.rows = {row[0]: row for row in _rows(db, 1, self._last)}
        query = "SELECT hash, CAST(body AS BLOB) FROM snapshots"
        for hash_, data in _whatever(db, query):
            if isinstance(hash_, str) and isinstance(data, bytes):
                self._snapshots[hash_] = mended(hash_, data)
        self._sums = dict(_whatever(db, "SELECT seq, crc FROM sums"))
        self.whole = 0 < len(self.rows) == self._last and len(self._sums) == self._last
        self.whole = self.whole and _is_sound(db, "snapshots")
        if len(self.rows) < self._last:
            query = "SELECT seq, kind, piece FROM events INDEXED BY events_by_piece"
            for seq, kind, piece in _whatever(db, f"{query} WHERE kind <> 'air'"):
                self._kinds[seq] = f" ({kind} of {piece})" if piece else f" ({kind})"

    def take_leaves(self, data: bytes) -> None:
        """Take what the leaves of the file hold, the way to which is lost."""
        for number, columns in leaf_rows(data):
            if _looks_like_entry(columns):
                self.rows.setdefault(number, (number, *columns[1:]))  # type: ignore[arg-type]
            elif len(columns) == 2 and isinstance(columns[0], str) and len(columns[0]) == 64:
                text = str(columns[1]).encode("utf-8", "surrogatepass")
                self._snapshots.setdefault(columns[0], mended(columns[0], text))
            elif len(columns) == 2 and columns[0] is None and isinstance(columns[1], int):
                self._sums.setdefault(number, columns[1])

    def take_log(self, path: Path, data: bytes) -> None:
        """Take what the log beside the file holds, from where SQLite no longer goes by it."""
        for pages in log_beside.pages_with_log(path, data):
            self.take_leaves(pages)
        self._told.append(f"{log_of(path).name} is damaged: what was entered last may be missing")

    def settled(self) -> Salvaged:
        """Return the journal that all of it makes."""
        last = max([self._last, *self.rows])
        found = settle(self.rows, self._snapshots, known=self._kinds, last=last)
        kept = set(found.rows)
        changed = [
            f"entry {seq}{_what(row)} is not as it was written: kept as it reads now"
            for seq, row in sorted(self.rows.items())
            if row in kept and self._sums.get(seq, sum_of(row)) != sum_of(row)
        ]
        return replace(found, lost=(*self._told, *found.lost, *changed))


def _looks_like_entry(columns: tuple[Column, ...]) -> bool:
    return len(columns) == 7 and columns[0] is None and isinstance(columns[6], str)


def _is_sound(db: sqlite3.Connection, table: str) -> bool:
    """Tell whether SQLite can walk through a table to its end."""
    try:
        db.execute(f"SELECT count(*) FROM {table} NOT INDEXED").fetchone()  # noqa: S608  # constant
    except BROKEN:
        return False
    return True


def _last_seq(db: sqlite3.Connection, file_bytes: int) -> int:
    """Return the number of the last entry, as far as any table or index still tells it."""
    most = file_bytes // _LEAST_ROW_BYTES
    found: list[Any] = [0]
    for table, column in (("events", "seq"), ("sums", "seq"), ("pieces", "last_seq")):
        with suppress(*BROKEN):
            found += [seq for (seq,) in db.execute(f"SELECT max({column}) FROM {table}")]  # noqa: S608  # constants
    return max(seq for seq in found if isinstance(seq, int) and seq <= most)


def _rows(db: sqlite3.Connection, first: int, last: int) -> Iterator[Row]:
    """Give the entries from ``first`` to ``last`` that can be read, around those that cannot."""
    spans = [(first, last)] if first <= last else []
    query = f"SELECT {COLUMNS} FROM events WHERE seq BETWEEN ? AND ? ORDER BY seq"  # noqa: S608  # constant
    while spans:
        begin, end = spans.pop()
        after = begin
        try:
            for row in db.execute(query, (begin, end)):
                yield row
                after = row[0] + 1
        except (*BROKEN, TypeError, OverflowError):
            if after < end:
                middle = (after + end) // 2
                spans += [(middle + 1, end), (after, middle)]


def _whatever(db: sqlite3.Connection, query: str) -> Iterator[Any]:
    """Give the rows up to the first that cannot be read."""
    with suppress(*BROKEN):
        yield from db.execute(query)
