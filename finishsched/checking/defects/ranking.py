"""Which cause made it most likely: log-odds added up over what is known, and nothing else.

score = ln(how often) + weight x grade over the signs that are known + what the maker said + what
the checker finds in the work as it was logged; the chances are the exponentials of the scores over
their sum. A cause that cannot be, by what was laid, how, and what the log knows not to have been,
is named nowhere, unless a maker says that it was or a rule finds it. The weights are our assumption
from common practice; the table of causes has them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from finishsched.checking.defects.catalogue import CATALOGUE
from finishsched.checking.defects.causes import FAIR, NAMED, SLIGHT, STRONG, TOLD, Cause, Defect
from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.lexicon import Meaning, meanings
from finishsched.checking.defects.reading_signs import read_signs
from finishsched.checking.defects.sayings import as_meant, by_telling
from finishsched.checking.defects.seen import OF_THE_LOG, Seen
from finishsched.checking.defects.signs import Reading, Sign
from finishsched.model.reason import Reason

WORTH_SAYING = 0.3
"""In log-odds: what moves a cause by less is not told."""
NO_RULE = -FAIR
"""No rule that would speak for a cause finds anything in the log, and no strong sign speaks."""
AGAINST_THE_LOG = -STRONG
"""What must have been for a cause is said or found, and the log has it that it was not."""
HALF_KNOWN = 0.5
"""So much of that where a maker all but names the cause (our assumption)."""
WHEN_NOT = 0.5
"""So much of what speaks for a cause when it was so speaks against it when it was not (our
assumption): many causes come without it."""
MOST_SAID = 2
"""More words for the same cause are no more evidence."""
_TOLD_OF = "makers tell of it in"
BY_TELLING, MOST_BY_TELLING = 0.35, 2.0
"""How much of the log-odds of the sayings of causes counts, and the most that it moves a cause, for
or against: the tables know some of the same words (fitted on logs told before they were there)."""
LEAST_KNOWN, MOST_KNOWN = -4.0, 2.0
"""In log-odds: how far the log moves what defect words may mean (our assumption)."""

LEAST_TOLD = 3
"""So many causes are told, however unlikely."""
WORTH_A_LOOK = 0.02
"""Chance below which a cause is named nowhere but in the figures, from the fourth on."""

POSSIBLE = 0.12
ODDS_WORDS = ((0.6, "most likely"), (0.3, "likely"), (POSSIBLE, "possible"), (0.0, "unlikely"))
"""What a chance is called from so much on (our assumption)."""

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
    unheard_of: bool = False
    """True where what must have been for it stands in no log, and nobody said it."""

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
        """The likeliest three, and of the others those that are not all but ruled out.

        What must have been for a cause and is heard of nowhere makes it no more than possible: an
        old batch, where none was logged. Below that it is no help.
        """
        least = POSSIBLE if any(not one.unheard_of for one in self.causes) else 0.0
        heard = [one for one in self.causes if not one.unheard_of or one.chance >= least]
        kept = (one for one in heard[LEAST_TOLD:] if one.chance >= WORTH_A_LOOK)
        return (*heard[:LEAST_TOLD], *kept)


@dataclass(frozen=True, slots=True)
class Known:
    """All that is known when causes are weighed."""

    evidence: Evidence
    signs: Mapping[Sign, Reading]
    logged: Mapping[Sign, Reading]
    """The signs by the log alone, whatever the maker said."""
    told: Mapping[str, Meaning]
    """What the maker said and noted, by what it means."""
    telling: Mapping[str, float]
    """What the words speak for each cause, by the sayings of causes."""
    here: Known | None = None
    """The same without what was noted of coats of another product; None where that is the same."""

    @classmethod
    def by(cls, evidence: Evidence) -> Known:
        """Read the signs and the words of some evidence."""
        here = evidence.said_here
        own = None if here is None else cls.by(replace(evidence, said=here, said_here=None))
        logged = read_signs(replace(evidence, said=""))
        telling = by_telling(as_meant(evidence.said.lower()))
        signs, told = read_signs(evidence), meanings(evidence.said)
        return cls(evidence, signs, logged, told, telling, own)

    def of(self, cause: Cause) -> Known:
        """Return what counts for a cause: its own notes where it befalls the coat in question."""
        if self.here is None or self.evidence.kind not in cause.of:
            return self
        return self.here

    @property
    def wrongs(self) -> Mapping[str, str] | None:
        """What the checker finds in the work as logged, by its rule; None where not asked."""
        return self.evidence.wrongs

    def rules_out(self, cause: Cause) -> bool:
        """Tell whether what must have been for a cause was not, and nothing lets it in again.

        A rule of its own does that where it finds something, and what a maker says that names it.
        """
        if any(code in (self.wrongs or ()) for code in cause.rules):
            return False
        if self.is_named(cause):
            return False
        return cause.only_said or _lacking(cause, self.signs) >= 1

    def has_not_heard_of(self, cause: Cause) -> bool:
        """Tell whether something that must have been for a cause is neither logged nor said."""
        if self.is_named(cause) or any(code in (self.wrongs or ()) for code in cause.rules):
            return False
        heard = {one for one, reading in self.signs.items() if reading.grade}
        return any(not heard.intersection(several) for several in cause.needs)

    def is_named(self, cause: Cause) -> bool:
        """Tell whether what a maker says names a cause."""
        named = (name for name, by in cause.told.items() if by >= TOLD)
        return any(_is_told(self.told.get(name)) for name in named)

    def against(self, cause: Cause) -> float:
        """Return how sure the log alone is, from 0 to 1, that what a cause needs was not.

        It knows nothing of what lay there before it: what is all but named by somebody it denies
        only by half.
        """
        named = any(
            by >= NAMED and _is_told(self.told.get(name)) for name, by in cause.told.items()
        )
        return _lacking(cause, self.logged) * (HALF_KNOWN if named else 1.0)


def _lacking(cause: Cause, signs: Mapping[Sign, Reading]) -> float:
    """Return how sure it is, from 0 to 1, that something that must have been for a cause was not.

    Of several signs of which one is enough, the one that denies least counts.
    """

    def denied(sign: Sign) -> float:
        return max(0.0, -signs[sign].grade) if sign in signs else 0.0

    return max((min(map(denied, several)) for several in cause.needs), default=0.0)


def diagnose(seen: Seen, evidence: Evidence) -> Diagnosis:
    """Return the causes of what was seen, ranked by what ``evidence`` knows of the piece.

    Where all are ruled out, the log has forgotten something: those are told that can befall what
    was laid, but for what only a maker can say.
    """
    defect, known = CATALOGUE[seen], Known.by(evidence)
    causes = _possible(defect, known)
    moves = [tuple(_moved(cause, known.of(cause))) for cause in causes]
    scores = [_score(cause, moved) for cause, moved in zip(causes, moves, strict=True)]
    highest = max(scores)
    shares = [math.exp(score - highest) for score in scores]
    whole = math.fsum(shares)
    ranked = [
        Ranked(
            cause,
            share / whole,
            _told(moved, 1),
            _told(moved, -1),
            known.of(cause).has_not_heard_of(cause),
        )
        for cause, share, moved in zip(causes, shares, moves, strict=True)
    ]
    return Diagnosis(defect, tuple(sorted(ranked, key=lambda one: -one.chance)))


def by_the_log(evidence: Evidence) -> Mapping[Seen, float]:
    """Return how well the log fits each defect, in log-odds, beside what is said of it.

    Where nothing speaks for or against its causes that is 0; where none can be, the least.
    """
    known = Known.by(evidence)
    return {
        seen: min(MOST_KNOWN, max(LEAST_KNOWN, _fit(CATALOGUE[seen], known) + _met(seen, known)))
        for seen in Seen
    }


def _met(seen: Seen, known: Known) -> float:
    """Return what the log speaks for a defect by when it was met, on what, and after what work."""
    signs = known.logged
    return math.fsum(
        by * signs[sign].grade for sign, by in OF_THE_LOG[seen].items() if sign in signs
    )


def _fit(defect: Defect, known: Known) -> float:
    left = [cause for cause in defect.causes if _can_be(cause, known)]
    if not left:
        return LEAST_KNOWN
    weighed = math.fsum(
        math.exp(_score(cause, tuple(_moved(cause, known.of(cause))))) for cause in left
    )
    return math.log(weighed / math.fsum(cause.often for cause in defect.causes))


def _possible(defect: Defect, known: Known) -> list[Cause]:
    """Return the causes that can be; where none can, those that a log can tell of."""
    left = [cause for cause in defect.causes if _can_be(cause, known)]
    told = [cause for cause in defect.causes if not cause.only_said or known.is_named(cause)]
    befall = [cause for cause in told if cause.can_befall(known.evidence)]
    return left or befall or told or list(defect.causes)


def _can_be(cause: Cause, known: Known) -> bool:
    return cause.can_befall(known.evidence) and not known.of(cause).rules_out(cause)


def _score(cause: Cause, moved: tuple[tuple[float, str], ...]) -> float:
    return math.log(cause.often) + math.fsum(by for by, _ in moved)


def _moved(cause: Cause, known: Known) -> Iterator[tuple[float, str]]:
    """Give by how much each thing that is known moves a cause, with its words."""
    yield from _by_signs(cause, known.signs)
    yield from _by_words(cause, known.told)
    yield from _by_rules(cause, known)
    told = _by_telling(cause, known)
    yield told, f"{_TOLD_OF} {'such' if told > 0 else 'other'} words"
    yield AGAINST_THE_LOG * known.against(cause), "the log has none of what it takes"


def _by_signs(cause: Cause, signs: Mapping[Sign, Reading]) -> Iterator[tuple[float, str]]:
    """Weigh the signs.

    What speaks for a cause when it was so speaks half as much against it when it was not: many come
    without it. What speaks against one does not speak for it; nor does a slight sign speak against.
    """
    for sign, weight in cause.speaks.items():
        reading = signs.get(sign)
        if reading is None or (reading.is_said and cause.told.get(sign.value, 0.0) >= weight):
            # What was said is weighed among the words, once.
            continue
        if reading.grade >= 0:
            yield weight * reading.grade, reading.words
        elif weight >= FAIR:
            yield WHEN_NOT * weight * reading.grade, reading.words


def _by_words(cause: Cause, told: Mapping[str, Meaning]) -> Iterator[tuple[float, str]]:
    """Weigh what was said: the weightiest in full, one more a little; what speaks against, once."""
    found = [(by, told[name].words) for name, by in cause.told.items() if _is_told(told.get(name))]
    speaks = sorted((one for one in found if one[0] > 0), reverse=True)[:MOST_SAID]
    if speaks:
        weight = speaks[0][0] + SLIGHT * (len(speaks) - 1)
        yield weight, "said or noted: " + " and ".join(f"'{words}'" for _, words in speaks)
    yield from ((by, f"said or noted: '{words}'") for by, words in found if by < 0)
    named = (told.get(name) for name, by in cause.told.items() if by > 0)
    denied = next((one for one in named if one is not None and one.denied), None)
    if denied is not None:
        yield -FAIR, f"said or noted: not '{denied.words}'"


def _by_telling(cause: Cause, known: Known) -> float:
    """Return what the words speak for a cause beside what the tables know of them."""
    by = BY_TELLING * known.telling.get(cause.id, 0.0)
    return max(-MOST_BY_TELLING, min(MOST_BY_TELLING, by))


def _is_told(meaning: Meaning | None) -> bool:
    return meaning is not None and not meaning.denied


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
    elif not told and not known.is_named(cause):
        yield NO_RULE, ""


def _told(moved: tuple[tuple[float, str], ...], way: int) -> tuple[str, ...]:
    """Return the words of what moves a cause up (``way`` 1) or down (-1), the weightiest first.

    That makers tell of it so comes last, however much it weighs: nobody can go and look at it.
    """
    told = [(by * way, words) for by, words in moved if by * way > WORTH_SAYING and words]
    told.sort(key=lambda one: (one[1].startswith(_TOLD_OF), -one[0]))
    return tuple(dict.fromkeys(words for _, words in told))
