"""What a browser gets: the files of ``page/``, by name, and no others.

The names are gathered once: a name that leads anywhere else is not among them.
"""

from __future__ import annotations

import base64
import hashlib
import mimetypes
import re
from dataclasses import dataclass
from pathlib import Path

PAGE = Path(__file__).with_name("page")
_INDEX, _LOCK = "index.html", "lock.html"
_KINDS = {
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".json": "application/json",
    ".mjs": "text/javascript",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
}
"""What a browser takes a file for; the machine's own table of endings may hold anything."""


@dataclass(frozen=True, slots=True)
class LockPage:
    """The page that asks for the key, which may load nothing: all of it stands in itself."""

    body: bytes
    policy: str
    """Which of what stands in it may run: only what was written there, by its digest."""


class PageFiles:
    """The files of a folder that are plain files, by their names below it."""

    def __init__(self, folder: Path = PAGE) -> None:
        self._folder = folder
        self._files = {
            path.relative_to(folder).as_posix(): path
            for path in sorted(folder.rglob("*"))
            if path.is_file() and path.resolve() == folder.resolve() / path.relative_to(folder)
        }

    def read(self, name: str) -> tuple[bytes, str] | None:
        """Return what a file holds and what kind it is; None where there is none of the name."""
        path = self._files.get(name)
        return None if path is None or name == _LOCK else (path.read_bytes(), kind_of(name))

    def index(self) -> bytes:
        """Return the page of the bench."""
        return self._files[_INDEX].read_bytes()

    def lock_page(self) -> LockPage:
        """Return the page that asks for the key."""
        body = self._files[_LOCK].read_bytes()
        scripts = _digests(rb"<script>(.*?)</script>", body)
        styles = _digests(rb"<style>(.*?)</style>", body)
        return LockPage(body, f"script-src {scripts}; style-src {styles}")


def kind_of(name: str) -> str:
    """Return what kind of file a name is for."""
    ending = Path(name).suffix.lower()
    return _KINDS.get(ending) or mimetypes.guess_type(name)[0] or "application/octet-stream"


def _digests(pattern: bytes, body: bytes) -> str:
    each = re.findall(pattern, body, re.DOTALL)
    digests = (base64.b64encode(hashlib.sha256(text).digest()).decode() for text in each)
    return " ".join(f"'sha256-{digest}'" for digest in digests) or "'none'"
