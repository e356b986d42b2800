"""Connections as they come in: how many there may be, and how long one may take for nothing.

A connection carries one request, or becomes a WebSocket: so one deadline holds for all of it, and
nobody keeps a place by sending a letter now and then.
"""

from __future__ import annotations

import asyncio
from collections import Counter
from typing import Any

from aiohttp import web

from finishsched.tablet.limits import (
    ANSWER_S,
    HEAD_S,
    MOST_CONNECTIONS,
    MOST_CONNECTIONS_OF_ONE,
)

HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
    "Server": "finishsched",
}
"""With every answer: nothing guessed, framed, referred to, shared with other pages, or kept."""


class Places:
    """Counts who is connected."""

    def __init__(self) -> None:
        self._from: Counter[str] = Counter()

    def take(self, address: str) -> bool:
        """Take a place for a connection; False where there is none for it."""
        full = self._from.total() >= MOST_CONNECTIONS
        if full or self._from[address] >= MOST_CONNECTIONS_OF_ONE:
            return False
        self._from[address] += 1
        return True

    def give_back(self, address: str) -> None:
        """Give a place back."""
        self._from[address] -= 1
        self._from += Counter()  # drops those that have none


class Connection(web.RequestHandler):
    """One connection: refused where there is no place, and ended at its deadline."""

    def __init__(self, server: web.Server, places: Places, **named: Any) -> None:
        super().__init__(server, loop=asyncio.get_running_loop(), **named)
        self._places = places
        self._address: str | None = None
        self._deadline: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Take a place, or end at once."""
        assert isinstance(transport, asyncio.Transport)  # noqa: S101  # nothing else is served
        peer = transport.get_extra_info("peername")
        address = str(peer[0]) if peer else ""
        if not self._places.take(address):
            transport.abort()
            return
        self._address = address
        self._set_deadline(HEAD_S)
        super().connection_made(transport)

    def connection_lost(self, exc: BaseException | None) -> None:
        """Give the place back."""
        if self._address is None:
            return
        self._places.give_back(self._address)
        self._forget_deadline()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take what came, unless there was no place."""
        if self._address is not None:
            super().data_received(data)

    def answering(self) -> None:
        """Hear that something was asked: its answer has a deadline too."""
        self._set_deadline(ANSWER_S)

    def stays(self) -> None:
        """Hear that it is a WebSocket, which stays."""
        self._forget_deadline()

    def _set_deadline(self, seconds: float) -> None:
        self._forget_deadline()
        self._deadline = asyncio.get_running_loop().call_later(seconds, self.end)

    def _forget_deadline(self) -> None:
        if self._deadline is not None:
            self._deadline.cancel()
            self._deadline = None

    def end(self) -> None:
        """End it, whatever it is about."""
        if self.transport is not None:
            self.transport.abort()

    def handle_error(
        self,
        request: web.BaseRequest,
        status: int = 500,
        exc: BaseException | None = None,  # noqa: ARG002  # aiohttp's own
        message: str | None = None,  # noqa: ARG002  # aiohttp's own
    ) -> web.StreamResponse:
        """Say no more of what could not be read than of anything else without a session."""
        if request.writer.output_size > 0:
            raise ConnectionError
        answer = web.Response(status=401 if status < 500 else status, headers=HEADERS)
        answer.force_close()
        return answer
