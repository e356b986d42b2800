"""Contrast of every text on the bench, in both themes.

4.5:1 is the least contrast for text by WCAG 2.2, success criterion 1.4.3; the formula of relative
luminance is that of its glossary. 3:1 for graphics is criterion 1.4.11.
"""

import pytest
from fakes import NOW, FakeDoor, FakePiece, bench, six_pieces
from rich.color import Color
from rich.segment import Segment
from textual.strip import Strip

from finishsched.bench.app import BenchApp
from finishsched.bench.screens.board import Board
from finishsched.bench.screens.card import Body
from finishsched.bench.widgets.piece_list import PieceList
from finishsched.workshop.base.answers import State

GRAPHIC = set("─━╷┃▀▄█▌▐│╭╮╰╯┌┐└┘▁▂▃▅▆▇▊▎▔ ")


def luminance(color: Color) -> float:
    """Return the relative luminance (WCAG 2.2)."""
    channels = [c / 255 for c in color.get_truecolor()]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(segment: Segment) -> float:
    """Return the contrast of a run of text as it is painted."""
    style = segment.style
    assert style is not None
    assert style.color is not None
    assert style.bgcolor is not None
    lights = sorted((luminance(style.color), luminance(style.bgcolor)))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


def shop() -> FakeDoor:
    """Return pieces in all seven states."""
    closed = FakePiece("old/one", "Forgotten panel", laid_at=NOW.replace(day=20))
    return FakeDoor([*six_pieces(), closed], ("a notice",))


@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("no_colour", [False, True])
@pytest.mark.parametrize("press", ["", "space", "l", "w", "u"])
async def test_every_text_is_readable(
    monkeypatch: pytest.MonkeyPatch,
    theme: str,
    no_colour: bool,  # noqa: FBT001
    press: str,
) -> None:
    """Every text in every state has a contrast of 4.5:1 at least, with colours and without."""
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")
    app = bench(shop(), theme=theme)
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        if press:
            await pilot.press(press)
        await pilot.pause()
        rows = app.screen_stack[0].query_one(PieceList).rows
        states = {row.piece.state for row in rows}
        assert states == set(State)
        texts = [s for line in painted(app) for s in line if not set(s.text) <= GRAPHIC]
        assert [(s.text, contrast(s)) for s in texts if contrast(s) < 4.5] == []


def painted(app: BenchApp) -> list[Strip]:
    """Return what is painted on the board or card; a board behind a card is dimmed on purpose."""
    strips = app.screen._compositor.render_strips()
    if isinstance(app.screen, Board):
        return strips
    card = app.screen.query_one(Body).region
    return [strip.crop(card.x, card.right) for strip in strips[card.y : card.bottom]]
