"""Close the terminal under the bench at random instants, and see that every process goes.

    python tests/faults/closings.py 50

Each round opens the bench of a demo shop on a terminal of its own, presses some keys, and at a
random instant closes the terminal, stops reading from it and asks politely, or only asks. Within
``GONE_S`` no process of it may be left, and its journal must be sound. A table tells how it went.
"""

from __future__ import annotations

import os
import pty
import random
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
WAYS = ("closed", "frozen, then SIGTERM", "SIGTERM", "SIGHUP")
KEYS = (b"j", b"k", b"p", b"\x1b", b"?", b"\t", b"\r", b"n", b"d")


def one_closing(shop: Path, way: str, after_s: float, keys: bytes) -> float | None:
    """Return how long the bench took to go; None when it had to be killed."""
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update(TERM="xterm-256color", COLUMNS="80", LINES="24")
        command = [sys.executable, "-m", "finishsched", "--shop", str(shop)]
        os.execv(command[0], command)  # noqa: S606  # no shell between
    _read_until(terminal, time.monotonic() + after_s, keys)
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
    took = _wait_until_gone(child, begun, None if way != "SIGTERM" else terminal)
    if way != "closed":
        os.close(terminal)
    return took


def _read_until(terminal: int, until: float, keys: bytes) -> None:
    """Read what is painted, and press a key whenever something was."""
    left = [bytes([key]) for key in keys]
    while (wait_s := until - time.monotonic()) > 0:
        if not select.select([terminal], [], [], wait_s)[0]:
            return
        with suppress(OSError):
            if not os.read(terminal, 65_536):
                return
            if left:
                os.write(terminal, left.pop(0))


def _wait_until_gone(child: int, begun: float, terminal: int | None) -> float | None:
    while time.monotonic() - begun < GONE_S:
        if terminal is not None and select.select([terminal], [], [], 0)[0]:
            with suppress(OSError):
                os.read(terminal, 65_536)
        if os.waitpid(child, os.WNOHANG)[0]:
            return time.monotonic() - begun
        time.sleep(0.02)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def main(rounds: int) -> None:
    """Close so often, and print what came of it."""
    chance = random.Random(20260301)  # noqa: S311  # the same instants in every run
    tried, killed, longest = Counter(), Counter(), Counter()
    with tempfile.TemporaryDirectory() as place:
        shop = Path(place) / "shop"
        make_demo(shop, datetime.now(UTC))
        for number in range(rounds):
            way = WAYS[number % len(WAYS)]
            keys = b"".join(chance.choices(KEYS, k=chance.randrange(12)))
            took = one_closing(shop, way, chance.uniform(0.0, 10.0), keys)
            tried[way] += 1
            killed[way] += took is None
            longest[way] = max(longest[way], round((took or GONE_S) * 1000))
            with Journal.open(shop / "journal.db") as journal:
                assert journal.check() == []
    for way in WAYS:
        print(f"{way:<22} {tried[way]:>4} closed {killed[way]:>3} left {longest[way]:>6} ms")  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[1]))
