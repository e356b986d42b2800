"""An answer in big letters, with its key; a tap anywhere on it gives it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from finishsched.bench.drawing import big_letters
from finishsched.bench.keys import Key
from finishsched.bench.widgets.drawn import Drawn, lines
from finishsched.bench.widgets.taps import Tap


@dataclass(frozen=True, slots=True)
class AnswerFacts:
    """A word, and the key that gives it."""

    key: str
    word: str


class Answer(Drawn[AnswerFacts]):
    """Big letters to tap; in one line where they have no room."""

    GROWS = True

    def __init__(self, facts: AnswerFacts, action: str, classes: str) -> None:
        super().__init__()
        self.add_class("answer", classes)
        self.facts = facts
        self._action = action

    async def on_click(self) -> None:
        """Give the answer."""
        await self.run_action(self._action)

    def taps(self) -> Sequence[Tap]:
        """Return the one answer."""
        facts = self.facts
        return (Tap(facts.key, facts.word.lower(), self._action),) if facts else ()

    def draw(self, facts: AnswerFacts, width: int) -> Content:
        """Return the key in the margin, and the word in the largest letters that fit."""
        rows = big_letters.small(facts.word)
        margin = (f" {facts.key}".ljust(4), "    ", "    ")
        if not rows or self.is_lowest or len(margin[0]) + len(rows[0]) > width:
            chip = Content.styled(f" {facts.key} ", "bold reverse")
            return Content.assemble(chip, "  ", (facts.word, "bold"))
        return lines(*(Content.styled(a + b, "bold") for a, b in zip(margin, rows, strict=True)))


def answer(name: str, word: str, key: Key, classes: str) -> Answer:
    """Return the answer ``word``; ``name`` is its key in force."""
    return Answer(AnswerFacts(name, word), key.tap, classes)
