"""A stretch of time in whole minutes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Window:
    """A stretch of time from ``start_min`` up to ``end_min``; never empty."""

    start_min: int
    """Since 1970 in UTC."""
    end_min: int
    """The first minute that is not in it any more."""
