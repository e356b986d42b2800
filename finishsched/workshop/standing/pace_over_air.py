"""The pace of a law over the air that a shop had and will likely have."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from finishsched.drying.integral import AHEAD_S, DryingSums
from finishsched.drying.laws import Law


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
