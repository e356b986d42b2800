"""What to ask where a cause stays open: the one thing whose answer tells the likeliest apart.

Which defect it is is asked by ``told.to_choose_from``; a person is asked no more than these two.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.lexicon import meanings, questions
from finishsched.checking.defects.ranking import Diagnosis, Ranked
from finishsched.checking.defects.reading_signs import read_signs

CLEAR = 0.6
"""Chance of the likeliest from which nothing is asked (our assumption)."""
WORTH_ASKING = 0.15
"""Least chance, of all the causes together that an answer speaks for, and of all the others."""


class Question(NamedTuple):
    """One thing to ask, and the words that each answer adds to what was said."""

    asks: str
    yes: str
    no: str


def tells_apart(diagnosis: Diagnosis, evidence: Evidence) -> Question | None:
    """Return what parts the likeliest causes best; None where one is clear, or nothing does."""
    if diagnosis.causes[0].chance >= CLEAR:
        return None
    told, known = meanings(evidence.said), read_signs(evidence)
    best, name = 0.0, ""
    for asked in questions():
        if asked in told or any(sign.value == asked for sign in known):
            continue
        share = math.fsum(one.chance for one in diagnosis.causes if _speaks(asked, one))
        parts = min(share, 1.0 - share)
        if parts > best:
            best, name = parts, asked
    return Question(questions()[name], name, f"not {name}") if best >= WORTH_ASKING else None


def _speaks(asked: str, ranked: Ranked) -> bool:
    """Tell whether something, were it so, would speak for a cause."""
    cause = ranked.cause
    by_sign = any(weight > 0 and sign.value == asked for sign, weight in cause.speaks.items())
    return by_sign or cause.told.get(asked, 0.0) > 0
