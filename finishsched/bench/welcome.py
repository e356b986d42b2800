"""The welcome where no shop is: begin one, look round in an invented one, open one used before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from textual.app import App

from finishsched.bench.drawing.themes import dress
from finishsched.bench.plain_signs import in_signs_to_be_had
from finishsched.bench.screens.choice import Choice, ChoiceCard
from finishsched.bench.screens.page import Paragraph
from finishsched.bench.widgets.drawn import LOWEST_HEIGHT

if TYPE_CHECKING:
    from textual.filter import LineFilter

    from finishsched.model.settings import Settings

NEW, NEW_US, DEMO, OPEN = "new", "new:us", "demo", "open:"
_SAYS = (
    Paragraph("", "finishsched goes with a piece from raw wood to a clear, level film."),
    Paragraph("", "It keeps what it knows in a folder of plain files: a shop. There is none here."),
)


class WelcomeApp(App[str]):
    """Answers with what is wanted; empty for nothing."""

    CSS_PATH = Path(__file__).with_name("bench.tcss")
    TITLE = "finishsched"
    ENABLE_COMMAND_PALETTE = False

    def __init__(self, place: Path, known: Sequence[Path], settings: Settings) -> None:
        """Take where a shop would be made, and the shops that were used before."""
        super().__init__()
        self._place = place
        self._known = known
        dress(self, settings.theme)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Draw in plain signs where no others are to be had, or wished for."""
        return in_signs_to_be_had(super().get_line_filters())

    def on_mount(self) -> None:
        """Ask."""
        choices = [
            Choice(NEW, "Begin a shop here", f"in grams and millimetres: {self._place}"),
            Choice(NEW_US, "Begin a shop here, in US units", "in ounces, inches and degF"),
            Choice(DEMO, "Look round in an invented shop", "thrown away at the end"),
            *(Choice(f"{OPEN}{path}", f"Open {path.name}", str(path)) for path in self._known),
        ]
        if self.size.height < LOWEST_HEIGHT:
            # What there is to choose is in sight at once; where it would be stands below.
            choices = [replace(choice, detail="") for choice in choices]
        says = (*_SAYS, Paragraph("", f"Here: {self._place}"))
        self.push_screen(ChoiceCard("Welcome", "do it", choices, before=says), self._answered)

    def _answered(self, answer: str | None) -> None:
        self.exit(answer or "")


def welcome(place: Path, known: Sequence[Path], settings: Settings) -> str:
    """Ask what to do where no shop is; empty for nothing."""
    return WelcomeApp(place, known, settings).run() or ""
