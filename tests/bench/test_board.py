"""What the board shows, at every size, and how it follows the work."""

import pytest
from fakes import HOUR, MINUTE, NOW, Clocks, FakeDoor, FakePiece, bench, six_pieces

from finishsched.bench.app import BenchApp
from finishsched.bench.asking.back_room import Answered
from finishsched.bench.widgets.piece_list import PieceList
from finishsched.journal.faults import JournalFaultError

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]


def drawn(app: BenchApp, id_: str) -> str:
    """Return the text of a widget of the board."""
    return str(app.screen_stack[0].query_one(f"#{id_}").drawn.plain)  # type: ignore[attr-defined]


def screen_text(app: BenchApp) -> str:
    """Return the whole screen as text."""
    width, height = app.size
    strips = app.screen._compositor.render_strips()
    assert len(strips) == height
    assert {strip.cell_length for strip in strips} == {width}
    return "\n".join(strip.text for strip in strips)


@pytest.mark.parametrize("size", SIZES)
async def test_nothing_that_matters_is_hidden(size: tuple[int, int]) -> None:
    """At every size the state, the next action with its key and the gravest caution show."""
    app = bench()
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = screen_text(app)
        assert "? check  Lid, sunburst veneer" in text
        assert "space   make the dry check" in text
        assert "! Flammable vapour, heavier than air" in text


@pytest.mark.parametrize("size", SIZES)
async def test_a_chosen_piece_shows_its_own_action(size: tuple[int, int]) -> None:
    """What is chosen stands in large letters, with its own action and caution."""
    app = bench()
    async with app.run_test(size=size) as pilot:
        await pilot.press("down")
        await pilot.pause()
        text = screen_text(app)
        assert "press when done: pad coat 4 of 6" in text
        assert "! Flammable vapour" in text


async def test_layout_follows_the_size_of_the_screen() -> None:
    """After every change of size each text stands in as many lines as it has."""
    app = bench()
    async with app.run_test(size=(80, 24)) as pilot:
        for size in [*SIZES, (80, 24), *reversed(SIZES), (110, 23)]:
            await pilot.resize_terminal(*size)
            await pilot.pause()
            urgent, rows = app.screen.query_one("#large"), app.screen.query_one(PieceList)
            text = drawn(app, "large")
            assert urgent.content_size.height == text.count("\n") + 1
            assert rows.region_of(0).height == (2 if size[1] >= 34 else 1)


@pytest.mark.parametrize(("width", "side_by_side"), [(109, False), (110, True)])
async def test_list_and_sheet_stand_side_by_side_when_wide(
    width: int,
    side_by_side: bool,  # noqa: FBT001
) -> None:
    """From 110 columns on, the sheet stands beside the list, else below it."""
    app = bench()
    async with app.run_test(size=(width, 40)) as pilot:
        await pilot.pause()
        pieces, sheet = app.screen.query_one("#pieces"), app.screen.query_one("#sheet")
        assert (pieces.region.y == sheet.region.y) is side_by_side


async def test_selection_follows_the_piece() -> None:
    """When the order changes, the chosen piece stays chosen, wherever its row goes."""
    door, clocks = FakeDoor(six_pieces()), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        await pilot.press("down", "down")
        assert app.choosing.large == "tea-box/tray"
        clocks.forward(2 * HOUR)
        app.beat()
        await pilot.pause()
        assert app.choosing.large == "tea-box/tray"
        rows = app.screen.query_one(PieceList).rows
        assert [row.chosen for row in rows].index(True) == 1


async def test_rows_come_and_go_with_their_pieces() -> None:
    """A piece that is gone has no row, a new one has, and both stand in the order of the view."""
    door, clocks = FakeDoor(six_pieces()), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        await pilot.pause()
        clocks.forward(4 * HOUR)
        app.beat()
        await pilot.pause()
        del door.pieces["frame/frame"]
        door.pieces["new/one"] = FakePiece("new/one", "New")
        door.is_changed = True
        app.beat()
        await pilot.pause()
        titles = [row.piece.title for row in app.screen.query_one(PieceList).rows]
        assert "Frame for a mirror" not in titles
        assert titles == [piece.title for piece in door.bench_view(clocks.wall).pieces]
        assert "Frame for a mirror" not in screen_text(app)


async def test_chosen_piece_that_goes_gives_way_to_the_most_urgent() -> None:
    """When the chosen piece is gone, the most urgent is chosen."""
    door = FakeDoor(six_pieces())
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("down")
        del door.pieces["tea-box/case"]
        door.is_changed = True
        app.beat()
        await pilot.pause()
        assert app.choosing.large == "tea-box/lid"


