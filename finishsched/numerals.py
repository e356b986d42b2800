"""Numbers as people read them."""

from __future__ import annotations

import math


def plain_number(value: float, digits: int = 3) -> str:
    """Return ``value`` to ``digits`` significant digits, never in exponent form."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def counted(count: float, one: str, many: str = "") -> str:
    """Return a number of things in words: ``1 coat``, ``2 coats``, ``3 entries``."""
    return f"{count:g} {one if count == 1 else many or _several(one)}"


def _several(one: str) -> str:
    if one.endswith("y") and one[-2] not in "aeo":
        return f"{one[:-1]}ies"
    return f"{one}s"
