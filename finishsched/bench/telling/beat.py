"""What one beat looks at: clocks from stored instants, gaps in time, whom to ring for."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from finishsched.bench import words
from finishsched.workshop.base.answers import BenchView, PieceView, Window

GAP_S = 60.0
"""Wall clock and monotonic clock may part by this much before it is worth a word."""
STOOD_STILL_S = 15 * 60.0
"""A bench looks once a second: one that did not for so long was stopped."""

LOOKED_EVERY = timedelta(minutes=1)
SHOWN_EVERY = timedelta(seconds=5)
"""How far clocks go on before they are drawn again: a per cent of eight minutes, and no minute."""


def at(view: BenchView, now: datetime) -> BenchView:
    """Return the same view with every clock standing at ``now``."""
    pieces = tuple(
        piece._replace(clock=replace(piece.clock, now=now)) if piece.clock else piece
        for piece in view.pieces
    )
    windows = tuple(replace(window, now=now) for window in view.windows)
    return view._replace(now=now, pieces=pieces, windows=windows)


def is_seen(shown: datetime, now: datetime) -> bool:
    """Return True when the eye would see a clock that stands at ``shown`` go on to ``now``."""
    is_another_minute = shown.replace(second=0, microsecond=0) != now.replace(
        second=0, microsecond=0
    )
    return is_another_minute or abs(now - shown) >= SHOWN_EVERY


def is_stale(view: BenchView, asked_at: datetime, now: datetime) -> bool:
    """Return True when a wait passed one of its instants since ``asked_at``, or time went back."""
    if now < asked_at or now - asked_at >= LOOKED_EVERY:
        return True
    instants = [instant for piece in view.pieces for instant in _instants(piece)]
    instants += [instant for window in view.windows for instant in _edges(window)]
    return any(asked_at < instant <= now for instant in instants)


def _edges(window: Window) -> tuple[datetime, datetime]:
    return window.closing_from, window.closes_at


def _instants(piece: PieceView) -> tuple[datetime, ...]:
    clock = piece.clock
    if clock is None:
        return ()
    instants = (clock.earliest_at, clock.likely_at, clock.latest_at, clock.next_by_at)
    return tuple(instant for instant in instants if instant is not None)


class GapWatch:
    """Notices time that went by unseen, by comparing the wall clock with the monotonic one."""

    def __init__(self, wall: datetime, monotonic_s: float) -> None:
        self._wall = wall
        self._monotonic_s = monotonic_s

    def look(self, wall: datetime, monotonic_s: float) -> str:
        """Return what to say about the time since the last look; nothing when it was one beat."""
        passed_s = (wall - self._wall).total_seconds()
        awake_s = monotonic_s - self._monotonic_s
        self._wall, self._monotonic_s = wall, monotonic_s
        step_s = passed_s - awake_s
        if step_s < -GAP_S:
            return f"The machine's clock was set back by {_rounded(-step_s)}; times follow it now."
        if step_s > GAP_S:
            return (
                f"{_rounded(step_s)} went by that the bench did not see: "
                "the machine slept, or its clock was set forward."
            )
        if awake_s > STOOD_STILL_S:
            return f"Nobody looked for {_rounded(awake_s)}: the bench stood still."
        return ""


def _rounded(seconds: float) -> str:
    return words.span(round(seconds / 60) * 60)