async def test_entries_by_others_show_with_the_next_beat() -> None:
    """What another process wrote shows within one beat."""
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door)
    async with app.run_test() as pilot:
        door.pieces["a/a"].laid_at = NOW
        app.beat()
        assert "to do" in drawn(app, "large")
        door.is_changed = True
        app.beat()
        await pilot.pause()
        assert "drying" in drawn(app, "large")


async def test_the_bench_beats_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """The beat needs nobody: what changes shows by itself."""
    assert BenchApp.BEAT_S == 1.0
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door)
    monkeypatch.setattr(app, "BEAT_S", 0.02)
    async with app.run_test() as pilot:
        door.pieces["a/a"].laid_at = NOW
        door.is_changed = True
        await pilot.pause(0.2)
        assert "drying" in drawn(app, "large")


async def test_clocks_move_without_asking_the_workshop() -> None:
    """Between changes the times move on from the stored instants alone."""
    door, clocks = FakeDoor([FakePiece("a/a", "A box", laid_at=NOW)]), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        asked = door.asked
        clocks.forward(30 * MINUTE / 60)
        app.beat()
        await pilot.pause()
        assert door.asked == asked
        assert "leave it alone until 20:42" in drawn(app, "large")


async def test_only_changed_text_is_painted() -> None:
    """A beat that changes no text repaints no widget."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.pause()
        before = app.screen.query_one("#large").drawn  # type: ignore[attr-defined]
        app.beat()
        await pilot.pause()
        assert app.screen.query_one("#large").drawn is before  # type: ignore[attr-defined]


async def test_looking_is_marked_once_a_minute() -> None:
    """Somebody's looking is kept at most once a minute."""
    door, clocks = FakeDoor(six_pieces()), Clocks()
    app = bench(door, clocks)
    async with app.run_test():
        for _ in range(180):
            clocks.forward(MINUTE / 60)
            app.beat()
        assert 3 <= len(door.looked) <= 4


async def test_empty_shop_says_what_to_do() -> None:
    """A shop without pieces tells how to get one, and no key does harm."""
    app = bench(FakeDoor([]))
    async with app.run_test() as pilot:
        await pilot.press("space", "u", "l", "t", "s", "w", "o", "g", "down")
        assert "b begins one" in drawn(app, "large")
        assert "jobs/" in drawn(app, "large")


async def test_a_journal_that_fails_is_a_notice() -> None:
    """A fault of the journal while looking is told, and the clocks go on."""
    door, clocks = FakeDoor([FakePiece("a/a", "A box", laid_at=NOW)]), Clocks()
    app = bench(door, clocks)

    def fail(*_: object) -> bool:
        raise JournalFaultError("the journal cannot be read", "look at the disk")

    async with app.run_test() as pilot:
        door.changed = fail  # type: ignore[method-assign]
        clocks.forward(MINUTE)
        app.beat()
        await pilot.pause()
        assert "the journal cannot be read; look at the disk" in drawn(app, "notice")
        assert "18:43" in drawn(app, "top")


@pytest.mark.parametrize("size", SIZES)
async def test_user_text_is_never_markup(size: tuple[int, int]) -> None:
    """Brackets in a title are shown as typed, and control characters are not."""
    title = "[red]x[/red] [@click=app.bell]y[/] \x1b[2J"
    door = FakeDoor([FakePiece("a/a", title, laid_at=NOW - 5 * HOUR)])
    door.notices = (title,)
    app = bench(door)
    async with app.run_test(size=size) as pilot:
        await pilot.press("space")
        await pilot.press("escape")
        await pilot.press("t", "escape", "w", "escape", "n", "escape")
        await pilot.pause()
        text = screen_text(app)
        assert "[red]x[/red]" in text
        assert "\x1b" not in text


@pytest.mark.parametrize("size", [(20, 6), (40, 12), (10, 3)])
async def test_tiny_screens_do_not_fail(size: tuple[int, int]) -> None:
    """Even where nothing much fits, nothing breaks."""
    app = bench()
    async with app.run_test(size=size) as pilot:
        await pilot.press("space", "escape", "question_mark", "escape", "l", "escape")
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert "make the dry check" in screen_text(app)


@pytest.mark.parametrize("gone", ["top", "sheet"])
async def test_an_answer_that_comes_while_the_bench_closes_is_let_go(gone: str) -> None:
    """Parts of the board go one by one as it closes: what is told then has nowhere to stand."""
    app = bench()
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        await app.screen.query_one(f"#{gone}").remove()
        app.watch_facts(app.facts)
        await pilot.pause()
        assert app.facts.view.pieces


async def test_an_answer_that_comes_after_the_last_screen_is_let_go() -> None:
    """The back room may answer once no screen is left: nothing ends in a fault."""
    app = bench()
    delivered: list[str] = []

    def deliver() -> None:
        delivered.append(app.key_for("plan"))

    async with app.run_test():
        app.on_answered(Answered(deliver))
    app.on_answered(Answered(deliver))
    assert delivered == ["p"]
