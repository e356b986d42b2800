"""Who may come in: the key of this start, the sessions it was exchanged for, and guesses."""

from __future__ import annotations

import hashlib
import hmac
import ipaddress
import secrets
from collections import OrderedDict
from collections.abc import Callable

from finishsched.tablet.limits import MOST_SESSIONS, SESSION_S

_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""None that is mistaken for another when it is read off a screen and typed."""
_GROUPS, _GROUP_LETTERS = 4, 5
"""99 bits: at any rate of guesses that a network carries, nobody meets it."""
_GUESSES, _GUESSES_S = 10, 60.0
"""So many wrong keys an address may give in so long."""
_MOST_KNOWN = 1000
"""So many addresses are remembered; the oldest goes."""


def new_key() -> str:
    """Return a key that nobody had before, in groups to be read and typed."""
    return "-".join(_letters(_GROUP_LETTERS) for _ in range(_GROUPS))


def _letters(count: int) -> str:
    return "".join(secrets.choice(_LETTERS) for _ in range(count))


class Guesses:
    """Counts wrong keys by the address that they come from."""

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._wrong: OrderedDict[str, list[float]] = OrderedDict()

    def wait_s(self, address: str) -> float:
        """Return for how long no key of an address is looked at; nothing while it may try."""
        earliest = self._clock() - _GUESSES_S
        tried = [at for at in self._wrong.get(_neighbourhood(address), ()) if at > earliest]
        return tried[0] - earliest if len(tried) >= _GUESSES else 0.0

    def wrong(self, address: str) -> None:
        """Count a wrong key."""
        where = _neighbourhood(address)
        tried = self._wrong.setdefault(where, [])
        tried.append(self._clock())
        del tried[:-_GUESSES]
        self._wrong.move_to_end(where)
        if len(self._wrong) > _MOST_KNOWN:
            self._wrong.popitem(last=False)


def _neighbourhood(address: str) -> str:
    """Return an address, or of a long one the network that one machine has to itself."""
    try:
        known = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if known.version == 4:
        return address
    return str(ipaddress.ip_network((known, 64), strict=False))


class Sessions:
    """The key of this start, and the sessions that it was exchanged for; nothing is kept."""

    def __init__(self, key: str, clock: Callable[[], float]) -> None:
        self._key = _digest(_plain(key))
        self._clock = clock
        self._used: OrderedDict[bytes, float] = OrderedDict()

    def enter(self, key: str) -> str | None:
        """Return a new session for the right key; None for any other."""
        if not hmac.compare_digest(_digest(_plain(key)), self._key):
            return None
        session = secrets.token_urlsafe(32)
        self._used[_digest(session)] = self._clock()
        if len(self._used) > MOST_SESSIONS:
            self._used.popitem(last=False)
        return session

    def knows(self, session: str) -> bool:
        """Tell whether a session is one of ours, and keep that it is used."""
        # Looked up by its digest: how long that takes says nothing of a session.
        digest = _digest(session)
        used = self._used.pop(digest, None)
        if used is None or self._clock() - used > SESSION_S:
            return False
        self._used[digest] = self._clock()
        return True

    def leave(self, session: str) -> None:
        """Forget a session."""
        self._used.pop(_digest(session), None)


def _plain(key: str) -> str:
    """Return a key as it is typed: without what only helps to read it."""
    return "".join(sign for sign in key.lower() if sign.isalnum())


def _digest(text: str) -> bytes:
    return hashlib.sha256(text.encode("utf-8", "replace")).digest()
