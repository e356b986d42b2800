"""The tables that ship beside the code, as plain text.

In all of them a line that begins with ``#`` is a remark, and one that is set in goes on with the
one before it. Some have a row a line, some have parts under a ``[heading]``, and some have blocks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib import resources
from types import MappingProxyType
from typing import TypeAlias

Block: TypeAlias = Mapping[str, str]


def lines_of(table: str, package: str) -> tuple[str, ...]:
    """Return every line of a table that lies in ``package``, but empty ones and remarks."""
    return tuple(filter(None, _without_remarks(table, package).splitlines()))


def rows_of(table: str, package: str) -> tuple[tuple[str, ...], ...]:
    """Return the cells, parted by ``|``, of each row of a table below that of its heads."""
    _, *rows = lines_of(table, package)
    return tuple(tuple(cell.strip() for cell in row.split("|")) for row in rows)


def parts_of(table: str, package: str) -> Mapping[str, tuple[str, ...]]:
    """Return the lines of each part of a table, by its ``[heading]``."""
    parts: dict[str, list[str]] = {}
    part: list[str] = []
    for line in lines_of(table, package):
        if line.startswith("["):
            part = parts.setdefault(line.strip("[]"), [])
        else:
            part.append(line)
    return MappingProxyType({heading: tuple(lines) for heading, lines in parts.items()})


def blocks_of(table: str, package: str) -> Iterator[Block]:
    """Give each block of a table: ``name`` and ``words`` of its first line, then its keys."""
    for block in _without_remarks(table, package).strip().split("\n\n"):
        first, *lines = block.strip().splitlines()
        name, words = pair(first)
        yield {"name": name, "words": words, **dict(map(pair, lines))}


def pair(line: str) -> tuple[str, str]:
    """Return the key of a line and what stands behind its colon."""
    key, _, value = line.partition(":")
    return key.strip(), value.strip()


def several(cell: str, mark: str = ",") -> tuple[str, ...]:
    """Return the parts of a cell that names several."""
    return tuple(one.strip() for one in cell.split(mark) if one.strip())


def weighed(cell: str, mark: str = ",") -> Iterator[tuple[str, float]]:
    """Give the parts of a cell that names several, each with the figure behind it."""
    for one in several(cell, mark):
        name, _, figure = one.rpartition(" ")
        yield name, float(figure)


def _without_remarks(table: str, package: str) -> str:
    text = (resources.files(package) / table).read_text("utf-8")
    lines = (line for line in text.splitlines() if not line.startswith("#"))
    return "\n".join(lines).replace("\n  ", " ")
