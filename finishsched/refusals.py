"""One base for all that is refused: what is wrong, where, what would be right, and how it ends.

Whoever shows a refusal asks for its ``lines``; nobody takes a sentence apart again.
"""

from __future__ import annotations

from collections.abc import Iterable

WRONG_USE = 2
"""The exit status of wrong use and bad input."""


class RefusalError(Exception):
    """Something that cannot be done or taken, for one reason."""

    status = WRONG_USE
    """With what a command ends that meets it."""

    def __init__(self, message: str, remedy: str = "", place: str = "") -> None:
        super().__init__(message, remedy, place)
        self.message = message
        self.remedy = remedy
        self.place = place

    @property
    def lines(self) -> tuple[str, ...]:
        """Return each reason as one line for people: the place, what is wrong, the remedy."""
        where = f"{self.place}: " if self.place else ""
        remedy = f"; {self.remedy}" if self.remedy else ""
        return (f"{where}{self.message}{remedy}",)

    def __str__(self) -> str:
        return "\n".join(self.lines)


class RefusalsError(RefusalError):
    """Something refused for several reasons, all of them told at once."""

    def __init__(self, lines: Iterable[str]) -> None:
        self._lines = tuple(lines)
        super().__init__("\n".join(self._lines))

    @property
    def lines(self) -> tuple[str, ...]:
        """Return each reason as one line for people."""
        return self._lines
