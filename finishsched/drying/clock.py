"""The cure clock: from what was laid and when, to when its dry check is worth making.

A wait runs as progress of drying, counted in seconds of the air that its times hold for: in colder
air progress goes slower than the clock on the wall, and when the product cannot dry it stops.

The clock advises; the dry check decides. A clock is never stored: it is worked out from the time
of the coat, the wait, and the dry checks that said 'not yet', so that nothing is lost when the
machine sleeps or dies.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import NamedTuple, Protocol

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


class Pace(Protocol):
    """How fast a film dries over the real air."""

    def progress_s(self, start: datetime, end: datetime) -> float:
        """Return the progress between two instants, in seconds of the wait's own air."""

    def when(self, start: datetime, amount_s: float) -> datetime:
        """Return the instant at which progress since ``start`` comes to ``amount_s``."""


class SteadyPace:
    """The pace of the wait's own air: progress is elapsed time."""

    def progress_s(self, start: datetime, end: datetime) -> float:
        """Return the elapsed seconds."""
        return (end - start).total_seconds()

    def when(self, start: datetime, amount_s: float) -> datetime:
        """Return ``start`` and so many seconds."""
        return start + timedelta(seconds=amount_s)


STEADY = SteadyPace()


class Need(NamedTuple):
    """How much progress a wait needs, as a range in seconds of its own air.

    Guarantees earliest <= likely <= latest.
    """

    earliest_s: float
    likely_s: float
    latest_s: float


def book_need(wait: Wait) -> Need:
    """Return what the schedule says that a wait needs."""
    slow_s = wait.latest_s if wait.latest_s is not None else wait.likely_s * SLOW_END
    return Need(wait.earliest_s, wait.likely_s, slow_s)


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
    percent: float
    """Progress over the likely need, 0 to 100."""

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
    def overdue(self) -> bool:
        """True when even the slow end of the range has passed."""
        return self.now >= self.latest_at


def cure_clock(
    wait: Wait,
    laid_at: datetime,
    not_yet_at: Sequence[datetime],
    now: datetime,
    *,
    pace: Pace = STEADY,
    need: Need | None = None,
) -> CureClock:
    """Return the clock of a wait that began at ``laid_at``.

    ``not_yet_at`` are the instants of dry checks that failed. ``pace`` is that of the real air,
    ``need`` what this shop's own checks make of the wait. All instants are aware UTC. Guarantees
    earliest <= likely <= latest.
    """
    needed = _after_checks(need or book_need(wait), pace, laid_at, not_yet_at)
    gone_s = pace.progress_s(laid_at, now)
    return CureClock(
        laid_at=laid_at,
        earliest_at=pace.when(laid_at, needed.earliest_s),
        likely_at=pace.when(laid_at, needed.likely_s),
        latest_at=pace.when(laid_at, needed.latest_s),
        next_by_at=pace.when(laid_at, wait.next_by_s) if wait.next_by_s is not None else None,
        now=now,
        not_yet=len(not_yet_at),
        percent=_percent(gone_s, needed.likely_s),
    )


def _after_checks(
    need: Need, pace: Pace, laid_at: datetime, not_yet_at: Sequence[datetime]
) -> Need:
    """Raise a need above the progress at which a dry check failed."""
    earliest_s, likely_s, latest_s = need.earliest_s, need.likely_s, need.latest_s
    for checked_at in not_yet_at:
        taken_s = max(0.0, pace.progress_s(laid_at, checked_at))
        earliest_s = max(earliest_s, taken_s)
        likely_s = max(likely_s, taken_s + look_again_s(taken_s))
    # Added up in this order no rounding brings the slow end before the likely time.
    slow_end_s = likely_s + (need.latest_s - need.likely_s)
    return Need(earliest_s, likely_s, max(latest_s, slow_end_s))


def look_again_s(taken_s: float) -> float:
    """Return how long to leave a film that was not ready, in s of progress.

    Source: our assumption.

    Args:
        taken_s: s of progress at that look, 0 or more.

    """
    return max(SHORTEST_LOOK_AGAIN_S, LOOK_AGAIN_SHARE * taken_s)


def _percent(gone_s: float, likely_s: float) -> float:
    return 100.0 if likely_s <= 0 else min(100.0, max(0.0, 100 * gone_s / likely_s))
