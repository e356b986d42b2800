"""The pace of a law over the air that a shop had and will likely have."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from finishsched.drying.forecast import Reading
from finishsched.drying.integral import AHEAD_S, DryingSums
from finishsched.drying.laws import Law, interval_factor, stop_reason
from finishsched.model.said import Teller

SLOWER, QUICKER = 1.1, 0.9
"""Within a tenth of the book's pace nothing is said."""


class OverAir:
    """The pace of one law over the shop's air."""

    def __init__(self, sums: DryingSums, law: Law) -> None:
        self._sums = sums
        self._law = law

    def progress_s(self, start: datetime, end: datetime) -> float:
        """Return the progress between two instants, in seconds of the wait's own air.

        Counted up to the horizon, past which every wait is over: a clock that stands years ahead
        must not be reckoned through hour by hour.
        """
        start_s = start.timestamp()
        return self._sums.progress_s(self._law, start_s, min(end.timestamp(), start_s + AHEAD_S))

    def when(self, start: datetime, amount_s: float) -> datetime:
        """Return when progress since ``start`` comes to ``amount_s``; the horizon for never."""
        at_s = self._sums.when_s(self._law, start.timestamp(), amount_s)
        if at_s is None:
            return start + timedelta(seconds=AHEAD_S)
        return datetime.fromtimestamp(at_s, UTC)


def pace_words(law: Law, air: Reading, tell: Teller) -> str:
    """Return how the air makes what goes by ``law`` slower or quicker than the book, and why."""
    stop = stop_reason(law, air)
    if stop is not None:
        return f"it stands still: {stop.told(tell)}"
    factor = interval_factor(law, air)
    here = f"{tell(air.temperature_c, 'degC', 1)}, {air.humidity_percent:.0f} %"
    film = f", the coat {law.film_ratio:g} times the schedule's" if law.film_ratio != 1 else ""
    if factor > SLOWER:
        return f"slower than the book because {here}{film}: {factor:.1f} times as long"
    if factor < QUICKER:
        return f"quicker than the book because {here}{film}: {factor:.1f} times as long"
    return f"about the book's pace at {here}{film}"


def uneven_words(law: Law, air: Reading, tell: Teller) -> str:
    """Return the same; empty within a tenth of the book's pace."""
    is_even = QUICKER <= interval_factor(law, air) <= SLOWER
    return "" if is_even else pace_words(law, air, tell)
