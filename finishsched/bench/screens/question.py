"""A question with yes and no."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from finishsched.bench import keys
from finishsched.bench.screens.card import Body, Card, line


class QuestionCard(Card):
    """Asks before something begins; answers with ``yes`` or nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [keys.binding(key) for key in keys.QUESTION]

    def __init__(self, question: str, detail: str) -> None:
        super().__init__()
        self._question = question
        self._detail = detail

    def compose(self) -> ComposeResult:
        """Lay out the question."""
        force = keys.in_force(active.binding for active in self.active_bindings.values())
        yes, no = keys.first_key(force, "yes"), keys.first_key(force, "no")
        with Body():
            yield line(self._question, "bold")
            yield line(self._detail, classes="words")
            yield line(f"{yes} yes · {no} no, back", "bold $text-primary")

    def action_yes(self) -> None:
        """Do it."""
        self.dismiss("yes")
