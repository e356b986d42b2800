"""Which cause made it most likely: log-odds added up over what the log knows, and nothing else.

score = ln(how often) + sum of weight x grade over the signs that are known; the chances are the
exponentials of the scores over their sum. The weights are our assumption from common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from finishsched.checking.defects.catalogue import CATALOGUE
from finishsched.checking.defects.causes import FAIR, Cause, Defect
from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.reading_signs import read_signs
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.signs import Reading, Sign
from finishsched.model.reason import Reason

WORTH_SAYING = 0.3
"""In log-odds: what moves a cause by less is not told."""

ODDS_WORDS = ((0.6, "most likely"), (0.3, "likely"), (0.12, "possible"), (0.0, "unlikely"))

RULE = Reason(
    "log-odds of each cause: how often it is met, plus weight times grade of every sign known",
    ("the piece's own log", "the air as read", "the shelf"),
    "our assumption from common practice",
)


@dataclass(frozen=True, slots=True)
class Ranked:
    """One cause with its chance, and what the log says for and against it."""

    cause: Cause
    chance: float
    """From 0 to 1; the chances of all causes of a defect come to 1."""
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]

    @property
    def odds(self) -> str:
        """The chance in words."""
        return next(words for least, words in ODDS_WORDS if self.chance >= least)


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What was seen, and every cause of the catalogue for it, the likeliest first."""

    defect: Defect
    causes: tuple[Ranked, ...]
    reason: Reason = RULE


def diagnose(seen: Seen, evidence: Evidence) -> Diagnosis:
    """Return the causes of what was seen, ranked by what ``evidence`` knows of the piece."""
    defect = CATALOGUE[seen]
    signs = read_signs(evidence)
    causes = [cause for cause in defect.causes if cause.can_be_of(evidence.kind)]
    scores = [_score(cause, signs) for cause in causes]
    highest = max(scores)
    shares = [math.exp(score - highest) for score in scores]
    whole = math.fsum(shares)
    ranked = [
        Ranked(cause, share / whole, _said(cause, signs, 1), _said(cause, signs, -1))
        for cause, share in zip(causes, shares, strict=True)
    ]
    return Diagnosis(defect, tuple(sorted(ranked, key=lambda one: -one.chance)))


def _score(cause: Cause, signs: dict[Sign, Reading]) -> float:
    return math.log(cause.often) + math.fsum(moved for moved, _ in _moved(cause, signs))


def _moved(cause: Cause, signs: dict[Sign, Reading]) -> Iterator[tuple[float, str]]:
    """Give by how much each sign moves a cause, with its words.

    What speaks against a cause when it is there does not speak for it when it is not; nor does a
    slight sign speak against it.
    """
    for sign, weight in cause.speaks.items():
        reading = signs.get(sign)
        if reading is not None and not (reading.grade < 0 and weight < FAIR):
            yield weight * reading.grade, reading.words


def _said(cause: Cause, signs: dict[Sign, Reading], way: int) -> tuple[str, ...]:
    """Return the words of what moves a cause up (``way`` 1) or down (-1), the weightiest first."""
    told = [(by * way, words) for by, words in _moved(cause, signs) if by * way > WORTH_SAYING]
    return tuple(dict.fromkeys(words for _, words in sorted(told, key=lambda one: -one[0])))
