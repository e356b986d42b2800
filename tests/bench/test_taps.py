"""By taps alone: whatever a key does can be tapped, on every screen and at every size."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from fakes import HOUR, MINUTE, NOW, ZONE, FakeDoor, WatchedBench, bench, six_pieces
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.screen import Screen

from finishsched.bench import keys
from finishsched.bench.screens.choice import Choice, ChoiceCard
from finishsched.bench.screens.dry_check import DryCheckCard
from finishsched.bench.screens.join_card import JoinCard
from finishsched.bench.screens.key_card import KeyCard
from finishsched.bench.screens.lines import LinesCard
from finishsched.bench.screens.page import Page, Paragraph
from finishsched.bench.screens.plan import PlanScreen
from finishsched.bench.screens.question import QuestionCard
from finishsched.bench.widgets.answer import Answer
from finishsched.bench.widgets.drawn import LOWEST_HEIGHT
from finishsched.workshop.base.answers import Window, WindowKind

SIZES = [(80, 24), (60, 20), (40, 12)]
LONG = "so long a text that it has to be turned on a low screen, and more than once. " * 12


def shown(app: WatchedBench) -> list[str]:
    """Return the lines on the screen."""
    return [strip.text for strip in app.screen._compositor.render_strips()]


def actions_on(app: WatchedBench) -> dict[str, tuple[int, int]]:
    """Return what a tap does at the places of the screen as it shows, with one place for each."""
    found: dict[str, tuple[int, int]] = {}
    width, height = app.size
    for y in range(height):
        for x in range(width):
            style = app.screen.get_style_at(x, y)
            if "@click" in style.meta:
                found.setdefault(str(style.meta["@click"]), (x, y))
            elif isinstance(widget := app.screen.get_widget_at(x, y)[0], Answer):
                found.setdefault(widget._action, (x, y))
    return found


async def tap_on(pilot: Pilot[None], text: str) -> None:
    """Tap on a text that is on the screen."""
    rows = shown(pilot.app)  # type: ignore[arg-type]
    y = next(number for number, row in enumerate(rows) if text in row)
    await pilot.click(offset=(rows[y].index(text) + len(text) // 2, y))
    await pilot.pause()


async def turned_to(pilot: Pilot[None], wanted: Iterable[str]) -> dict[str, int]:
    """Return how far a card of keys is turned, by taps alone, where each of the texts shows."""
    found: dict[str, int] = {}
    body = pilot.app.screen.query_one(VerticalScroll)
    for _ in range(40):
        above = shown(pilot.app)[: pilot.app.screen.query_one("Foot").region.y]  # type: ignore[arg-type]
        for text in wanted:
            if any(text in row for row in above):
                found.setdefault(text, body.scroll_offset.y)
        if len(found) == len(list(wanted)):
            break
        await tap_on(pilot, "↓ down")
    return found


@pytest.mark.parametrize("size", SIZES)
async def test_every_key_of_the_board_is_two_taps_away(
    size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One tap opens the keys, taps turn to each, and one on a key's line does what the key does."""
    app = bench()
    done: list[str] = []
    words = {
        key.id: f" {key.words}" if size[1] < LOWEST_HEIGHT else key.tooltip[:20]
        for key in keys.BOARD
    }
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        monkeypatch.setattr(app, "do", done.append)
        app.pages.key_help(app._board.force)
        await pilot.pause()
        turned = await turned_to(pilot, list(words.values()))
        await pilot.press("escape")
        assert set(turned) == set(words.values())
        # What is tapped is drawn alike at every size: each second key on the lowest, where several
        # share a line, and some on the others.
        for id_, wanted in list(words.items())[:: 2 if size[1] < LOWEST_HEIGHT else 4]:
            app.pages.key_help(app._board.force)
            await pilot.pause()
            body = app.screen.query_one(VerticalScroll)
            body.scroll_to(y=turned[wanted], animate=False)
            await pilot.pause()
            await tap_on(pilot, wanted)
            assert done[-1] == id_


