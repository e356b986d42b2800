"""Names of pieces in the order that people count in."""

from __future__ import annotations

import re
from typing import TypeAlias

NaturalKey: TypeAlias = tuple[tuple[str, int], ...]

_PARTS = re.compile(r"([0-9]+)")


def natural(name: str) -> NaturalKey:
    """Return what sorts names by the numbers in them: ``front-9`` before ``front-10``."""
    parts = _PARTS.split(name)
    words, numbers = parts[::2], [int(digits) for digits in parts[1::2]]
    return tuple(zip(words, [*numbers, -1], strict=True))
