"""The one that a person probably meant: one function for every name that is not known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

_LONGEST = 80
"""A longer word is no slip of the fingers, and dear to compare."""


def nearest(word: str, choices: Iterable[str], cutoff: float = 0.6) -> str | None:
    """Return the choice that ``word`` was probably meant to be, if one is close.

    Capitals, spaces and underlines do not count. ``cutoff`` runs from 0, anything, to 1, the same.
    """
    if len(word) > _LONGEST:
        return None
    known = {_plain(choice): choice for choice in sorted(choices)}
    near = difflib.get_close_matches(_plain(word), known, n=1, cutoff=cutoff)
    return known[near[0]] if near else None


def _plain(word: str) -> str:
    return word.lower().replace(" ", "-").replace("_", "-")
