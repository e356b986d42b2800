"""The routes of the server, put together."""

from __future__ import annotations

import json

from aiohttp import web

from finishsched.tablet.guard import Guard
from finishsched.tablet.limits import MOST_BODY_BYTES, SESSION_S
from finishsched.tablet.papers import Papers
from finishsched.tablet.socket import BenchSocket


class Routes:
    """What is answered to whoever the guard lets through."""

    def __init__(self, guard: Guard, sockets: BenchSocket, papers: Papers) -> None:
        self._guard = guard
        self._papers = papers
        self._sockets = sockets

    def app(self) -> web.Application:
        """Return the application."""
        app = web.Application(middlewares=[self._guard.stand], client_max_size=MOST_BODY_BYTES)
        routes = (
            ("GET", "/", self._index),
            ("POST", "/enter", self._enter),
            ("POST", "/leave", self._leave),
            ("GET", "/page/{name:.+}", self._file),
            ("GET", "/bench", self._sockets.serve),
            ("GET", "/papers", self._papers.listed),
            ("GET", "/papers/{paper:record|sheet|labels|week}", self._papers.serve),
            ("*", "/{other:.*}", _nothing),
        )
        for method, path, handler in routes:
            app.router.add_route(method, path, handler, expect_handler=_say_nothing_yet)
        return app

    async def _index(self, _request: web.Request) -> web.Response:
        return web.Response(
            body=self._guard.files.index(), content_type="text/html", charset="utf-8"
        )

    async def _file(self, request: web.Request) -> web.Response:
        found = self._guard.files.read(request.match_info["name"])
        if found is None:
            raise web.HTTPNotFound
        body, kind = found
        return web.Response(body=body, content_type=kind)

    async def _enter(self, request: web.Request) -> web.Response:
        """Exchange the key for a session; wrong ones are counted by where they come from."""
        guard, peer = self._guard, request.remote or ""
        if (wait_s := guard.guesses.wait_s(peer)) > 0:
            return web.Response(status=401, headers={"Retry-After": f"{wait_s:.0f}"})
        session = guard.sessions.enter(await _key_in(request))
        if session is None:
            guard.guesses.wrong(peer)
            return web.Response(status=401)
        answer = web.Response(status=204)
        answer.set_cookie(
            guard.cookie,
            session,
            max_age=int(SESSION_S),
            httponly=True,
            samesite="Strict",
            secure=guard.names.scheme == "https",
        )
        return answer

    async def _leave(self, request: web.Request) -> web.Response:
        self._guard.sessions.leave(request.cookies.get(self._guard.cookie, ""))
        answer = web.Response(status=204)
        answer.del_cookie(self._guard.cookie)
        return answer


async def _nothing(_request: web.Request) -> web.Response:
    raise web.HTTPNotFound


async def _say_nothing_yet(_request: web.Request) -> None:
    """Let nobody know, before the guard was asked, that a body would be read."""


async def _key_in(request: web.Request) -> str:
    """Return the key in the body of a request; an empty one for anything else."""
    try:
        found = json.loads(await request.read())
    except (ValueError, RecursionError, web.HTTPRequestEntityTooLarge):
        return ""
    key = found.get("key") if isinstance(found, dict) else None
    return key if isinstance(key, str) else ""
