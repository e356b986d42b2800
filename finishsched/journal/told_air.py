"""The air as a book tells it; the readings of a journal are read when they are asked for."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple, TypeAlias

from finishsched.model.shop import Air


class AirReading(NamedTuple):
    """What the air was at an instant, and the entry that says so."""

    at: datetime
    seq: int
    event_id: str
    air: Air


AirFigures: TypeAlias = tuple[float, float, float, float]
"""A reading: when, in seconds since 1970 in UTC, temperature, humidity, movement."""


class ToldAir:
    """The readings that a book tells; this is a book's without any."""

    @property
    def undone(self) -> frozenset[int]:
        """The numbers of the readings that do not count."""
        return frozenset()

    def figures(
        self,
        after_seq: int = 0,  # noqa: ARG002
        since_s: float = float("-inf"),  # noqa: ARG002
    ) -> list[AirFigures]:
        """Return the readings told after an entry and read since then, in the order of time."""
        return []

    def last(self) -> AirReading | None:
        """Return the latest reading by its time."""
        return None

    def last_written(self) -> AirReading | None:
        """Return the latest reading by the order of writing, none of those of a coat."""
        return None

    def last_surface(self) -> tuple[datetime, float] | None:
        """Return when and how warm floor or work were last read."""
        return None

    def every(self) -> tuple[AirReading, ...]:
        """Return every reading in the order of time."""
        return ()

    def told_between(
        self,
        first: datetime,  # noqa: ARG002
        last: datetime,  # noqa: ARG002
    ) -> list[tuple[float, float, float, str]]:
        """Return instant, temperature, humidity and source of readings, undone ones too."""
        return []


NO_AIR = ToldAir()
