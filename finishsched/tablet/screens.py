"""The benches that are open, each for one screen, and what happens when a screen is lost."""

from __future__ import annotations

import asyncio
import secrets
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any, Protocol

from finishsched.tablet.bench_process import BenchProcess, Size
from finishsched.tablet.limits import HOLD_S, MOST_BENCHES, WATCH_S
from finishsched.workshop.base.place import JOURNAL_FILE

_BY_A_FAULT = "the bench ended by a fault of its own; what was logged is safe: open it again"
_HOW_IT_STANDS = ("look", "offer")
"""Words of a bench that hold until it says them again: its colours, and what can be tapped."""


class Line(Protocol):
    """The connection to a screen."""

    async def draw(self, drawn: bytes) -> None:
        """Have signs of a terminal shown; a line that takes none for long is ended."""

    async def tell(self, word: str, **more: object) -> None:
        """Tell the page a word."""

    def end(self) -> None:
        """End the connection."""


class Screen:
    """One bench, and the line to its screen while there is one."""

    def __init__(self) -> None:
        self.key = secrets.token_urlsafe(18)
        self.line: Line | None = None
        self.bench: BenchProcess | None = None
        self.lost_at: asyncio.TimerHandle | None = None
        self._last: dict[str, Mapping[str, Any]] = {}
        """What the bench said last, by its word, for who comes back to it."""
        self._rang = False
        """True when it rang while nobody was there to hear."""

    async def draw(self, drawn: bytes) -> None:
        """Hand on what the bench draws; while nobody looks it is let go of."""
        if self.line is not None:
            await self.line.draw(drawn)

    async def hear(self, word: str, more: Mapping[str, Any]) -> None:
        """Hand on what the bench says."""
        told = {name: value for name, value in more.items() if name != "type"}
        if word in _HOW_IT_STANDS:
            self._last[word] = told
        if self.line is None:
            self._rang = self._rang or word == "ring"
            return
        if word in (*_HOW_IT_STANDS, "ring"):
            await self.line.tell(word, **told)
        elif word == "refused":
            await self.line.tell("left", why="; ".join(map(str, told.get("lines", ()))))

    async def take_up(self, line: Line, size: Size, *, anew: bool) -> None:
        """Go on with a line, in the place of any other; all is drawn anew for it."""
        if self.line is not None:
            self.line.end()
        if self.lost_at is not None:
            self.lost_at.cancel()
            self.lost_at = None
        self.line = line
        await line.tell("opened", bench=self.key, anew=anew)
        if not anew and self.bench is not None:
            await self.bench.say("resize", width=size.width, height=size.height)
            await self.bench.say("repaint")
            for word, told in list(self._last.items()):
                await line.tell(word, **told)
        if self._rang:
            self._rang = False
            await line.tell("ring")


class Screens:
    """All that are open."""

    def __init__(self, shop: Path, settings: Path) -> None:
        self._shop = shop
        self._settings = settings
        self._open: dict[str, Screen] = {}
        self._ending: set[asyncio.Task[None]] = set()
        self._watch: asyncio.Task[None] | None = None

    def __len__(self) -> int:
        return len(self._open)

    async def open(self, line: Line, size: Size, key: str) -> Screen | None:
        """Return the screen of a key, or a new one; None where there are as many as may be."""
        known = self._open.get(key)
        if known is not None:
            await known.take_up(line, size, anew=False)
            return known
        if len(self._open) >= MOST_BENCHES and not self._end_one_that_waits():
            return None
        screen = Screen()
        self._open[screen.key] = screen
        await screen.take_up(line, size, anew=True)
        try:
            screen.bench = await BenchProcess.start(
                self._shop, self._settings, size, screen.draw, screen.hear
            )
        except OSError as error:
            await line.tell("left", why=f"no bench could begin: {error.strerror}")
            self.close(screen)
            return screen
        self._later(self._look_after(screen))
        if self._watch is None:
            self._watch = asyncio.create_task(self._watch_journal())
        return screen

    async def _watch_journal(self) -> None:
        """Have every bench look as soon as something was written, by whomever.

        Each looks by itself once a second too; on a busy machine that is late.
        """
        before = _written(self._shop)
        while True:
            await asyncio.sleep(WATCH_S)
            now = _written(self._shop)
            if now != before:
                before = now
                for screen in list(self._open.values()):
                    if screen.bench is not None:
                        await screen.bench.say("look")

    def _end_one_that_waits(self) -> bool:
        """Make room: whoever waits longest for its screen ends."""
        lost = {screen: at for screen in self._open.values() if (at := screen.lost_at) is not None}
        if not lost:
            return False
        self.close(min(lost, key=lambda screen: lost[screen].when()))
        return True

    async def _look_after(self, screen: Screen) -> None:
        """Tell the page when its bench has ended by itself."""
        in_order = screen.bench is None or await screen.bench.ended()
        if screen.line is not None:
            await screen.line.tell("left", why="" if in_order else _BY_A_FAULT)
            screen.line.end()
        self.close(screen)

    def lose(self, screen: Screen, line: Line) -> None:
        """Keep the bench of a line that was lost for a while."""
        if screen.line is line:
            screen.line = None
            loop = asyncio.get_running_loop()
            screen.lost_at = loop.call_later(HOLD_S, self.close, screen)

    def close(self, screen: Screen) -> None:
        """End a bench for good; it is no longer counted."""
        if self._open.pop(screen.key, None) is None:
            return
        screen.line = None
        if screen.lost_at is not None:
            screen.lost_at.cancel()
        if screen.bench is not None:
            self._later(screen.bench.end())

    def _later(self, work: Any) -> None:
        task = asyncio.create_task(work)
        self._ending.add(task)
        task.add_done_callback(self._ending.discard)

    async def end_all(self) -> None:
        """End every bench, and wait until none is left."""
        if self._watch is not None:
            self._watch.cancel()
        for screen in list(self._open.values()):
            self.close(screen)
        while self._ending:
            with suppress(asyncio.CancelledError):
                await asyncio.gather(*self._ending, return_exceptions=True)


def _written(shop: Path) -> tuple[tuple[int, int], ...]:
    """Return what changes with every entry that is written: when, and how long the files are."""
    found = []
    for name in (JOURNAL_FILE, f"{JOURNAL_FILE}-wal"):
        with suppress(OSError):
            stat = (shop / name).stat()
            found.append((stat.st_mtime_ns, stat.st_size))
    return tuple(found)
