"""What the words of a step say of how it is done, where no key of a document says it."""

from __future__ import annotations

import re

_DENIED = re.compile(
    r"\b(?:no|not|nor|never|without|instead of|rather than|out of|away from)\b[^.;:,]{0,25}$"
)
BY_GUN = r"\b(?:(?:air|spray) ?gun|gun|spray(?:ed|ing)?|mist(?:ed|ing|s)?|airbrush|aerosol|hvlp)\b"
"""Laid by a gun: in the tool, or in the words."""


def tells(text: str, pattern: str) -> bool:
    """Tell whether ``text`` says what ``pattern`` finds, and does not deny it: ``not sprayed``."""
    low = text.lower()
    return any(_DENIED.search(low[: found.start()]) is None for found in re.finditer(pattern, low))
