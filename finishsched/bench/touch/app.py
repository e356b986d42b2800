"""The bench in a page: room for fingers, and every key told to the page as a button."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from time import monotonic as machine_monotonic
from typing import TYPE_CHECKING

from textual import events
from textual.errors import NoWidget
from textual.scrollbar import ScrollBar

from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import Door
from finishsched.bench.touch.driver import PageDriver, Tapped, Typed
from finishsched.bench.touch.hands import Hands
from finishsched.bench.widgets.side_strip import SideStrip
from finishsched.bench.widgets.window_strip import WindowStrip

if TYPE_CHECKING:
    from finishsched.model.settings import Settings

COLOURS = {
    "ground": "background",
    "raised": "surface",
    "panel": "panel",
    "text": "foreground",
    "quiet": "text-muted",
    "edge": "border",
    "main": "text-primary",
    "good": "text-success",
    "warn": "text-warning",
    "bad": "text-error",
    "accent": "text-accent",
}
"""What the page calls a colour, and what the bench's themes do."""

FINGER_LINES = 2
"""A line in a page is 22 CSS px high, and a finger wants 44 (WCAG 2.2, 2.5.5)."""
_FINE = (SideStrip, WindowStrip, ScrollBar)
"""These have their targets a line apart, or are thinner than a finger."""


class TouchBench(BenchApp):
    """The same bench; only what a finger needs is added."""

    def __init__(
        self,
        door: Door,
        *,
        now: Callable[[], datetime],
        monotonic: Callable[[], float] = machine_monotonic,
        settings: Settings,
    ) -> None:
        super().__init__(door, now=now, monotonic=monotonic, settings=settings)
        self.driver_class = PageDriver
        self.hands = Hands(self.tell_page)
        self.scroll_sensitivity_y = 1.0  # a line moves as far as the finger does
        self.add_class("-touch")

    def on_mount(self) -> None:
        """Tell the page how the bench looks, before anything is drawn."""
        super().on_mount()
        self.tell_page({"type": "look", "dark": self.current_theme.dark, "colours": self.colours()})

    def colours(self) -> Mapping[str, str]:
        """Return the colours of the theme by what the page calls them."""
        return {name: self.theme_variables[ours] for name, ours in COLOURS.items()}

    def tell_page(self, told: Mapping[str, object]) -> None:
        """Tell the page something that is not drawn."""
        if isinstance(self._driver, PageDriver):
            self._driver.write_meta(dict(told))

    def bell(self) -> None:
        """Have the page ring: a sound, and a shake where it can."""
        self.tell_page({"type": "ring"})

    def post_display_hook(self) -> None:
        """Tell what is offered as soon as it shows."""
        if self.screen_stack:
            self.hands.look(self.screen)

    async def on_event(self, event: events.Event) -> None:
        """Pass over what is too fine for a finger; the page has buttons for it."""
        if isinstance(event, events.MouseDown | events.MouseUp) and self._is_too_fine(event):
            return
        await super().on_event(event)

    def _is_too_fine(self, event: events.MouseEvent) -> bool:
        try:
            widget, region = self.screen.get_widget_at(int(event.x), int(event.y))
        except NoWidget:
            return False
        return region.height < FINGER_LINES or isinstance(widget, _FINE)

    async def on_tapped(self, message: Tapped) -> None:
        """Do what was tapped, if the screen that shows offered it."""
        if self.hands.is_offered(message.of, message.action):
            self._was_touched = True
            await self.run_action(message.action, self.screen)

    def on_typed(self, message: Typed) -> None:
        """Write what was typed on the page into its field."""
        self.hands.type(message.of, message.field, message.value)
