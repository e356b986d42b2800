"""Close the terminal under the bench at random instants, and see that every process goes.

    python tests/faults/closings.py 50

Each round opens the bench of a demo shop on a terminal of its own, or serves it to a page, and
brings it into a scene: still beginning, a form half filled, the back room at a plan, a better one
being searched, a sitting. At a random instant it closes the terminal, stops reading from it and
asks politely, or only asks. Within ``GONE_S`` no process of it may be left, the benches of pages
and the solver among them, and its journal must be sound. A table tells how it went.
"""

from __future__ import annotations

import asyncio
import os
import pty
import random
import re
import select
import signal
import sys
import tempfile
import time
from collections import Counter
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from finishsched.journal.store import Journal
from finishsched.workshop.demo.demo import make_demo

GONE_S = 5.0
BEGUN_S = 60.0
"""A busy machine has begun within this; never asserted."""
MARK = "FINISHSCHED_TRIAL"
WAYS = ("closed", "frozen, then SIGTERM", "SIGTERM", "SIGHUP")
SCENES = {
    "beginning": b"",
    "a form": b"tsome words",
    "forms": b"l\x1ba\x1bb",
    "the back room": b"p",
    "a search": b"p",
    "a sitting": b"c  ",
    "pages": b"h\x1bf\x1bw",
}
LASTS_S = {"beginning": 3.0, "a search": 8.0}
"""How long after its last key a scene may still be on."""
TABLET = ("a page begins", "a page shows")


def one_closing(shop: Path, scene: str, way: str, chance: random.Random) -> float | None:
    """Return how long all processes took to go; None when some had to be killed."""
    mark = f"{os.getpid()}-{chance.randrange(10**9)}"
    words = ("tablet", "--port", "0") if scene in TABLET else ()
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update(TERM="xterm-256color", COLUMNS="80", LINES="24", **{MARK: mark})
        command = [sys.executable, "-m", "finishsched", "--shop", str(shop), *words]
        os.execv(command[0], command)  # noqa: S606  # no shell between
    if scene in TABLET:
        said = _read(terminal, BEGUN_S, rb"http://[^#]+#[\w-]+")
        _open_page(said, scene, chance, terminal)
    elif scene != "beginning":
        _read(terminal, BEGUN_S, rb"[Cc]heck|[Ll]id")
        for key in SCENES[scene]:
            os.write(terminal, bytes([key]))
            _read(terminal, 0.3)
    _read(terminal, chance.uniform(0.0, LASTS_S.get(scene, 1.0)))
    begun = time.monotonic()
    if way == "closed":
        os.close(terminal)
    elif way == "SIGHUP":
        os.kill(child, signal.SIGHUP)
    else:
        if way.startswith("frozen"):
            time.sleep(1.0)
        begun = time.monotonic()
        os.kill(child, signal.SIGTERM)
    took = _wait_until_gone(child, mark, begun, terminal if way == "SIGTERM" else None)
    if way != "closed":
        os.close(terminal)
    return took


def _read(terminal: int, most_s: float, until: bytes = b"") -> bytes:
    """Read what is painted for so long, or until it shows something; return it."""
    found, ends = b"", time.monotonic() + most_s
    while (wait_s := ends - time.monotonic()) > 0:
        if not select.select([terminal], [], [], wait_s)[0]:
            break
        try:
            found += os.read(terminal, 65_536)
        except OSError:
            break
        if until and re.search(until, found):
            break
    return found


def _open_page(said: bytes, scene: str, chance: random.Random, terminal: int) -> None:
    """Have a page open its bench in a process of its own, which is left running."""
    shown = re.search(rb"(http://[^#]+)#([\w-]+)", said)
    if shown is None:
        return
    address, key = (part.decode() for part in shown.groups())
    if os.fork():
        time.sleep(chance.uniform(0.0, 1.0) if scene == "a page begins" else 6.0)
        return
    os.close(terminal)  # one that somebody else holds is not closed by us
    with suppress(Exception):
        asyncio.run(_page(address, key))
    os._exit(0)


async def _page(address: str, key: str) -> None:
    import aiohttp  # in the process of the page

    origin = {"Origin": address.rstrip("/")}
    jar = aiohttp.CookieJar(unsafe=True)
    async with aiohttp.ClientSession(cookie_jar=jar, headers=origin) as session:
        await session.post(f"{address}enter", json={"key": key})
        async with session.ws_connect(f"{address}bench") as line:
            await line.send_json(["open", {"width": 80, "height": 24, "bench": ""}])
            async for _ in line:
                pass


def _marked(mark: str) -> list[int]:
    """Return every process that was begun with a mark, and has not ended."""
    found = []
    for place in Path("/proc").iterdir():
        if place.name.isdigit():
            with suppress(OSError):
                if f"{MARK}={mark}\0".encode() in (place / "environ").read_bytes() + b"\0":
                    found.append(int(place.name))
    return found


def _wait_until_gone(child: int, mark: str, begun: float, terminal: int | None) -> float | None:
    ended = False
    while time.monotonic() - begun < GONE_S:
        if terminal is not None and select.select([terminal], [], [], 0)[0]:
            with suppress(OSError):
                os.read(terminal, 65_536)
        ended = ended or bool(os.waitpid(child, os.WNOHANG)[0])
        if ended and not _marked(mark):
            return time.monotonic() - begun
        time.sleep(0.05)
    for left in _marked(mark):
        with suppress(OSError):
            print("left:", Path(f"/proc/{left}/cmdline").read_bytes().replace(b"\0", b" ")[:200])  # noqa: T201
        with suppress(ProcessLookupError):
            os.kill(left, signal.SIGKILL)
    if not ended:
        os.waitpid(child, 0)
    return None


def main(rounds: int) -> None:
    """Close so often, and print what came of it."""
    chance = random.Random(20260301)  # noqa: S311  # the same instants in every run
    tried, killed, longest = Counter(), Counter(), Counter()
    scenes = (*SCENES, *TABLET)
    with tempfile.TemporaryDirectory() as place:
        shop = Path(place) / "shop"
        make_demo(shop, datetime.now(UTC))
        for number in range(rounds):
            scene, way = scenes[number % len(scenes)], WAYS[number % len(WAYS)]
            took = one_closing(shop, scene, way, chance)
            print(f"{scene}, {way}: {took or 'left'}", flush=True)  # noqa: T201
            tried[scene] += 1
            killed[scene] += took is None
            longest[scene] = max(longest[scene], round((took or GONE_S) * 1000))
            with suppress(ChildProcessError):
                while os.waitpid(-1, os.WNOHANG)[0]:
                    pass
            with Journal.open(shop / "journal.db") as journal:
                assert journal.check() == []
    for scene in scenes:
        print(  # noqa: T201
            f"{scene:<16}{tried[scene]:>4} closed{killed[scene]:>4} left{longest[scene]:>6} ms"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]))
