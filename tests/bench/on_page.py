"""The bench of a page, as a test has it: what it tells is kept, and hands are said to it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fakes import Clocks, FakeDoor, six_pieces
from textual import events
from textual.geometry import Region
from textual.pilot import Pilot

from finishsched.bench.app import BenchApp
from finishsched.bench.surface import Surface
from finishsched.bench.touch.driver import Tapped, Touched, Typed
from finishsched.bench.touch.page import Page
from finishsched.bench.widgets.drawn import Drawn
from finishsched.model.settings import Settings


def is_drawn_for_its_room(part: Drawn[Any]) -> bool:
    """Tell whether what a part shows is what it would draw for the width it has now."""
    width = part.content_size.width
    return part.facts is None or width <= 0 or part.drawn.is_same(part.draw(part.facts, width))


class WatchedPage(Page):
    """A page that keeps what it is told."""

    def __init__(self, bench: BenchApp) -> None:
        super().__init__(bench)
        self.told: list[Mapping[str, Any]] = []
        self.parts_told: list[bool] = []
        """When the page was told of a picture of this size: which parts were drawn for it."""
        self.on_size = (0, 0)
        self._shown = bench

    def tell(self, told: Mapping[str, object]) -> None:
        """Keep it."""
        self.told.append(told)
        if (told.get("width"), told.get("height")) == self.on_size:
            parts = self._shown.screen.query(Drawn)
            self.parts_told += [is_drawn_for_its_room(part) for part in parts]


class WatchedTouch(BenchApp):
    """The bench of a page, what it tells kept, with no beat but those of the test."""

    BEAT_S = 86400.0
    QUIET_S = 86400.0

    def __init__(self, door: FakeDoor, clocks: Clocks) -> None:
        super().__init__(
            door,
            now=lambda: clocks.wall,
            monotonic=lambda: clocks.monotonic_s,
            settings=Settings(),
            surface=self._on_page,
        )

    def _on_page(self, bench: BenchApp) -> Surface:
        self.page = WatchedPage(bench)
        return self.page.surface()

    def hand(self, said: Tapped | Touched | Typed) -> None:
        """Say what a hand does on the page, as the driver passes it on."""
        if isinstance(said, Tapped):
            self.call_later(self.page.tapped, said)
        elif isinstance(said, Touched):
            self.call_later(self.page.touched, said)
        else:
            self.call_later(self.page.typed, said)

    @property
    def offered(self) -> Mapping[str, Any]:
        """What was offered last."""
        return next(told for told in reversed(self.page.told) if told["type"] == "offer")

    @property
    def actions(self) -> list[str]:
        """What the buttons do that were offered last."""
        return [button["action"] for button in self.offered["buttons"]]


def touched(door: FakeDoor | None = None) -> WatchedTouch:
    """Return a bench of a page on an invented shop."""
    return WatchedTouch(door or FakeDoor(six_pieces()), Clocks())


async def tap(pilot: Pilot[None], action: str) -> None:
    """Tap a button as the page does: with the number of the offer that it shows."""
    app = pilot.app
    assert isinstance(app, WatchedTouch)
    assert action in app.actions
    app.hand(Tapped(app.offered["of"], action))
    await pilot.pause()
    await pilot.pause()


async def finger(pilot: Pilot[None], target: Region) -> None:
    """Touch the middle of a region, as the driver tells of it; a pilot's click goes another way."""
    x, y = target.center
    for kind in (events.MouseDown, events.MouseUp):
        pilot.app.post_message(
            kind(None, int(x), int(y), 0, 0, 1, shift=False, meta=False, ctrl=False)
        )
        await pilot.pause()
    await pilot.pause()
