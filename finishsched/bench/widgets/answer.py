"""An answer in big letters, with its key; a tap anywhere on it gives it."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static

from finishsched.bench.drawing import letters
from finishsched.bench.keys import Key


class Answer(Static):
    """Big letters to tap."""

    def __init__(self, text: Content, action: str, classes: str) -> None:
        super().__init__(text, classes=f"answer {classes}", markup=False)
        self._action = action

    async def on_click(self) -> None:
        """Give the answer."""
        await self.run_action(self._action)


def answer(name: str, word: str, key: Key, classes: str) -> Answer:
    """Return the answer ``word``; ``name`` is its key in force."""
    margin = (f" {name}".ljust(4), "    ", "    ")
    rows = zip(margin, letters.small(word), strict=True)
    drawn = (Content.assemble((a, "bold"), (b, "bold")) for a, b in rows)
    return Answer(Content("\n").join(drawn), key.tap, classes)
