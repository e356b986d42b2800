"""A sitting: one key a coat, round and round, by keys alone and by taps alone."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest
from fakes import BETWEEN_WAIT, MINUTE, NOW, Clocks, FakeDoor, FakePiece, WatchedBench, bench, said
from hypothesis import given
from hypothesis import strategies as st
from textual.pilot import Pilot

from finishsched.bench.asking.door import Reach
from finishsched.bench.at_hand import sitting
from finishsched.bench.at_hand.reach import reach_words
from finishsched.bench.screens.choice import ChoiceCard
from finishsched.bench.screens.sitting import SittingScreen
from finishsched.bench.screens.sitting_card import SittingCard
from finishsched.workshop.base.answers import Later
from finishsched.workshop.base.entries import What

SIZES = [(80, 24), (60, 20), (40, 12)]
FIVE = ("Lid", "Front", "Back", "Left side", "Right side")


def five_parts(**facts: object) -> list[FakePiece]:
    """Return five parts that stand before their first coat of eight."""
    return [
        FakePiece(f"box/{number}", title, coats=8, between=BETWEEN_WAIT, **facts)  # type: ignore[arg-type]
        for number, title in enumerate(FIVE)
    ]


def shown(app: WatchedBench) -> str:
    """Return what is on the screen, as text."""
    return "\n".join(strip.text.rstrip() for strip in app.screen._compositor.render_strips())


def unframed(app: WatchedBench) -> str:
    """Return what is on the screen as one line, without the frames round it."""
    return " ".join(re.sub("[│▌▐▁▂▃▄▅▆▇█]", " ", shown(app)).split())


async def tap(pilot: Pilot[None], text: str) -> None:
    """Tap on a text that is on the screen."""
    rows = shown(pilot.app).splitlines()  # type: ignore[arg-type]
    y = next(number for number, row in enumerate(rows) if text in row)
    await pilot.click(offset=(rows[y].index(text) + len(text) // 2, y))
    await pilot.pause()


def coats(door: FakeDoor) -> dict[str, int]:
    """Return how many coats each part got."""
    done = [entry.piece for entry in door.entries if entry.what in (What.DONE, What.GO_ON)]
    return {ref: done.count(ref) for ref in door.pieces}


@pytest.mark.parametrize("size", SIZES)
async def test_an_evening_of_five_coats_on_five_parts_is_27_presses(size: tuple[int, int]) -> None:
    """One key begins, one says how many coats, one is each coat; it ends by itself."""
    door, clocks = FakeDoor(five_parts()), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=size) as pilot:
        await pilot.press("c", "5")
        for _ in range(25):
            assert isinstance(app.screen, SittingScreen)
            clocks.forward(1.5 * MINUTE)
            await pilot.press("space")
        assert not app.cards()
        assert set(coats(door).values()) == {5}
        assert [entry.what for entry in door.entries] == [What.DONE] * 5 + [What.GO_ON] * 20
        assert any("sitting over: 25 logged on 5 pieces" in text for text in said(app))


@pytest.mark.parametrize("size", SIZES)
async def test_dust_that_settles_is_told_before_a_sitting_and_in_it(size: tuple[int, int]) -> None:
    """A coat into settling dust is a coat to sand again: both cards say so until it has settled."""
    door, clocks = FakeDoor(five_parts()), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=size) as pilot:
        until = clocks.wall + 10 * MINUTE
        later = {ref: Later("dust is settling from Tray", until) for ref in door.pieces}
        app.beside.side = replace(app.beside.side, later=later)
        await pilot.press("c")
        assert "! not before 18:52: dust is settling from Tray" in unframed(app)
        await pilot.press("5")
        assert "! not before 18:52: dust is settling from Tray" in unframed(app)
        clocks.forward(10 * MINUTE)
        await pilot.press("space")
        assert "settling" not in shown(app)


async def test_of_work_that_is_done_once_no_coats_are_counted() -> None:
    """Tacking off several parts has no coats, so that no digit, more or fewer is offered for it."""
    last = [FakePiece(f"box/{number}", title, coat=6) for number, title in enumerate(FIVE)]
    for parts, offered in ((five_parts(), True), (last, False)):
        app = bench(FakeDoor(parts))
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("c")
            assert isinstance(app.screen, SittingCard)
            assert ("a digit begins" in shown(app)) is offered
            assert ("fewer" in shown(app)) is offered


@pytest.mark.parametrize("size", SIZES)
async def test_a_sitting_by_taps_alone(size: tuple[int, int]) -> None:
    """Begun, tapped round, one taken out, one left for a round, one taken back, ended."""
    door, clocks = FakeDoor(five_parts()), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await tap(pilot, "c sitting")
        await tap(pilot, " e   with")
        await tap(pilot, "fewer")
        await tap(pilot, "space begin")
        for _ in range(4):
            clocks.forward(2 * MINUTE)
            await pilot.click("#in-hand")
        assert coats(door)["box/4"] == 0
        clocks.forward(2 * MINUTE)
        await tap(pilot, "not yet")
        assert door.entries[-1].what is What.NOT_READY
        clocks.forward(2 * MINUTE)
        await tap(pilot, "undo")
        assert door.entries[-1].what is What.UNDO
        await tap(pilot, "end")
        assert not app.cards()


async def test_a_beat_may_come_before_the_sitting_is_laid_out() -> None:
    """It is shown as soon as it stands, and nothing breaks before."""
    door, clocks = FakeDoor(five_parts()), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=(40, 12)) as pilot:
        await pilot.press("c")
        card = app.screen
        assert isinstance(card, SittingCard)
        card.dismiss("")
        app.sittings.begin(card.choice)
        app.beat()
        await pilot.pause()
        assert "0 done, 40 to go" in shown(app)


async def test_too_early_is_told_loudly_and_not_logged() -> None:
    """The first press says how long; a second one knows. A slip at once is none."""
    door, clocks = FakeDoor(five_parts()[:1]), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.press("c", "3")
        clocks.forward(MINUTE)
        await pilot.press("space", "space")
        assert coats(door) == {"box/0": 1}
        clocks.forward(MINUTE)
        app.beat()
        await pilot.pause()
        assert "leave it alone for 4 min" in shown(app)
        assert "go round" not in shown(app)  # there is no other part to go to
        await pilot.press("space")
        assert coats(door) == {"box/0": 1}
        assert "too early, not logged" in shown(app)
        clocks.forward(MINUTE / 10)
        await pilot.press("space")
        assert coats(door) == {"box/0": 2}


async def test_a_coat_laid_early_on_purpose_says_so_and_teaches_nothing() -> None:
    """One key says it, one why: no dry check is told, the coat is logged, undo takes both back."""
    door, clocks = FakeDoor(five_parts()[:1]), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("c", "3")
        clocks.forward(MINUTE)
        await pilot.press("space")
        clocks.forward(MINUTE)
        app.beat()
        await pilot.pause()
        await pilot.press("e")
        assert isinstance(app.screen, ChoiceCard)
        await pilot.press("1")
        await pilot.pause()
        told = [entry.what for entry in door.entries]
        assert told[-2:] == [What.EARLY, What.DONE]
        assert door.entries[-2].text
        assert coats(door) == {"box/0": 2}
        clocks.forward(MINUTE)
        await pilot.press("u", "u")
        assert [entry.what for entry in door.entries][-2:] == [What.UNDO, What.UNDO]


async def test_the_pad_and_the_jar_run_along() -> None:
    """How many parts the pad still does goes down with each coat, and a full one begins anew."""
    door, clocks = FakeDoor(five_parts()), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("c", "1")
        assert "about 3 more pieces" in shown(app)
        for _ in range(3):
            clocks.forward(MINUTE)
            await pilot.press("space")
        assert "charge it anew" in shown(app)
        await pilot.press("c")
        assert "about 3 more pieces" in shown(app)


def test_a_jar_that_runs_out_says_so_before_it_is_empty() -> None:
    """How many pieces it is enough for is told beside what is left, down to the last coat."""
    reach = Reach(0.0, "pad", {"a/a": 4.0}, 2, 9.0)
    assert reach_words(reach, "jar 2", "ml", (), ()) == "jar 2: about 9 ml, 4 more pieces"
    once = ("a/a",)
    assert reach_words(reach, "jar 2", "ml", once, once) == "jar 2: about 5 ml, 2 more pieces"
    twice = once * 2
    assert reach_words(reach, "jar 2", "ml", twice, twice) == "! jar 2: about 1 ml, no whole coat"
    assert reach_words(reach, "jar 2", "ml", once * 3, once * 3) == "! jar 2 is likely empty"


def test_a_cloth_is_no_pad() -> None:
    """What is wiped on is told by what is in the hand."""
    reach = Reach(12.0, "cloth", {"a/a": 4.0}, 1, None)
    assert reach_words(reach, "", "ml", (), ()) == "cloth: about 3 more pieces"


@given(st.lists(st.integers(1, 8), min_size=1, max_size=6), st.integers(1, 8))
def test_every_part_gets_what_it_may_have_and_no_more(at: list[int], wanted: int) -> None:
    """Whatever coat each stands at, it gets the coats wanted, or all that its step still has."""
    parts = [
        FakePiece(f"box/{n}", f"Part {n}", coat=coat, coats=8, between=BETWEEN_WAIT)
        for n, coat in enumerate(at)
    ]
    door = FakeDoor(parts)
    views = {view.ref: view for view in door.bench_view(NOW).pieces}
    going = sitting.begin(list(views.values()), wanted)
    now = NOW
    while (turn := sitting.at_turn(going, views)) is not None:
        piece = views[turn.in_hand.ref]
        door.log(sitting.coat_entry(piece, ""), now)
        now += 10 * MINUTE
        views = {view.ref: view for view in door.bench_view(now).pieces}
        going = sitting.turned(turn, piece.ref)
    assert coats(door) == {f"box/{n}": min(wanted, 9 - coat) for n, coat in enumerate(at)}


async def test_a_part_that_is_free_comes_before_one_that_is_too_early() -> None:
    """One that was coated just before the sitting waits; where all wait, the first to be free."""
    parts = five_parts()[:3]
    door, clocks = FakeDoor(parts), Clocks()
    parts[1].laid_at = NOW
    app = bench(door, clocks)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("c", "2")
        for _ in range(2):
            clocks.forward(MINUTE / 2)
            await pilot.press("space")
        assert [ref for ref, count in coats(door).items() if count] == ["box/0", "box/2"]
        assert isinstance(app.screen, SittingScreen)
        assert app.screen.facts.in_hand.piece.ref == "box/1"


async def test_impatient_presses_count_again_a_moment_later() -> None:
    """What came too soon after a coat is a slip, and does not make the next one a slip too."""
    door, clocks = FakeDoor(five_parts()), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=(40, 12)) as pilot:
        await pilot.press("c", "2")
        for _ in range(4):
            clocks.forward(timedelta(seconds=1))
            await pilot.press("space")
        assert sum(coats(door).values()) == 2


@pytest.mark.parametrize("size", SIZES)
async def test_what_a_press_does_after_a_warning_is_read_whole(size: tuple[int, int]) -> None:
    """On the lowest screen too the key says that it counts now."""
    door, clocks = FakeDoor(five_parts()[:1]), Clocks()
    app = bench(door, clocks)
    async with app.run_test(size=size) as pilot:
        await pilot.press("c", "3")
        for _ in range(2):
            clocks.forward(MINUTE)
            await pilot.press("space")
        lines = [line.strip("▌ ") for line in shown(app).splitlines()]
        assert "press again if it is coated" in " ".join(lines)
        assert "esc end" in lines[-1]
        clocks.forward(MINUTE / 10)
        await pilot.press("space")
        assert "press again" not in " ".join(shown(app).split())
