"""Two lists of rows held against each other, however long, a few rows at a time."""

from __future__ import annotations

from collections.abc import Iterable
from heapq import merge
from itertools import groupby
from typing import Any


def differing(made: Iterable[tuple[Any, ...]], held: Iterable[tuple[Any, ...]]) -> int:
    """Return how many rows are in one of two lists only; each is in the order of its first column.

    No list has the same row twice.
    """
    count = 0
    for _, same in groupby(merge(made, held, key=_first), key=_first):
        rows = list(same)
        count += len(rows) if len(set(rows)) == len(rows) else 0
    return count


def _first(row: tuple[Any, ...]) -> Any:
    return row[0]
