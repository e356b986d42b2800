"""The driver that speaks with a page: the toolkit's own for the web, and words of hands besides."""

from __future__ import annotations

from collections.abc import Mapping

from textual.drivers.web_driver import WebDriver
from textual.message import Message


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
    """Hands on what the toolkit's driver does not know."""

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """Take a packet that is no key; called outside the bench's own thread."""
        message = said_by_page(payload)
        if message is not None:
            self._app.post_message(message)
        else:
            super().on_meta(packet_type, payload)
