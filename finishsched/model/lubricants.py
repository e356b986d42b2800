"""What can lie between an abrasive and the work, in the words that documents use."""

from __future__ import annotations

DRY = "dry"
WATERS = ("water", "soapy water")
LUBRICANT_WORDS = (DRY, *WATERS)
"""What needs no product of its own; any other lubricant is a product's id."""


def is_wet(lubricant: str | None) -> bool:
    """Tell whether a step's lubricant makes it wet; a step that names none is done dry."""
    return lubricant not in (None, "", DRY)
