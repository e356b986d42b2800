"""The papers of the shop to print from a tablet: read only, each made when it is asked for."""

from __future__ import annotations

import asyncio
from contextlib import suppress
from pathlib import Path

from aiohttp import web

from finishsched.tablet.guard import CONTENT_POLICY
from finishsched.tablet.limits import MOST_PAPER_BYTES, MOST_PAPERS_WAITING, PAPER_S
from finishsched.tablet.own_process import begin

_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'"
"""A paper holds its own look and pictures, and runs nothing."""
_MOST_OF = 2000
"""So many letters the names of the pieces of one sheet may take."""


class Papers:
    """Makes one paper at a time, so that printing leaves the benches the machine."""

    def __init__(self, shop: Path) -> None:
        self._shop = shop
        self._one = asyncio.Semaphore(1)
        self._waiting = 0

    async def listed(self, request: web.Request) -> web.Response:
        """Answer which papers there are, as JSON."""
        return await self._answer("list", request, "application/json")

    async def serve(self, request: web.Request) -> web.Response:
        """Answer with a paper, or with the reasons why there is none."""
        return await self._answer(request.match_info["paper"], request, "text/html")

    async def _answer(self, paper: str, request: web.Request, kind: str) -> web.Response:
        of = request.query.get("of", "")
        if len(of) > _MOST_OF or not of.isprintable():
            return web.Response(status=400)
        if self._waiting >= MOST_PAPERS_WAITING:
            return web.Response(status=503)
        self._waiting += 1
        try:
            async with self._one:
                made, status = await self._made(paper, of)
        finally:
            self._waiting -= 1
        if status != 0:
            why = made if status == 1 else b"the paper could not be made; ask for it again"
            return web.Response(status=409, body=why, content_type="text/plain", charset="utf-8")
        return web.Response(
            body=made, content_type=kind, charset="utf-8", headers={CONTENT_POLICY: _POLICY}
        )

    async def _made(self, paper: str, of: str) -> tuple[bytes, int | None]:
        """Return what a process makes of a paper, and how it ended; None for not in time."""
        process = await begin("one_paper", str(self._shop), paper, of, variables={}, heard=False)
        assert process.stdout is not None  # noqa: S101  # opened so
        made = bytearray()
        try:
            async with asyncio.timeout(PAPER_S):
                while chunk := await process.stdout.read(65536):
                    made += chunk
                    if len(made) > MOST_PAPER_BYTES:
                        return b"", None
                return bytes(made), await process.wait()
        except TimeoutError:
            return b"", None
        finally:
            with suppress(ProcessLookupError):
                process.kill()
            await process.wait()
