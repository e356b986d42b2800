"""The WebSocket of one screen: what a page sends goes to its bench, and the other way round."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Mapping
from contextlib import suppress
from typing import Any

from aiohttp import WSCloseCode, WSMsgType, web

from finishsched.tablet.bench_process import Size
from finishsched.tablet.connections import Connection
from finishsched.tablet.limits import HEARTBEAT_S, MOST_FRAME_BYTES, OPEN_S, SLOW_S
from finishsched.tablet.screens import Screen, Screens

_OF_HANDS = {
    "tap": ("of", "action"),
    "touch": ("of", "seen", "x", "y"),
    "typed": ("of", "field", "value"),
}
"""Words of a page about its buttons, picture and fields, and what belongs to each."""
_CLOSED_BY_THE_PAGE = (WSCloseCode.OK, WSCloseCode.GOING_AWAY)


class PageLine:
    """The line to a page."""

    def __init__(self, socket: web.WebSocketResponse, connection: Connection | None) -> None:
        self._socket = socket
        self._connection = connection

    async def draw(self, drawn: bytes) -> None:
        """Have signs of a terminal shown; a page that takes none for long is let go of."""
        await self._within_time(self._socket.send_bytes(drawn))

    async def tell(self, word: str, **more: object) -> None:
        """Tell the page a word."""
        await self._within_time(self._socket.send_json([word, more]))

    async def answer(self, word: str, what: object) -> None:
        """Send back what was sent along."""
        await self._within_time(self._socket.send_json([word, what]))

    async def _within_time(self, sending: Any) -> None:
        try:
            async with asyncio.timeout(SLOW_S):
                await sending
        except TimeoutError:
            self.end()
        except (ConnectionError, RuntimeError):
            return

    def end(self) -> None:
        """End the connection."""
        if self._connection is not None:
            self._connection.end()


class BenchSocket:
    """Takes the WebSockets."""

    def __init__(self, screens: Screens) -> None:
        self._screens = screens
        self._sockets: set[web.WebSocketResponse] = set()

    async def serve(self, request: web.Request) -> web.StreamResponse:
        """Serve one screen for as long as it stays."""
        socket = web.WebSocketResponse(
            heartbeat=HEARTBEAT_S, max_msg_size=MOST_FRAME_BYTES, compress=False
        )
        if not socket.can_prepare(request).ok:
            raise web.HTTPBadRequest
        await socket.prepare(request)
        connection = request.protocol if isinstance(request.protocol, Connection) else None
        if connection is not None:
            connection.stays()
        self._sockets.add(socket)
        line = PageLine(socket, connection)
        try:
            await self._talk(socket, line)
        finally:
            self._sockets.discard(socket)
        return socket

    async def _talk(self, socket: web.WebSocketResponse, line: PageLine) -> None:
        wanted = await _first(socket)
        if wanted is None:
            await socket.close(code=WSCloseCode.POLICY_VIOLATION)
            return
        size, key = Size.of(wanted), str(wanted.get("bench") or "")
        screen = await self._screens.open(line, size, key)
        if screen is None:
            await line.tell("full", open=len(self._screens))
            await socket.close(code=WSCloseCode.TRY_AGAIN_LATER)
            return
        try:
            await self._hear(socket, screen, line)
        finally:
            if screen.line is line and socket.close_code in _CLOSED_BY_THE_PAGE:
                self._screens.close(screen)
            self._screens.lose(screen, line)

    async def _hear(self, socket: web.WebSocketResponse, screen: Screen, line: PageLine) -> None:
        async for message in socket:
            word, what = _read(message.data) if message.type is WSMsgType.TEXT else ("", None)
            bench = screen.bench
            if word == "leave" or bench is None:
                self._screens.close(screen)
                await socket.close()
            elif word == "ping":
                await line.answer("pong", what)
            elif word == "type" and isinstance(what, str):
                await bench.type(what)
            elif word == "resize" and isinstance(what, dict):
                size = Size.of(what)
                await bench.say("resize", width=size.width, height=size.height)
            elif word in _OF_HANDS and isinstance(what, dict):
                told = {name: what[name] for name in _OF_HANDS[word] if name in what}
                await bench.say(word, **told)

    async def close_all(self) -> None:
        """Tell every page that the server goes."""
        for socket in list(self._sockets):
            with suppress(Exception):
                await socket.close(code=WSCloseCode.GOING_AWAY, message=b"the server has ended")


async def _first(socket: web.WebSocketResponse) -> Mapping[str, Any] | None:
    """Return what a page wants to begin with; None where it says nothing of the kind in time."""
    try:
        message = await socket.receive(OPEN_S)
    except TimeoutError:
        return None
    word, what = _read(message.data) if message.type is WSMsgType.TEXT else ("", None)
    return what if word == "open" and isinstance(what, dict) else None


def _read(text: str) -> tuple[str, Any]:
    """Return the word of a message, and what belongs to it; an empty word for anything else."""
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        return "", None
    if not isinstance(found, list) or not found or not isinstance(found[0], str):
        return "", None
    return found[0], found[1] if len(found) > 1 else None
