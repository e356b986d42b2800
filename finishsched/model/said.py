"""Sentences with quantities in them, to be told in the units of whoever reads them.

A calculator knows no shop and no unit but its own: what it says holds its figures as quantities,
and the one who shows it tells them. Text that is written once, such as a page of the handbook, has
them in braces: ``at {20 degC}``, ``{60 to 63 degC}``.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple, Protocol, get_args

from finishsched.numerals import plain_number

Kept = Literal[
    "ml", "g", "g/l", "degC", "K", "mm", "m", "m2", "um", "ml/m2", "g/m2", "min/m2", "g/ml", "m/s",
    "m3", "m3/h",
]  # fmt: skip
"""The units that the insides keep quantities in; K is of differences of warmth."""
_KEPT: tuple[Kept, ...] = get_args(Kept)
_NUMBER = r"\d+(?:\.\d+)?"
_MARK = re.compile(
    rf"\{{({_NUMBER})(?:( to | or |-)({_NUMBER}))? ({'|'.join(re.escape(one) for one in _KEPT)})\}}"
)


class Quantity(NamedTuple):
    """A figure with the unit that it is kept in, told to so many significant digits."""

    value: float
    unit: Kept
    digits: int = 3


class Teller(Protocol):
    """Tells a quantity, kept in a unit, in the units of whoever reads it."""

    def __call__(self, value: float, unit: Kept, digits: int = 3, /) -> str:
        """Return a quantity as text."""


def in_kept_units(value: float, unit: Kept, digits: int = 3, /) -> str:
    """Return a quantity in the unit that it is kept in: for those of whom nothing is known."""
    return f"{plain_number(value, digits)} {unit}"


class Said(NamedTuple):
    """A sentence whose places, ``{}``, hold words and quantities."""

    form: str
    parts: tuple[str | Quantity, ...]

    def told(self, tell: Teller) -> str:
        """Return the sentence with its quantities told."""
        return self.form.format(*(_told(part, tell) for part in self.parts))

    def __str__(self) -> str:
        """Return it in the units that quantities are kept in."""
        return self.told(in_kept_units)


class SaidError(ValueError):
    """Figures that cannot be, in a sentence that is told in the reader's units."""

    def __init__(self, words: Said) -> None:
        super().__init__(str(words))
        self.words = words


def said(form: str, *parts: str | Quantity) -> Said:
    """Return a sentence whose places, ``{}``, hold ``parts``."""
    return Said(form, parts)


def told(words: str | Said, tell: Teller) -> str:
    """Return words with the quantities that they hold told; plain words as they are."""
    return words if isinstance(words, str) else words.told(tell)


def told_marks(text: str, tell: Teller) -> str:
    """Return a text that is written once, with the quantities that it has in braces told."""
    return _MARK.sub(lambda mark: _told_mark(mark, tell), text)


def _told(part: str | Quantity, tell: Teller) -> str:
    return part if isinstance(part, str) else tell(*part)


def _told_mark(mark: re.Match[str], tell: Teller) -> str:
    low, between, high, unit = mark.groups()
    kept = next(each for each in _KEPT if each == unit)
    digits = max(2, *(len(end.replace(".", "").lstrip("0")) for end in (low, high or low)))
    ends = [tell(float(end), kept, digits) for end in (low, high) if end]
    return ends[0] if high is None else f"{ends[0].rpartition(' ')[0]}{between}{ends[1]}"
