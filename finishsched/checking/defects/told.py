"""Which defect somebody tells of: how likely each is by their words, and what to choose from."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import NamedTuple

from finishsched.checking.defects.lexicon import LOOKS as LOOKS_AND_FEELS
from finishsched.checking.defects.lexicon import Meaning, meanings
from finishsched.checking.defects.sayings import as_meant, by_company
from finishsched.checking.defects.seen import LOOKS, TELLS, Seen, all_names, seen_in
from finishsched.near import nearest

BY_NAME = 2.0
"""Log-odds of the defect whose name somebody begins with, beside what else they say of it."""
BY_TABLES, BY_COMPANY, BY_LOG = 0.5, 0.35, 0.7
"""How much of the log-odds of the tables, of the sayings and of the log counts: words come
together, and tables and sayings know the same ones (fitted on sayings that were held out)."""
DENIED = -1.0
"""What is denied speaks against a defect, by so much of what it would have spoken for it."""
LEAST = 2.4
"""Log-odds that words must give the likeliest defect to be told: what is said of anything gives up
to some two by chance (fitted)."""
SURE = 0.55
"""Chance from which the likeliest is taken without asking (our assumption)."""
LIKELY = 0.25
"""Chance from which it is told before the others that may be meant (our assumption)."""
CERTAIN = 0.97
"""Chance from which an or between other words leaves nothing open."""
EITHER = 0.4
"""Chance from which each of two things is told, where an or stands between them."""
WORTH_ASKING = 0.08
"""Chance from which it is among those to choose from (our assumption)."""
WORTH_TELLING = 0.15
"""Chance from which another is told beside one that is taken without asking (our assumption)."""
_OR = re.compile(r"\bor\b(?! (?:two|three|so|more|not|no)\b)", re.IGNORECASE)
WHEN = "when"
"""The part of the table of words that tells when something came."""
MOST_ASKED = 4
"""More choices are no help in wet gloves."""
MOST_GUESSED = 3
"""So many are told that may be meant."""
_LISTED = "'finishsched help defects' tells all of them by what they look like"


class Likely(NamedTuple):
    """A defect that words may tell of."""

    seen: Seen
    chance: float
    """From 0 to 1, beside all the others."""
    weight: float
    """What the words speak for it, in log-odds."""


def likely_seen(text: str, known: Mapping[Seen, float] | None = None) -> tuple[Likely, ...]:
    """Return the defects that words may tell of, the likeliest first; none for words of nothing.

    ``known`` adds what is known beside the words, in log-odds.
    """
    meant = as_meant(text.lower())
    told, company = meanings(meant), by_company(meant)
    weights = {seen: BY_TABLES * _weight(seen, told) + BY_COMPANY * company[seen] for seen in Seen}
    named = seen_in(text)
    if named is not None:
        weights[named] += BY_NAME
    if max(weights.values()) <= 0:
        return ()
    scores = {
        seen: weight + BY_LOG * (known or {}).get(seen, 0.0) for seen, weight in weights.items()
    }
    highest = max(scores.values())
    shares = {seen: math.exp(score - highest) for seen, score in scores.items()}
    whole = math.fsum(shares.values())
    found = (Likely(seen, share / whole, weights[seen]) for seen, share in shares.items())
    return tuple(sorted(found, key=lambda one: -one.chance))


def understood(text: str, known: Mapping[Seen, float] | None = None) -> Seen | None:
    """Return the defect that words tell of; None where they tell of none, or of several alike.

    A name by itself, or before a colon, is that defect whatever follows.
    """
    meant = perhaps_seen(text, known)
    if not meant or _named_alone(text):
        return next(iter(meant), None)
    first = likely_seen(text, known)[0]
    sure = first.chance >= SURE or len(meant) == 1
    return first.seen if sure else None


def perhaps_seen(text: str, known: Mapping[Seen, float] | None = None) -> tuple[Seen, ...]:
    """Return the defect that words most likely tell of, and those that they may tell of as well.

    It stands alone where no other is worth telling. None where no words tell of one, or of
    several alike.
    """
    named = _named_alone(text)
    if named is not None:
        return (named,)
    found = likely_seen(text, known)
    if not found or found[0].chance < LIKELY or max(one.weight for one in found) < LEAST:
        return ()
    if found[0].chance < CERTAIN and _leaves_open(text):
        return ()
    least = WORTH_TELLING if found[0].chance >= SURE else WORTH_ASKING
    others = (one.seen for one in found[1:MOST_GUESSED] if one.chance >= least)
    return (found[0].seen, *others)


def _leaves_open(text: str) -> bool:
    """Tell whether words say that it is one thing or another; a hair or two is one."""
    each = _OR.split(text)
    likeliest = [found[0] for found in map(likely_seen, each) if found] if len(each) > 1 else []
    told = {one.seen for one in likeliest if one.weight >= LEAST and one.chance >= EITHER}
    return len(told) > 1


def _named_alone(text: str) -> Seen | None:
    return all_names().get(" ".join(text.partition(":")[0].lower().split()))


def to_choose_from(text: str, known: Mapping[Seen, float] | None = None) -> tuple[Seen, ...]:
    """Return the few defects that words may tell of, to ask which; none where they tell nothing."""
    found = likely_seen(text, known)
    if max((one.weight for one in found), default=0.0) < LEAST / 2:
        return ()
    return tuple(one.seen for one in found[:MOST_ASKED] if one.chance >= WORTH_ASKING)


def perhaps_meant(text: str) -> str:
    """Return in words what somebody may mean who names no defect: the nearest, with their looks."""
    near = (nearest(word, all_names(), 0.75) for word in text.lower().split())
    guessed = [*to_choose_from(text), *(all_names()[name] for name in near if name is not None)]
    seen = list(dict.fromkeys(guessed))[:MOST_GUESSED]
    if not seen:
        return f"say what it is most like, one of {', '.join(Seen)}; {_LISTED}"
    return f"did you mean {'; or '.join(f'{one}: {LOOKS[one]}' for one in seen)}? {_LISTED}"


def _weight(seen: Seen, told: Mapping[str, Meaning]) -> float:
    """Return what all that is told speaks for a defect.

    What is denied of its looks speaks against it, where it would have spoken for it. When it came
    is no defect by itself: that counts where something else of it is told.
    """
    weight, by_time = 0.0, 0.0
    for wanted, by in TELLS[seen].items():
        if not wanted <= told.keys():
            continue
        denied = [name for name in wanted if told[name].denied]
        if denied:
            if len(wanted) == 1 and told[denied[0]].part in LOOKS_AND_FEELS:
                weight += DENIED * max(0.0, by)
        elif all(told[name].part == WHEN for name in wanted):
            by_time += by
        else:
            weight += by
    return weight + by_time if weight > 0 else min(0.0, weight)
