"""A seal by which a later change to a file shows, checked by any program that knows SHA-256.

The seal is the SHA-256 of the whole file with the seal itself as 64 zeros.
"""

from __future__ import annotations

import hashlib
import re

BLANK = "0" * 64
_SEAL = re.compile(r"\b[0-9a-f]{64}\b")

HOW = (
    "Seal: SHA-256 of this file with the 64 signs of the seal as zeros. "
    "finishsched record --verify FILE checks it."
)


def sealed(text: str) -> str:
    """Return ``text`` with its last blank seal filled in; zeros that people wrote stay theirs.

    Raises:
        ValueError: when there is none.

    """
    before, blank, after = text.rpartition(BLANK)
    if not blank:
        raise ValueError("a blank seal is wanted")
    return f"{before}{hashlib.sha256(text.encode()).hexdigest()}{after}"


def is_whole(text: str) -> bool | None:
    """Tell whether ``text`` is as it was sealed; None when it has no seal."""
    found = _SEAL.findall(text)
    if not found:
        return None
    return any(
        hashlib.sha256(text.replace(seal, BLANK).encode()).hexdigest() == seal
        for seal in dict.fromkeys(found)
    )
