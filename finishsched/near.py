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


def with_word(text: str, choices: Iterable[str]) -> list[str]:
    """Return the choices that have every word of ``text`` in them, in order; none for no word."""
    parts = [part for part in _plain(text).split("-") if part]
    return [name for name in sorted(choices) if parts and all(p in _plain(name) for p in parts)]


def either(options: Sequence[str]) -> str:
    """Return ``a``, ``a or b``, ``a, b or c``."""
    return options[0] if len(options) == 1 else f"{', '.join(options[:-1])} or {options[-1]}"


def _plain(word: str) -> str:
    return word.lower().replace(" ", "-").replace("_", "-")
