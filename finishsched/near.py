"""The one that a person probably meant, and the choices in words, for every refusal."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence

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


def either(options: Sequence[str]) -> str:
    """Return ``a``, ``a or b``, ``a, b or c``."""
    return options[0] if len(options) == 1 else f"{', '.join(options[:-1])} or {options[-1]}"


def _plain(word: str) -> str:
    return word.lower().replace(" ", "-").replace("_", "-")
