"""The bell, the notices, and the keys of the user's own."""

import pytest
from fakes import HOUR, MINUTE, NOW, Clocks, FakeDoor, FakePiece, bench, six_pieces
from test_board import drawn

from finishsched.bench import keys
from finishsched.bench.screens.choice import ChoiceRow
from finishsched.bench.screens.dry_check import DryCheckCard
from finishsched.bench.screens.page import Page
from finishsched.workshop.base.entries import What


async def test_rings_at_opening_for_what_is_already_due() -> None:
    """A piece that waits for its check when the bench opens is rung for, once."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.pause()
        app.beat()
        app.beat()
        assert app.rings == 1


async def test_rings_once_when_a_piece_comes_to_its_check() -> None:
    """The bell rings once as the likely time passes, with a banner; later for a new wait."""
    piece, clocks = FakePiece("a/a", "A box", laid_at=NOW), Clocks()
    app = bench(FakeDoor([piece]), clocks)
    async with app.run_test() as pilot:
        for hours in (3, 1, 0, 0):
            clocks.forward(hours * HOUR)
            app.beat()
        await pilot.pause()
        assert app.rings == 1
        assert "A box likely dry since 22:42; make the dry check" in drawn(app, "notice")
        await pilot.press("space", "n")
        await pilot.pause()
        assert "likely dry" not in drawn(app, "notice")
        clocks.forward(2 * HOUR)
        app.beat()
        assert app.rings == 2


async def test_what_is_to_be_done_is_not_cut_off() -> None:
    """A notice that is longer than its line has a second one, beside how many more there are."""
    piece, clocks = FakePiece("a/a", "Lid, sunburst veneer, and 4 x Side", laid_at=NOW), Clocks()
    app = bench(FakeDoor([piece]), clocks)
    async with app.run_test(size=(80, 24)) as pilot:
        app.notices.add("nobody looked for 2 h 10")
        for hours in (3, 2):
            clocks.forward(hours * HOUR)
            app.beat()
        await pilot.pause()
        said = " ".join(drawn(app, "notice").split())
        assert "more esc dismiss" in said
        assert said.endswith("check")
        assert app.query_one("#notice").size.height == 2


async def test_bell_can_be_silenced() -> None:
    """With the bell off, the banner still comes."""
    app = bench(bell=False)
    async with app.run_test() as pilot:
        await pilot.pause()
        assert app.rings == 0
        assert "likely dry" in drawn(app, "notice")


@pytest.mark.parametrize(
    ("wall", "said"),
    [
        (460 * MINUTE, "7 h 40 went by that the bench did not see"),
        (-2 * HOUR, "clock was set back by 2 h 00"),
    ],
)
async def test_gap_in_time_is_told(wall: object, said: str) -> None:
    """After sleep, or a clock that was set, a notice says so."""
    clocks = Clocks()
    app = bench(FakeDoor([FakePiece("a/a", "A box")]), clocks)
    async with app.run_test(size=(120, 40)) as pilot:
        clocks.wall += wall  # type: ignore[operator]
        clocks.monotonic_s += 1
        app.beat()
        await pilot.pause()
        assert said in drawn(app, "notice")


async def test_notices_are_dismissed_one_by_one_and_stay_listed() -> None:
    """Escape dismisses the notice shown; the list keeps them all."""
    door = FakeDoor([FakePiece("a/a", "A box")], ("first fault", "second fault"))
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.pause()
        assert "first fault" in drawn(app, "notice")
        assert "1 more" in drawn(app, "notice")
        await pilot.press("escape")
        assert "second fault" in drawn(app, "notice")
        await pilot.press("escape", "escape")
        assert not app.screen.query_one("#notice").display
        await pilot.press("n")
        assert isinstance(app.screen, Page)
        assert [p.text for p in app.screen.paragraphs] == ["first fault", "second fault"]


async def test_a_notice_that_comes_back_shows_again() -> None:
    """A fault put right and made again is a new one, dismissed before or not."""
    door = FakeDoor([FakePiece("a/a", "A box")], ("a fault",))
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("escape")
        for notices, shows in (((), False), (("a fault",), True)):
            door.notices, door.is_changed = notices, True
            app.beat()
            await pilot.pause()
            assert app.screen.query_one("#notice").display is shows


async def test_own_keys() -> None:
    """A key of the user's own takes the place of ours, in the help and the hints too."""
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door, keys={"next-thing": "x"})
    async with app.run_test() as pilot:
        await pilot.press("space")
        assert door.entries == []
        assert " x " in drawn(app, "large")
        assert drawn(app, "keys").startswith("x next")
        await pilot.press("question_mark")
        assert "x" in {row.facts.sign for row in app.screen.query(ChoiceRow)}
        await pilot.press("escape", "x")
        assert [entry.what for entry in door.entries] == [What.DONE]


async def test_own_keys_in_a_card() -> None:
    """The keys of the dry check follow the user's keymap as well."""
    door = FakeDoor([FakePiece("a/a", "A box", laid_at=NOW - 5 * HOUR)])
    app = bench(door, keys={"ready": "z"})
    async with app.run_test() as pilot:
        await pilot.press("space", "r")
        assert isinstance(app.screen, DryCheckCard)
        await pilot.press("z")
        await pilot.pause()
        assert [entry.what for entry in door.entries] == [What.READY]


async def test_clash_is_told_once() -> None:
    """A key given to two things is told of, once."""
    app = bench(keys={"quit": "w"})
    async with app.run_test() as pilot:
        await pilot.press("down", "down")
        app.beat()
        clashes = [text for text in app.notices.every if "'w'" in text]
        assert clashes == ["settings: the key 'w' is given to why and quit; give each its own"]


async def test_swapped_keys_are_no_clash() -> None:
    """Two things may change keys with one another."""
    assert list(keys.faults({"quit": "w", "why": "q"})) == []
    assert list(keys.faults({})) == []


async def test_unknown_key_name_is_told() -> None:
    """A name in the settings that nothing is called by is told of."""
    app = bench(keys={"paint": "p"})
    async with app.run_test() as pilot:
        await pilot.pause()
        assert any("'paint'" in text for text in app.notices.every)


async def test_every_key_has_id_tooltip_and_group() -> None:
    """Each key of the bench can be renamed, explained and grouped, and no two ids are the same."""
    every = (*keys.BOARD, *keys.OTHER_SCREENS)
    assert len({key.id for key in every}) == len(every)
    assert all(key.tooltip and key.group and key.words for key in every)
    assert not any("ctrl" in key.keys for key in every)


async def test_help_lists_every_key_in_force() -> None:
    """The help page lists each key of the board with what it does."""
    app = bench(FakeDoor(six_pieces()))
    async with app.run_test() as pilot:
        await pilot.press("question_mark")
        rows = [row.facts for row in app.screen.query(ChoiceRow)]
        listed = {(row.sign, row.choice.text) for row in rows}
        assert {(app.key_for(key.id), key.tooltip) for key in keys.BOARD} <= listed
