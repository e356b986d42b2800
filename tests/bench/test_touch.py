"""The bench in a page: what it offers as buttons and fields, and what it takes from them."""

from __future__ import annotations

import pytest
from fakes import NOW, FakeDoor, said, six_pieces
from on_page import finger, tap, touched
from real_shop import until
from textual.widgets import Static, TextArea

from finishsched.bench import keys
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.screens.card import Body
from finishsched.bench.screens.choice import ChoiceRow
from finishsched.bench.screens.lines import LinesCard
from finishsched.bench.screens.question import QuestionCard
from finishsched.bench.touch.driver import Tapped, Typed, said_by_page
from finishsched.bench.widgets.piece_list import PieceList
from finishsched.bench.widgets.taps import TapLine
from finishsched.workshop.base.entries import What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.own_lines import OwnLines
from finishsched.workshop.demo.starter import make_shop

SIZES = [(116, 32), (72, 46), (48, 28), (70, 15)]
"""Cells of a tablet and of a phone, each both ways, beside the buttons."""


async def test_every_key_of_the_board_is_offered_as_a_button() -> None:
    """No key of the board needs a keyboard; the one for the next thing says what it comes to."""
    app = touched()
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        assert set(app.actions) == {key.tap for key in keys.BOARD} | {"app.do('dismiss')"}
        assert app.actions[-1] == "app.do('dismiss')"  # which comes and goes, and moves no other
        (main,) = [button for button in app.offered["buttons"] if button["rank"] == "main"]
        assert main["action"] == "app.do('next-thing')"
        assert main["said"]


@pytest.mark.parametrize("opens", ["", "app.do('next-thing')", "app.do('help')"])
async def test_a_page_that_turned_is_told_only_of_a_whole_picture(opens: str) -> None:
    """No part has text for its old width when the page hears that the new size is drawn."""
    app = touched()
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        if opens:
            await tap(pilot, opens)
        for size in [*SIZES[1:], SIZES[0], (SIZES[0][0], 27)]:
            app.page.on_size = size
            app.page.parts_told.clear()
            await pilot.resize_terminal(*size)
            app.page.turned()
            await until(pilot, lambda: app.page.parts_told)
            assert all(app.page.parts_told)


