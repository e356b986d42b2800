"""The list of a hundred pieces: what is in sight is drawn, and always from the facts of now."""

from __future__ import annotations

from datetime import date

import pytest
from fakes import HOUR, MINUTE, NOW, Clocks, FakeDoor, FakePiece, WatchedBench, bench
from textual.content import Content

from finishsched.bench.widgets import piece_list
from finishsched.bench.widgets.piece_list import PieceList
from finishsched.bench.widgets.row import RowFacts, RowRoom, draw_row
from finishsched.workshop.base.answers import WaitsFor
from finishsched.workshop.base.entries import Entry, What

MANY = 100
SIZES = [(80, 24), (60, 20), (40, 12), (120, 40)]


def many(dry_in: int = 2) -> list[FakePiece]:
    """Return a hundred pieces, one of ``dry_in`` drying, each for another time."""
    return [
        FakePiece(
            f"m/b{number:02}",
            f"Box {number}",
            coat=1,
            laid_at=NOW - number * MINUTE if number % dry_in == 0 else None,
        )
        for number in range(MANY)
    ]


def rows_of(app: WatchedBench) -> PieceList:
    """Return the list of the board."""
    return app.screen_stack[0].query_one(PieceList)


def lines_of(app: WatchedBench) -> list[str]:
    """Return what is painted where the list stands."""
    place = rows_of(app).scrollable_content_region
    strips = app.screen._compositor.render_strips()[place.y : place.bottom]
    return [strip.crop(place.x, place.right).text.rstrip() for strip in strips]


def meant(app: WatchedBench) -> list[str]:
    """Return what should be painted there: each row in sight from the facts of now."""
    rows = rows_of(app)
    region = rows.scrollable_content_region
    high = rows.region_of(0).height
    room = RowRoom(region.width - 1, high, app.size.height >= 34)
    every = [line for facts in rows.rows for line in draw_row(facts, room).plain.split("\n")]
    first = rows.scroll_offset.y
    return [line.rstrip() for line in every[first : first + region.height]]


@pytest.mark.parametrize(
    ("late_min", "told"),
    [(0, "due 10 Dec"), (40, "40 min late"), (200, "3 h late"), (8000, "5 d late")],
)
def test_a_row_says_that_the_plan_has_it_late(late_min: int, told: str) -> None:
    """Nobody reads a due date as kept that the plan misses."""
    piece = FakePiece("a/a", "A box", due=date(2026, 12, 10)).view(NOW)
    facts = RowFacts(piece, NOW, chosen=False, late_min=late_min)
    assert draw_row(facts, RowRoom(79, 1, is_roomy=False)).plain.endswith(f" {told}")


def test_a_row_has_its_step_beside_the_bar_of_a_long_list() -> None:
    """On eighty cells a sixth piece, and the bar that comes with it, takes no step away."""
    piece = FakePiece("a/a", "A box").view(NOW)
    for width in (77, 79):
        assert (
            "pad coat 1 of 6"
            in draw_row(RowFacts(piece, NOW, chosen=False), RowRoom(width, 1, is_roomy=False)).plain
        )


