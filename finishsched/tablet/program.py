"""Serve the benches of one shop until somebody ends it, and leave nothing behind."""

from __future__ import annotations

import asyncio
import logging
import signal
import socket
import ssl
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from aiohttp import web

from finishsched.tablet.connections import Connection, Places
from finishsched.tablet.guard import Guard, Names
from finishsched.tablet.limits import HEAD_S, LINGER_S
from finishsched.tablet.page_files import PageFiles
from finishsched.tablet.papers import Papers
from finishsched.tablet.routes import Routes
from finishsched.tablet.screens import Screens
from finishsched.tablet.sessions import Guesses, Sessions
from finishsched.tablet.socket import BenchSocket

_BACKLOG = 32
_LAST_WORDS_S = 1.0
"""So long a page has to take that the server goes."""


@dataclass(frozen=True, slots=True)
class Serving:
    """What is to be served, to whom."""

    shop: Path
    settings: Path
    listening: socket.socket
    names: Names
    key: str
    tls: ssl.SSLContext | None = None
    linger_s: float = LINGER_S


def serve(serving: Serving, begun: Callable[[], None]) -> None:
    """Serve until a signal ends it; ``begun`` is called once pages are answered."""
    asyncio.run(_serve(serving, begun))


async def _serve(serving: Serving, begun: Callable[[], None]) -> None:
    ended = _on_signals(asyncio.get_running_loop())
    async with running(serving):
        begun()
        await ended.wait()


@asynccontextmanager
async def running(serving: Serving) -> AsyncIterator[None]:
    """Answer pages for as long as it lasts; then no bench and no connection is left."""
    loop = asyncio.get_running_loop()
    # What strangers send is no news; nothing of it is printed over the code to scan.
    loop.set_exception_handler(lambda _loop, _context: None)
    screens = Screens(serving.shop, serving.settings)
    sockets = BenchSocket(screens)
    routes = Routes(_guard(serving, loop.time), sockets, Papers(serving.shop))
    runner = web.AppRunner(routes.app(), access_log=None, shutdown_timeout=_LAST_WORDS_S)
    await runner.setup()
    assert runner.server is not None  # noqa: S101  # set up above
    server, places, log = runner.server, Places(), _quiet()
    listening = await loop.create_server(
        # No page packs what it sends; what would unpack to much is not unpacked at all.
        lambda: Connection(
            server,
            places,
            logger=log,
            access_log=None,
            auto_decompress=False,
            lingering_time=serving.linger_s,
        ),
        sock=serving.listening,
        ssl=serving.tls,
        backlog=_BACKLOG,
        ssl_handshake_timeout=HEAD_S if serving.tls else None,
    )
    try:
        yield
    finally:
        listening.close()
        with suppress(TimeoutError):
            async with asyncio.timeout(_LAST_WORDS_S):
                await sockets.close_all()
        await screens.end_all()
        await runner.cleanup()


def _guard(serving: Serving, clock: Callable[[], float]) -> Guard:
    port = serving.listening.getsockname()[1]
    sessions = Sessions(serving.key, clock)
    return Guard(serving.names, sessions, Guesses(clock), PageFiles(), f"finishsched-{port}")


def _on_signals(loop: asyncio.AbstractEventLoop) -> asyncio.Event:
    """Return what is set by ctrl-c, a polite kill, or a terminal that closes."""
    ended = asyncio.Event()

    def heard(_number: int, _frame: FrameType | None) -> None:
        loop.call_soon_threadsafe(ended.set)

    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is None:
            continue  # Windows has two of them
        try:
            # By the loop, which a signal wakes even in the instant before it falls asleep.
            loop.add_signal_handler(number, ended.set)
        except NotImplementedError:
            signal.signal(number, heard)
    return ended


def _quiet() -> logging.Logger:
    """Return a log that is kept nowhere: what strangers send is no news, and keys are in none."""
    log = logging.getLogger("finishsched.tablet")
    log.propagate = False
    log.addHandler(logging.NullHandler())
    return log
