"""What a note tells of the coat that it was made at, and of no other."""

from __future__ import annotations

import re

from finishsched.checking.defects.lexicon import meanings

OF_ITS_COAT = frozenset(
    {
        *("heavy coat", "lean coat", "heavy cut", "thick place", "thinned far", "not thinned"),
        *("in the tin", "shaken", "unstirred", "worked over", "left on", "dry pad"),
        *("hardener", "wrong thinner", "watered spirit", "too soon", "old batch", "soft"),
    }
)
"""Names of ``words.txt`` (common practice): how much of it, how thick, how it was stirred and laid.
Wax that was as thick as butter makes no coat of shellac below it a thick one."""
_CLAUSES = re.compile(r"[^,;.:!?]+").findall


def of_any_coat(note: str) -> str:
    """Return a note of a coat without what it tells of that coat alone; empty for none."""
    clauses = (clause.strip() for clause in _CLAUSES(note))
    return ", ".join(one for one in clauses if not OF_ITS_COAT & meanings(one).keys())
