"""A question with yes and no."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from finishsched.bench import bindings, keys
from finishsched.bench.screens.card import Body, Card, Foot, line
from finishsched.bench.widgets.answer import answer


class QuestionCard(Card):
    """Asks before something begins; answers with ``yes`` or nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.QUESTION]

    ONCE, TWICE = "yes", "close"

    def __init__(self, question: str, detail: str) -> None:
        super().__init__()
        self._question = question
        self._detail = detail

    def compose(self) -> ComposeResult:
        """Lay out the question."""
        force = bindings.in_force(active.binding for active in self.active_bindings.values())
        yes, no = (bindings.first_key(force, key.id) for key in keys.QUESTION)
        with Body():
            yield line(self._question, "bold")
            yield line(self._detail, classes="words")
            yield Foot(
                answer(yes, "YES", keys.QUESTION[0], "ready"),
                answer(no, "NO", keys.QUESTION[1], "not-ready"),
            )

    def action_yes(self) -> None:
        """Do it."""
        self.dismiss("yes")
