"""A stretch of time in whole minutes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Window:
    """A stretch of time from ``start_min`` up to ``end_min``; never empty."""

    start_min: int
    end_min: int
