"""Where a bench is shown, and what hands work it with: what a terminal or a page adds to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from textual.events import Event


def _nothing() -> None:
    """Do nothing."""


def _everything(_: Event) -> bool:
    return True


@dataclass(frozen=True)
class Surface:
    """What the bench calls at each turn; a surface gives those that it has something to do at."""

    begins: Callable[[], None] = _nothing
    """The bench is about to draw for the first time."""
    follows: Callable[[], None] = _nothing
    """The bench has taken what the desk has now."""
    shows: Callable[[], None] = _nothing
    """Something was drawn."""
    lets_through: Callable[[Event], bool] = _everything
    """Tell whether an event is for the bench."""
    rings: Callable[[], None] | None = None
    """Ring, in the place of the terminal's bell."""
