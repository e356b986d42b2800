"""One piece from raw wood to finished, by the keys of the bench alone, on a real shop folder."""

from pathlib import Path

from fakes import NOW, Clocks, said
from real_shop import WAITS, Hands, bench_on, make_shop

from finishsched.model.step import steps_of
from finishsched.model.verbs import Verb
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.views.views import piece_view

SCHEDULE = "quick-shellac-insides"


async def test_from_raw_wood_to_finished(tmp_path: Path) -> None:
    """Every step of a shipped schedule is done and logged, with one ring of the bell a wait."""
    clocks = Clocks()
    with Workshop.open(make_shop(tmp_path / "shop", {"tray": SCHEDULE}), clocks.wall) as workshop:
        app = bench_on(workshop, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            waits, presses = 0, 0
            while hands.piece.state is not State.FINISHED:
                waits += hands.piece.state in WAITS
                await hands.do_the_next_thing()
                presses += 1
                assert presses < 100
            piece = piece_view(workshop, "box/tray", clocks.wall)
            assert piece.state is State.FINISHED
            assert piece.steps_done == piece.steps_in_all
            steps = steps_of(workshop.papers.schedules[SCHEDULE])
            rests = sum(step.verb is Verb.REST for step in steps)  # begin by themselves
            assert presses == 1 + piece.steps_in_all - rests + waits
            assert waits == sum(step.wait is not None for step in steps) - rests
            assert app.rings == waits


async def test_nothing_is_lost_when_the_bench_closes(tmp_path: Path) -> None:
    """A bench opened again, hours later, shows the same wait with the time gone by."""
    clocks = Clocks()
    folder = make_shop(tmp_path / "shop", {"tray": SCHEDULE})
    with Workshop.open(folder, clocks.wall) as workshop:
        app = bench_on(workshop, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            while hands.piece.state not in WAITS:
                await hands.do_the_next_thing()
            before = hands.piece.clock
    assert before is not None
    clocks.wall = before.likely_at
    with Workshop.open(folder, clocks.wall) as workshop:
        app = bench_on(workshop, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            assert hands.piece.state is State.CHECK
            assert hands.piece.clock is not None
            assert hands.piece.clock.laid_at == before.laid_at
            assert app.rings == 1
            assert any("nobody looked" in text for text in app.notices.open)


async def test_a_bad_day(tmp_path: Path) -> None:
    """Not yet, a slip undone, a note, a defect, a skip and a refused entry all go by the keys."""
    clocks = Clocks()
    with Workshop.open(make_shop(tmp_path / "shop", {"tray": SCHEDULE}), clocks.wall) as workshop:
        app = bench_on(workshop, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            await hands.press("space", "y", "space")
            assert hands.piece.steps_done == 1
            await hands.press("u")
            assert hands.piece.steps_done == 0
            await hands.press("s", "enter", *"dusty", "enter")
            assert hands.piece.steps_done == 1
            await hands.press("d", *"oddity", "enter", "escape", "t")
            await hands.press(*"oak", "enter")
            assert [line.text for line in hands.piece.log][:2] == ["note: oak", "defect: oddity"]
            while hands.piece.state not in WAITS:
                await hands.do_the_next_thing()
            hands.wait_until_likely()
            await hands.press("space", "n")
            assert hands.piece.clock is not None
            assert hands.piece.clock.not_yet == 1
            assert hands.piece.clock.likely_at > clocks.wall


async def test_two_benches_on_one_shop(tmp_path: Path) -> None:
    """What one bench logs the other shows with its next beat; a step logged twice is refused."""
    clocks = Clocks()
    folder = make_shop(tmp_path / "shop", {"tray": SCHEDULE})
    with Workshop.open(folder, NOW) as mine, Workshop.open(folder, NOW) as theirs:
        app = bench_on(mine, clocks)
        other = bench_on(theirs, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            await hands.press("space", "y")
            async with other.run_test() as other_pilot:
                await other_pilot.pause()
                other_hands = Hands(other, other_pilot, clocks)
                assert other_hands.piece.state is State.TO_DO
                await other_hands.press("space")
                assert other_hands.piece.steps_done == 1
            await pilot.press("space")
            assert "is over" in said(app)[-1]
            app.beat()
            assert hands.piece.steps_done == 1
