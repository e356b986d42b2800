"""The driver that speaks with a page: the toolkit's own for the web, and words of hands besides."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from time import monotonic
from typing import IO, Any, Literal, NamedTuple, Protocol

from textual import messages
from textual.drivers.web_driver import WebDriver

from finishsched.bench.leaving import begin_deadline

_OF_THE_TOOLKIT = frozenset({"resize", "quit"})
"""Of its own words those that a bench needs."""


class Tapped(NamedTuple):
    """A button of the page was tapped; ``of`` numbers the screen that it was offered with."""

    of: int
    action: str
    at_s: float | None = None
    """When it came, by the machine's clock; None for just now."""


class Touched(NamedTuple):
    """A cell of the picture was tapped, counted from 0, and which picture that was."""

    of: int
    seen: int
    """The number of where everything stood, as it was told with the offer."""
    x: int
    y: int
    at_s: float | None = None


class Typed(NamedTuple):
    """A field of the page says otherwise; ``of`` numbers the screen that it was offered with."""

    of: int
    field: str
    value: str


class Hearer(Protocol):
    """Who does what hands on the page say."""

    async def tapped(self, tapped: Tapped) -> None:
        """Do what was tapped."""

    async def touched(self, touched: Touched) -> None:
        """Do what a tap on the picture asks for."""

    def typed(self, typed: Typed) -> None:
        """Write what was typed."""

    def looked_at(self) -> None:
        """Be up to now for somebody who looks at the page again."""

    def turned(self) -> None:
        """Say when the picture is whole on a page that has other measures now."""


def said_by_page(payload: Mapping[str, object]) -> Tapped | Touched | Typed | None:
    """Return what the page sent, or None for what nobody could have meant."""
    kind, of = payload.get("type"), payload.get("of")
    if not isinstance(of, int):
        return None
    if kind == "tap" and isinstance(action := payload.get("action"), str):
        return Tapped(of, action, monotonic())
    if kind == "touch":
        return _touched(of, payload)
    field, value = payload.get("field"), payload.get("value")
    if kind == "typed" and isinstance(field, str) and isinstance(value, str):
        return Typed(of, field, value)
    return None


def _touched(of: int, payload: Mapping[str, object]) -> Touched | None:
    seen, x, y = (payload.get(name) for name in ("seen", "x", "y"))
    if isinstance(seen, int) and isinstance(x, int) and isinstance(y, int):
        return Touched(of, seen, x, y, monotonic())
    return None


class PageDriver(WebDriver):
    """The toolkit's driver for a page: it hears what hands say, and nothing that reaches beyond.

    No file is handed out, and no address is opened. Words come outside the bench's own thread.
    """

    heard_by: Hearer | None = None
    """Nothing is offered to hands before the bench says who hears them."""

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """Take a word of the server's, or of the page's; those that are not known do nothing."""
        said = said_by_page(payload)
        if said is not None:
            self._pass_on(said)
        elif packet_type == "repaint":
            self._paint_anew()
        elif packet_type == "look" and self.heard_by is not None:
            self._app.call_later(self.heard_by.looked_at)
        elif packet_type in _OF_THE_TOOLKIT:
            super().on_meta(packet_type, payload)
            if packet_type == "resize" and self.heard_by is not None:
                self._app.call_later(self.heard_by.turned)

    def _pass_on(self, said: Tapped | Touched | Typed) -> None:
        if self.heard_by is None:
            return
        if isinstance(said, Tapped):
            self._app.call_later(self.heard_by.tapped, said)
        elif isinstance(said, Touched):
            self._app.call_later(self.heard_by.touched, said)
        else:
            self._app.call_later(self.heard_by.typed, said)

    def _paint_anew(self) -> None:
        """Draw all of it for a page that has nothing of it."""
        self.write("\x1b[?1049h")
        self._enable_mouse_support()
        self.write("\x1b[?25l")
        self._enable_bracketed_paste()
        self._app.call_later(self._app.refresh, layout=True)

    def run_input_thread(self) -> None:
        """Hear the server until it is gone; then this bench ends too, whatever holds it up."""
        super().run_input_thread()
        begin_deadline(0)
        self._app.post_message(messages.ExitApp())

    def open_url(self, url: str, new_tab: bool = True) -> None:  # noqa: FBT001, FBT002  # Textual's
        """Open nothing."""

    def deliver_binary(
        self,
        binary: IO[Any],
        *,
        delivery_key: str,
        save_path: Path,
        open_method: Literal["browser", "download"] = "download",
        encoding: str | None = None,
        mime_type: str | None = None,
        name: str | None = None,
    ) -> None:
        """Hand out nothing."""
