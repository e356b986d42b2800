"""The log that SQLite keeps beside a journal, and whether all that was written there still counts.

What was entered last stands in the log alone until the file takes it over. SQLite sums each piece
of the log, and passes over everything from the first one whose sum is wrong: what was cut short as
the power failed, and just as silently what a disk changed afterwards. The layout is that of
SQLite's own description, "Database File Format" (sqlite.org, 2024), section 4.
"""

from __future__ import annotations

import sqlite3
import struct
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import dataclass
from itertools import takewhile
from pathlib import Path

from finishsched.journal.files import log_of
from finishsched.journal.leaves import PAGE

_HEAD_BYTES = 32
_FRAME_HEAD_BYTES = 24
_FRAME_BYTES = _FRAME_HEAD_BYTES + PAGE
_LITTLE_END = 0x377F0682
_TURNED_BITS = 3
"""Frames of an earlier log differ in half of the 64 bits that name their log; damage turns few."""
_AGAIN_S = 0.05
"""What another program is just writing stands otherwise after so long."""
_WORD = 0xFFFFFFFF


@dataclass(frozen=True, slots=True)
class _Frame:
    """A page as it was written, and where its transaction ends."""

    number: int
    named: bytes
    """By which it says that it belongs to this log."""
    page: int
    ends: bool
    sum: tuple[int, int]
    head: bytes
    body: bytes


def is_damaged(path: Path) -> bool:
    """Tell whether the log holds something written to its end that SQLite would pass over.

    It is to be asked before SQLite opens the journal, which begins the log anew. Damage to the very
    last piece is not known from what a killed program was writing, and is none.
    """
    if not _passes_over_some(path):
        return False
    time.sleep(_AGAIN_S)
    return _passes_over_some(path)


def pages_with_log(path: Path, data: bytes) -> Iterator[bytes]:
    """Give the file's bytes ``data`` with the sound pages of its log, then with all of them."""
    try:
        log = log_of(path).read_bytes()
    except OSError:
        return
    frames = list(_frames(log))
    yield _laid_over(data, [frame for frame in frames if _is_sound(log, frame)])
    yield _laid_over(data, frames)


def _passes_over_some(path: Path) -> bool:
    try:
        with log_of(path).open("rb") as file:
            log = file.read()
    except OSError:
        return False
    ends = [frame.number for frame in _frames(log) if frame.ends]
    if not ends or (counted := _counted(log)) >= ends[-1]:
        return False
    after = [frame for frame in _frames(log) if frame.number > counted]
    sound = {frame.number for frame in after if _is_sound(log, frame)}
    as_named = {frame.number for frame in after if frame.named == log[16:24]}
    wrong = counted + 1
    while wrong in sound & as_named:
        wrong += 1
    if not _is_head_sound(log):
        wrong = 0
    # Each piece is summed on from the one before it: where a sound one follows, the wrong one was
    # sound once too. What a killed program left ends with the wrong one, or never came to an end.
    last = max((number for number in sound if number > wrong), default=0)
    return any(wrong <= number <= last for number in ends)


def _counted(log: bytes) -> int:
    """Return how many frames SQLite itself would go by; it is asked of a copy.

    The copy lies beside a file of its own, never beside one of the journal's pages: whoever closes
    the journal's file by another way than SQLite's lets go of all that SQLite holds it by in this
    process, and the next program to leave would take the log away under it ("How To Corrupt An
    SQLite Database File", sqlite.org, 2.2).
    """
    with suppress(OSError, sqlite3.Error), tempfile.TemporaryDirectory() as place:
        trial = Path(place, "trial.db")
        with closing(sqlite3.connect(trial)) as db:
            db.execute(f"PRAGMA page_size = {PAGE}")
            db.execute("PRAGMA journal_mode = WAL")
            db.execute("CREATE TABLE made (nothing)")
        log_of(trial).write_bytes(log)
        with closing(sqlite3.connect(trial)) as db:
            return int(db.execute("PRAGMA wal_checkpoint").fetchone()[1])
    # The disk is full, or nothing of the log counts: slowly, then.
    return _sound_from_the_first(log)


def _sound_from_the_first(log: bytes) -> int:
    if not _is_head_sound(log):
        return 0
    frames = takewhile(lambda one: one.named == log[16:24] and _is_sound(log, one), _frames(log))
    return sum(1 for _ in frames)


def _frames(log: bytes) -> Iterator[_Frame]:
    """Give the frames of this log; those of an earlier one, further on in its file, are passed."""
    whole = (len(log) - _HEAD_BYTES) // _FRAME_BYTES
    if whole < 1:
        return
    named = log[16:24] if _is_head_sound(log) else log[_HEAD_BYTES + 8 : _HEAD_BYTES + 16]
    for number in range(1, whole + 1):
        at = _HEAD_BYTES + (number - 1) * _FRAME_BYTES
        page, size, salt, first, second = struct.unpack_from(">2I8s2I", log, at)
        if _bits_apart(salt, named) <= _TURNED_BITS:
            body = log[at + _FRAME_HEAD_BYTES : at + _FRAME_BYTES]
            yield _Frame(number, salt, page, size > 0, (first, second), log[at : at + 8], body)


def _is_head_sound(log: bytes) -> bool:
    return _sum(log[:24], (0, 0), _order(log)) == struct.unpack_from(">2I", log, 24)


def _is_sound(log: bytes, frame: _Frame) -> bool:
    """Tell whether a frame's sum is right, given the one that is written before it."""
    at = _HEAD_BYTES + (frame.number - 2) * _FRAME_BYTES + 16 if frame.number > 1 else 24
    before = struct.unpack_from(">2I", log, at)
    order = _order(log)
    return _sum(frame.body, _sum(frame.head, before, order), order) == frame.sum


def _order(log: bytes) -> str:
    return "<" if struct.unpack_from(">I", log)[0] == _LITTLE_END else ">"


def _sum(data: bytes, before: tuple[int, ...], order: str) -> tuple[int, int]:
    first, second = before
    words = struct.unpack(f"{order}{len(data) // 4}I", data)
    for one, other in zip(words[::2], words[1::2], strict=True):
        first = (first + one + second) & _WORD
        second = (second + other + first) & _WORD
    return first, second


def _bits_apart(one: bytes, other: bytes) -> int:
    return (int.from_bytes(one, "big") ^ int.from_bytes(other, "big")).bit_count()


def _laid_over(data: bytes, frames: list[_Frame]) -> bytes:
    pages = bytearray(data)
    most = len(data) // PAGE + len(frames)
    for frame in frames:
        begin = (frame.page - 1) * PAGE
        if 0 < frame.page <= most:
            pages.extend(bytes(max(0, begin + PAGE - len(pages))))
            pages[begin : begin + PAGE] = frame.body
    return bytes(pages)
