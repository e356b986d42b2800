"""What every card that opens over the board has in common."""

from __future__ import annotations

from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from finishsched.bench import words
from finishsched.bench.widgets.drawn import ROOMY_HEIGHT


class Card(ModalScreen[str]):
    """A card over the board; it answers with a word, empty for 'nothing'."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012  # Textual's own form
    VERTICAL_BREAKPOINTS = [(0, "-short"), (23, "-middling"), (ROOMY_HEIGHT, "-tall")]  # noqa: RUF012

    def action_close(self) -> None:
        """Close without an answer."""
        self.dismiss("")


class Body(VerticalScroll, can_focus=False):
    """The inside of a card; it scrolls when the screen is low."""


def line(text: str, style: str = "", *, classes: str = "") -> Static:
    """Return user text as one paragraph, never read as markup."""
    return Static(Content.styled(words.plain(text), style), classes=classes, markup=False)
