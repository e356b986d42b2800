"""A schedule in one's own words: lines are typed, and what each becomes stands below them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.timer import Timer
from textual.widgets import Input, Static, TextArea

from finishsched.bench import bindings, keys, words
from finishsched.bench.screens.card import Body, Card, Foot, line
from finishsched.bench.screens.form import Field
from finishsched.bench.typed.beginning import LinesAsked
from finishsched.bench.widgets.taps import Tap, TapLine, tap
from finishsched.workshop.begin.own_lines import OwnLines

_EXAMPLE = """sand 120, 180, 240
pad 1.5 lb blonde shellac, soak, 3 h
6 coats 2 lb, 15 min between, overnight
wet sand 500, 3 h
thin by half, last 4 coats
cure 5 days
"""
_TITLE = "How you do it, a line a step"
_PAUSE_S = 0.4
"""Lines are read once nobody has typed for so long."""


class LinesCard(Card):
    """Shows what lines become while they are typed, and offers them to be kept."""

    BINDINGS: ClassVar[list[BindingType]] = [
        bindings.binding(keys.CLOSE),
        Binding("ctrl+s", "keep", "keep it", id="lines-keep", priority=True),
    ]

    class Offered(Message):
        """Lines are to be kept as a schedule."""

        def __init__(self, card: LinesCard, asked: LinesAsked) -> None:
            super().__init__()
            self.card = card
            self.asked = asked

    def __init__(self, read: Callable[[LinesAsked], OwnLines]) -> None:
        """``read`` reads lines as the shop would, and writes nothing."""
        super().__init__()
        self._read = read
        self._soon: Timer | None = None
        self.faults: Mapping[str, str] = {}
        """What is wrong with the lines stands below them, by their numbers."""
        self.refused = ""
        """Why they were not kept, as told last."""

    @property
    def title_words(self) -> str:
        """What is asked."""
        return _TITLE

    def fields(self) -> tuple[Field, ...]:
        """Return the name and the lines, for a page that shows them itself."""
        text, name = self.query_one("#lines", TextArea).text, self.query_one("#name", Input).value
        return (
            Field("name", "what it is called", value=name),
            Field("lines", "a line a step", value=text, lines=8),
        )

    def compose(self) -> ComposeResult:
        """Lay out the name, the lines, and what they become."""
        with Body():
            yield line(_TITLE, "bold", classes="title")
            yield Input("my own way", id="name", compact=True)
            yield TextArea(_EXAMPLE, id="lines", tab_behavior="focus")
            yield Static("", id="fault", markup=False)
            yield Static("", id="becomes", markup=False)
            yield Foot(TapLine([Tap("ctrl+s", "keep it", "screen.keep"), tap(keys.CLOSE)]))

    def on_mount(self) -> None:
        """Show what stands there."""
        self.query_one("#lines", TextArea).focus()
        self._show()

    @on(TextArea.Changed)
    def read_soon(self) -> None:
        """Read the lines once the typing pauses."""
        if self._soon is not None:
            self._soon.stop()
        self._soon = self.set_timer(_PAUSE_S, self._show)

    def action_keep(self) -> None:
        """Offer the lines to be kept."""
        self.post_message(self.Offered(self, self._asked()))

    def refuse(self, text: str) -> None:
        """Say what is wrong, and keep what was typed."""
        self.refused = words.plain(text)
        fault = self.query_one("#fault", Static)
        fault.update(Content.styled(f"! {words.plain(text)}", "bold $text-error"))

    def _asked(self) -> LinesAsked:
        text = self.query_one("#lines", TextArea).text
        return LinesAsked(text, self.query_one("#name", Input).value.strip())

    def _show(self) -> None:
        said = "\n".join(words.plain(text) for text in _becomes(self._read(self._asked())))
        self.query_one("#becomes", Static).update(Content(said))


def _becomes(own: OwnLines) -> Iterator[str]:
    """Give what lines become: faults first, then each line with its steps, doubts and findings."""
    for fault in own.read.faults:
        yield f"! line {fault.line}: {fault.without_place}"
    by_line: dict[int, list[str]] = {}
    for step, number in own.read.step_lines.items():
        by_line.setdefault(number, []).append(step)
    for number, steps in sorted(by_line.items()):
        assumed = sum(each.line == number for each in own.read.assumed)
        more = f", {assumed} things by our assumption" if assumed else ""
        yield f"{number}  {', '.join(steps)}{more}"
    for doubt in own.read.doubts:
        yield f"?  line {doubt.place.line}: {doubt.question}"
    for finding in own.findings:
        yield f"-  line {finding.line}: {finding.without_place}"
