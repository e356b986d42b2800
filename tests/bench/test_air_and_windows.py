"""The strip of the air, the strip of what closes, and the chosen piece's sheet about both."""

from __future__ import annotations

import os
import signal
from dataclasses import replace
from datetime import timedelta

import pytest
from fakes import HOUR, MINUTE, NOW, Clocks, FakeDoor, FakePiece, bench, six_pieces
from test_board import drawn

from finishsched.bench.widgets.air_strip import AirStrip
from finishsched.drying.air import air_answer
from finishsched.workshop.base.answers import AirView, Window, WindowKind


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (60, 20)])
async def test_the_strip_reads_at_every_size(size: tuple[int, int]) -> None:
    """Warmth and damp each with value and trend, and the mark of now in each curve."""
    app = bench()
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = drawn(app, "air")
        assert "19 degC falling" in text
        assert "55 % rising" in text
        assert text.count("│") == 2
        assert len(text) <= size[0] - 2
        assert ("read 2 h 00 ago" in text) is (size[0] > 60)


async def test_the_curve_goes_the_way_of_the_air() -> None:
    """Before the mark the highest bar is the warmest hour that was read."""
    app = bench()
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        read = drawn(app, "air").partition("falling ")[2].partition("│")[0]
        warm = [p.temperature_c for p in app.desk.view.air.points if not p.foretold]
        assert len(read) == len(warm)
        assert read[warm.index(max(warm))] == max(read)
        assert read[warm.index(min(warm))] == min(read)
        assert max(read) > min(read)


async def test_without_a_reading_there_is_no_strip() -> None:
    """The usual air of a document draws no curve; the top line says what it is."""
    door = FakeDoor(six_pieces())
    door.air = AirView(air_answer(20.0, 50.0), None)
    app = bench(door)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        assert not app.screen.query_one(AirStrip).display
        assert "usual air, no reading yet" in drawn(app, "top")


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (60, 20)])
async def test_an_old_reading_is_called_old(size: tuple[int, int]) -> None:
    """After three hours its age comes with what to do, on the smallest screen too."""
    door = FakeDoor(six_pieces())
    door.air = replace(door.air, is_old=True, read_at=NOW - 14 * HOUR)
    app = bench(door)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert "read 14 h 00 ago: too old, read it anew" in drawn(app, "air")


async def test_on_the_lowest_screen_no_old_reading_stands_as_if_it_were_new() -> None:
    """There is no strip with its age; the top line calls it old, or has no room for it."""
    door = FakeDoor(six_pieces())
    door.air = replace(door.air, is_old=True, read_at=NOW - 14 * HOUR)
    app = bench(door)
    async with app.run_test(size=(40, 12)) as pilot:
        await pilot.pause()
        top = drawn(app, "top")
        assert ("degC" in top) is ("degC, old" in top)


async def test_a_pot_life_runs_down_on_the_board() -> None:
    """It has a line of its own from the start, with its name, and is gone when it is not there."""
    door, clocks = FakeDoor(six_pieces()), Clocks()
    door.windows = (
        Window(WindowKind.POT, "pot 3", "epoxy", NOW - 10 * MINUTE, NOW + 20 * MINUTE, NOW),
    )
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        await pilot.pause()
        assert "pot life  pot 3" in drawn(app, "windows")
        assert "closes in 20 min, 19:02" in drawn(app, "windows")
        clocks.forward(timedelta(minutes=21))
        app.beat()
        await pilot.pause()
        assert drawn(app, "windows").startswith("! pot life")
        door.windows, door.is_changed = (), True
        app.beat()
        await pilot.pause()
        assert not app.screen.query_one("#windows").display


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 12)])
async def test_a_window_goes_by_the_title_of_its_piece_and_its_time_is_whole(size) -> None:
    """It is called as its row is, and however narrow the screen when it closes has its unit.

    At 60x20 stood 'walnut-cupboard/left-door  closes in 46 …'.
    """
    ref = "walnut-cupboard/left-door"
    door = FakeDoor([FakePiece(ref, "Left door", laid_at=NOW - HOUR)])
    door.windows = (Window(WindowKind.RECOAT, ref, "wipe", NOW - HOUR, NOW + 10 * MINUTE, NOW),)
    app = bench(door)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = drawn(app, "windows")
        assert "Left door" in text
        assert "closes in 10 min, 18:52" in text or "closes 18:52" in text
        assert "…" not in text
        assert ref not in drawn(app, "windows") + drawn(app, "notice")


async def test_a_warning_of_another_piece_goes_by_its_title() -> None:
    """What is told beside a piece of another's window calls that one as its row does."""
    doors = ("cupboard/left-door", "cupboard/right-door")
    door = FakeDoor([FakePiece(doors[0], "Left"), FakePiece(doors[1], "Right")])
    app = bench(door)
    told = "Recoat window of cupboard/right-door closes in 9 min: see to that first"
    view = app.desk.view
    first, other = view.pieces
    app.desk.view = view._replace(pieces=(first._replace(warnings=(told,)), other))
    shown = app._snapshot.facts().view.pieces
    assert shown[0].warnings == ("Recoat window of Right closes in 9 min: see to that first",)


async def test_the_limit_of_the_chosen_piece_is_on_its_sheet() -> None:
    """A limit far away takes no line of the board, and stands on the sheet of its piece."""
    door = FakeDoor([FakePiece("a/a", "Lid", laid_at=NOW - HOUR)])
    door.windows = (Window(WindowKind.RECOAT, "a/a", "pad", NOW - HOUR, NOW + 40 * HOUR, NOW),)
    app = bench(door)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        assert not app.screen.query_one("#windows").display
        sheet = app.screen.query_one("SheetText").drawn.plain
        assert "recoat window closes" in sheet
        assert "25 %, likely" in sheet


async def test_a_step_that_dries_is_not_skipped() -> None:
    """What is done cannot be left out: the key says so and opens no form."""
    app = bench(FakeDoor([FakePiece("a/a", "Lid", laid_at=NOW - HOUR)]))
    async with app.run_test() as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert len(app.screen_stack) == 1
        assert any("only its wait is left" in toast.message for toast in app._notifications)


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
@pytest.mark.parametrize("name", ["SIGHUP", "SIGTERM"])
async def test_a_closed_terminal_ends_the_bench_in_good_order(name: str) -> None:
    """The signal leads to an ordinary exit, so that whoever opened it can tidy up."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.pause()
        os.kill(os.getpid(), getattr(signal, name))
        await pilot.pause(0.1)
        assert app._exit
