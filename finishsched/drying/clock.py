"""The cure clock: from what was laid and when, to when its dry check is worth making.

The clock advises; the dry check decides. A clock is never stored: it is worked out from the time
of the coat, the wait, and the dry checks that said 'not yet', so that nothing is lost when the
machine sleeps or dies.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from finishsched.model.schedule import Wait

SLOW_END = 1.47
"""Slow end of a range over its likely time: the upper tenth of a lognormal spread of x/1.35.

The spread of x/1.35 is our assumption until dry checks narrow it.
"""

LOOK_AGAIN_SHARE = 0.25
SHORTEST_LOOK_AGAIN_S = 300.0
"""After 'not yet' the wait grows by a quarter of the time taken so far, and by five minutes at
least (common practice, no source)."""


class ClockState(StrEnum):
    """Where a wait stands."""

    DRYING = "drying"
    """Before the earliest time that the step's maker would look at it."""
    NEARLY = "nearly"
    """Between earliest and likely: a look does no harm."""
    CHECK = "check"
    """Likely ready: make the dry check."""
    CLOSED = "window closed"
    """The next coat is later than its window; a remedy comes first."""


@dataclass(frozen=True, slots=True)
class CureClock:
    """One wait as it stands at an instant."""

    laid_at: datetime
    earliest_at: datetime
    likely_at: datetime
    latest_at: datetime
    next_by_at: datetime | None
    now: datetime
    not_yet: int
    """How many dry checks have said 'not yet'."""

    @property
    def state(self) -> ClockState:
        """Where the wait stands now."""
        if self.next_by_at is not None and self.now >= self.next_by_at:
            return ClockState.CLOSED
        if self.now >= self.likely_at:
            return ClockState.CHECK
        return ClockState.NEARLY if self.now >= self.earliest_at else ClockState.DRYING

    @property
    def left_s(self) -> float:
        """Seconds until likely; negative once it has passed."""
        return (self.likely_at - self.now).total_seconds()

    @property
    def percent(self) -> float:
        """Share of the likely wait that has gone by, 0 to 100."""
        whole_s = (self.likely_at - self.laid_at).total_seconds()
        gone_s = (self.now - self.laid_at).total_seconds()
        return 100.0 if whole_s <= 0 else min(100.0, max(0.0, 100 * gone_s / whole_s))

    @property
    def overdue(self) -> bool:
        """True when even the slow end of the range has passed."""
        return self.now >= self.latest_at


def cure_clock(
    wait: Wait, laid_at: datetime, not_yet_at: Sequence[datetime], now: datetime
) -> CureClock:
    """Return the clock of a wait that began at ``laid_at``.

    ``not_yet_at`` are the instants of dry checks that failed. All instants are aware UTC.
    Guarantees earliest <= likely <= latest.
    """
    earliest_at = laid_at + timedelta(seconds=wait.earliest_s)
    likely_at = laid_at + timedelta(seconds=wait.likely_s)
    slow_s = wait.latest_s if wait.latest_s is not None else wait.likely_s * SLOW_END
    latest_at = laid_at + timedelta(seconds=slow_s)
    for checked_at in sorted(not_yet_at):
        again_at = checked_at + look_again_after(laid_at, checked_at)
        earliest_at = max(earliest_at, checked_at)
        likely_at = max(likely_at, again_at)
        latest_at = max(latest_at, likely_at)
    next_by_at = laid_at + timedelta(seconds=wait.next_by_s) if wait.next_by_s is not None else None
    return CureClock(laid_at, earliest_at, likely_at, latest_at, next_by_at, now, len(not_yet_at))


def look_again_after(laid_at: datetime, checked_at: datetime) -> timedelta:
    """Return how long to leave a film that was not ready at ``checked_at``."""
    taken_s = max(0.0, (checked_at - laid_at).total_seconds())
    return timedelta(seconds=max(SHORTEST_LOOK_AGAIN_S, LOOK_AGAIN_SHARE * taken_s))
