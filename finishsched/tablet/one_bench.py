"""What the process of one screen runs: the bench, with a page in the place of a terminal.

Nothing else of the machine is reached by it: no file is handed out, no address opened, no command
of the user's own run.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Any, Literal

from textual import messages

from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.leaving import begin_deadline
from finishsched.bench.touch.app import TouchBench
from finishsched.bench.touch.driver import PageDriver
from finishsched.documents.user_settings import read_settings
from finishsched.refusals import RefusalError
from finishsched.tablet import packets
from finishsched.workshop.base.workshop import Workshop

_HEARD = frozenset({"resize", "tap", "typed", "quit"})


class ServedDriver(PageDriver):
    """The toolkit's driver for a page, without what reaches beyond the bench."""

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """Take the words that a bench needs, and no other."""
        if packet_type == "repaint":
            self._paint_anew()
        elif packet_type == "look" and isinstance(self._app, BenchApp):
            self._app.call_later(self._app.beat)
        elif packet_type in _HEARD:
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


class ServedBench(TouchBench):
    """The bench of one screen, which rings through its page."""

    def bell(self) -> None:
        """Have the page ring."""
        self.tell_page({"type": "ring"})


def main(shop: str, settings_file: str) -> None:
    """Run the bench of one screen on a shop."""
    try:
        settings = replace(read_settings(Path(settings_file)), notify=())
        with Workshop.open(Path(shop), _now()) as workshop:
            door = ShopDoor(workshop)
            app = ServedBench(door, now=_now, settings=settings)
            app.driver_class = ServedDriver
            app.run()
            status = app.return_code or 0
    except RefusalError as error:
        refused = packets.said("refused", lines=list(error.lines))
        sys.stdout.buffer.write(packets.PRELUDE + refused)
        sys.stdout.flush()
        status = 0
    sys.exit(status)


def _now() -> datetime:
    return datetime.now(UTC)
