"""The bench on a terminal: it takes over its first picture, and keeps one for the next time."""

from __future__ import annotations

import gc
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any, Protocol

from textual import constants
from textual.driver import Driver
from textual.geometry import Size
from textual.screen import Screen

from finishsched.bench import words
from finishsched.bench.app import BenchApp
from finishsched.bench.asking.desk import Desk
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.first_picture import OTHER_SCREEN, Kept, keep, lines_of
from finishsched.bench.surface import Surface
from finishsched.model.settings import Settings
from finishsched.workshop.base.workshop import Workshop

OBJECTS_BEFORE_A_LOOK = 10_000
"""How many objects more are made before Python looks for those that hold each other: often enough
that a look takes no longer than a millisecond or two, and no key waits for one."""
KEPT_EVERY_S = 20.0
"""How old the picture that is kept may be, while the bench is open."""


class Shown(Protocol):
    """What a terminal needs of the bench that it shows."""

    @property
    def desk(self) -> Desk:
        """What the bench has read."""

    @property
    def size(self) -> Size:
        """Cells of the terminal."""

    @property
    def screen_stack(self) -> list[Screen[Any]]:
        """All screens, the board first; none while the bench closes."""

    def monotonic_s(self) -> float:
        """Return seconds that only go forward."""

    def call_after_refresh(self, callback: Callable[[], None]) -> bool:
        """Have something called once what is owed is drawn."""


class PictureKeeper:
    """Keeps a picture of the board now and then, which the next bench shows first."""

    def __init__(self, bench: Shown) -> None:
        self._bench = bench
        self._kept_at_s = float("-inf")
        self._kept: tuple[str, ...] = ()

    def look(self) -> None:
        """Keep one, once the last is old enough and nothing lies over the board."""
        if self._bench.monotonic_s() - self._kept_at_s >= KEPT_EVERY_S and self._board_shows():
            self._bench.call_after_refresh(self._keep_picture)

    def _board_shows(self) -> bool:
        return len(self._bench.screen_stack) == 1

    def _keep_picture(self) -> None:
        desk = self._bench.desk
        if desk.workshop is None or not self._board_shows():
            return
        self._kept_at_s = self._bench.monotonic_s()
        (board,) = self._bench.screen_stack
        strips = board._compositor.render_strips()  # noqa: SLF001  # as pictures of it do
        lines = lines_of([strip.text for strip in strips])
        size, view = self._bench.size, desk.view
        if lines != self._kept and len(lines) == size.height:
            day, clock = words.today(view.now, view.zone), words.wall(view.now, view.now, view.zone)
            shop = words.plain(view.shop)
            keep(desk.workshop.folder, size.width, Kept(shop, f"{day} {clock}", lines))
            self._kept = lines


def at_terminal(bench: Shown) -> Surface:
    """Return what a terminal adds to ``bench``."""
    return Surface(follows=PictureKeeper(bench).look)


def _in_its_own_process(bench: BenchApp) -> Surface:
    """Return the same for a bench that has the program to itself."""

    def begins() -> None:
        bench.call_after_refresh(_look_at_new_objects_only)

    return replace(at_terminal(bench), begins=begins)


def _look_at_new_objects_only() -> None:
    """Have Python pass over what was loaded to begin with, which stays as long as the bench."""
    gc.freeze()
    gc.set_threshold(OBJECTS_BEFORE_A_LOOK)


def _take_over_screen(bench: BenchApp) -> None:
    """Begin on the screen that the first picture is on, without clearing that."""
    if constants.DRIVER is None:
        bench.driver_class = _going_on_from_the_picture(bench.driver_class)


def _going_on_from_the_picture(usual: type[Driver]) -> type[Driver]:
    """Return a driver like ``usual`` that does not clear the screen when it first begins."""

    class GoingOn(usual):  # type: ignore[misc, valid-type]  # whichever the platform has
        _began = False

        def write(self, data: str) -> None:
            if data == OTHER_SCREEN and not self._began:
                self._began = True
                return
            super().write(data)

    return GoingOn


def run(
    workshop: Workshop,
    settings: Settings,
    now: Callable[[], datetime],
    hand_over: Callable[[], bool],
    *,
    begin_first: bool = False,
) -> None:
    """Open the bench and stay in it until the person leaves; on the form for a piece, if wanted.

    ``hand_over`` gives the terminal over, and tells whether a first picture is on it.
    """
    door = ShopDoor(workshop)
    bench = BenchApp(
        door,
        now=now,
        settings=settings,
        begin_first=begin_first,
        surface=_in_its_own_process,
    )
    if hand_over():
        _take_over_screen(bench)
    bench.run()
    if bench.fault is not None:
        raise bench.fault
