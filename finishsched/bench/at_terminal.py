"""The bench on a terminal: it takes over its first picture, and keeps one for the next time."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from textual import constants
from textual.driver import Driver

from finishsched.bench import words
from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.first_picture import OTHER_SCREEN, Kept, keep, lines_of
from finishsched.model.settings import Settings
from finishsched.workshop.base.workshop import Workshop

KEPT_EVERY_S = 20.0
"""How old the picture that is kept may be, while the bench is open."""


class TerminalBench(BenchApp):
    """The same bench; only how it begins and ends on a terminal is added."""

    _kept_at_s = float("-inf")
    _kept: tuple[str, ...] = ()

    def take_over_screen(self) -> None:
        """Begin on the screen that the first picture is on, without clearing that."""
        if constants.DRIVER is None:
            self.driver_class = _going_on_from_the_picture(self.driver_class)

    def take_view(self) -> None:
        """Keep a picture of the board now and then, besides."""
        super().take_view()
        due = self.monotonic_s() - self._kept_at_s >= KEPT_EVERY_S
        if due and self._is_open and not self.cards():
            self.call_after_refresh(self._keep_picture)

    def _keep_picture(self) -> None:
        if not self._is_open or self.cards() or self.desk.workshop is None:
            return
        self._kept_at_s = self.monotonic_s()
        strips = self._board._compositor.render_strips()  # noqa: SLF001  # as pictures of it do
        lines = lines_of([strip.text for strip in strips])
        if lines != self._kept and len(lines) == self.size.height:
            view = self.desk.view
            day, clock = words.today(view.now, view.zone), words.wall(view.now, view.now, view.zone)
            shop = words.plain(view.shop)
            keep(self.desk.workshop.folder, self.size.width, Kept(shop, f"{day} {clock}", lines))
            self._kept = lines


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
    bench = TerminalBench(door, now=now, settings=settings, begin_first=begin_first)
    if hand_over():
        bench.take_over_screen()
    bench.run()
