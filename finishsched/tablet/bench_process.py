"""One bench as the server has it: a process that draws, and hears what is typed."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from finishsched.tablet import packets
from finishsched.tablet.limits import END_S, HEIGHTS, START_S, WIDTHS
from finishsched.tablet.own_process import begin


@dataclass(frozen=True, slots=True)
class Size:
    """How many signs a screen is wide and high, within what a bench can draw on."""

    width: int
    height: int

    @classmethod
    def of(cls, told: Mapping[str, Any]) -> Size:
        """Return the size that a page tells, as far as it is one."""
        return cls(_within(told.get("width"), 80, WIDTHS), _within(told.get("height"), 24, HEIGHTS))


def _within(told: object, usual: int, bounds: range) -> int:
    number = told if isinstance(told, int) else usual
    return min(max(number, bounds[0]), bounds[-1])


Drawn = Callable[[bytes], Awaitable[None]]
Said = Callable[[str, Mapping[str, Any]], Awaitable[None]]


class BenchProcess:
    """A running bench; whatever it draws or says is handed on as it comes, and waited for."""

    def __init__(self, process: asyncio.subprocess.Process, drawn: Drawn, said: Said) -> None:
        self._process = process
        self._drawn = drawn
        self._said = said
        self._pump = asyncio.create_task(self._hand_on())

    @classmethod
    async def start(
        cls, shop: Path, settings: Path, size: Size, drawn: Drawn, said: Said
    ) -> BenchProcess:
        """Begin a bench on a shop."""
        process = await begin(
            "one_bench", str(shop), str(settings), variables=_variables(size), heard=True
        )
        return cls(process, drawn, said)

    async def type(self, text: str) -> None:
        """Give what a keyboard or a pointer gave."""
        await self._give(packets.drawn(text))

    async def say(self, word: str, **more: object) -> None:
        """Say a word to the bench: ``resize``, ``tap``, ``touch``, ``typed``, ``quit``..."""
        await self._give(packets.said(word, **more))

    async def _give(self, packet: bytes) -> None:
        stream = self._process.stdin
        assert stream is not None  # noqa: S101  # opened above
        with suppress(ConnectionError, RuntimeError):
            stream.write(packet)
            await stream.drain()

    async def ended(self) -> bool:
        """Wait until it has ended by itself, or otherwise; tell whether that was in good order."""
        await asyncio.shield(self._pump)
        return await self._process.wait() == 0

    async def end(self) -> None:
        """End it: politely, and within seconds in any case."""
        stream = self._process.stdin
        assert stream is not None  # noqa: S101  # opened above
        with suppress(ConnectionError, RuntimeError):
            stream.write(packets.said("quit"))
            # When nobody speaks to it any more, it keeps a deadline of its own.
            stream.close()
        try:
            async with asyncio.timeout(END_S):
                await self._process.wait()
        except TimeoutError:
            with suppress(ProcessLookupError):
                self._process.kill()
            await self._process.wait()
        self._pump.cancel()
        with suppress(asyncio.CancelledError):
            await self._pump

    async def _hand_on(self) -> None:
        stream = self._process.stdout
        assert stream is not None  # noqa: S101  # opened above
        if not await _has_begun(stream):
            await self._said("refused", {"lines": ["the bench did not begin"]})
            return
        while (packet := await packets.read_packet(stream)) is not None:
            kind, payload = packet
            if kind == packets.DRAWN:
                await self._drawn(payload)
            elif kind == packets.SAID:
                await self._said(*packets.read_word(payload))


async def _has_begun(stream: asyncio.StreamReader) -> bool:
    """Tell whether the first line of a bench came; what is before it is of no use."""
    try:
        async with asyncio.timeout(START_S):
            await stream.readuntil(packets.PRELUDE)
    except (TimeoutError, asyncio.IncompleteReadError, asyncio.LimitOverrunError, ConnectionError):
        return False
    return True


def _variables(size: Size) -> dict[str, str]:
    """Return the variables of a bench that draws on a page."""
    return {
        "COLUMNS": str(size.width),
        "ROWS": str(size.height),
        "TERM": "xterm-256color",
        "COLORTERM": "truecolor",
        "TEXTUAL_COLOR_SYSTEM": "truecolor",
    }
