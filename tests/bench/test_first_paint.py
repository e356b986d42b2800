"""What is done before the bench first shows is done once, and the board is whole from the first."""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Any

import pytest
from fakes import bench
from textual.app import App, ComposeResult
from textual.content import Content
from textual.css.stylesheet import Stylesheet
from textual.filter import ANSIToTruecolor
from textual.screen import Screen

from finishsched.bench.at_terminal import OBJECTS_BEFORE_A_LOOK, _look_at_new_objects_only
from finishsched.bench.drawing.themes import IN_FEW, THEMES, dress
from finishsched.bench.widgets.drawn import Drawn, lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.terminal_theme import TerminalTheme

SIZES = [(40, 12), (60, 20), (80, 24), (120, 40)]


@pytest.fixture
def usual_looks() -> Iterator[None]:
    """Have Python look for objects as it did, once the test is over."""
    before = gc.get_threshold()
    yield
    gc.unfreeze()
    gc.set_threshold(*before)


def count_calls(monkeypatch: pytest.MonkeyPatch, owner: type, name: str) -> list[object]:
    """Return a list that grows by each call of a method."""
    calls: list[object] = []
    usual = getattr(owner, name)

    def watched(self: object, *args: Any, **named: Any) -> Any:
        calls.append(self)
        return usual(self, *args, **named)

    monkeypatch.setattr(owner, name, watched)
    return calls


def line_of(text: str, painted: str) -> int:
    """Return in which line something stands; -1 for none."""
    return next((at for at, line in enumerate(painted.split("\n")) if text in line), -1)


def colours_of(app: App[None]) -> list[TerminalTheme]:
    """Return by which palettes an app turns the colours of a terminal into its own."""
    return [one._terminal_theme for one in app._filters if isinstance(one, ANSIToTruecolor)]


@pytest.mark.parametrize("size", SIZES)
async def test_the_first_paint_of_the_board_shows_the_facts(size: tuple[int, int]) -> None:
    """No empty board comes before it, and what is painted stays until there is more to tell."""
    app = bench()
    painted: list[str] = []

    def keep() -> None:
        strips = app.screen._compositor.render_strips()
        painted.append("\n".join(strip.text for strip in strips))

    app.post_display_hook = keep  # type: ignore[method-assign]
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
    for text in ("18:42", "Lid, sunburst", "make the dry check", "› ?", "? keys"):
        assert text in painted[0]
    untold = [text for text in painted if "*" not in text]  # the first beat's notice moves all
    for text in ("› ?", "dried  "):
        assert len({line_of(text, each) for each in untold}) == 1


@pytest.mark.parametrize("theme", ["dark", "light"])
async def test_styles_are_read_once(theme: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The theme is known when the styles are first read, so that none is read a second time."""
    again = count_calls(monkeypatch, Stylesheet, "reparse")
    app = bench(theme=theme)
    async with app.run_test() as pilot:
        await pilot.pause()
        assert again == []
        assert app.current_theme is THEMES[theme] or app.current_theme in IN_FEW.values()


@pytest.mark.parametrize("wish", ["dark", "light", "no such"])
async def test_a_theme_that_an_app_begins_in_is_as_one_that_is_set(wish: str) -> None:
    """Classes, colours and filters come to the same as where a theme is set on a running app."""
    begun, set_later = App[None](), App[None]()
    dress(begun, wish)
    for theme in (*THEMES.values(), *IN_FEW.values()):
        set_later.register_theme(theme)
    async with set_later.run_test() as pilot, begun.run_test():
        set_later.theme = begun.theme
        await pilot.pause()
        assert begun.classes == set_later.classes
        assert begun.stylesheet._variables == set_later.stylesheet._variables
        assert begun.theme_variables == set_later.theme_variables
        assert colours_of(begun) == colours_of(set_later)
        assert begun.screen.styles.background == set_later.screen.styles.background


class Words(Drawn[str]):
    """Words, one below the other."""

    GROWS = True
    DEFAULT_CSS = "Words { height: auto; }"

    def draw(self, facts: str, width: int) -> Content:  # noqa: ARG002  # as all are drawn
        """Return each in its line."""
        return lines(*map(Content, facts.split()))


class OfWords(App[None]):
    """An app of nothing else."""

    def compose(self) -> ComposeResult:
        """Show some."""
        yield Words()


async def test_what_keeps_its_height_lays_nothing_out_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """Other words in as many lines are painted where they stand; in more, they get their room."""
    app = OfWords()
    async with app.run_test() as pilot:
        words = app.query_one(Words)
        words.show("one two")
        await pilot.pause()
        assert words.size.height == 2
        laid_out = count_calls(monkeypatch, Screen, "_refresh_layout")
        words.show("three four")
        await pilot.pause()
        assert (words.drawn.plain, laid_out) == ("three\nfour", [])
        words.show("three four five")
        await pilot.pause()
        assert words.size.height == 3
        assert laid_out


async def test_what_was_told_while_it_was_hidden_shows_once_it_is_seen() -> None:
    """Nothing that was drawn before it was hidden stands there when it is shown again."""
    app = OfWords()
    async with app.run_test() as pilot:
        words = app.query_one(Words)
        words.show("one two")
        await pilot.pause()
        words.display = False
        await pilot.pause()
        words.show("three four")
        words.display = True
        await pilot.pause()
        assert words.drawn.plain == "three\nfour"


def test_what_was_loaded_to_begin_with_is_looked_through_no_more(usual_looks: None) -> None:  # noqa: ARG001
    """Once the bench shows, Python looks for idle objects among new ones alone, and few of them."""
    gc.unfreeze()
    _look_at_new_objects_only()
    assert gc.get_freeze_count() > OBJECTS_BEFORE_A_LOOK
    assert gc.get_threshold()[0] == OBJECTS_BEFORE_A_LOOK
