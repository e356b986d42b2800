"""Every key in force, by what it is for; those of the board can be tapped here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from finishsched.bench import bindings, keys
from finishsched.bench.screens.card import Body, Card, line, reading_foot
from finishsched.bench.screens.choice import Choice, ChoiceRow
from finishsched.bench.screens.page import PageText, Paragraph
from finishsched.bench.widgets.drawn import LOWEST_HEIGHT
from finishsched.bench.widgets.taps import Tap, TapLine
from finishsched.workshop.base.answers import LATER_MARK, LATER_WORD, State

NO_KEY = "none"


class KeyCard(Card):
    """Answers with the id of the key that was tapped."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.READING]

    def __init__(self, force: Mapping[str, str]) -> None:
        """Take the keys in force by their ids, those of other screens too."""
        super().__init__()
        self._force = force

    def compose(self) -> ComposeResult:
        """Lay out the keys by group, the marks last."""
        with Body():
            yield line("Keys in force", "bold")
            if self.app.size.height < LOWEST_HEIGHT:
                yield TapLine([self._tap(key) for key in keys.BOARD])
            yield from self._rows()
            yield PageText(self._others(), classes="after")
            yield reading_foot()

    def _tap(self, key: keys.Key) -> Tap:
        name = self._force.get(key.id, NO_KEY).split(", ")[0]
        return Tap(name, key.words, f"screen.take('{key.id}')")

    def _rows(self) -> ComposeResult:
        group = ""
        for key in keys.BOARD:
            if key.group != group:
                group = key.group
                yield line(f"{group}; each line can be tapped", "bold $text-primary")
            name = self._force.get(key.id) or NO_KEY
            first, *others = name.split(", ")
            or_else = f"or {', '.join(others)}" if others else ""
            yield ChoiceRow(first, Choice(key.id, key.tooltip, or_else))

    def _others(self) -> tuple[Paragraph, ...]:
        told: list[Paragraph] = []
        group = ""
        for key in keys.OTHER_SCREENS:
            if key.group != group:
                group = key.group
                told += [Paragraph("", ""), Paragraph("", group, "bold $text-primary")]
            told.append(Paragraph(self._force.get(key.id) or NO_KEY, key.tooltip))
        told += [Paragraph("", ""), Paragraph("", "the marks", "bold $text-primary")]
        marks = [(state.mark, state.value) for state in State]
        marks.append((LATER_MARK, f"{LATER_WORD}: to do, and left for later hours"))
        return (*told, *(Paragraph(mark, word) for mark, word in marks))

    def on_choice_row_touched(self, message: ChoiceRow.Touched) -> None:
        """Answer with the key that was tapped."""
        self.dismiss(message.answer)

    def action_take(self, id_: str) -> None:
        """Answer with the key that was tapped among all of them."""
        self.dismiss(id_)
