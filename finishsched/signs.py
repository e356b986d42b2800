"""Signs that any terminal can show, for those that it cannot: one table for every face."""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

PLAIN = "FINISHSCHED_PLAIN"
"""Set to anything, it asks for plain signs everywhere, in the bench too."""
_FEW_SIGNS = ("dumb", "linux", "vt100", "vt220", "ansi")
"""Terminals whose own letters hold no drawing signs, whatever they are sent."""
_BOXES, _BLOCKS = range(0x2500, 0x2580), range(0x2580, 0x25A0)
PLAIN_SIGNS = {
    **dict.fromkeys(map(chr, _BOXES), "+"),
    **dict.fromkeys(map(chr, _BLOCKS), "#"),
    **dict.fromkeys("▄▃▂▒", "="),
    **dict.fromkeys("▁▔", "_"),
    **dict.fromkeys("▊▉▋▌▍▎▏▐▕", "|"),
    **dict.fromkeys("░", ":"),
    **dict.fromkeys("─━╸╺╴╶╼╾–—−", "-"),
    **dict.fromkeys("│┃╷╵╹╻╽╿", "|"),
    **dict.fromkeys("↑▲", "^"),
    **dict.fromkeys("↓▼", "v"),
    **dict.fromkeys("→›▶►", ">"),
    **dict.fromkeys("←‹◀", "<"),
    **dict.fromkeys("·•", "."),
    **dict.fromkeys("○◌", "o"),
    **dict.fromkeys("●■◆", "*"),
    **dict.fromkeys("‘’", "'"),
    **dict.fromkeys("“”„", '"'),
    "▀": '"',
    "×": "x",
    "…": "~",
    "µ": "u",
    "μ": "u",
    "⁄": "/",
    "✓": "v",
    "✗": "x",
}
"""As wide as what they stand for, so that a drawing keeps its columns."""
_LATIN_1 = 0x100


def is_plain(variables: Mapping[str, str] | None = None) -> bool:
    """Tell whether drawing signs are not to be used, by wish or by the terminal's kind."""
    known = os.environ if variables is None else variables
    return bool(known.get(PLAIN)) or known.get("TERM", "") in _FEW_SIGNS


@lru_cache(maxsize=1024)
def fitting(sign: str, encoding: str, plain: bool) -> str:  # noqa: FBT001  # cached by place
    """Return ``sign`` where ``encoding`` has it and it may be drawn, else a plain one for it."""
    drawn = plain and ord(sign) >= _LATIN_1
    if (not drawn or sign.isalpha()) and _can_encode(sign, encoding):
        return sign
    known = PLAIN_SIGNS.get(sign)
    if known is not None:
        return known
    bare = unicodedata.normalize("NFKD", sign).encode("ascii", "ignore").decode()
    return bare or "?"


def _can_encode(sign: str, encoding: str) -> bool:
    try:
        sign.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True
