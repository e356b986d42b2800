"""One button for everything: a foot switch or a single key that runs the whole evening.

One press does the next thing of the screen that shows, two presses, or the button held down, the
other: 'not yet', the next piece, back. Each screen says which, as ``ONCE`` and ``TWICE``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from textual.timer import Timer

TWICE_S = 0.6
"""Presses closer together than this are two of one kind; a held key repeats faster."""


def meant_by(screen: object) -> tuple[str, str]:
    """Return what one press and what two presses do on a screen; empty for nothing."""
    return getattr(screen, "ONCE", ""), getattr(screen, "TWICE", "")


class Presses(Protocol):
    """What the button needs of the bench."""

    def monotonic_s(self) -> float:
        """Return seconds that only go forward."""

    def call_in(self, seconds: float, call: Callable[[], None]) -> Timer:
        """Have something called in a while."""

    @property
    def screen(self) -> object:
        """The screen that shows."""

    def do_on_screen(self, action: str) -> None:
        """Do an action of the screen that shows."""


class Button:
    """Tells one press from two, and from the button held down."""

    def __init__(self, host: Presses, key: str) -> None:
        """``key`` is what the button sends, as Textual names it; empty for no button."""
        self._host = host
        self._key = key
        self._last_s = float("-inf")
        self._waiting: Timer | None = None

    def takes(self, key: str) -> bool:
        """Take a key, if it is the button's; tell whether it was."""
        if not self._key or key != self._key:
            return False
        now_s = self._host.monotonic_s()
        follows = now_s - self._last_s < TWICE_S
        self._last_s = now_s
        if not follows:
            self._waiting = self._host.call_in(TWICE_S, self._once)
        elif self._waiting is not None:
            self._waiting.stop()
            self._waiting = None
            self._do(meant_by(self._host.screen)[1])
        return True

    def _once(self) -> None:
        self._waiting = None
        self._do(meant_by(self._host.screen)[0])

    def _do(self, action: str) -> None:
        if action:
            self._host.do_on_screen(action)