async def test_what_waits_for_a_repair_is_no_work_to_do_and_leads_to_it() -> None:
    """It is told as later, and its key goes to the row of what comes first; nothing is logged."""

    class Waiting(FakePiece):
        def view(self, now):
            burn = WaitsFor("a/a+1", "Lid: burn in")
            return super().view(now)._replace(waits_for=(burn,))

    door = FakeDoor([Waiting("a/a", "Lid"), FakePiece("a/a+1", "Lid: burn in")])
    app = bench(door)
    app.choosing.choose("a/a")
    async with app.run_test(size=(80, 24)) as pilot:
        lid = app.desk.piece("a/a")
        assert (lid.word, lid.mark) == ("later", ".")
        await pilot.press("space")
        assert app.choosing.large == "a/a+1"
        assert not door.entries


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the pieces whose rows were drawn, as they are."""
    found: list[str] = []

    def watched(facts: RowFacts, room: RowRoom) -> Content:
        found.append(facts.piece.ref)
        return draw_row(facts, room)

    monkeypatch.setattr(piece_list, "draw_row", watched)
    return found


@pytest.mark.parametrize("size", SIZES)
async def test_an_entry_draws_no_row_that_is_out_of_sight(
    size: tuple[int, int], drawn: list[str]
) -> None:
    """Of a hundred rows one entry draws those in sight, each once, and not one of the others."""
    app = bench(FakeDoor(many()), Clocks())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        rows = rows_of(app)
        in_sight = {rows.rows[place].piece.ref for place in rows.in_sight}
        assert 0 < len(in_sight) < MANY / 2
        drawn.clear()
        app.entries.hand_in(Entry(What.DONE, "m/b01"), "logged")
        await pilot.pause()
        assert drawn
        assert set(drawn) <= in_sight
        assert len(drawn) <= 2 * len(in_sight)  # once, and once more where the list has other room
        assert lines_of(app) == meant(app)


async def test_a_row_that_is_out_of_sight_takes_its_facts_all_the_same() -> None:
    """What is logged of a piece at the end of the list is known to its row before it is seen."""
    app = bench(FakeDoor(many()), Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        rows = rows_of(app)
        out = next(place for place, row in enumerate(rows.rows) if row.piece.ref == "m/b99")
        assert out not in rows.in_sight
        before = rows.rows[out].piece.log
        app.entries.hand_in(Entry(What.DONE, "m/b99"), "logged")
        assert len(rows.rows[out].piece.log) == len(before) + 1


@pytest.mark.parametrize("size", SIZES)
async def test_a_row_that_is_turned_into_sight_shows_the_facts_of_now(
    size: tuple[int, int],
) -> None:
    """A list that is turned, left for an hour and turned back shows no row as it stood before."""
    clocks = Clocks()
    app = bench(FakeDoor(many(dry_in=1)), clocks)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        shown = lines_of(app)
        assert shown == meant(app)
        rows_of(app).scroll_to(y=40, animate=False)
        await pilot.pause()
        assert lines_of(app) == meant(app) != shown
        clocks.forward(HOUR)
        app.beat()
        await pilot.pause()
        assert lines_of(app) == meant(app)
        rows_of(app).scroll_to(y=0, animate=False)
        await pilot.pause()
        assert lines_of(app) == meant(app) != shown


async def test_rows_follow_every_size_of_the_screen() -> None:
    """After each change of size, however it falls, what is painted is what the rows now are."""
    app = bench(FakeDoor(many()), Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        for size in [(80, 33), (80, 34), (120, 33), (120, 34), (40, 12), (110, 23), (80, 24)]:
            await pilot.resize_terminal(*size)
            await pilot.pause()
            assert lines_of(app) == meant(app)
            assert rows_of(app).is_whole


@pytest.mark.parametrize("size", SIZES)
async def test_the_chosen_row_comes_into_sight(size: tuple[int, int]) -> None:
    """Whichever piece is chosen, its row is in sight with its mark, and no other has the mark."""
    app = bench(FakeDoor(many()), Clocks())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        for place in (60, 3, 99, 0):
            ref = app.choosing.rows[place]
            app.action_choose(ref)
            await pilot.pause()
            rows = rows_of(app)
            assert place in rows.in_sight
            assert rows.rows[place].piece.ref == ref
            marked = [line for line in lines_of(app) if line.startswith("›")]
            assert marked == [rows.drawn_row(place).plain.split("\n")[0].rstrip()]


@pytest.mark.parametrize("size", SIZES)
async def test_a_click_chooses_the_row_under_it(size: tuple[int, int]) -> None:
    """In a list that was turned, the row that is clicked is the one that stands there."""
    app = bench(FakeDoor(many()), Clocks())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        rows = rows_of(app)
        rows.scroll_to(y=31, animate=False)
        await pilot.pause()
        place = rows.in_sight[1]
        line = rows.region_of(place).y - rows.scroll_offset.y
        await pilot.click(PieceList, offset=(5, line))
        await pilot.pause()
        assert app.choosing.large == rows.rows[place].piece.ref
        assert rows.rows[place].chosen


async def test_a_click_below_the_last_row_chooses_nothing() -> None:
    """Where the list is higher than its rows, the room below them is no row."""
    app = bench(FakeDoor(many()[:3]), Clocks())
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        large = app.choosing.large
        await pilot.click(PieceList, offset=(5, rows_of(app).size.height - 1))
        await pilot.pause()
        assert app.choosing.large == large


async def test_what_is_marked_in_rows_can_be_copied() -> None:
    """Text marked by dragging over rows is what stands there, in a list that was turned too."""
    app = bench(FakeDoor(many()), Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        rows = rows_of(app)
        rows.scroll_to(y=31, animate=False)
        await pilot.pause()
        first, second, *_ = meant(app)
        await pilot.mouse_down(PieceList, offset=(5, 0))
        await pilot.hover(PieceList, offset=(9, 1))
        await pilot.mouse_up(PieceList, offset=(9, 1))
        await pilot.pause()
        marked = app.screen.get_selected_text()
        assert marked is not None
        head, tail = marked.split("\n")
        assert (head.rstrip(), tail.rstrip()) == (first[5:], second[: len(tail)].rstrip())
