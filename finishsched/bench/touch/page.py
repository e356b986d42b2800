"""The bench in a page: room for fingers, and every key told to the page as a button."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Protocol

from textual import events
from textual.errors import NoWidget
from textual.geometry import Size
from textual.scrollbar import ScrollBar

from finishsched.bench.surface import Surface
from finishsched.bench.touch.driver import PageDriver, Tapped, Touched, Typed
from finishsched.bench.touch.hands import Hands, Verdict
from finishsched.bench.widgets.drawn import not_whole
from finishsched.bench.widgets.side_strip import SideStrip
from finishsched.bench.widgets.window_strip import WindowStrip

if TYPE_CHECKING:
    from textual.driver import Driver
    from textual.screen import Screen
    from textual.theme import Theme

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

NOT_DONE = {
    Verdict.GONE: "What was tapped had gone before the tap was heard: nothing was done.",
    Verdict.MOVED: "That changed before the tap was heard: tap again where it stands now.",
}
FINGER_LINES = 2
"""A line in a page is 22 CSS px high, and a finger wants 44 (WCAG 2.2, 2.5.5)."""
_SETTLES_S = 0.05
"""What was drawn for a new room is laid out and on its way to the page within this."""
_FINE = (SideStrip, WindowStrip, ScrollBar)
"""These have their targets a line apart, or are thinner than a finger."""


class Paged(Protocol):
    """What a page needs of the bench that it shows."""

    driver_class: type[Driver]
    scroll_sensitivity_y: float
    theme_variables: dict[str, str]

    @property
    def driver(self) -> Driver | None:
        """What draws for the page, once it is at work."""

    @property
    def screen(self) -> Screen[Any]:
        """The screen that shows."""

    @property
    def screen_stack(self) -> list[Screen[Any]]:
        """All screens, the board first; none while the bench closes."""

    @property
    def current_theme(self) -> Theme:
        """The theme that is drawn in."""

    def add_class(self, *class_names: str) -> object:
        """Have the look of a class."""

    def beat(self) -> None:
        """Bring everything up to now."""

    def call_in(self, seconds: float, call: Callable[[], None]) -> object:
        """Have something called in a while."""

    async def tapped(self, action: str, at_s: float | None = None) -> None:
        """Do an action of the screen that shows, which somebody tapped ``at_s``, else just now."""

    async def on_event(self, event: events.Event) -> None:
        """Take an event."""

    def action_choose(self, ref: str) -> None:
        """Show a piece large."""

    def say(self, text: str) -> None:
        """Say something for a few seconds."""


class Page:
    """Tells the page what a finger needs, and does what fingers say there."""

    def __init__(self, bench: Paged) -> None:
        """To be made before the bench begins, whose driver and look become those of a page."""
        self._bench = bench
        self.hands = Hands(self.tell)
        self._whole = Size(0, 0)
        self._is_waited_for = False
        self._was_whole = False
        bench.driver_class = PageDriver
        bench.scroll_sensitivity_y = 1.0  # a line moves as far as the finger does
        bench.add_class("-touch")

    def surface(self) -> Surface:
        """Return what the bench calls."""
        return Surface(
            begins=self._begins,
            shows=self._shows,
            lets_through=self._lets_through,
            rings=self._rings,
        )

    def tell(self, told: Mapping[str, object]) -> None:
        """Tell the page something that is not drawn."""
        if isinstance(self._bench.driver, PageDriver):
            self._bench.driver.write_meta(dict(told))

    def colours(self) -> Mapping[str, str]:
        """Return the colours of the theme by what the page calls them."""
        return {name: self._bench.theme_variables[ours] for name, ours in COLOURS.items()}

    async def tapped(self, tapped: Tapped) -> None:
        """Do what was tapped, if the screen that shows offered it; else say that it was not."""
        if not self._bench.screen_stack:
            return
        verdict = self.hands.judge(tapped.of, tapped.action, self._bench.screen)
        if verdict is Verdict.MEANT:
            await self._bench.tapped(tapped.action, tapped.at_s)
        else:
            self._say_not_done(verdict)

    async def touched(self, touched: Touched) -> None:
        """Do what lay under the finger, if it still lies there; else say that it was not done."""
        if not self._bench.screen_stack:
            return
        verdict, target = self.hands.judge_cell(touched, self._bench.screen)
        if verdict is not Verdict.MEANT:
            self._say_not_done(verdict)
        elif target is not None and target.ref:
            # Not by the cell: the rows may find their order before their widget came to the tap.
            self._bench.action_choose(target.ref)
        else:
            for kind in (events.MouseDown, events.MouseUp):
                await self._bench.on_event(_on_cell(kind, touched))

    def _say_not_done(self, verdict: Verdict) -> None:
        if verdict is not Verdict.NEVER_OFFERED:
            self._bench.say(NOT_DONE[verdict])

    def typed(self, typed: Typed) -> None:
        """Write what was typed on the page into its field."""
        self.hands.type(typed.of, typed.field, typed.value)

    def looked_at(self) -> None:
        """Be up to now for somebody who looks at the page again."""
        self._bench.beat()

    def turned(self) -> None:
        """Tell the page of its new measures only once every part was drawn for them.

        Parts are drawn one after the other; meanwhile old text stands wrapped in new places.
        """
        self._was_whole = False
        self.hands.forget()
        if not self._is_waited_for:
            self._is_waited_for = True
            self._bench.call_in(_SETTLES_S, self._wait_until_whole)

    def _wait_until_whole(self) -> None:
        stack = self._bench.screen_stack
        is_whole = not any(part for screen in stack[-1:] for part in not_whole(screen))
        if is_whole and self._was_whole:
            self._is_waited_for = False
            self._whole = stack[-1].size if stack else self._whole
            self._shows()
            return
        # Twice, so that what was drawn last is on its way too.
        self._was_whole = is_whole
        self._bench.call_in(_SETTLES_S, self._wait_until_whole)

    def _begins(self) -> None:
        """Hear the page, and tell it how the bench looks."""
        self.turned()
        if isinstance(self._bench.driver, PageDriver):
            self._bench.driver.heard_by = self
        dark = self._bench.current_theme.dark
        self.tell({"type": "look", "dark": dark, "colours": self.colours()})

    def _shows(self) -> None:
        """Tell what is offered as soon as it shows."""
        if not self._bench.screen_stack:
            return
        if self._bench.screen.size != self._whole and not self._is_waited_for:
            self.turned()
        self.hands.look(self._bench.screen, self._whole)

    def _rings(self) -> None:
        """Have the page ring: a sound, and a shake where it can."""
        self.tell({"type": "ring"})

    def _lets_through(self, event: events.Event) -> bool:
        """Pass over what is too fine for a finger; the page has buttons for it."""
        if isinstance(event, events.MouseDown | events.MouseUp):
            return not self._is_too_fine(event)
        return True

    def _is_too_fine(self, event: events.MouseEvent) -> bool:
        try:
            widget, region = self._bench.screen.get_widget_at(int(event.x), int(event.y))
        except NoWidget:
            return False
        return region.height < FINGER_LINES or isinstance(widget, _FINE)


def _on_cell(
    kind: type[events.MouseDown | events.MouseUp], touched: Touched
) -> events.MouseDown | events.MouseUp:
    """Return what the toolkit is told of a finger."""
    event = kind(None, touched.x, touched.y, 0, 0, 1, shift=False, meta=False, ctrl=False)
    if touched.at_s is not None:
        event.time = touched.at_s
    return event


def in_page(bench: Paged) -> Surface:
    """Return what a page adds to ``bench``."""
    return Page(bench).surface()
