"""Leave when the terminal closes: in good order where that can be, and within seconds always.

A terminal that is gone, or that nobody reads any more, can hold up whatever writes to it, the main
thread among it; then no order to leave is ever heard. So a signal, or the end of the terminal,
begins a deadline that is kept by the process itself. Every entry is safe on the disk before it is
acknowledged: nothing is lost by leaving so.
"""

from __future__ import annotations

import asyncio
import os
import select
import signal
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from types import FrameType

LEAVE_S = 2.0
"""How long leaving in good order may take before the process simply ends."""
LOOK_S = 1.0
"""How often a terminal is looked at where the system does not tell of its end."""
SIGNALS = ("SIGHUP", "SIGTERM")
_ENDED_BY_SIGNAL = 128

_begun = threading.Event()


def leave_on_signals(leave: Callable[[], None]) -> None:
    """Have a closed terminal, or a polite kill, end the bench as its own key does.

    To be called in the bench's own loop. What cannot be done within ``LEAVE_S`` is left undone.
    """
    try:
        loop = asyncio.get_running_loop()
    except RuntimeError:
        return

    def ask_to_leave() -> None:
        with suppress(RuntimeError):
            loop.call_soon_threadsafe(leave)

    def heard(number: int, _frame: FrameType | None) -> None:
        begin_deadline(_ENDED_BY_SIGNAL + number)
        ask_to_leave()

    for name in SIGNALS:
        number = getattr(signal, name, None)
        # Windows has one of them, and only the main thread may ask for any.
        with suppress(ValueError, OSError):
            if number is not None:
                signal.signal(number, heard)
    _watch_terminal(ask_to_leave)


def begin_deadline(status: int) -> None:
    """End the process after ``LEAVE_S``, whatever holds up its other threads."""
    if _begun.is_set():
        return
    _begun.set()

    def end() -> None:
        _wait(LEAVE_S)
        os._exit(status)

    threading.Thread(target=end, name="deadline", daemon=True).start()


def _wait(span_s: float) -> None:
    """Wait for a span, never until an instant: no clock that somebody moves can hold it up.

    Locks and timers wait until an instant of a clock, which a debugger or a faked time may put
    out of reach; a poll of nothing counts down in the system itself.
    """
    if hasattr(select, "poll"):
        select.poll().poll(span_s * 1000)
    else:
        time.sleep(span_s)


def _watch_terminal(ask_to_leave: Callable[[], None]) -> None:
    """Leave when the terminal ends without a signal, as under a shell that keeps it."""
    stdin = sys.__stdin__
    if not hasattr(select, "poll") or stdin is None or not stdin.isatty():
        return
    handle = stdin.fileno()

    def watch() -> None:
        poll = select.poll()
        poll.register(handle, 0)
        while not _begun.is_set():
            _wait(LOOK_S)
            with suppress(OSError):
                # Nothing is asked for, so that only the end of the terminal is told.
                if any(told & (select.POLLHUP | select.POLLNVAL) for _, told in poll.poll(0)):
                    begin_deadline(_ENDED_BY_SIGNAL + 1)
                    ask_to_leave()

    threading.Thread(target=watch, name="terminal watch", daemon=True).start()
