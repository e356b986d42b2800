"""Six pieces at once, on a real shop folder: six clocks that run side by side."""

from pathlib import Path

from fakes import MINUTE, Clocks
from real_shop import WAITS, Hands, bench_on, make_shop

from finishsched.workshop.base.answers import State
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.views.views import bench_view, piece_view

PIECES = ("lid", "tray", "case", "foot", "door", "frame")


def sand(workshop: Workshop, ref: str, clocks: Clocks) -> None:
    """Log everything up to the first coat."""
    log_entry(workshop, Entry(What.START, ref), clocks.wall)
    while (step := piece_view(workshop, ref, clocks.wall).step) and step.wait is None:
        log_entry(workshop, Entry(What.DONE, ref), clocks.wall)


async def test_six_clocks_side_by_side(tmp_path: Path) -> None:
    """Each piece's wait runs from its own coat; the bell rings for each as its time comes."""
    clocks = Clocks()
    folder = make_shop(tmp_path / "shop", dict.fromkeys(PIECES, "quick-shellac-insides"))
    with Workshop.open(folder, clocks.wall) as workshop:
        app = bench_on(workshop, clocks)
        async with app.run_test() as pilot:
            await pilot.pause()
            hands = Hands(app, pilot, clocks)
            for name in PIECES:
                sand(workshop, f"box/{name}", clocks)
                app.desk.refresh(clocks.wall)  # nothing tells the bench what is logged past it
                app.take_view()
                app.choosing.choose(f"box/{name}")
                app.repaint()
                await hands.do_the_next_thing()
                assert hands.piece.state in WAITS
            views = bench_view(workshop, clocks.wall).pieces
            laid = [view.clock.laid_at for view in views if view.clock]
            assert len(set(laid)) == len(PIECES)
            assert app.rings == 0
            last = max(view.clock.likely_at for view in views if view.clock)
            due = []
            while clocks.wall < last:
                hands.pass_time(MINUTE)
                due.append(app.rings)
            assert app.rings == len(PIECES)
            assert len(set(due)) == len(PIECES) + 1
            assert app.facts is not None
            assert {view.state for view in app.facts.view.pieces} == {State.CHECK}
            order = [view.ref for view in app.facts.view.pieces]
            assert order == [f"box/{name}" for name in PIECES]
