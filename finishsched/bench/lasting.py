"""Going on where the program was changed under the bench that runs.

What keys and forms open is loaded when it is needed; by then another version may be in its place,
or none. Whoever works is told so, and nothing that was typed is lost.
"""

from __future__ import annotations

from collections.abc import Awaitable, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from textual.app import App
from textual.message_pump import MessagePump
from textual.worker import WorkerFailed

if TYPE_CHECKING:
    from textual.actions import ActionParseResult
    from textual.dom import DOMNode
    from textual.message import Message

Answer = TypeVar("Answer")
CHANGED_MEANWHILE = "finishsched was changed while this bench ran: leave it and come back."


async def going_on(app: App[Any], doing: Awaitable[Answer], otherwise: Answer) -> Answer:
    """Return what ``doing`` answers; ``otherwise`` where something it needs is not there any more.

    The person is told then. Any other error is handed on.
    """
    try:
        return await doing
    except ImportError:
        _tell(app)
        return otherwise


def _is_of_a_change(app: App[Any], error: Exception) -> bool:
    """Tell whether an error came of a changed program; the person is told, if so."""
    cause = error.error if isinstance(error, WorkerFailed) else error
    if not isinstance(cause, ImportError):
        return False
    _tell(app)
    return True


class Lasting(MessagePump):
    """A screen that goes on when something that it needs is not there any more."""

    async def _dispatch_message(self, message: Message) -> None:
        # Caught here, since a screen hears nothing more once an error has left it.
        await going_on(self.app, super()._dispatch_message(message), None)


class LastingApp(App[None]):
    """An app that does the same, and keeps what ended it."""

    fault: Exception | None = None
    """What ended it, where that was a fault of the program."""

    async def run_action(
        self,
        action: str | ActionParseResult,
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """Do what a key or a tap asks for, as long as the program is the one that was begun."""
        doing = super().run_action(action, default_namespace, namespaces)
        return await going_on(self, doing, True)  # noqa: FBT003  # the key is dealt with

    async def _dispatch_message(self, message: Message) -> None:
        await going_on(self, super()._dispatch_message(message), None)

    def _handle_exception(self, error: Exception) -> None:
        if _is_of_a_change(self, error):
            return
        # As the toolkit does, without its page of code and values on the terminal.
        self._return_code = 1
        if self._exception is None:
            self._exception = self.fault = error
            self._exception_event.set()
        self._close_messages_no_wait()


def _tell(app: App[Any]) -> None:
    app.notify(CHANGED_MEANWHILE, severity="warning", markup=False)
