"""What the air will likely be, from the last reading and the shop's own daily pattern.

Temperature: the pattern, or the shop's usual air while there is none, with how far the last reading
was off it dying away over 12 hours. Water in the air stays as it was read, so that humidity rises
as the room cools, to 100 % at most. Movement stays as it was read. All of it is our assumption.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import NamedTuple

from finishsched.drying.evaporation import magnus_pa
from finishsched.factors import DAY_S, HOUR_S

FADE_S = 12 * HOUR_S
PATTERN_DAYS = 14
LEAST_PATTERN_DAYS = 3

UtcOffset = Callable[[float], float]
"""From epoch seconds to the seconds that the shop's wall clock is ahead of UTC."""


class Reading(NamedTuple):
    """The air as it was read at an instant; the order is that of time."""

    at_s: float
    """Epoch seconds."""
    temperature_c: float
    humidity_percent: float
    movement_m_per_s: float = 0.1


class DailyPattern(NamedTuple):
    """The mean temperature of each hour of the shop's day."""

    hours_c: tuple[float, ...]
    """24 values, from the hour that begins at midnight."""

    def temperature_c(self, local_s: float) -> float:
        """Return the temperature at a wall time in seconds, running evenly between the hours."""
        hour = local_s / HOUR_S - 0.5
        before = math.floor(hour)
        share = hour - before
        return (1 - share) * self.hours_c[before % 24] + share * self.hours_c[(before + 1) % 24]


class Forecast(NamedTuple):
    """The air after a reading, until the next one."""

    last: Reading
    usual_c: float
    pattern: DailyPattern | None
    utc_offset_s: UtcOffset

    def at(self, at_s: float) -> Reading:
        """Return the likely air at an instant after the last reading."""
        off_k = self.last.temperature_c - self._base_c(self.last.at_s)
        fade = math.exp((self.last.at_s - at_s) / FADE_S)
        temperature_c = self._base_c(at_s) + off_k * fade
        vapour_pa = magnus_pa(self.last.temperature_c) * self.last.humidity_percent
        humidity_percent = min(100.0, vapour_pa / magnus_pa(temperature_c))
        return Reading(at_s, temperature_c, humidity_percent, self.last.movement_m_per_s)

    def _base_c(self, at_s: float) -> float:
        if self.pattern is None:
            return self.usual_c
        return self.pattern.temperature_c(at_s + self.utc_offset_s(at_s))


def daily_pattern(readings: Iterable[Reading], utc_offset_s: UtcOffset) -> DailyPattern | None:
    """Return the pattern of these readings; None with fewer than 3 days that have any.

    An hour without readings lies between its neighbours.
    """
    days: set[int] = set()
    sums, counts = [0.0] * 24, [0] * 24
    for reading in readings:
        day, of_day_s = divmod(reading.at_s + utc_offset_s(reading.at_s), DAY_S)
        hour = int(of_day_s // HOUR_S)
        days.add(int(day))
        sums[hour] += reading.temperature_c
        counts[hour] += 1
    if len(days) < LEAST_PATTERN_DAYS:
        return None
    known = {hour: sums[hour] / counts[hour] for hour in range(24) if counts[hour]}
    return DailyPattern(tuple(_between(known, hour) for hour in range(24)))


def _between(known: dict[int, float], hour: int) -> float:
    """Return the mean of ``hour``, or the value on the line between the nearest known hours."""
    back = next(step for step in range(24) if (hour - step) % 24 in known)
    ahead = next(step for step in range(24) if (hour + step) % 24 in known)
    before_c, after_c = known[(hour - back) % 24], known[(hour + ahead) % 24]
    return before_c if back == 0 else before_c + (after_c - before_c) * back / (back + ahead)
