"""One piece in one line, or in two where there is room for that."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.at_hand.next_thing import is_told_late, step_line, step_title, when
from finishsched.bench.drawing import state_marks
from finishsched.bench.widgets.drawn import lines
from finishsched.workshop.base.answers import PieceView

_WHEN_CELLS = 13
_PERCENT_CELLS, _PERCENT_FROM, _PERCENT_FROM_ROOMY = 6, 70, 50
_WORD_FROM = 48
"""On a narrower row the state is told by its mark alone; its word stands in the large letters."""
_STEP_FROM_ROOM, _PLACE_FROM_ROOM = 37, 68


@dataclass(frozen=True, slots=True)
class RowFacts:
    """One piece, whether it is the chosen one, and a mark of where its row went of late."""

    piece: PieceView
    now: datetime
    chosen: bool
    moved: str = ""
    late_min: int = 0
    """By how much the plan has it after its due date."""


@dataclass(frozen=True, slots=True)
class RowRoom:
    """What a row has room for: cells, lines, and whether the screen is roomy."""

    width: int
    height: int
    is_roomy: bool


def draw_row(facts: RowFacts, room: RowRoom) -> Content:
    """Return mark, state, title, step and time in columns; the step below where there is room.

    The chosen row is marked by more than its colour.
    """
    piece, width, is_high = facts.piece, room.width, room.height > 1
    wide = width >= _PERCENT_FROM or (room.is_roomy and width >= _PERCENT_FROM_ROOMY)
    cells = _WHEN_CELLS + (_PERCENT_CELLS if wide else 0)
    label = state_marks.label(piece) if width >= _WORD_FROM else piece.mark
    left = width - 2 - len(label) - 2 - cells - 1
    step, step_cells = ("", 0) if is_high else _step_column(piece, left)
    weight = "bold" if facts.chosen else ""
    title = words.fit(words.plain(piece.title), left - step_cells)
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
    is_late = is_told_late(piece, facts.late_min)
    when_style = f"{weight} $text-warning".strip() if is_late else weight
    told = when(piece, facts.now, facts.late_min)
    parts.append((told.rjust(_WHEN_CELLS + 1), when_style))
    row = Content.assemble(*parts)
    if not is_high:
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
