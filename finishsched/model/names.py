"""Names of pieces in the order that people count in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TypeAlias

NaturalKey: TypeAlias = tuple[tuple[str, int], ...]

_PARTS = re.compile(r"([0-9]+)")


def natural(name: str) -> NaturalKey:
    """Return what sorts names by the numbers in them: ``front-9`` before ``front-10``."""
    parts = _PARTS.split(name)
    words, numbers = parts[::2], [int(digits) for digits in parts[1::2]]
    return tuple(zip(words, [*numbers, -1], strict=True))


def in_words(names: Iterable[str]) -> str:
    """Return names in natural order, those that only count on as a span: ``front-1 to 12``."""
    runs: list[tuple[str, int, int]] = []
    for name in sorted(names, key=natural):
        stem, dash, digits = name.rpartition("-")
        if not (dash and digits.isdigit() and str(int(digits)) == digits):
            runs.append((name, -1, -1))
            continue
        number = int(digits)
        if runs and runs[-1][0] == stem and runs[-1][2] == number - 1 and runs[-1][1] >= 0:
            runs[-1] = (stem, runs[-1][1], number)
        else:
            runs.append((stem, number, number))
    return ", ".join(map(_run, runs))


def listed(names: Sequence[str]) -> str:
    """Return names as they stand in a sentence: ``lid, body and tray``."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _run(run: tuple[str, int, int]) -> str:
    stem, first, last = run
    if first < 0:
        return stem
    if last == first:
        return f"{stem}-{first}"
    return f"{stem}-{first} {'and' if last == first + 1 else 'to'} {last}"
