"""A real shop folder with a journal, and a pair of hands that works by the board alone."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from fakes import MINUTE, Clocks, WatchedBench
from textual.pilot import Pilot

from finishsched.bench.asking.door import ShopDoor
from finishsched.model.settings import Settings
from finishsched.planning.quick import first_plan
from finishsched.workshop.base.answers import PieceView, State
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.memory import Remembered, remember
from finishsched.workshop.plan.plans import shop_sound

SHOP = "shop: Alder Lane Workshop\ntime_zone: Europe/Berlin\npeople: [Ana, Rui]\n"
PIECE = """
  - piece: {piece}
    title: {title}
    schedule: {schedule}
    faces:
      - {{face: inside, area: 0.1 m2}}
"""
SIMPLE = """
schedule: simple
title: Sanded and padded
suits: fronts
look: satin
source: invented for this test
stages:
  - stage: prepare
    steps:
      - {sand: with the grain, grade: P240, lubricant: dry, hands_on: 2 min + 5 min/m2}
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 1.5 lb
        coats: 3
        amount: 15 ml/m2
        wait: {between: {earliest: 5 min, likely: 15 min}, after: {earliest: 12 h, likely: 20 h}}
        dry_check: a thumbnail leaves no dent
"""
PATIENCE_S = 120.0
"""Within this it has come about on any machine; never asserted."""
WAITS = (State.DRYING, State.NEARLY, State.CHECK, State.CLOSED)


def make_shop(folder: Path, schedules: dict[str, str]) -> Path:
    """Write a shop with one job; ``schedules`` names a shipped schedule for each piece."""
    (folder / "jobs").mkdir(parents=True)
    (folder / "shop.yaml").write_text(SHOP, "utf-8")
    pieces = "".join(
        PIECE.format(piece=piece, title=f"The {piece}", schedule=schedule)
        for piece, schedule in schedules.items()
    )
    job = f"job: box\ntitle: A small box\npieces:{pieces}"
    (folder / "jobs" / "box.yaml").write_text(job, "utf-8")
    return folder


def make_chest(folder: Path, job: str) -> Path:
    """Write a shop with one job, whose pieces go by the schedule ``simple``."""
    for name in ("jobs", "schedules"):
        (folder / name).mkdir()
    (folder / "shop.yaml").write_text(SHOP, "utf-8")
    (folder / "jobs" / "chest.yaml").write_text(job, "utf-8")
    (folder / "schedules" / "simple.yaml").write_text(SIMPLE, "utf-8")
    return folder


class Hands:
    """Somebody who does what the board says, and lets time pass."""

    def __init__(self, app: WatchedBench, pilot: Pilot[None], clocks: Clocks) -> None:
        self.app = app
        self.pilot = pilot
        self.clocks = clocks

    @property
    def piece(self) -> PieceView:
        """The chosen piece as the bench shows it."""
        facts = self.app.facts
        assert facts is not None
        return next(piece for piece in facts.view.pieces if piece.ref == facts.chosen)

    async def press(self, *keys: str) -> None:
        """Press keys, each after two minutes."""
        for key in keys:
            self.pass_time(2 * MINUTE)
            await self.pilot.press(key)
            await self.pilot.pause()

    def pass_time(self, step: timedelta) -> None:
        """Let time pass, with a beat at its end."""
        self.clocks.forward(step)
        self.app.beat()

    def wait_until_likely(self) -> None:
        """Let time pass until the chosen piece is likely dry, and go back to it."""
        piece = self.piece
        assert piece.clock is not None
        if self.clocks.wall < piece.clock.likely_at:
            self.pass_time(piece.clock.likely_at - self.clocks.wall)
            self.app.choosing.choose(piece.ref)
            self.app.repaint()

    async def do_the_next_thing(self) -> None:
        """Do what the key for the next thing does, whatever it is."""
        state = self.piece.state
        if state is State.NOT_BEGUN:
            await self.press("space", "y")
        elif state is State.TO_DO:
            await self.press("space")
        else:
            self.wait_until_likely()
            assert self.piece.state is State.CHECK
            await self.press("space", "r")


class AloneBench(WatchedBench):
    """The bench without its back room, for what needs no more than the shop itself."""

    def open_back_room(self) -> None:
        """Open none."""


class SeekingBench(WatchedBench):
    """The bench as it looks for a better plan, without waiting for a moment's quiet."""

    QUIET_S = 0.01


def advised_on(
    workshop: Workshop, clocks: Clocks, *, alone: bool = False, seeks: bool = False
) -> WatchedBench:
    """Return the bench on a real shop with all that only a shop can answer."""
    kind = AloneBench if alone else SeekingBench if seeks else WatchedBench
    return kind(
        ShopDoor(workshop),
        now=lambda: clocks.wall,
        monotonic=lambda: clocks.monotonic_s,
        settings=Settings(),
    )


def bench_on(workshop: Workshop, clocks: Clocks) -> WatchedBench:
    """Return the bench on a real shop, with nothing going on behind it."""
    return advised_on(workshop, clocks, alone=True)


async def until(pilot: Pilot[None], holds: Callable[[], object]) -> None:
    """Wait until something holds that the back room works out; a busy machine takes its time."""
    async with asyncio.timeout(PATIENCE_S):
        await pilot.pause()
        while not holds():
            await pilot.pause(0.02)


def shown(app: WatchedBench) -> str:
    """Return what is on the screen, as text."""
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips)


def late_plan(workshop: Workshop, now: datetime, days: int) -> None:
    """Have a plan shown that begins some days later than it could."""
    problem = shop_sound(workshop, now)[1].problem
    from_min = problem.now_min + days * 1440
    later = tuple(
        replace(a, release_min=max(from_min, a.release_min or 0)) for a in problem.activities
    )
    plan = first_plan(replace(problem, activities=later))
    shown = Remembered(plan, problem.now_min, workshop.book().last_seq)
    assert remember(workshop.folder, shown)
