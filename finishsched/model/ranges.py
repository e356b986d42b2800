"""What is uncertain: a low, a likely and a high figure."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Range:
    """What is uncertain: ``low <= likely <= high``."""

    low: float
    likely: float
    high: float

    def __add__(self, other: Range) -> Range:
        return Range(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, factor: float) -> Range:
        """Return the range scaled by ``factor``, zero or more."""
        return Range(self.low * factor, self.likely * factor, self.high * factor)


NOTHING = Range(0.0, 0.0, 0.0)
