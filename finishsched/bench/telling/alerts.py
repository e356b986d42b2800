"""For whom the bench rings, and when it must not: each thing once, and nothing lost in the quiet.

In the hours of silence what happens is only kept; when they end it is told in one notice.
"""

from __future__ import annotations

import os
import signal
import subprocess
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Protocol

from finishsched.bench import words
from finishsched.model.names import listed
from finishsched.model.settings import Quiet
from finishsched.workshop.base.answers import BenchView, PieceView, State, Window

COMMAND_WAIT_S = 10.0
"""A command that takes longer is ended: it is there to tell, not to work."""

MOST_NAMES = 4
"""More things than this are counted, not named."""

Key = tuple[str, str, datetime, int]


@dataclass(frozen=True, slots=True)
class Alert:
    """One thing worth a sound."""

    key: Key
    name: str
    what: str
    """What follows the name, which several may have in common: `` likely dry``."""
    at: str
    """Since when, or at what time: ``since 02:10``."""
    advice: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What one look comes to."""

    add: tuple[str, ...] = ()
    """Notices to put up, the last one on top."""
    withdraw: tuple[str, ...] = ()
    reword: tuple[tuple[str, str], ...] = ()
    """Notices that say less than they did, and what they say now."""
    sound: str = ""
    """What to ring for; empty for silence."""


class Memory(Protocol):
    """What was told within the last day, on this bench or before it was opened."""

    def was_told(self, mark: str) -> bool:
        """Tell whether it was."""

    def tell(self, mark: str) -> None:
        """Keep that it is told now."""


class Alerts:
    """Says once for several what they have in common, and rings for each thing once."""

    def __init__(self, quiet: Quiet | None, memory: Memory) -> None:
        self._quiet = quiet
        self._memory = memory
        self._up: dict[str, _Up] = {}
        self._missed: list[Alert] = []

    def look(self, view: BenchView) -> Told:
        """Return what is new in ``view``, and what no longer holds."""
        now_due = list(_alerts(view))
        fresh = [alert for alert in now_due if not self._memory.was_told(_mark(alert))]
        for alert in fresh:
            self._memory.tell(_mark(alert))
        add, withdraw, reword = self._notices(now_due)
        if is_quiet(self._quiet, view.now, view.zone):
            self._missed += fresh
            return Told(tuple(add), tuple(withdraw), tuple(reword))
        missed, self._missed = self._missed, []
        if missed:
            add.append(f"while quiet: {_said(missed)}")
        sound = _said([*missed, *fresh])
        return Told(tuple(add), tuple(withdraw), tuple(reword), sound)

    def _notices(
        self, now_due: Sequence[Alert]
    ) -> tuple[list[str], list[str], list[tuple[str, str]]]:
        """Return the notices to put up, to take down, and to word anew for fewer things."""
        add: list[str] = []
        reword: list[tuple[str, str]] = []
        groups = _groups(now_due)
        over = [what for what in self._up if what not in groups]
        withdraw = [self._up.pop(what).banner for what in over]
        for what, group in groups.items():
            now = _Up(_banner(group), frozenset(alert.key for alert in group))
            was = self._up.get(what)
            self._up[what] = now
            if was is None or not now.keys <= was.keys:
                withdraw += [was.banner] if was is not None else []
                add.append(now.banner)
            elif now.banner != was.banner:
                reword.append((was.banner, now.banner))
        return add, withdraw, reword


@dataclass(frozen=True, slots=True)
class _Up:
    """A notice that stands, and what it is about."""

    banner: str
    keys: frozenset[Key]


def _mark(alert: Alert) -> str:
    ref, kind, begun, again = alert.key
    return f"{ref} {kind} {begun.isoformat()} {again}"


def _groups(found: Iterable[Alert]) -> dict[str, list[Alert]]:
    """Return what is to be said in one sentence, the most urgent first."""
    groups: dict[str, list[Alert]] = {}
    for alert in found:
        groups.setdefault(alert.what, []).append(alert)
    return groups


def _banner(group: Sequence[Alert]) -> str:
    advice = group[0].advice
    return f"{_said(group)}; {advice}" if advice else _said(group)


def _said(found: Sequence[Alert]) -> str:
    return "; ".join(_sentence(group) for group in _groups(found).values())


def _sentence(group: Sequence[Alert]) -> str:
    """Say what several have in common once; of one alone, also since when."""
    first = group[0]
    if len(group) == 1:
        return f"{first.name}{first.what} {first.at}"
    names = [alert.name for alert in group]
    if len(names) > MOST_NAMES:
        names = [*names[: MOST_NAMES - 1], f"{len(names) - MOST_NAMES + 1} more"]
    return f"{listed(names)}{first.what}"


def is_quiet(quiet: Quiet | None, now: datetime, zone: tzinfo) -> bool:
    """Tell whether ``now`` lies in the hours of silence on the shop's wall clock."""
    if quiet is None:
        return False
    wall = now.astimezone(zone)
    minute = wall.hour * 60 + wall.minute
    if quiet.from_min <= quiet.to_min:
        return quiet.from_min <= minute < quiet.to_min
    return minute >= quiet.from_min or minute < quiet.to_min


def _alerts(view: BenchView) -> Iterator[Alert]:
    """Give everything in ``view`` that is worth a sound, the most urgent first."""
    for piece in view.pieces:
        if piece.clock is not None and piece.state.wants_check:
            yield _of_wait(piece, view)
    for window in view.windows:
        if window.state != "open":
            yield _of_window(window, view)


def _of_wait(piece: PieceView, view: BenchView) -> Alert:
    clock = piece.clock
    assert clock is not None  # noqa: S101  # only such are asked about
    name = words.plain(piece.title)
    key = (piece.ref, "wait", clock.laid_at, clock.not_yet)
    advice = "make the dry check"
    if piece.state is State.CHECK:
        since = words.wall(clock.likely_at, view.now, view.zone)
        return Alert(key, name, " likely dry", f"since {since}", advice)
    since = words.wall(clock.next_by_at or clock.latest_at, view.now, view.zone)
    return Alert(key, name, ": the window closed", since, advice)


def _of_window(window: Window, view: BenchView) -> Alert:
    at = words.wall(window.closes_at, view.now, view.zone)
    name = words.window_name(window, view)
    verb = "closed" if window.state == "closed" else "closes"
    key = (window.name, f"{window.kind.value} {window.state}", window.opened_at, 0)
    return Alert(key, name, f": {window.kind.value} {verb}", at)


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
        _end(running)
        return f"settings: notify took longer than {wait_s:g} s and was ended: {command[0]}"
    return f"settings: notify failed with status {status}: {command[0]}" if status else ""


def _end(running: subprocess.Popen[bytes]) -> None:
    """End a command and what it began; on Windows, which has no groups, the command alone."""
    with suppress(OSError):
        if hasattr(os, "killpg"):
            os.killpg(running.pid, signal.SIGKILL)
        else:
            running.terminate()
    running.wait()
