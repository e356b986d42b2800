"""Programs that the fault tests start, to write into a journal and be stopped in the middle.

Run as ``python writers.py WHAT PATH ...``. Each says on standard output, one line for each entry,
what was acknowledged to it: the entry's number and id.
"""

from __future__ import annotations

import os
import random
import select
import signal
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import finishsched.journal.log_beside  # noqa: F401  # before the fork, so that victims write
from finishsched.journal.events import NewEvent, Noted
from finishsched.journal.store import Journal

NOW = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
PIPE_HOLDS = 65_536


def write(path: Path, out: int, count: int) -> None:
    """Add ``count`` entries, and say each once it is acknowledged."""
    with Journal.open(path) as journal:
        for number in range(count):
            event = journal.append(lambda _book, n=number: NewEvent(NOW, None, Noted(f"{n}")), NOW)
            os.write(out, f"{event.seq} {event.id}\n".encode())


def make(path: Path, _out: int, _count: int) -> None:
    """Make the journal and nothing more."""
    Journal.open(path).close()


def kill_writers(path: Path, kills: int, longest_s: float) -> None:
    """Kill one writer after the other, each on the journal that the last one left."""
    first_s = _takes_s(path.with_name("first.db"), lambda file, out, _: write(file, out, 1))
    for number, after_s in enumerate(_moments(kills, first_s + longest_s)):
        _kill_once(path, write, after_s, once_heard=number % 2 == 0)


def kill_makers(folder: Path, kills: int, longest_s: float) -> None:
    """Kill programs while they make a journal, each in a folder of its own."""
    whole_s = _takes_s(folder.with_name("first.db"), make)
    for number, after_s in enumerate(_moments(kills, max(longest_s, 2 * whole_s))):
        shop = folder / f"shop-{number}"
        shop.mkdir()
        _kill_once(shop / "journal.db", make, after_s, once_heard=number == 0)


def _takes_s(path: Path, victim: Callable[[Path, int, int], None]) -> float:
    """Return how long a victim takes to the end; a busy machine is slow."""
    begun = time.monotonic()
    child = os.fork()
    if child == 0:
        victim(path, os.open(os.devnull, os.O_WRONLY), 1)
        os._exit(0)
    os.waitpid(child, 0)
    return time.monotonic() - begun


def _moments(kills: int, longest_s: float) -> list[float]:
    drawn = random.Random(20260301)  # noqa: S311  # the same moments in every run
    return [drawn.uniform(0, longest_s) for _ in range(kills)]


def _kill_once(
    path: Path, victim: Callable[[Path, int, int], None], after_s: float, *, once_heard: bool
) -> None:
    """Fork a victim, which keeps the start-up cheap, and kill it after ``after_s`` seconds.

    They are counted from when it was ``once_heard``, or ended: however slow the machine became
    since it was measured, some victims come so far.
    """
    heard, said = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(heard)
        victim(path, said, 1_000_000)
        os._exit(0)
    os.close(said)
    if once_heard:
        select.select([heard], [], [])
    _pass_on(heard, time.monotonic() + after_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    _pass_on(heard, time.monotonic() + 60.0)
    os.close(heard)


def _pass_on(heard: int, until_s: float) -> None:
    """Copy what the victim says to standard output until ``until_s`` or its end."""
    while (left_s := until_s - time.monotonic()) > 0:
        if not select.select([heard], [], [], left_s)[0]:
            return
        said = os.read(heard, PIPE_HOLDS)
        if not said:
            return
        os.write(1, said)


def main(what: str, path: str, *figures: str) -> None:
    """Do what the command line says."""
    if what == "write":
        write(Path(path), 1, int(figures[0]))
    elif what == "kill-writers":
        kill_writers(Path(path), int(figures[0]), float(figures[1]))
    elif what == "kill-makers":
        kill_makers(Path(path), int(figures[0]), float(figures[1]))


if __name__ == "__main__":
    main(*sys.argv[1:])
