"""Tables of blocks, as ``causes.txt`` and ``defects.txt`` are written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib import resources
from typing import TypeAlias

Block: TypeAlias = Mapping[str, str]


def blocks_of(table: str, package: str | None = None) -> Iterator[Block]:
    """Give each block of a table: ``name`` and ``words`` of its first line, then its keys.

    It lies in ``package``, or beside this file.

    A line that is set in goes on with the one before it; one that begins with ``#`` is passed over.
    """
    text = (resources.files(package or __package__) / table).read_text("utf-8")
    plain = "\n".join(line for line in text.splitlines() if not line.startswith("#"))
    for block in plain.replace("\n  ", " ").strip().split("\n\n"):
        first, *lines = block.strip().splitlines()
        name, words = _pair(first)
        yield {"name": name, "words": words, **dict(map(_pair, lines))}


def several(cell: str, mark: str = ",") -> tuple[str, ...]:
    """Return the parts of a cell that names several."""
    return tuple(one.strip() for one in cell.split(mark) if one.strip())


def _pair(line: str) -> tuple[str, str]:
    key, _, value = line.partition(":")
    return key, value.strip()
