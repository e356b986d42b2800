"""Which cause made it most likely: log-odds added up over what is known, and nothing else.

score = ln(how often) + weight x grade over the signs that are known + what the maker said + what
the checker finds in the work as it was logged; the chances are the exponentials of the scores over
their sum. The weights are our assumption from common practice; the table of causes has them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from finishsched.checking.defects.catalogue import CATALOGUE
from finishsched.checking.defects.causes import FAIR, SLIGHT, STRONG, Cause, Defect
from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.reading_signs import read_signs
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.signs import Reading, Sign
from finishsched.model.reason import Reason

WORTH_SAYING = 0.3
"""In log-odds: what moves a cause by less is not told."""
RULED_OUT = -4.0
"""What must have been was not: some 50 times less likely. A log may have forgotten it."""
NO_RULE = -FAIR
"""No rule that would speak for a cause finds anything in the log, and no strong sign speaks."""
MOST_SAID = 2
"""More words for the same cause are no more evidence."""

LEAST_TOLD = 3
WORTH_A_LOOK = 0.02
"""Chance below which a cause is named nowhere but in the figures, from the fourth on."""

ODDS_WORDS = ((0.6, "most likely"), (0.3, "likely"), (0.12, "possible"), (0.0, "unlikely"))

RULE = Reason(
    "log-odds of each cause: how often it is met, plus weight times grade of every sign known",
    ("the piece's own log", "what the maker says", "the rules of the checker", "the air as read"),
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

    @property
    def worth_a_look(self) -> tuple[Ranked, ...]:
        """The likeliest three, and of the others those that are not all but ruled out."""
        kept = (one for one in self.causes[LEAST_TOLD:] if one.chance >= WORTH_A_LOOK)
        return (*self.causes[:LEAST_TOLD], *kept)


@dataclass(frozen=True, slots=True)
class Known:
    """All that is known when causes are weighed."""

    signs: Mapping[Sign, Reading]
    wrongs: Mapping[str, str] | None
    """What the checker finds in the work as logged, by its rule; None where it was not asked."""
    said: str
    """What the maker said, less the defect's own name."""


def diagnose(seen: Seen, evidence: Evidence) -> Diagnosis:
    """Return the causes of what was seen, ranked by what ``evidence`` knows of the piece."""
    defect = CATALOGUE[seen]
    known = Known(read_signs(evidence), evidence.wrongs, _without(seen, evidence.said))
    causes = [cause for cause in defect.causes if cause.can_be_of(evidence.kind)]
    moves = [tuple(_moved(cause, known)) for cause in causes]
    scores = [
        math.log(cause.often) + math.fsum(by for by, _ in moved)
        for cause, moved in zip(causes, moves, strict=True)
    ]
    highest = max(scores)
    shares = [math.exp(score - highest) for score in scores]
    whole = math.fsum(shares)
    ranked = [
        Ranked(cause, share / whole, _told(moved, 1), _told(moved, -1))
        for cause, share, moved in zip(causes, shares, moves, strict=True)
    ]
    return Diagnosis(defect, tuple(sorted(ranked, key=lambda one: -one.chance)))


def _moved(cause: Cause, known: Known) -> Iterator[tuple[float, str]]:
    """Give by how much each thing that is known moves a cause, with its words."""
    yield from _by_signs(cause, known.signs)
    yield from _by_needs(cause, known.signs)
    yield from _by_words(cause, known.said)
    yield from _by_rules(cause, known)


def _by_signs(cause: Cause, signs: Mapping[Sign, Reading]) -> Iterator[tuple[float, str]]:
    """Weigh the signs.

    What speaks against a cause when it is there does not speak for it when it is not; nor does a
    slight sign speak against it.
    """
    for sign, weight in cause.speaks.items():
        reading = signs.get(sign)
        if reading is not None and not (reading.grade < 0 and weight < FAIR):
            yield weight * reading.grade, reading.words


def _by_needs(cause: Cause, signs: Mapping[Sign, Reading]) -> Iterator[tuple[float, str]]:
    for sign in cause.needs:
        reading = signs.get(sign)
        if reading is not None:
            weight = FAIR if reading.grade >= 0 else -RULED_OUT
            yield weight * reading.grade, reading.words


def _by_words(cause: Cause, said: str) -> Iterator[tuple[float, str]]:
    found = [words for words in cause.said if _says(said, words)]
    if found:
        weight = STRONG + SLIGHT * (min(len(found), MOST_SAID) - 1)
        yield weight, "said or noted: " + " and ".join(f"'{it}'" for it in found[:MOST_SAID])


def _by_rules(cause: Cause, known: Known) -> Iterator[tuple[float, str]]:
    """Weigh what the checker finds; where a strong sign says the same, it says little more."""
    if known.wrongs is None or not cause.rules:
        return
    found = next((known.wrongs[code] for code in cause.rules if code in known.wrongs), None)
    told = any(
        weight >= STRONG and sign in known.signs and known.signs[sign].grade > 0
        for sign, weight in cause.speaks.items()
    )
    if found is not None:
        yield SLIGHT if told else STRONG, found
    elif not told:
        yield NO_RULE, ""


def _says(said: str, words: str) -> bool:
    """Tell whether something said has a word, or several, that begin so, and does not deny it."""
    pattern = rf"(?<!\bno )(?<!\bnot )(?<!\bwithout )\b{re.escape(words)}"
    return re.search(pattern, said) is not None


def _without(seen: Seen, said: str) -> str:
    """Return what was said, less the name of the defect itself, which tells nothing more."""
    return said.lower().replace(seen.value, " ")


def _told(moved: tuple[tuple[float, str], ...], way: int) -> tuple[str, ...]:
    """Return the words of what moves a cause up (``way`` 1) or down (-1), the weightiest first."""
    told = [(by * way, words) for by, words in moved if by * way > WORTH_SAYING and words]
    return tuple(dict.fromkeys(words for _, words in sorted(told, key=lambda one: -one[0])))
