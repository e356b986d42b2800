"""A list to choose from: each line has a key of its own, and one press takes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.message import Message

from finishsched.bench import bindings, keys, words
from finishsched.bench.screens.card import Body, Card, Foot, line
from finishsched.bench.screens.page import PageText, Paragraph
from finishsched.bench.widgets.drawn import LOWEST_HEIGHT, Drawn, lines
from finishsched.bench.widgets.taps import TapLine, tap

SIGNS = "123456789abcdefghijklmnoprstuvwxyzABCDEFGHIJKLMNOPRSTUVWXYZ"
"""The keys of the lines, in order: no list of ours is longer."""
_AROUND = 4
"""Cells about the key of a line, in its chip and after it."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One line to choose, and what choosing it answers."""

    answer: str
    text: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class _RowFacts:
    sign: str
    choice: Choice


class ChoiceRow(Drawn[_RowFacts]):
    """One line with its key."""

    GROWS = True

    class Touched(Message):
        """Somebody pointed at a line."""

        def __init__(self, answer: str) -> None:
            super().__init__()
            self.answer = answer

    def __init__(self, sign: str, choice: Choice) -> None:
        super().__init__()
        self.facts = _RowFacts(sign, choice)

    @property
    def answer(self) -> str:
        """What it answers."""
        return self.facts.choice.answer if self.facts is not None else ""

    def take_sign(self, sign: str) -> None:
        """Stand under another key, or under none."""
        if self.facts is not None and self.facts.sign != sign:
            self.show(replace(self.facts, sign=sign))

    def on_click(self) -> None:
        """Say which line was pointed at."""
        if self.facts is not None:
            self.post_message(self.Touched(self.facts.choice.answer))

    def draw(self, facts: _RowFacts, width: int) -> Content:
        """Return the key, the text beside it, and the detail below that."""
        margin = " " * (max(1, len(facts.sign)) + _AROUND)
        room = max(8, width - len(margin))
        text = words.wrap(words.plain(facts.choice.text), room)
        sign = (f" {facts.sign} ", "bold reverse") if facts.sign else ("   ", "")
        chip = Content.assemble(sign, "  ", (text[0], "bold"))
        detail = words.wrap(words.plain(facts.choice.detail), room) if facts.choice.detail else []
        return lines(
            chip,
            *(Content.styled(margin + more, "bold") for more in text[1:]),
            *(Content.styled(margin + more, "$text-muted") for more in detail),
        )


class ChoiceCard(Card):
    """Answers with what was chosen, or with nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.CHOICE]

    def __init__(
        self,
        title: str,
        what: str,
        choices: Sequence[Choice],
        before: tuple[Paragraph, ...] = (),
        after: tuple[Paragraph, ...] = (),
    ) -> None:
        """Take the lines; ``what`` says in a few words what a key of theirs is for: ``log it``."""
        super().__init__()
        self._title = title
        self._what = what
        self.choices = tuple(zip(SIGNS, choices, strict=False))
        self.before = before
        self.after = after

    def compose(self) -> ComposeResult:
        """Lay out the title, the keys, and the lines between what is to be read."""
        with Body():
            yield line(self._title, "bold")
            if self.choices:
                yield line(self._signs(), "bold $text-primary", classes="title")
            # On a low screen what there is to choose has to be in sight at once.
            low = self.app.size.height < LOWEST_HEIGHT
            if self.before and not low:
                yield PageText(self.before, classes="before")
            for sign, choice in self.choices:
                yield ChoiceRow(sign, choice)
            if self.before and low:
                yield PageText(self.before, classes="before")
            if self.after:
                yield PageText(self.after, classes="after")
            yield Foot(TapLine([tap(key) for key in keys.CHOICE]))

    def _signs(self) -> str:
        first, last = self.choices[0][0], self.choices[-1][0]
        signs = first if first == last else f"{first} to {last}"
        return f"{signs}: {self._what}"

    def on_key(self, event: events.Key) -> None:
        """Take the line whose key was pressed."""
        found = [choice for sign, choice in self.choices if sign == event.character]
        if found:
            event.stop()
            event.prevent_default()
            self.dismiss(found[0].answer)

    def on_choice_row_touched(self, message: ChoiceRow.Touched) -> None:
        """Take the line that was pointed at."""
        self.dismiss(message.answer)
