"""Every piece in one line each; a row stays with its piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message

from finishsched.bench import words
from finishsched.bench.at_hand.next_thing import step_line, step_title, when
from finishsched.bench.drawing import state_marks
from finishsched.bench.widgets.drawn import Drawn, lines
from finishsched.workshop.base.answers import BenchView, PieceView

_WHEN_CELLS = 13
_PERCENT_CELLS, _PERCENT_FROM, _PERCENT_FROM_ROOMY = 6, 70, 50
_WORD_FROM = 48
"""On a narrower row the state is told by its mark alone; its word stands in the large letters."""
_STEP_FROM_ROOM, _PLACE_FROM_ROOM = 40, 68


@dataclass(frozen=True, slots=True)
class RowFacts:
    """One piece, whether it is the chosen one, and a mark of where its row went of late."""

    piece: PieceView
    now: datetime
    chosen: bool
    moved: str = ""


class Row(Drawn[RowFacts]):
    """One piece in one line."""

    class Touched(Message):
        """Somebody pointed at a row."""

        def __init__(self, ref: str) -> None:
            super().__init__()
            self.ref = ref

    def show(self, facts: RowFacts) -> None:
        """Take the piece; the chosen row is marked by more than its colour."""
        self.set_class(facts.chosen, "-chosen")
        super().show(facts)

    def on_click(self) -> None:
        """Say which piece was pointed at."""
        if self.facts is not None:
            self.post_message(self.Touched(self.facts.piece.ref))

    def draw(self, facts: RowFacts, width: int) -> Content:
        """Return mark, state, title, step and time in columns."""
        piece = facts.piece
        wide = width >= _PERCENT_FROM or (self.is_roomy and width >= _PERCENT_FROM_ROOMY)
        cells = _WHEN_CELLS + (_PERCENT_CELLS if wide else 0)
        label = state_marks.label(piece) if width >= _WORD_FROM else piece.mark
        room = width - 2 - len(label) - 2 - cells - 1
        high = self.is_roomy or self.is_touched
        step, step_cells = ("", 0) if high else _step_column(piece, room)
        weight = "bold" if facts.chosen else ""
        title = words.fit(words.plain(piece.title), room - step_cells)
        parts: list[Content | str | tuple[str, str]] = [
            ("›" if facts.chosen else " ", "bold $text-primary"),
            (facts.moved or " ", "$text-accent"),
            (label, f"bold {state_marks.colour(piece)}"),
            "  ",
            (title, weight),
            (words.fit(step, step_cells), "$text-muted"),
        ]
        if cells > _WHEN_CELLS:
            parts.append((_percent(piece).rjust(_PERCENT_CELLS), "$text-muted"))
        parts.append((when(piece, facts.now).rjust(_WHEN_CELLS + 1), weight))
        row = Content.assemble(*parts)
        if not high:
            return row
        under = words.fit(" " * (4 + state_marks.LABEL_CELLS) + step_line(piece), width)
        return lines(row, Content.styled(under, "$text-muted"))


def _percent(piece: PieceView) -> str:
    """Return how far a running wait has come; nothing for others."""
    if piece.clock is None or not piece.state.dries:
        return ""
    return f"{piece.clock.percent:.0f} %"


def _step_column(piece: PieceView, room: int) -> tuple[str, int]:
    """Return the step as long as there is room for, and its width, a gap before it included."""
    if room < _STEP_FROM_ROOM:
        return "", 0
    if room < _PLACE_FROM_ROOM:
        return f"  {step_title(piece)}", 22
    return f"  {step_line(piece)}", room * 11 // 20


class PieceList(VerticalScroll, can_focus=False):
    """The rows, kept by their piece's reference."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002  # Textual's own name
        super().__init__(id=id)
        self._rows: dict[str, Row] = {}
        self._shown: tuple[str, list[str]] = ("", [])

    def show(self, view: BenchView, chosen: str, moved: Mapping[str, str]) -> None:
        """Show the pieces of ``view``: rows are moved and updated, made only for new pieces."""
        refs = [piece.ref for piece in view.pieces]
        for gone in self._rows.keys() - set(refs):
            self._rows.pop(gone).remove()
        fresh = [ref for ref in refs if ref not in self._rows]
        self._rows |= {ref: Row() for ref in fresh}
        self.mount_all(self._rows[ref] for ref in fresh)
        self._put_in_order(refs)
        for piece in view.pieces:
            self._rows[piece.ref].show(
                RowFacts(piece, view.now, piece.ref == chosen, moved.get(piece.ref, ""))
            )
        # A list that was turned by hand stays there until another row is chosen, or rows move.
        if chosen in self._rows and self._shown != (chosen, refs):
            self._shown = (chosen, refs)
            self.scroll_to_widget(self._rows[chosen], animate=False)

    def _put_in_order(self, refs: list[str]) -> None:
        if list(self._rows) == refs and [*self.children] == [self._rows[ref] for ref in refs]:
            return
        if len(self.children) < len(refs):
            return  # nothing is mounted any more while the app closes
        self._rows = {ref: self._rows[ref] for ref in refs}
        for position, row in enumerate(self._rows.values()):
            if self.children[position] is not row:
                self.move_child(row, before=position)
