"""Dry checks as evidence: what was seen of one wait, in book seconds of progress."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import NamedTuple


class WaitKind(StrEnum):
    """Which of a product's waits a check belongs to."""

    BETWEEN = "touch or between coats"
    FIRST = "first coat"
    AFTER = "after the last coat or before sanding"
    LEVEL = "after levelling or water"
    CURE = "cure"

    @property
    def short(self) -> str:
        """One word for it, as a person types it: ``between``, ``first``, ``after``, ``level``."""
        return self.name.lower()


class Group(NamedTuple):
    """The waits that are learnt together: one product's waits of one kind."""

    product: str
    kind: WaitKind


@dataclass(frozen=True, slots=True)
class Check:
    """What the dry checks of one wait saw, in book seconds of progress.

    Raises:
        ValueError: when a figure cannot be; all such figures are told at once.

    """

    product: str
    kind: WaitKind
    book_s: float
    """What the book says the wait likely takes; above 0."""
    not_yet_s: float = 0.0
    """The latest progress that was 'not yet'; 0 when the first look found it ready."""
    ready_s: float = math.inf
    """The progress that was 'ready'; infinite while none was."""
    n: int = 1
    """How many waits went just so."""
    at: datetime | None = None
    """When the last look was made, aware UTC; None is older than any reset."""

    def __post_init__(self) -> None:
        aware = self.at is None or self.at.utcoffset() is not None
        wrong = [
            f"{name} is {value!r}, but must be {right}"
            for name, value, fits, right in (
                ("book_s", self.book_s, 0 < self.book_s < math.inf, "above 0 and finite"),
                ("not_yet_s", self.not_yet_s, 0 <= self.not_yet_s < math.inf, "0 or more"),
                ("ready_s", self.ready_s, self.ready_s > 0, "above 0"),
                ("n", self.n, self.n >= 1, "1 or more"),
                ("at", self.at, aware, "aware UTC"),
            )
            if not fits
        ]
        if wrong:
            raise ValueError("; ".join(wrong))

    @property
    def group(self) -> Group:
        """The waits that this check speaks of."""
        return Group(self.product, self.kind)

    @property
    def tells(self) -> bool:
        """False when nobody looked."""
        return self.not_yet_s > 0 or self.ready_s < math.inf
