"""A long list that narrows to what is typed: a digit takes a line, letters begin words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from textual import events
from textual.app import ComposeResult
from textual.widgets import Static

from finishsched.bench import keys
from finishsched.bench.screens.card import Body, Foot, line
from finishsched.bench.screens.choice import Choice, ChoiceCard, ChoiceRow
from finishsched.bench.widgets.taps import TapLine, tap

OWN: Final = "own words: "
"""What an answer begins with that is nobody's name for it; the words stand behind."""
_DIGITS = "123456789"


class NarrowingCard(ChoiceCard):
    """Answers with a line that was taken, or with the words that fit none of them.

    Nine lines at most have a digit, of those that fit what is typed; enter goes on with the words.
    """

    def __init__(self, title: str, what: str, choices: Sequence[Choice], otherwise: str) -> None:
        """Take the lines; ``otherwise`` says what enter is for."""
        super().__init__(title, what, choices)
        self._lines = tuple(choices)
        self._otherwise = otherwise
        self._typed = ""
        self._number_lines(self._lines)

    def compose(self) -> ComposeResult:
        """Lay out the title, what is typed, and the lines."""
        with Body():
            yield line(self._title, "bold")
            yield Static(self._says(), id="typed", classes="title", markup=False)
            for sign, choice in self.choices:
                yield ChoiceRow(sign, choice)
            yield ChoiceRow("enter", Choice(OWN, self._otherwise))
            yield Foot(TapLine([tap(key) for key in keys.CHOICE]))

    def on_key(self, event: events.Key) -> None:
        """Take a line by its digit; keep anything else that is written as words."""
        sign, is_written = event.character or "", event.is_printable
        found = [choice for own, choice in self.choices if own == sign and own]
        if event.key == "enter":
            self.dismiss(f"{OWN}{self._typed}")
        elif found:
            self.dismiss(found[0].answer)
        elif event.key == "backspace" and self._typed:
            self._narrow(self._typed[:-1])
        elif is_written and (self._typed or (sign.isalnum() and sign not in "q" + _DIGITS)):
            self._narrow(self._typed + sign)
        else:
            return
        event.stop()
        event.prevent_default()

    def _narrow(self, typed: str) -> None:
        """Show what fits; words that fit nothing are somebody's own."""
        self._typed = typed
        fitting = [choice for choice in self._lines if _fits(choice.text, typed)]
        if not fitting:
            self.dismiss(f"{OWN}{typed}")
            return
        self._number_lines(fitting)
        signs = {choice.answer: sign for sign, choice in self.choices}
        for row in self.query(ChoiceRow):
            row.display = row.answer in signs or row.answer == OWN
            row.take_sign(signs.get(row.answer, "enter"))
        self.query_one("#typed", Static).update(self._says())

    def _number_lines(self, shown: Sequence[Choice]) -> None:
        signs = [*_DIGITS, *[""] * len(shown)]
        self.choices = tuple(zip(signs, shown, strict=False))

    def _says(self) -> str:
        last = min(len(self.choices), len(_DIGITS))
        signs = "1" if last == 1 else f"1 to {last}"
        return f"{signs}: {self._what}, or type it: {self._typed}▏"


def _fits(text: str, typed: str) -> bool:
    """Tell whether a name, or a later word of it, begins as was typed."""
    words, wanted = text.lower(), typed.lower()
    return any(words.startswith(wanted, match.start()) for match in re.finditer(r"\b\w", words))
