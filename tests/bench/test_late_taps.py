"""Taps that a bench hears late, busy or over a slow line: done, or not done and told so."""

from __future__ import annotations

import pytest
from fakes import FakeDoor, said, six_pieces
from on_page import WatchedTouch, tap, touched
from textual.pilot import Pilot

from finishsched.bench.touch.driver import Tapped, Touched
from finishsched.bench.touch.page import NOT_DONE
from finishsched.bench.widgets.piece_list import PieceList

SIZE = (116, 32)


def on_row(app: WatchedTouch, place: int) -> Touched:
    """Return a tap on the row at a place, as the page would send it by what it shows now."""
    pieces = app.screen.query_one(PieceList)
    x, y = pieces.region_of(place).translate(pieces.region.offset).center
    return Touched(app.offered["of"], app.offered["seen"], int(x), int(y))


def on_large(app: WatchedTouch) -> Touched:
    """Return a tap on the large letters."""
    x, y = app.screen.query_one("#large").region.center
    return Touched(app.offered["of"], app.offered["seen"], int(x), int(y))


async def hear(pilot: Pilot[None], late: Tapped | Touched) -> None:
    """Have the bench hear a tap, and do all that it sets off."""
    assert isinstance(pilot.app, WatchedTouch)
    pilot.app.hand(late)
    for _ in range(3):
        await pilot.pause()


async def test_a_button_about_no_piece_is_done_though_another_piece_is_large_by_then() -> None:
    """The plan is the same for all of them: a tap on it is not lost because a row was tapped."""
    app = touched()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        late = Tapped(app.offered["of"], "app.do('air')")
        await tap(pilot, "app.do('down')")
        assert app.offered["of"] != late.of
        await hear(pilot, late)
        assert len(app.screen_stack) == 2


@pytest.mark.parametrize("action", ["app.do('next-thing')", "app.do('undo')", "app.do('note')"])
async def test_a_button_about_a_piece_is_not_done_on_another_and_says_so(action: str) -> None:
    """What is passed over is told, so that nobody takes it for done."""
    door = FakeDoor(six_pieces())
    app = touched(door)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        late = Tapped(app.offered["of"], action)
        app.action_choose(app.choosing.rows[2])
        await hear(pilot, late)
        assert len(app.screen_stack) == 1
        assert not door.entries
        assert said(app) == list(NOT_DONE.values())[1:]


async def test_the_row_is_chosen_that_stood_under_the_finger() -> None:
    """Rows find their order while a tap is on its way: it is for the one that was seen there."""
    app = touched()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        meant, late = app.choosing.rows[1], on_row(app, 1)
        app.choosing.rows = tuple(reversed(app.choosing.rows))
        app.repaint()
        await pilot.pause()
        assert app.screen.query_one(PieceList).rows[1].piece.ref != meant
        await hear(pilot, late)
        assert app.choosing.large == meant
        assert not said(app)


async def test_a_row_that_is_gone_chooses_none_in_its_place() -> None:
    """A piece that is on the bench no more is not put in the place of another, and it says so."""
    door = FakeDoor(six_pieces())
    app = touched(door)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        gone, large, late = app.choosing.rows[2], app.choosing.large, on_row(app, 2)
        del door.pieces[gone]
        door.is_changed = True
        app.beat()
        await pilot.pause()
        await hear(pilot, late)
        assert app.choosing.large == large
        assert said(app) == list(NOT_DONE.values())[:1]


async def test_the_large_letters_log_nothing_on_a_piece_that_was_not_seen_there() -> None:
    """A tap on them that is heard once another piece stands there is for neither."""
    door = FakeDoor(six_pieces())
    app = touched(door)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        late = on_large(app)
        app.action_choose(app.choosing.rows[1])
        await hear(pilot, late)
        assert len(app.screen_stack) == 1
        assert not door.entries
        assert said(app) == list(NOT_DONE.values())[1:]


async def test_what_was_tapped_under_a_card_that_opened_does_nothing_on_the_card() -> None:
    """A second tap on a bench that did not answer the first yet chooses nothing that it opens."""
    app = touched()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        late = on_row(app, 3)
        await tap(pilot, "app.do('help')")
        top = app.screen
        await hear(pilot, late)
        assert app.screen is top
        assert said(app) == list(NOT_DONE.values())[:1]
