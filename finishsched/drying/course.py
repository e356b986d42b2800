"""The air over time: what was read, and what it likely was and will be between and after.

The air at an instant depends only on what was read at or before it, so a new reading changes
nothing before itself. A reading holds until the next one, up to 3 hours; after that the air is
forecast from it, in steps of an hour. Before the first reading it is the shop's usual air.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.drying.forecast import (
    PATTERN_DAYS,
    Forecast,
    Reading,
    UtcOffset,
    daily_pattern,
)
from finishsched.factors import DAY_S, HOUR_S
from finishsched.model.shop import Air

HOLD_S = 3 * HOUR_S
"""How long a reading stands for the air after it (our assumption)."""

CHUNK = 512
"""Readings are looked at by so many, because one by one is slow and all is too many."""


@dataclass(frozen=True, slots=True)
class Readings:
    """Readings in the order of time, one an instant, whatever order they came in."""

    items: tuple[Reading, ...] = ()

    @classmethod
    def of(cls, readings: Iterable[Reading]) -> Readings:
        """Return these readings sorted; of several at one instant the greatest stands.

        Raises:
            ValueError: for a reading that is no air at all.

        """
        ordered = sorted(readings)
        for reading in ordered:
            _refuse_impossible(reading)
        return cls(tuple({reading.at_s: reading for reading in ordered}.values()))

    def __len__(self) -> int:
        return len(self.items)

    def __iter__(self) -> Iterator[Reading]:
        return iter(self.items)


class Piece(NamedTuple):
    """A span in which the air counts as steady."""

    start_s: float
    end_s: float
    air: Reading


class Course:
    """The air over time, which grows as readings come in."""

    def __init__(self, readings: Readings, usual: Air, utc_offset_s: UtcOffset) -> None:
        """Begin with ``readings``; ``usual`` is the shop's usual air."""
        self._readings = list(readings)
        self._at_s = [reading.at_s for reading in self._readings]
        self._usual = usual
        self._utc_offset_s = utc_offset_s
        self._forecasts: dict[int, Forecast] = {}

    @property
    def readings(self) -> Readings:
        """All that was read."""
        return Readings(tuple(self._readings))

    @property
    def last_s(self) -> float | None:
        """The instant of the last reading, in epoch seconds."""
        return self._at_s[-1] if self._at_s else None

    @property
    def first_s(self) -> float | None:
        """The instant of the first reading, in epoch seconds."""
        return self._at_s[0] if self._at_s else None

    def add(self, reading: Reading) -> None:
        """Take in a reading; it changes the air from its own instant on.

        Raises:
            ValueError: for a reading that is no air at all.

        """
        _refuse_impossible(reading)
        index = bisect_left(self._at_s, reading.at_s)
        if index < len(self._at_s) and self._at_s[index] == reading.at_s:
            self._readings[index] = max(reading, self._readings[index])
        else:
            self._at_s.insert(index, reading.at_s)
            self._readings.insert(index, reading)
        for later in [known for known in self._forecasts if known >= index]:
            del self._forecasts[later]

    def at(self, at_s: float) -> Reading:
        """Return the air at an instant in epoch seconds."""
        return next(self.pieces(at_s)).air

    def origin(self, at_s: float) -> str:
        """Tell in words what the air at an instant is known from."""
        index = bisect_right(self._at_s, at_s) - 1
        if index < 0:
            return "the shop's usual air"
        gone_s = at_s - self._at_s[index]
        if gone_s < HOLD_S:
            return f"read {_span(gone_s)} ago"
        base = "the daily pattern" if self._forecast(index).pattern else "the shop's usual air"
        return f"forecast from what was read {_span(gone_s)} ago and {base}"

    def pieces(self, from_s: float) -> Iterator[Piece]:
        """Give the air from ``from_s`` on, piece after piece, without end."""
        current = bisect_right(self._at_s, from_s) - 1
        yield from self._before(from_s) if current < 0 else self._after(current, from_s)
        for begin in range(current + 1, len(self._readings), CHUNK):
            yield from self._chunk(begin, begin + CHUNK)

    def _chunk(self, begin: int, end: int) -> Iterator[Piece]:
        """Give the air of the readings from number ``begin`` to before number ``end``."""
        readings = self._readings[begin:end]
        following_s = [*self._at_s[begin + 1 : end + 1], math.inf]
        for index, (reading, next_s) in enumerate(zip(readings, following_s, strict=False), begin):
            if next_s - reading[0] <= HOLD_S:
                yield Piece(reading[0], next_s, reading)
            else:
                yield from self._after(index, reading[0])

    def _before(self, from_s: float) -> Iterator[Piece]:
        """Give the usual air until the first reading, a day at a time."""
        end_s = self._at_s[0] if self._at_s else math.inf
        air = self._usual
        while from_s < end_s:
            next_s = min(end_s, (from_s // DAY_S + 1) * DAY_S)
            yield Piece(
                from_s,
                next_s,
                Reading(from_s, air.temperature_c, air.humidity_percent, air.movement_m_per_s),
            )
            from_s = next_s

    def _after(self, index: int, from_s: float) -> Iterator[Piece]:
        """Give the air from ``from_s`` until the reading after number ``index``."""
        reading = self._readings[index]
        end_s = self._at_s[index + 1] if index + 1 < len(self._at_s) else math.inf
        held_s = reading.at_s + HOLD_S
        if from_s < held_s:
            yield Piece(from_s, min(held_s, end_s), reading)
        step = max(0, int((from_s - held_s) // HOUR_S))
        while (start_s := held_s + step * HOUR_S) < end_s:
            step += 1
            until_s = min(held_s + step * HOUR_S, end_s)
            if until_s > from_s:
                middle_s = start_s + HOUR_S / 2
                yield Piece(max(start_s, from_s), until_s, self._forecast(index).at(middle_s))

    def _forecast(self, index: int) -> Forecast:
        found = self._forecasts.get(index)
        if found is None:
            last = self._readings[index]
            first = bisect_left(self._at_s, last.at_s - PATTERN_DAYS * DAY_S)
            pattern = daily_pattern(self._readings[first : index + 1], self._utc_offset_s)
            found = Forecast(last, self._usual.temperature_c, pattern, self._utc_offset_s)
            self._forecasts[index] = found
        return found


def _refuse_impossible(reading: Reading) -> None:
    if not -40 <= reading.temperature_c <= 60:
        raise ValueError(f"{reading.temperature_c:g} degC is no air; from -40 to 60 degC")
    if not 0 <= reading.humidity_percent <= 100:
        raise ValueError(f"{reading.humidity_percent:g} % is no humidity; from 0 to 100 %")
    if not 0 <= reading.movement_m_per_s < math.inf or not math.isfinite(reading.at_s):
        raise ValueError(f"{reading} has no instant, or air that moves backwards")


def _span(seconds: float) -> str:
    """Return a span in one unit, rounded down."""
    if seconds < 2 * HOUR_S:
        return f"{seconds // 60:.0f} min"
    return f"{seconds // HOUR_S:.0f} h" if seconds < 2 * DAY_S else f"{seconds // DAY_S:.0f} days"
