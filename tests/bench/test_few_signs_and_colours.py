"""The bench on terminals that can show little: plain signs alone, and sixteen colours."""

from __future__ import annotations

import pytest
from fakes import NOW, FakeDoor, FakePiece, bench, six_pieces
from rich.color import Color, ColorSystem
from rich.segment import Segment
from test_board import screen_text
from test_contrast import GRAPHIC, luminance, painted

from finishsched.bench.drawing.themes import IN_FEW

SIZES = [(40, 12), (60, 20), (80, 24), (120, 40)]
OLD_PALETTE = [
    (0, 0, 0), (170, 0, 0), (0, 170, 0), (170, 85, 0), (0, 0, 170), (170, 0, 170), (0, 170, 170),
    (170, 170, 170), (85, 85, 85), (255, 85, 85), (85, 255, 85), (255, 255, 85), (85, 85, 255),
    (255, 85, 255), (85, 255, 255), (255, 255, 255),
]  # fmt: skip
"""Of text screens; common practice, no source: the sixteen that most terminals began with."""
LATER_PALETTE = [
    (0, 0, 0), (205, 0, 0), (0, 205, 0), (205, 205, 0), (0, 0, 238), (205, 0, 205), (0, 205, 205),
    (229, 229, 229), (127, 127, 127), (255, 0, 0), (0, 255, 0), (255, 255, 0), (92, 92, 255),
    (255, 0, 255), (0, 255, 255), (255, 255, 255),
]  # fmt: skip
"""Of terminals under a window system; common practice, no source."""


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("press", ["", "space", "l", "w", "question_mark"])
async def test_plain_signs_are_all_there_is(
    size: tuple[int, int], press: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked for plain signs, the board and its cards draw no sign beyond Latin-1."""
    monkeypatch.setenv("FINISHSCHED_PLAIN", "1")
    app = bench()
    async with app.run_test(size=size) as pilot:
        if press:
            await pilot.press(press)
        await pilot.pause()
        text = screen_text(app)
        assert {sign for sign in text if ord(sign) >= 0x100} == set()


async def test_without_the_wish_the_signs_are_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same board on a usual terminal has its large letters."""
    monkeypatch.delenv("FINISHSCHED_PLAIN", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    app = bench()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "█" in screen_text(app)


def shown_by(palette: list[tuple[int, int, int]], color: Color) -> Color:
    """Return a colour as a terminal with this palette of sixteen shows it."""
    few = color.downgrade(ColorSystem.STANDARD)
    assert few.number is not None
    return Color.from_rgb(*palette[few.number])


def contrast_in(palette: list[tuple[int, int, int]], segment: Segment) -> float:
    """Return the contrast of a run of text on a terminal with this palette (WCAG 2.2)."""
    style = segment.style
    assert style is not None
    assert style.color is not None
    assert style.bgcolor is not None
    lights = sorted(luminance(shown_by(palette, one)) for one in (style.color, style.bgcolor))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


@pytest.mark.parametrize("palette", [OLD_PALETTE, LATER_PALETTE], ids=["old", "later"])
@pytest.mark.parametrize("wish", ["dark", "light"])
@pytest.mark.parametrize("press", ["", "space", "l", "w"])
async def test_sixteen_colours_can_be_read(
    palette: list[tuple[int, int, int]], wish: str, press: str
) -> None:
    """In sixteen colours text keeps 4.5:1 and what is drawn 3:1, on two common palettes.

    The limits are those of WCAG 2.2, 1.4.3 and 1.4.11; no yellow stands on white.
    """
    closed = FakePiece("old/one", "Forgotten panel", laid_at=NOW.replace(day=20))
    app = bench(FakeDoor([*six_pieces(), closed], ("a notice",)))
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        app.theme = IN_FEW[wish].name
        if press:
            await pilot.press(press)
        await pilot.pause()
        runs = [run for line in painted(app) for run in line if run.text.strip()]
        texts = [run for run in runs if not set(run.text) <= GRAPHIC]
        assert texts
        hard = [(run.text, contrast_in(palette, run)) for run in texts]
        assert [one for one in hard if one[1] < 4.5] == []
        drawn = [run for run in runs if set(run.text) <= GRAPHIC]
        faint = [(run.text, contrast_in(palette, run)) for run in drawn]
        assert [one for one in faint if one[1] < 3] == []
