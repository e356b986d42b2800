"""Say that work goes on, when it takes longer than a second and somebody looks."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from functools import wraps
from typing import Any, TextIO

import click

from finishsched.cli.beside import is_quiet

SLOW = {
    "import": "bringing it in",
    "export": "writing it out",
    "backup": "keeping the shop",
    "restore": "making the shop again",
    "new": "making the shop",
    "check": "looking it over",
    "record": "writing the record",
    "sheet": "writing the sheet",
    "plan": "placing the evenings",
    "due": "looking what is due",
    "log": "writing it down",
    "film": "reckoning the film",
    "need": "counting what it takes",
    "condition": "judging the old finish",
    "cost": "counting what it costs",
    "compare": "laying them side by side",
    "stock": "looking along the shelf",
    "defect": "weighing the causes",
    "begin": "looking what fits",
    "choose": "trying each in the plan",
    "join": "reckoning what was done",
    "say": "reading the lines",
    "change": "writing it in",
    "again": "reading what was done",
    "schedules": "reading the schedules",
    "pace": "reading the dry checks",
    "vent": "following the vapour",
    "rags": "looking for rags",
    "cautions": "looking what to mind",
    "store": "counting what burns",
}
"""What a command is about when it takes longer than a second; any other is just at work."""
SILENT = frozenset(
    {"bench", "demo", "air", "mix", "reduce", "blend", "gauge", "parts", "help", "settings"}
    | {"completion", "tablet"}
)
"""Those that open a screen of their own, follow a file, or only reckon."""
_PATIENCE_S, _BEAT_S = 1.0, 0.5


class _Teller:
    """One line on standard error, which makes room for whatever is said, and goes at the end."""

    def __init__(self, what: str, stream: TextIO) -> None:
        self.so_far: str | None = None
        self._what = what
        self._stream = stream
        self._began = time.monotonic()
        self._width = 0
        self._ended = threading.Event()
        self._pen = threading.Lock()
        self._thread = threading.Thread(target=self._tell, daemon=True)
        self._thread.start()

    def draw(self) -> None:
        """Draw the line over itself."""
        with self._pen:
            if self._ended.is_set():
                return
            counted = f"{self._what}: {time.monotonic() - self._began:.0f} s"
            line = counted if self.so_far is None else self.so_far
            self._stream.write(f"\r{line:{self._width}}")
            self._stream.flush()
            self._width = max(self._width, len(line))

    @contextmanager
    def room(self) -> Iterator[None]:
        """Wipe the line, and keep it away meanwhile; it comes back with the next beat."""
        with self._pen:
            if self._width:
                self._stream.write("\r" + " " * self._width + "\r")
                self._stream.flush()
                self._width = 0
            yield

    def end(self) -> None:
        """Wipe the line for good."""
        self._ended.set()
        self._thread.join()
        with self.room():
            pass

    def _tell(self) -> None:
        if self._ended.wait(_PATIENCE_S):
            return
        while not self._ended.wait(_BEAT_S):
            self.draw()


_at_work: list[_Teller] = []
"""The one that tells, if any: a program has one standard error."""


@contextmanager
def working(what: str) -> Iterator[None]:
    """Show ``what`` with the seconds so far on standard error, from the first second on.

    Silent where standard error is no terminal, where quiet is asked for, and within other work that
    is told already; the line is gone when the work is done.
    """
    if _at_work or is_quiet() or sys.stderr is None or not sys.stderr.isatty():
        yield
        return
    _at_work.append(_Teller(what, sys.stderr))
    try:
        yield
    finally:
        stop()


def so_far(words: str | None, *, at_once: bool = False) -> None:
    """Say instead how far the work has come, from its next beat on or ``at_once``.

    None says the seconds again.
    """
    for teller in _at_work:
        teller.so_far = words
        if at_once:
            teller.draw()


def is_told() -> bool:
    """Tell whether somebody looks."""
    return bool(_at_work)


@contextmanager
def room() -> Iterator[None]:
    """Wipe the line, and keep it away while something else is said."""
    with ExitStack() as held:
        for teller in _at_work:
            held.enter_context(teller.room())
        yield


def stop() -> None:
    """Say no more: the work is done, or a person is asked."""
    while _at_work:
        _at_work.pop().end()


def tell_of(name: str, command: click.Command) -> None:
    """Have a command that may take longer than a second say that it works."""
    plain = command.callback
    if plain is None or name in SILENT or getattr(plain, "tells", False):
        return

    @wraps(plain)
    def told(*given: Any, **named: Any) -> Any:
        with working(SLOW.get(name, "at work")):
            return plain(*given, **named)

    vars(told)["tells"] = True
    command.callback = told
