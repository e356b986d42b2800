"""What passes between the server and the process of a bench: the toolkit's own framing.

One byte says what it is, four how long, most significant first; then the thing itself.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import Mapping
from typing import Any

PRELUDE = b"__GANGLION__\n"
"""With this line the toolkit begins; what is before it is no packet."""
DRAWN, SAID = b"D", b"M"
"""Signs for a terminal, or from one; and words between the programs, as JSON."""
_MOST_BYTES = 8_000_000
"""More than any screen takes; whatever announces more is no bench."""


def drawn(text: str) -> bytes:
    """Return what a terminal gives as one packet."""
    return _packet(DRAWN, text.encode("utf-8", "replace"))


def said(word: str, **more: object) -> bytes:
    """Return a word to the other program as one packet."""
    return _packet(SAID, json.dumps({"type": word, **more}).encode())


def _packet(kind: bytes, payload: bytes) -> bytes:
    return kind + len(payload).to_bytes(4, "big") + payload


async def read_packet(stream: asyncio.StreamReader) -> tuple[bytes, bytes] | None:
    """Return the kind of the next packet and what it holds; None at the end, or for no packet."""
    try:
        kind = await stream.readexactly(1)
        size = int.from_bytes(await stream.readexactly(4), "big")
        return None if size > _MOST_BYTES else (kind, await stream.readexactly(size))
    except (asyncio.IncompleteReadError, ConnectionError):
        return None


def read_word(payload: bytes) -> tuple[str, Mapping[str, Any]]:
    """Return a word of the other program, and what belongs to it; an empty one for no word."""
    try:
        found = json.loads(payload)
    except ValueError:
        return "", {}
    return (str(found.get("type", "")), found) if isinstance(found, dict) else ("", {})
