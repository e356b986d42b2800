"""Pieces that are alike: one row, one key, one sitting; any of them stands apart and comes back."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path

import pytest
from fakes import MINUTE, NOW, Clocks, said
from real_shop import bench_on, make_chest, shown
from textual.pilot import Pilot

from finishsched.journal.events import DryReady, StepDone
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.log.sitting import Sat, log_sitting

JOB = """
job: chest
title: A chest of drawers
pieces:
  - {piece: front, title: Front, count: 12, schedule: simple, faces: [{face: out, area: 0.03 m2}]}
  - {piece: top, title: Top, schedule: simple, faces: [{face: out, area: 0.3 m2}]}
"""


@pytest.fixture
def chest(tmp_path: Path) -> Path:
    """Return a shop with twelve drawer fronts and a top."""
    return make_chest(tmp_path, JOB)


async def press(pilot: Pilot[None], clocks: Clocks, *keys: str) -> None:
    """Press keys, eight minutes apart."""
    for key in keys:
        clocks.forward(8 * MINUTE)
        await pilot.press(key)
        await pilot.pause()


async def test_twelve_fronts_sanded_and_padded_once_are_four_presses(chest: Path) -> None:
    """Two begin them all, one logs the sanding, one the coat; one takes the coat back from all."""
    clocks = Clocks()
    with Workshop.open(chest, NOW) as shop:
        app = bench_on(shop, clocks)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            assert shown(app).count("Front") == shown(app).count("12 x Front")
            await press(pilot, clocks, "space", "y", "space", "space")
            done = [e for e in shop.every_event() if isinstance(e.what, StepDone)]
            assert len(done) == 24
            assert "logged: 12 x Front, pad coat 1 of 3" in said(app)[-1]
            await press(pilot, clocks, "u")
            assert len(shop.book().undone) == 12


async def test_one_is_taken_out_and_comes_back(chest: Path) -> None:
    """It stands by itself until it is put back or has caught up; the others go on as eleven."""
    clocks = Clocks()
    with Workshop.open(chest, NOW) as shop:
        app = bench_on(shop, clocks)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            await press(pilot, clocks, "space", "y", "x", "3")
            assert "11 x Front" in shown(app)
            assert app.choosing.large == "chest/front-3"
            await press(pilot, clocks, "space")
            done = [e.piece for e in shop.every_event() if isinstance(e.what, StepDone)]
            assert done == ["chest/front-3"]
            app.choosing.choose("chest/front-1")
            await press(pilot, clocks, "space")
            assert "12 x Front" in shown(app)
            await press(pilot, clocks, "x", "3", "x")
            assert not app.cards()
            assert "12 x Front" in shown(app)


async def test_a_sitting_on_real_entries(chest: Path) -> None:
    """Going on is told as going on, one undo takes back both, and the last coat ends it."""
    clocks = Clocks()
    with Workshop.open(chest, NOW) as shop:
        app = bench_on(shop, clocks)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            app.choosing.choose("chest/top")
            await press(pilot, clocks, "space", "y", "space", "c", "3")
            assert "Top: pad coat 1 of 3" in shown(app)
            await press(pilot, clocks, "space")
            assert "logged: Top, pad coat 1 of 3" in shown(app)
            assert "Top: pad coat 2 of 3" in shown(app)
            await press(pilot, clocks, "space")
            went_on = [e.what for e in shop.every_event() if isinstance(e.what, DryReady)]
            assert [what.going_on for what in went_on] == [True]
            await press(pilot, clocks, "u")
            assert len(shop.book().undone) == 2
            await press(pilot, clocks, "space", "space")
            assert not app.cards()


async def test_a_sitting_tapped_is_the_same_as_one_told_afterwards(
    chest: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Coat by coat, by row, and by the minute: what the bench logged is what one command tells."""
    other = tmp_path_factory.mktemp("told") / "shop"
    shutil.copytree(chest, other)
    clocks = Clocks()
    with Workshop.open(chest, NOW) as shop:
        app = bench_on(shop, clocks)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            for row in ("chest/front-1", "chest/top"):
                app.action_choose(row)
                await press(pilot, clocks, "space", "y", "space")
            await press(pilot, clocks, "c", "3", *6 * ["space"])
            assert not app.cards()
            tapped = {ref: _work(shop, ref) for ref in ("chest/front-7", "chest/top")}
    with Workshop.open(other, NOW) as told:
        for ref, story in tapped.items():
            for _, at in story[:1]:
                for what in (What.START, What.DONE):
                    log_entries(told, Entry(what, ref), at)
            coats = [at for step, at in story if step.startswith("body")]
            sat = Sat(3, (coats[1] - coats[0]).total_seconds())
            log_sitting(told, Entry(What.DONE, ref, at=coats[-1]), sat, coats[-1])
            assert _work(told, ref) == story


def _work(shop: Workshop, ref: str) -> list[tuple[str, datetime]]:
    """Return the work done on a piece, and when."""
    done = [e for e in shop.book().live(ref) if isinstance(e.what, StepDone)]
    return [(e.what.step, e.at) for e in done if isinstance(e.what, StepDone)]