@pytest.mark.parametrize("size", SIZES)
async def test_the_key_line_opens_the_keys(size: tuple[int, int]) -> None:
    """Its place is on the line at every size."""
    app = bench()
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await tap_on(pilot, "? keys")
        assert isinstance(app.screen, KeyCard)


def cards() -> dict[str, tuple[Screen[str], Iterable[keys.Key]]]:
    """Return a card of each kind, with the keys that it takes."""
    pieces = tuple(piece.view(NOW) for piece in six_pieces())
    choices = [Choice(str(number), LONG[:60]) for number in range(9)]
    return {
        "dry check": (DryCheckCard(pieces[0], NOW, ZONE), keys.DRY_CHECK),
        "question": (QuestionCard(LONG, LONG), keys.QUESTION),
        "page": (Page("A page", (Paragraph("", LONG),)), keys.READING),
        "choice": (ChoiceCard("Which?", "take it", choices), keys.CHOICE),
        "joining": (JoinCard(pieces), keys.JOINING),
        "plan": (PlanScreen(), [key for key in keys.PLAN if key.id != "plan-take"]),
    }


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", list(cards()))
async def test_every_key_of_a_card_is_a_tap(name: str, size: tuple[int, int]) -> None:
    """Its keys stand at its foot and stay there, however long it is and however low the screen."""
    app = bench()
    screen, wanted = cards()[name]
    async with app.run_test(size=size) as pilot:
        await app.push_screen(screen)
        await pilot.pause()
        for body in app.screen.query(VerticalScroll):
            body.scroll_end(animate=False)
        await pilot.pause()
        assert {_tapped(key.tap) for key in wanted} <= _plain(actions_on(app))


@pytest.mark.parametrize("size", SIZES)
async def test_a_long_question_is_read_and_answered_by_taps(size: tuple[int, int]) -> None:
    """The answers stay on the screen while the words above them turn."""
    app = bench(FakeDoor(six_pieces()))
    answers: list[str | None] = []
    async with app.run_test(size=size) as pilot:
        app.push_screen(QuestionCard("Log it done?", LONG), answers.append)
        await pilot.pause()
        await pilot.click(Answer)
        assert answers == ["yes"]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("pressed", ["l", "a", "t", "d"])
async def test_a_form_is_gone_through_and_handed_in_by_taps(
    size: tuple[int, int], pressed: str
) -> None:
    """To the next field, to hand it in, and back: all three stand at its foot."""
    app = bench()
    async with app.run_test(size=size) as pilot:
        await pilot.press(pressed)
        if pressed == "d":
            await pilot.press("1")
        fields = app.screen.query("Input")
        for field in fields:
            assert app.focused is field
            assert _is_whole(app, field.region)
            await tap_on(pilot, "next")
        await tap_on(pilot, "esc back")
        assert not app.cards()


def _is_whole(app: WatchedBench, region: object) -> bool:
    foot = app.screen.query_one("Foot").region
    return region.bottom <= foot.y and region.y >= 0  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", SIZES)
async def test_lines_in_ones_own_words_are_kept_by_a_tap(size: tuple[int, int]) -> None:
    """Kept or left: both stand at the foot."""
    app = bench()
    async with app.run_test(size=size) as pilot:
        from finishsched.workshop.begin.own_lines import OwnLines

        nothing = OwnLines.__new__(OwnLines)
        card = LinesCard(lambda _: nothing)
        card._show = lambda: None  # type: ignore[method-assign]
        await app.push_screen(card)
        await pilot.pause()
        assert {"keep", "close"} <= _plain(actions_on(app))


async def test_a_window_that_closes_leads_to_its_piece() -> None:
    """A tap on its line has its piece in large letters."""
    door = FakeDoor(six_pieces())
    ref = "tea-box/tray"
    door.windows = (Window(WindowKind.RECOAT, ref, "pad", NOW - 9 * HOUR, NOW + 9 * MINUTE, NOW),)
    app = bench(door)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert app.choosing.large != ref
        await tap_on(pilot, "recoat window")
        assert app.choosing.large == ref


def _plain(found: Iterable[str]) -> set[str]:
    return {_tapped(action) for action in found}


def _tapped(action: str) -> str:
    return action.removeprefix("screen.")