@pytest.mark.parametrize("size", SIZES)
async def test_rows_stay_in_place_under_letters_of_other_heights(size) -> None:
    """The field above them is as high as it was for the piece that needed most: none moves up."""
    app = touched(FakeDoor(six_pieces()))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        tops = []
        for piece in app.desk.view.pieces * 2:
            app.choosing.choose(piece.ref)
            app.repaint()
            await pilot.pause()
            tops.append(app.screen.query_one("#large").size.height)
        again = tops[len(tops) // 2 :]
        assert again == [max(tops)] * len(again)


async def test_a_page_that_turned_and_turned_back_is_told_again() -> None:
    """It waits for a picture, and none is drawn: what it has is whole."""
    app = touched()
    async with app.run_test(size=SIZES[0]) as pilot:
        await until(pilot, lambda: app.offered["width"] == SIZES[0][0])
        app.page.told.clear()
        app.page.turned()
        await until(pilot, lambda: app.page.told)
        assert (app.offered["width"], app.offered["height"]) == SIZES[0]


async def test_a_dry_check_is_made_by_two_buttons() -> None:
    """The next thing opens the card, whose two answers are its main and its other button."""
    door = FakeDoor(six_pieces())
    app = touched(door)
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        await tap(pilot, "app.do('next-thing')")
        ranks = {button["rank"]: button["words"] for button in app.offered["buttons"]}
        assert (ranks["main"], ranks["other"]) == ("ready", "not yet")
        await tap(pilot, "screen.ready")
        assert door.entries[-1].what is What.READY


async def test_what_was_meant_for_a_screen_that_has_gone_does_nothing() -> None:
    """A tap that comes late, over a slow connection, is not taken for one on what shows now."""
    door = FakeDoor(six_pieces())
    app = touched(door)
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        before = app.offered["of"]
        await tap(pilot, "app.do('next-thing')")
        of = app.offered["of"]
        assert of != before
        for late in (Tapped(before, "app.do('undo')"), Tapped(before, "screen.ready")):
            app.hand(late)
            await pilot.pause()
        assert not door.entries
        assert app.offered["of"] == of


async def test_what_was_meant_for_another_piece_does_nothing() -> None:
    """A tap on 'next' that comes once another piece is in large letters is not logged on that."""
    door = FakeDoor(six_pieces())
    app = touched(door)
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        before = app.offered["of"]
        await tap(pilot, "app.do('down')")
        assert app.offered["of"] != before
        app.hand(Tapped(before, "app.do('next-thing')"))
        await pilot.pause()
        assert len(app.screen_stack) == 1
        assert not door.entries


async def test_nothing_runs_that_no_button_offers() -> None:
    """A page that is not ours cannot have the bench run what it likes."""
    app = touched()
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        for action in ("app.quit_all", "app.screenshot", "screen.ready", "app.do('nothing')"):
            app.hand(Tapped(app.offered["of"], action))
            await pilot.pause()
        assert len(app.screen_stack) == 1
        assert not said(app)


async def test_a_form_is_filled_in_by_the_fields_of_the_page() -> None:
    """What is typed on the page stands in the form, is refused at its field, and is taken."""
    door = FakeDoor(six_pieces())
    app = touched(door)
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        await tap(pilot, "app.do('air')")
        assert app.offered["screen"] == "form"
        assert [field["id"] for field in app.offered["fields"]][:2] == ["temperature", "humidity"]
        for field, value in (("temperature", "warm"), ("humidity", "55 %")):
            app.hand(Typed(app.offered["of"], field, value))
        await tap(pilot, "screen.hand_in")
        assert "temperature" in app.offered["refused"]
        assert app.offered["fields"][1]["value"] == "55 %"
        app.hand(Typed(app.offered["of"], "temperature", "19 degC\x1b[2J\n"))
        await pilot.pause()
        assert app.offered["fields"][0]["value"].startswith("19 degC")
        assert app.offered["fields"][0]["value"].isprintable()


@pytest.mark.parametrize(("action", "has_card"), [("air", False), ("mixing", True)])
async def test_no_empty_card_lies_over_the_board(action: str, has_card: bool) -> None:  # noqa: FBT001
    """The page has the title and the fields; a card shows only where something comes of them."""
    app = touched()
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        await tap(pilot, f"app.do('{action}')")
        assert app.offered["title"]
        said = [str(part.render()).strip() for part in app.screen.query(Static) if part.region]
        assert bool(said) == has_card
        assert all(said)
        assert any(body.region for body in app.screen.query(Body)) == has_card


@pytest.mark.parametrize("key", ["b", "p"])
async def test_no_page_is_told_of_a_key_that_a_finger_has_not(tmp_path, key: str) -> None:
    """Glass has no enter: what a form or the plan says of itself names none."""
    make_shop(tmp_path / "shop", example=False)
    with Workshop.open(tmp_path / "shop", NOW) as shop:
        app = touched(ShopDoor(shop))
        async with app.run_test(size=SIZES[2]) as pilot:
            await pilot.press(key)
            await pilot.pause()
            shown = [str(one.render()) for one in app.screen.query(Static)]
            assert not [line for line in shown if "enter takes" in line]


async def test_lines_of_a_schedule_are_typed_on_the_page() -> None:
    """The card of lines has a field of several lines, and keeps them apart."""
    app = touched()
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        nothing = OwnLines.__new__(OwnLines)
        card = LinesCard(lambda _: nothing)
        card._show = lambda: None  # type: ignore[method-assign]
        app.push_screen(card)
        await pilot.pause()
        await pilot.pause()
        by_id = {field["id"]: field for field in app.offered["fields"]}
        assert by_id["lines"]["lines"] > 1
        app.hand(Typed(app.offered["of"], "lines", "sand 120\npad"))
        await pilot.pause()
        assert app.screen.query_one("#lines", TextArea).text == "sand 120\npad"


def test_a_page_that_says_nonsense_is_not_heard() -> None:
    """What is neither a tap nor something typed is left to the toolkit, which knows the rest."""
    assert said_by_page({"type": "tap", "of": "1", "action": "x"}) is None
    assert said_by_page({"type": "tap", "of": 1, "action": ["x"]}) is None
    assert said_by_page({"type": "typed", "of": 1, "field": "a"}) is None
    assert said_by_page({"type": "resize", "width": 80, "height": 24}) is None
    assert isinstance(said_by_page({"type": "tap", "of": 1, "action": "x"}), Tapped)


async def test_a_line_is_too_fine_to_be_tapped_and_two_are_not() -> None:
    """The air's one line does nothing under a finger; a row of the list is chosen by one."""
    app = touched()
    async with app.run_test(size=SIZES[1]) as pilot:
        await pilot.pause()
        for fine in ("#top", "#air"):
            await finger(pilot, app.screen.query_one(fine).region)
            assert len(app.screen_stack) == 1
        pieces = app.screen.query_one(PieceList)
        await finger(pilot, pieces.region_of(1).translate(pieces.region.offset))
        assert pieces.rows[1].chosen


@pytest.mark.parametrize("size", SIZES)
async def test_what_a_finger_chooses_is_two_lines_high(size: tuple[int, int]) -> None:
    """Two lines of 22 CSS px are the 44 that a finger needs; keys are buttons of the page instead.

    WCAG 2.2, success criterion 2.5.5 Target Size (Enhanced), W3C 2023: 44 by 44 CSS px.
    """
    app = touched()
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        pieces = app.screen.query_one(PieceList)
        assert pieces.rows
        assert all(pieces.region_of(place).height == 2 for place in range(len(pieces.rows)))
        assert not app.screen.query_one("#keys").display
        await tap(pilot, "app.do('help')")
        assert all(row.size.height >= 2 for row in app.screen.query(ChoiceRow))
        app.screen.dismiss("")
        await pilot.pause()
        app.push_screen(QuestionCard("Begin?", "it may cut through"))
        await pilot.pause()
        assert not app.screen.query_one("Foot").display
        assert {"screen.yes", "screen.close"} <= set(app.actions)
        assert not [line for line in app.screen.query(TapLine) if line.size.height]
