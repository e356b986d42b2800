"""The part that tells the page what is offered, and does what hands on the page say."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.geometry import Size
from textual.screen import Screen
from textual.widgets import Input, TextArea

from finishsched.bench.touch.offer import Told, fields_of, offer, subject, taps_of

MOST_TYPED = 8000
"""Letters that a field takes: a schedule in lines has a few hundred."""


class Hands:
    """Numbers each screen, and each piece on it, so that what was meant for another does nothing.

    A tap is seconds late over a poor connection, and the piece that it was for may no longer be in
    large letters: then it must not be logged on the one that is.
    """

    def __init__(self, tell: Callable[[Told], None]) -> None:
        self._tell = tell
        self._screen: Screen[Any] | None = None
        self._about = ""
        self._of = 0
        self._told: Told = {}

    def look(self, screen: Screen[Any], whole: Size) -> None:
        """Tell what ``screen`` offers now, if that is not what was told last.

        ``whole`` is the size of the last picture of which every part was drawn for it.
        """
        about = subject(screen)
        if screen is not self._screen or about != self._about:
            self._screen, self._about = screen, about
            self._of += 1
        now = offer(screen, self._of, whole)
        if now != self._told:
            self._told = now
            self._tell(now)

    def forget(self) -> None:
        """Have what is offered told again, whatever was told."""
        self._told = {}

    def is_offered(self, of: int, action: str) -> bool:
        """Tell whether the screen that shows offers ``action``, and was meant."""
        return self._screen is not None and of == self._of and action in taps_of(self._screen)

    def type(self, of: int, field: str, value: str) -> None:
        """Write into a field of the screen that was meant."""
        if self._screen is None or of != self._of or field not in fields_of(self._screen):
            return
        widget = self._screen.query_one(f"#{field}")
        if isinstance(widget, Input):
            widget.value = _one_line(value[:MOST_TYPED])
        elif isinstance(widget, TextArea):
            widget.text = "\n".join(_one_line(line) for line in value[:MOST_TYPED].splitlines())


def _one_line(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)
