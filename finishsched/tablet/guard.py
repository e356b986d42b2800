"""The guard before every route: who asks, from where, and by which name of this machine.

Without a session the answer is 401, whatever was asked. With one, a name that is not ours (a page
elsewhere whose name was turned to this machine) or a page that is not ours is answered 403.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass

from aiohttp import web

from finishsched.tablet.connections import HEADERS, Connection
from finishsched.tablet.page_files import PageFiles
from finishsched.tablet.sessions import Guesses, Sessions

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]

_ENTER = "/enter"
_CONTENT = (
    "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; "
    "object-src 'none'"
)
CONTENT_POLICY = "Content-Security-Policy"


@dataclass(frozen=True, slots=True)
class Names:
    """By which names this server is known, each with its port."""

    hosts: frozenset[str]
    scheme: str

    def is_ours(self, host: str) -> bool:
        """Tell whether a request was meant for us."""
        return host.lower() in self.hosts

    def is_our_page(self, origin: str, host: str) -> bool:
        """Tell whether a page is ours, served by the very name that it now asks."""
        return origin.lower() == f"{self.scheme}://{host.lower()}"


@dataclass(frozen=True, slots=True)
class Guard:
    """Lets nobody in who did not give the key, and no page that is not ours."""

    names: Names
    sessions: Sessions
    guesses: Guesses
    files: PageFiles
    cookie: str

    @property
    def content_policy(self) -> str:
        """Return what a page may load: from this machine, and nothing else."""
        socket = "wss" if self.names.scheme == "https" else "ws"
        sockets = " ".join(f"{socket}://{host}" for host in sorted(self.names.hosts))
        # Not every browser counts a WebSocket of the same machine as 'self'.
        return f"{_CONTENT}; connect-src 'self' {sockets}"

    @web.middleware
    async def stand(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Let a request through, or answer it; every answer gets its headers."""
        if isinstance(request.protocol, Connection):
            request.protocol.answering()
        try:
            answer = await self._answer(request, handler)
        except web.HTTPException as said:
            answer = web.Response(status=said.status, headers=_only_allow(said))
        if not answer.prepared:
            answer.force_close()
            for name, value in HEADERS.items():
                answer.headers.setdefault(name, value)
            answer.headers.setdefault(CONTENT_POLICY, self.content_policy)
        return answer

    async def _answer(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        ours = self.names.is_ours(request.host) and self._comes_from_us(request)
        if self.sessions.knows(request.cookies.get(self.cookie, "")):
            return await handler(request) if ours else web.Response(status=403)
        if ours and request.method == "POST" and request.path == _ENTER:
            return await handler(request)
        is_page = ours and request.path == "/" and request.method in ("GET", "HEAD")
        return self._locked() if is_page else web.Response(status=401)

    def _comes_from_us(self, request: web.Request) -> bool:
        """Tell whether no other page had a hand in a request.

        Whatever changes something, and every WebSocket, names the page that it comes from; what is
        only looked at may come from no page at all: a scanned code, an address that is typed.
        """
        origin = request.headers.get("Origin")
        if origin is not None:
            return self.names.is_our_page(origin, request.host)
        site = request.headers.get("Sec-Fetch-Site", "none")
        only_looks = request.method in ("GET", "HEAD") and "Upgrade" not in request.headers
        return only_looks and (site in ("none", "same-origin") or request.path == "/")

    def _locked(self) -> web.Response:
        page = self.files.lock_page()
        policy = f"{self.content_policy}; {page.policy}"
        return web.Response(
            status=401,
            body=page.body,
            content_type="text/html",
            charset="utf-8",
            headers={CONTENT_POLICY: policy},
        )


def _only_allow(said: web.HTTPException) -> dict[str, str]:
    return {name: said.headers[name] for name in ("Allow",) if name in said.headers}
