"""One thing that somebody should know who opens the shop, and when it is worth telling again."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Notice:
    """A sentence to be told once within a day to the same person, unless it grew worse."""

    text: str
    about: str = ""
    """What it is of, without figures that change by themselves; empty where the text says it."""
    gravity: int = 0
    """Told again within the day once this grew."""
    spoils_answers: bool = False
    """True where every answer is wrong, or short of something, because of it: told with each."""

    @property
    def mark(self) -> str:
        """What it is remembered by."""
        return self.about or self.text
