"""For whom the bench rings, and when it must not: each thing once, and nothing lost in the quiet.

In the hours of silence what happens is only kept; when they end it is told in one notice.
"""

from __future__ import annotations

import os
import signal
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, tzinfo

from finishsched.bench import words
from finishsched.model.settings import Quiet
from finishsched.workshop.base.answers import BenchView, PieceView, State, Window

COMMAND_WAIT_S = 10.0
"""A command that takes longer is ended: it is there to tell, not to work."""

_Key = tuple[str, str, datetime, int]


@dataclass(frozen=True, slots=True)
class Alert:
    """One thing worth a sound."""

    key: _Key
    ref: str
    short: str
    """Without what to do: ``Lid likely dry since 02:10``."""
    banner: str


@dataclass(frozen=True, slots=True)
class Told:
    """What one look comes to."""

    add: tuple[str, ...] = ()
    """Notices to put up, the last one on top."""
    withdraw: tuple[str, ...] = ()
    sound: str = ""
    """What to ring for; empty for silence."""


class Alerts:
    """Remembers for what it has rung."""

    def __init__(self, quiet: Quiet | None) -> None:
        self._quiet = quiet
        self._rung: set[_Key] = set()
        self._up: dict[_Key, str] = {}
        self._missed: list[str] = []

    def look(self, view: BenchView) -> Told:
        """Return what is new in ``view``, and what no longer holds."""
        now_due = {alert.key: alert for alert in alerts(view)}
        gone = tuple(self._up.pop(key) for key in [k for k in self._up if k not in now_due])
        fresh = [alert for key, alert in now_due.items() if key not in self._rung]
        self._rung |= {alert.key for alert in fresh}
        self._up |= {alert.key: alert.banner for alert in fresh}
        banners = tuple(alert.banner for alert in fresh)
        shorts = [alert.short for alert in fresh]
        if is_quiet(self._quiet, view.now, view.zone):
            self._missed += shorts
            return Told(banners, gone)
        missed, self._missed = self._missed, []
        if missed:
            banners = (*banners, f"while quiet: {'; '.join(missed)}")
        return Told(banners, gone, "; ".join([*missed, *shorts]))


def is_quiet(quiet: Quiet | None, now: datetime, zone: tzinfo) -> bool:
    """Tell whether ``now`` lies in the hours of silence on the shop's wall clock."""
    if quiet is None:
        return False
    wall = now.astimezone(zone)
    minute = wall.hour * 60 + wall.minute
    if quiet.from_min <= quiet.to_min:
        return quiet.from_min <= minute < quiet.to_min
    return minute >= quiet.from_min or minute < quiet.to_min


def alerts(view: BenchView) -> Iterator[Alert]:
    """Give everything in ``view`` that is worth a sound, the most urgent first."""
    for piece in view.pieces:
        if piece.clock is not None and piece.state in (State.CHECK, State.CLOSED):
            yield _of_wait(piece, view)
    for window in view.windows:
        if window.state != "open":
            yield _of_window(window, view)


def _of_wait(piece: PieceView, view: BenchView) -> Alert:
    clock = piece.clock
    assert clock is not None  # noqa: S101  # only such are asked about
    title = words.plain(piece.title)
    if piece.state is State.CHECK:
        since = words.wall(clock.likely_at, view.now, view.zone)
        short = f"{title} likely dry since {since}"
    else:
        since = words.wall(clock.next_by_at or clock.latest_at, view.now, view.zone)
        short = f"{title}: the window closed {since}"
    key = (piece.ref, "wait", clock.laid_at, clock.not_yet)
    return Alert(key, piece.ref, short, f"{short}; make the dry check")


def _of_window(window: Window, view: BenchView) -> Alert:
    at = words.wall(window.closes_at, view.now, view.zone)
    name = words.plain(window.name)
    said = f"closed {at}" if window.state == "closed" else f"closes {at}"
    key = (window.name, f"{window.kind.value} {window.state}", window.opened_at, 0)
    short = f"{name}: {window.kind.value} {said}"
    return Alert(key, window.name, short, short)


def run_command(
    command: Sequence[str], text: str, variables: Mapping[str, str], wait_s: float = COMMAND_WAIT_S
) -> str:
    """Run the user's own command to tell ``text``; return what went wrong, or nothing.

    The text is the last argument and the variable FINISHSCHED_TEXT. There is no shell, so nothing
    in it can be taken for a command; it begins with a word of ours, so not for an option either.
    """
    said = f"finishsched: {words.plain(text)}"
    try:
        running = subprocess.Popen(  # noqa: S603  # the user's own command, as a list
            [*command, said],
            env={**variables, "FINISHSCHED_TEXT": said},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else str(error)
        return f"settings: notify cannot be run: {command[0]}: {reason}"
    try:
        status = running.wait(wait_s)
    except subprocess.TimeoutExpired:
        with suppress(OSError):
            os.killpg(running.pid, signal.SIGKILL)
        running.wait()
        return f"settings: notify took longer than {wait_s:g} s and was ended: {command[0]}"
    return f"settings: notify failed with status {status}: {command[0]}" if status else ""
