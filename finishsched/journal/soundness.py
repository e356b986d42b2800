"""What is wrong inside the file of a journal, each fault in plain words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeAlias

from finishsched.journal import derived
from finishsched.journal.derived import COLUMNS
from finishsched.journal.events import from_row
from finishsched.journal.faults import JournalFaultError, in_plain_words
from finishsched.journal.salvage import is_snapshot
from finishsched.journal.source import Source

_Finder: TypeAlias = Callable[[Source], Iterator[str]]
_LOOKED_AT = 2_000
"""So many of the newest entries are looked at where it has to be quick."""


def find_faults(source: Source, *, quickly: bool) -> list[str]:
    """Return everything that is wrong, in plain words, each once; empty when sound.

    ``quickly`` looks at every snapshot, the file's own order, and the text of the newest entries.
    """
    finders = _QUICK if quickly else _ALL
    found = list(source.lost)
    for finder in finders:
        try:
            with in_plain_words(source.path):
                found.extend(f"{source.path}: {fault}" for fault in finder(source))
        except JournalFaultError as error:
            found.append(str(error))
    return list(dict.fromkeys(found))


def _gaps(source: Source) -> Iterator[str]:
    query = "SELECT count(*), coalesce(max(seq), 0), coalesce(min(seq), 1) FROM events"
    count, last, first = source.db.execute(query).fetchone()
    if count != last or first != 1:
        yield f"{last} entries were written, {count} are there"


def _lost(source: Source) -> Iterator[str]:
    """Give the snapshots that were changed, and those that an entry names and nobody has."""
    held: set[str] = set()
    for hash_, body in source.db.execute("SELECT hash, body FROM snapshots"):
        held.add(hash_)
        if not is_snapshot(hash_, body):
            yield f"snapshot {hash_!s:.12} is not the text that it was"
    named = source.db.execute(
        "SELECT seq, value FROM events, json_each(iif(json_valid(body), body, '{}'))"
        " WHERE key IN ('schedule_hash', 'piece_hash', 'rework_hash') ORDER BY seq"
    )
    for seq, hash_ in named:
        if hash_ not in held:
            yield f"entry {seq} names snapshot {str(hash_)[:12]}, which is lost"


def _newest_wrong(source: Source) -> Iterator[str]:
    """Give the newest entries that cannot be read or are not as they were written."""
    first = _first_looked_at(source)
    query = f"SELECT {COLUMNS} FROM events WHERE seq >= ? ORDER BY seq"  # noqa: S608  # constants
    rows = source.db.execute(query, (first,)).fetchall()
    sums = dict(source.db.execute("SELECT * FROM sums WHERE seq >= ?", (first,)))
    for row in rows:
        try:
            from_row(row)
        except JournalFaultError as error:
            yield error.message
            continue
        if sums.get(row[0], derived.sum_of(row)) != derived.sum_of(row):
            yield f"entry {row[0]} is not as it was written"


def _damage(source: Source) -> Iterator[str]:
    for (line,) in source.db.execute("PRAGMA integrity_check"):
        if line != "ok":
            yield f"damaged: {line}"


def _unreadable(source: Source) -> Iterator[str]:
    for row in source.db.execute(f"SELECT {COLUMNS} FROM events ORDER BY seq"):  # noqa: S608  # constant
        try:
            from_row(row)
        except JournalFaultError as error:
            yield error.message


def _stale(source: Source) -> Iterator[str]:
    yield from derived.find_stale(source.db)


def _newest_stale(source: Source) -> Iterator[str]:
    yield from derived.find_stale(source.db, _first_looked_at(source))


def _changed(source: Source) -> Iterator[str]:
    for seq in derived.find_changed(source.db):
        yield f"entry {seq} is not as it was written"


def _first_looked_at(source: Source) -> int:
    ((last,),) = source.db.execute("SELECT coalesce(max(seq), 0) FROM events")
    return int(last) - _LOOKED_AT + 1


_ALL: Sequence[_Finder] = (_gaps, _lost, _damage, _unreadable, _stale, _changed)
_QUICK: Sequence[_Finder] = (_gaps, _lost, _damage, _newest_wrong, _newest_stale)
