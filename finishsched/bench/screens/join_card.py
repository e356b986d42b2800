"""Before different pieces are worked as one: which of those at the same step are in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from finishsched.bench import bindings, keys
from finishsched.bench.screens.card import Body, Card, Foot, line
from finishsched.bench.widgets.drawn import Drawn, lines
from finishsched.bench.widgets.in_or_out import in_or_out, piece_of
from finishsched.bench.widgets.taps import TapLine, tap
from finishsched.workshop.base.answers import PieceView


@dataclass(frozen=True, slots=True)
class _Choice:
    pieces: tuple[PieceView, ...]
    refs: frozenset[str]


class _Pieces(Drawn[_Choice]):
    """A line for each piece, to be tapped in and out."""

    GROWS = True

    def draw(self, facts: _Choice, width: int) -> Content:
        """Return the lines."""
        return lines(*in_or_out(facts.pieces, facts.refs, width, high=self.is_touched))


class JoinCard(Card):
    """Answers ``join``; which pieces are in is read from the card."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.JOINING]
    ONCE, TWICE = "join", "close"

    def __init__(self, pieces: tuple[PieceView, ...]) -> None:
        """Take the pieces that could be in, the one in large letters first; all of them are."""
        super().__init__()
        self._choice = _Choice(pieces, frozenset(piece.ref for piece in pieces))

    @property
    def chosen(self) -> tuple[str, ...]:
        """The pieces that are in, in their order."""
        return tuple(p.ref for p in self._choice.pieces if p.ref in self._choice.refs)

    def compose(self) -> ComposeResult:
        """Lay out the question, the keys and the pieces."""
        with Body():
            yield line("As one for the evening, while their steps agree", "bold")
            yield _Pieces()
            yield Foot(TapLine([tap(key) for key in keys.JOINING]))

    def on_mount(self) -> None:
        """Show who is in to begin with."""
        self.query_one(_Pieces).show(self._choice)

    def on_key(self, event: events.Key) -> None:
        """Take the piece with this letter in, or leave it out."""
        if found := piece_of(event.character or "", self._choice.pieces):
            event.stop()
            self.action_with(found)

    def action_join(self) -> None:
        """Join those that are in."""
        if len(self.chosen) > 1:
            self.dismiss("join")

    def action_with(self, ref: str) -> None:
        """Take a piece in, or leave it out."""
        self._choice = replace(self._choice, refs=self._choice.refs ^ {ref})
        self.query_one(_Pieces).show(self._choice)
