"""Say that work goes on, when it takes longer than a second and somebody looks."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import wraps
from typing import Any

import click

SLOW = {
    "import": "bringing it in",
    "export": "writing it out",
    "backup": "keeping the shop",
    "restore": "making the shop again",
    "choose": "trying each in the plan",
}
"""Commands that ask nothing, and what they are about when they take longer than a second."""
_PATIENCE_S, _BEAT_S = 1.0, 0.5


@contextmanager
def working(what: str) -> Iterator[None]:
    """Show ``what`` with the seconds so far on standard error, from the first second on.

    Silent where standard error is no terminal; the line is gone when the work is done.
    """
    if sys.stderr is None or not sys.stderr.isatty():
        yield
        return
    done = threading.Event()
    teller = threading.Thread(target=_tell, args=(what, done), daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()


def tell_of(name: str, command: click.Command) -> None:
    """Have a command that may take longer than a second say that it works."""
    plain = command.callback
    if plain is None or name not in SLOW or getattr(plain, "tells", False):
        return

    @wraps(plain)
    def told(*given: Any, **named: Any) -> Any:
        with working(SLOW[name]):
            return plain(*given, **named)

    vars(told)["tells"] = True
    command.callback = told


def _tell(what: str, done: threading.Event) -> None:
    began = time.monotonic()
    if done.wait(_PATIENCE_S):
        return
    width = 0
    while not done.wait(_BEAT_S):
        line = f"{what}: {time.monotonic() - began:.0f} s"
        width = max(width, len(line))
        sys.stderr.write(f"\r{line}")
        sys.stderr.flush()
    sys.stderr.write("\r" + " " * width + "\r")
    sys.stderr.flush()
