"""Whether a text speaks of what can hurt, and what it then has to defer to."""

from __future__ import annotations

import re

IN_PRINT = (
    "The product's safety data sheet and local codes come first, and licensed practice where the "
    "law asks for it."
)
"""Stands on every page of the handbook and every printed paper that speaks of a hazard."""
_HAZARDS = re.compile(
    r"\b(?:fires?|flames?|flammable|burns?|explo\w+|sparks?|poison\w*|toxic|fumes?|vapours?|solvents?"
    r"|spirits|alcohol|acetone|thinners?|lye|ammonia|bleach\w*|acids?|caustic|isocyanates?|epoxy"
    r"|hardener|dusts?|asthma|allerg\w+|lungs|scalds?|hot knife|oily rags?|self-heating)\b",
    re.IGNORECASE,
)
_DEFERS = re.compile(r"\bdata\s+sheets?\b|\blocal\s+codes\b", re.IGNORECASE)


def speaks_of_hazard(text: str) -> bool:
    """Tell whether a text names what burns, poisons or hurts by breath, skin or heat.

    The words are common practice, no source. It takes any text.
    """
    return _HAZARDS.search(text) is not None


def defers(text: str) -> bool:
    """Tell whether a text names the data sheet or the local codes; it takes any text."""
    return _DEFERS.search(text) is not None
