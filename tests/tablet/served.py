"""A shop served to browsers by a process of its own, and a page that speaks with it."""

import asyncio
import json
import os
import re
import signal
import socket
import subprocess
import sys
from contextlib import asynccontextmanager, contextmanager, suppress
from pathlib import Path

import aiohttp

from finishsched.tablet.addresses import hosts_of, listen_at
from finishsched.tablet.guard import Names
from finishsched.tablet.program import Serving, running
from finishsched.tablet.sessions import new_key

CONTROL = re.compile(rb"\x1b\[[0-9;?]*[a-zA-Z]")
PATIENCE_S = 120
"""A machine that is busy with other tests starts a bench within this; never asserted."""


class Served:
    """One run of the command, and what it told."""

    def __init__(self, process, folder):
        self.process = process
        self.folder = folder
        said = process.stdout.readline()
        assert said, process.stderr.read()
        self.said = json.loads(said)
        self.key_file = Path(self.said["key_file"])
        self.address, self.key = self.key_file.read_text("utf-8").strip().split("#")
        self.origin = self.address.rstrip("/")

    def end(self, number=signal.SIGINT):
        """Send a signal and return the status."""
        self.process.send_signal(number)
        return self.process.wait(PATIENCE_S)

    def benches(self):
        """Return the processes of this server's benches, by the system's own table."""
        return benches_on(self.folder)


def benches_on(folder):
    """Return the numbers of the processes that run a bench on a shop."""
    found = []
    for place in Path("/proc").iterdir():
        if place.name.isdigit():
            try:
                words = (place / "cmdline").read_bytes().split(b"\0")
            except OSError:
                continue
            if any(b"one_bench" in word for word in words) and str(folder).encode() in words:
                found.append(int(place.name))
    return found


@contextmanager
def serving(folder, place, *options):
    """Serve a shop on a free port of this machine; ``place`` holds the user's own files."""
    surroundings = {**os.environ, "FINISHSCHED_DATA": str(place / "data")}
    surroundings["FINISHSCHED_SETTINGS"] = str(place / "settings.yaml")
    process = subprocess.Popen(
        [
            *(sys.executable, "-m", "finishsched", "--shop", str(folder)),
            *("tablet", "--port", "0", "--json", *options),
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=surroundings,
    )
    try:
        yield Served(process, folder.resolve())
    finally:
        if process.poll() is None:
            process.terminate()
        process.wait(PATIENCE_S)
        process.stdout.close()
        process.stderr.close()


def port_of_our_own():
    """Return a free port that the system gives to nobody by itself, and no other process of tests.

    Those that it gives away begin at 32768 (Linux, ip_local_port_range).
    """
    first = 20_000 + os.getpid() % 12_000
    for port in range(first, 32_768):
        with socket.socket() as trial, suppress(OSError):
            trial.bind(("127.0.0.1", port))
            return str(port)
    raise AssertionError("no port is free")


class Here:
    """A shop served in the test's own process, where limits can be set; it has no command."""

    def __init__(self, serving, folder):
        self.key = serving.key
        port = serving.listening.getsockname()[1]
        self.origin, self.port = f"http://127.0.0.1:{port}", port
        self.address = f"{self.origin}/"
        self.folder = folder

    def benches(self):
        """Return the processes of this server's benches."""
        return benches_on(self.folder)


@asynccontextmanager
async def serving_here(folder, place, **limits):
    """Serve a shop in this process."""
    listening = listen_at("127.0.0.1", 0)
    names = Names(hosts_of("127.0.0.1", listening.getsockname()[1]), "http")
    settings = place / "settings.yaml"
    what = Serving(folder.resolve(), settings, listening, names, new_key(), **limits)
    here = Here(what, folder.resolve())
    async with running(what):
        yield here


@asynccontextmanager
async def browser(served, *, enters=True):
    """Return a session with cookies, as a browser has one; with the key given, if wanted."""
    jar = aiohttp.CookieJar(unsafe=True)
    async with aiohttp.ClientSession(cookie_jar=jar, headers={"Origin": served.origin}) as session:
        if enters:
            answer = await session.post(served.address + "enter", json={"key": served.key})
            assert answer.status == 204
        yield session


async def until(is_so):
    """Wait until something is so."""
    async with asyncio.timeout(PATIENCE_S):
        while not is_so():
            await asyncio.sleep(0.05)


class Page:
    """The other end of a bench's WebSocket, which reads all the time, as a browser does."""

    def __init__(self, socket):
        self.socket = socket
        self.drawn = b""
        self.told = []
        self.ended = None
        self._news = asyncio.Event()

    async def say(self, word, what=None):
        """Send one message."""
        await self.socket.send_json([word, what])

    async def read(self):
        """Take what comes until the connection ends."""
        while self.ended is None:
            message = await self.socket.receive()
            if message.type is aiohttp.WSMsgType.BINARY:
                self.drawn += message.data
            elif message.type is aiohttp.WSMsgType.TEXT:
                self.told.append(json.loads(message.data))
            else:
                self.ended = message
            self._news.set()

    async def until(self, is_so):
        """Wait until something is so of what was drawn and told; raise where it never is."""
        async with asyncio.timeout(PATIENCE_S):
            while not is_so(self):
                if self.ended is not None:
                    raise ConnectionError(self.ended)
                self._news.clear()
                await self._news.wait()

    @property
    def text(self):
        """Return what was drawn, without what moves and colours it."""
        return CONTROL.sub(b" ", self.drawn).decode()

    @property
    def title(self):
        """Return what the form is about whose fields were offered last; empty for no form."""
        return next((what["title"] for said, what in reversed(self.told) if said == "offer"), "")

    def lose(self):
        """Lose the connection as a network does: nobody says goodbye."""
        self.socket._response.connection.transport.abort()

    def was_told(self, word):
        """Return what belongs to a word that was told, or None."""
        return next((what for said, what in self.told if said == word), None)


@asynccontextmanager
async def page(session, served, *, key="", width=80, height=24):
    """Open a bench, or that of a key again."""
    async with session.ws_connect(served.address + "bench") as socket:
        opened = Page(socket)
        reading = asyncio.create_task(opened.read())
        try:
            await opened.say("open", {"width": width, "height": height, "bench": key})
            await opened.until(lambda one: one.was_told("opened"))
            yield opened
        finally:
            reading.cancel()
            await asyncio.wait([reading])
