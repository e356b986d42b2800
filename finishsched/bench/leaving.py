"""Leave in good order when the terminal closes, so that nothing temporary stays behind."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable
from contextlib import suppress


def leave_on_signals(leave: Callable[[], None]) -> None:
    """Have a closed terminal, or a polite kill, end the bench as its own key does."""
    for name in ("SIGHUP", "SIGTERM"):
        number = getattr(signal, name, None)
        # No loop of Windows takes signals, and none does outside the main thread.
        with suppress(NotImplementedError, RuntimeError, ValueError):
            if number is not None:
                asyncio.get_running_loop().add_signal_handler(number, leave)
