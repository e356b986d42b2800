"""What every card that opens over the board has in common."""

from __future__ import annotations

from datetime import tzinfo
from typing import TYPE_CHECKING

from textual.await_complete import AwaitComplete
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from finishsched.bench import keys, words
from finishsched.bench.lasting import Lasting
from finishsched.bench.widgets.drawn import ROOMY_HEIGHT, draw_what_is_not_whole, fit, is_lowest
from finishsched.bench.widgets.taps import TapLine, tap

if TYPE_CHECKING:
    from finishsched.bench.parts.drafts import Drafts


class Card(Lasting, ModalScreen[str]):
    """A card over the board; it answers with a word, empty for 'nothing'."""

    ONCE, TWICE = "turn(1)", "close"
    """What one press of the one button does, and what two do."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012  # Textual's own form
    VERTICAL_BREAKPOINTS = [(0, "-short"), (23, "-middling"), (ROOMY_HEIGHT, "-tall")]  # noqa: RUF012

    def take_up(self, drafts: Drafts, zone: tzinfo) -> None:
        """Go on with what was typed when it was left; a card without fields has nothing of that."""

    def on_mount(self) -> None:
        """Open in the look for the room that there is."""
        fit(self)
        self.set_class(is_lowest(self.app), "-lowest")

    def on_resize(self) -> None:
        """Leave out what is only good to know where there is no room for it."""
        self.set_class(is_lowest(self.app), "-lowest")
        draw_what_is_not_whole(self)

    def dismiss(self, result: str | None = None) -> AwaitComplete:
        """Close with an answer, once: keys that were pressed meanwhile are no second one."""
        return super().dismiss(result) if self.app.screen is self else AwaitComplete()

    def action_turn(self, pages: int) -> None:
        """Turn by half the height."""
        body = self.query_one(Body)
        body.scroll_relative(y=pages * max(1, body.size.height // 2), animate=False)

    def action_close(self) -> None:
        """Close without an answer."""
        self.dismiss("")


class Body(VerticalScroll, can_focus=False, inherit_bindings=False):
    """The inside of a card; it scrolls when the screen is low.

    Its keys are the card's: the toolkit's own would turn it at ↓, where a form goes on to
    its next field.
    """


class Foot(Vertical, can_focus=False):
    """What is tapped at the foot of a card; it stays where it is while the rest turns."""


def reading_foot() -> Foot:
    """Return the line that closes and turns what is read."""
    return Foot(TapLine([tap(key) for key in keys.READING]))


def line(text: str, style: str = "", *, classes: str = "") -> Static:
    """Return user text as one paragraph, never read as markup."""
    return Static(Content.styled(words.plain(text), style), classes=classes, markup=False)
