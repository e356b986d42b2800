"""The driver that speaks with a page: the toolkit's own for the web, and words of hands besides."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import IO, Any, Literal

from textual import messages
from textual.drivers.web_driver import WebDriver
from textual.message import Message

from finishsched.bench.app import BenchApp
from finishsched.bench.leaving import begin_deadline

_OF_THE_TOOLKIT = frozenset({"resize", "quit"})
"""Of its own words those that a bench needs."""


class Tapped(Message):
    """A button of the page was tapped."""

    def __init__(self, of: int, action: str) -> None:
        """``of`` is the number of the screen that the button was offered with."""
        super().__init__()
        self.of = of
        self.action = action


class Typed(Message):
    """A field of the page says otherwise than before."""

    def __init__(self, of: int, field: str, value: str) -> None:
        """``of`` is the number of the screen that the field was offered with."""
        super().__init__()
        self.of = of
        self.field = field
        self.value = value


def said_by_page(payload: Mapping[str, object]) -> Message | None:
    """Return what the page sent, or None for what nobody could have meant."""
    kind, of = payload.get("type"), payload.get("of")
    if not isinstance(of, int):
        return None
    if kind == "tap" and isinstance(action := payload.get("action"), str):
        return Tapped(of, action)
    field, value = payload.get("field"), payload.get("value")
    if kind == "typed" and isinstance(field, str) and isinstance(value, str):
        return Typed(of, field, value)
    return None


class PageDriver(WebDriver):
    """The toolkit's driver for a page: it hears what hands say, and nothing that reaches beyond.

    No file is handed out, and no address is opened. Words come outside the bench's own thread.
    """

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """Take a word of the server's, or of the page's; those that are not known do nothing."""
        message = said_by_page(payload)
        if message is not None:
            self._app.post_message(message)
        elif packet_type == "repaint":
            self._paint_anew()
        elif packet_type == "look" and isinstance(self._app, BenchApp):
            self._app.call_later(self._app.beat)
        elif packet_type in _OF_THE_TOOLKIT:
            super().on_meta(packet_type, payload)

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
