"""Going on where the program was changed under the bench that runs, and ending in words.

What keys and forms open is loaded when it is needed; by then another version may be in its place,
or none. Whoever works is told so, and nothing that was typed is lost.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from textual.app import App
from textual.message_pump import MessagePump
from textual.worker import WorkerFailed

if TYPE_CHECKING:
    from textual.actions import ActionParseResult
    from textual.dom import DOMNode
    from textual.message import Message

CHANGED_MEANWHILE = "finishsched was changed while this bench ran: leave it and come back."


class Lasting(MessagePump):
    """A screen that goes on when something that it needs is not there any more."""

    async def _dispatch_message(self, message: Message) -> None:
        # Caught here, since a screen hears nothing more once an error has left it.
        try:
            await super()._dispatch_message(message)
        except ImportError:
            _tell(self.app)


class LastingApp(Lasting, App[None]):
    """A bench that goes on so, and that ends in words where something else went wrong."""

    fault: Exception | None = None
    """What ended it, where that was a fault of the program."""

    async def run_action(
        self,
        action: str | ActionParseResult,
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """Do what a key or a tap asks for, as long as the program is the one that was begun."""
        try:
            return await super().run_action(action, default_namespace, namespaces)
        except ImportError:
            _tell(self)
            return True

    def _handle_exception(self, error: Exception) -> None:
        cause = error.error if isinstance(error, WorkerFailed) else error
        if isinstance(cause, ImportError):
            _tell(self)
            return
        # As the toolkit does, without its page of code and values on the terminal.
        self._return_code = 1
        if self._exception is None:
            self._exception = self.fault = error
            self._exception_event.set()
        self._close_messages_no_wait()


def _tell(app: App[Any]) -> None:
    app.notify(CHANGED_MEANWHILE, severity="warning", markup=False)
