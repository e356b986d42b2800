"""Names of pieces in the order that people count in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeAlias

NaturalKey: TypeAlias = tuple[tuple[str, int], ...]

_PARTS = re.compile(r"([0-9]+)")


def natural(name: str) -> NaturalKey:
    """Return what sorts names by the numbers in them: ``front-9`` before ``front-10``."""
    parts = _PARTS.split(name)
    words, numbers = parts[::2], [int(digits) for digits in parts[1::2]]
    return tuple(zip(words, [*numbers, -1], strict=True))


def in_words(names: Iterable[str]) -> str:
    """Return names in natural order, those that only count on as a span: ``front-1 to 12``."""
    runs: list[_Run] = []
    for name in sorted(names, key=natural):
        stem, number = _counted(name)
        last = runs[-1] if runs else None
        if last is not None and number is not None and last.goes_on_with(stem, number):
            runs[-1] = _Run(stem, last.first, number)
        else:
            runs.append(_Run(stem, number, number))
    return ", ".join([run.words for run in runs])


def listed(names: Sequence[str]) -> str:
    """Return names as they stand in a sentence: ``lid, body and tray``."""
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last


class _Run(NamedTuple):
    """Names that are alike but for a number at their end, which counts on."""

    stem: str
    first: int | None
    """None for a name that ends in no number."""
    last: int | None

    def goes_on_with(self, stem: str, number: int) -> bool:
        """Tell whether a name is the next of these."""
        return self.stem == stem and self.last is not None and number == self.last + 1

    @property
    def words(self) -> str:
        """The names in words."""
        if self.first is None or self.last is None:
            return self.stem
        if self.last == self.first:
            return f"{self.stem}-{self.first}"
        word = "and" if self.last == self.first + 1 else "to"
        return f"{self.stem}-{self.first} {word} {self.last}"


def _counted(name: str) -> tuple[str, int | None]:
    """Return a name without the number at its end, and that; ``front-01`` counts nothing."""
    stem, dash, digits = name.rpartition("-")
    is_number = digits.isdigit() and str(int(digits)) == digits
    return (stem, int(digits)) if dash and is_number else (name, None)
