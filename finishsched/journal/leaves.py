"""The rows of a SQLite file read leaf by leaf, where the way to a leaf is damaged.

A file's tables are trees of pages; a byte that flips near the root hides thousands of rows that are
all still there. Rows of a journal are never changed or removed, so whatever leaf still holds one
tells it truly. The layout is that of SQLite's own description, "Database File Format" (sqlite.org,
2024), sections 1.6 (pages), 1.5 (overflow) and 2.1 (records).
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from typing import TypeAlias

PAGE = 4096
"""Every journal of ours has pages of this size."""

_TABLE_LEAF = 0x0D
_HEAD_BYTES = 100
_MOST_PAYLOAD = 64 * 1024 * 1024

Column: TypeAlias = str | bytes | int | float | None
LeafRow: TypeAlias = tuple[int, tuple[Column, ...]]
"""A row's number and its columns, of which the one that is the number reads None."""


def leaf_rows(data: bytes) -> Iterator[LeafRow]:
    """Give every row of every table that any leaf in the file's bytes ``data`` holds."""
    for page in range(len(data) // PAGE):
        begin = page * PAGE
        head = begin + (_HEAD_BYTES if page == 0 else 0)
        if data[head] != _TABLE_LEAF:
            continue
        count = min(_two(data, head + 3), PAGE // 2)
        for number in range(count):
            cell = begin + _two(data, min(head + 8 + 2 * number, begin + PAGE - 2))
            try:
                yield _row(data, cell)
            except (IndexError, ValueError, struct.error):
                continue


def _row(data: bytes, cell: int) -> LeafRow:
    """Return the row whose cell begins at a byte.

    Raises:
        ValueError: where it is longer than anything that was written.

    """
    size, at = _varint(data, cell)
    number, at = _varint(data, at)
    if size > min(len(data), _MOST_PAYLOAD):
        raise ValueError("a row longer than the file")
    return number, tuple(_columns(_payload(data, at, size)))


def _payload(data: bytes, at: int, size: int) -> bytes:
    """Return a row's bytes, those on overflow pages too."""
    local = _local_bytes(size)
    found = data[at : at + local]
    page = _four(data, at + local) if local < size else 0
    while len(found) < size:
        # An overflow page begins with the number of the next one, and pages count from one.
        begin = (page - 1) * PAGE
        if begin < 0 or begin + PAGE > len(data):
            raise ValueError("a row whose end is lost")
        page = _four(data, begin)
        missing = size - len(found)
        end = begin + min(PAGE, 4 + missing)
        found += data[begin + 4 : end]
    return found


def _local_bytes(size: int) -> int:
    """Return how many of a row's bytes stand in its leaf."""
    most = PAGE - 35
    if size <= most:
        return size
    least = (PAGE - 12) * 32 // 255 - 23
    kept = least + (size - least) % (PAGE - 4)
    return kept if kept <= most else least


def _columns(record: bytes) -> Iterator[Column]:
    """Give the columns of a row: their kinds stand at its head, one after the other."""
    head_bytes, at = _varint(record, 0)
    body = head_bytes
    while at < head_bytes:
        serial, at = _varint(record, at)
        value, body = _column(record, serial, body)
        yield value


def _column(record: bytes, serial: int, at: int) -> tuple[Column, int]:
    """Return the value of a column, and where the next one begins.

    Args:
        record: the row.
        serial: what kind of value it is, and how long: nothing, whole numbers of one to eight
            bytes, a fraction, 0 and 1 by themselves, and from 12 on bytes and text in turn.
        at: where it begins.

    Raises:
        ValueError: where there is no such kind, or the row is too short.

    """
    if serial == 0:
        return None, at
    if serial in (8, 9):
        return serial - 8, at
    end = at + _bytes_of(serial)
    value = record[at:end]
    if serial in (10, 11) or len(value) < end - at:
        raise ValueError("no column of a row")
    if serial == 7:
        return float(struct.unpack(">d", value)[0]), end
    if serial < 8:
        return int.from_bytes(value, "big", signed=True), end
    is_text = serial % 2 == 1
    return (value.decode("utf-8", "replace") if is_text else value), end


def _bytes_of(serial: int) -> int:
    """Return how many bytes a value of a kind takes."""
    if serial >= 8:
        return (serial - 12) // 2
    return {5: 6, 6: 8, 7: 8}.get(serial, serial)


def _two(data: bytes, at: int) -> int:
    """Return a number of two bytes."""
    return int.from_bytes(data[at : at + 2], "big")


def _four(data: bytes, at: int) -> int:
    """Return a number of four bytes."""
    return int.from_bytes(data[at : at + 4], "big")


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """Return a number of one to nine bytes, and where it ends."""
    value = 0
    for index in range(at, at + 8):
        byte = data[index]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, index + 1
    return value << 8 | data[at + 8], at + 9
