"""Which defect somebody tells of: by its names, else by the words that the tables tell it with."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache

from finishsched.checking.defects.catalogue import CATALOGUE
from finishsched.checking.defects.seen import LOOKS, Seen, all_names, named_in, seen_as_said, stems
from finishsched.near import nearest

LEAD = 1.25
"""How far the likeliest defect must lead the next by its words, to be taken (our assumption)."""
LEAST = 1.2
"""How much its words must weigh at the least, in units of a word that one defect alone has."""
MOST_GUESSED = 3
_LISTED = "'finishsched help defects' tells all of them by what they look like"
_NAME, _LOOK, _CAUSE = 1.0, 0.8, 0.5
"""What a word counts that stands in a name, in what it looks like, and in its causes."""


def understood(text: str) -> Seen | None:
    """Return the defect that words tell of; None where they tell of none, or of several alike."""
    named = seen_as_said(text)
    if named is not None or named_in(text):
        return named
    likely = _by_words(text)
    if not likely or likely[0][0] < LEAST:
        return None
    alone = len(likely) == 1 or likely[0][0] >= LEAD * likely[1][0]
    return likely[0][1] if alone else None


def perhaps_meant(text: str) -> str:
    """Return in words what somebody may mean who names no defect: the nearest, with their looks."""
    near = (nearest(word, all_names(), 0.75) for word in text.lower().split())
    guessed = [*named_in(text), *(all_names()[name] for name in near if name is not None)]
    guessed += [seen for _, seen in _by_words(text)]
    seen = list(dict.fromkeys(guessed))[:MOST_GUESSED]
    if not seen:
        return f"say what it is most like, one of {', '.join(Seen)}; {_LISTED}"
    return f"did you mean {'; or '.join(f'{one}: {LOOKS[one]}' for one in seen)}? {_LISTED}"


def _by_words(text: str) -> list[tuple[float, Seen]]:
    """Return the defects whose tables share words with a sentence, those that share most first."""
    said = set(stems(text))
    weights = _weights()
    worth = ((math.fsum(weights[seen].get(stem, 0.0) for stem in said), seen) for seen in Seen)
    return sorted((one for one in worth if one[0] > 0), key=lambda one: -one[0])


@lru_cache(maxsize=1)
def _weights() -> Mapping[Seen, Mapping[str, float]]:
    """Return what each word counts for each defect: less, the more defects have it."""
    counts = {seen: _words_of(seen) for seen in Seen}
    spread = Counter(stem for words in counts.values() for stem in words)
    return {
        seen: {
            stem: count * math.log(len(Seen) / spread[stem]) / math.log(len(Seen))
            for stem, count in words.items()
        }
        for seen, words in counts.items()
    }


def _words_of(seen: Seen) -> Mapping[str, float]:
    """Return every word of a defect's tables, with the most that it counts there."""
    causes = CATALOGUE[seen].causes
    texts = [
        (
            _CAUSE,
            " ".join(f"{cause.words} {cause.look} {' '.join(cause.said)}" for cause in causes),
        ),
        (_LOOK, LOOKS[seen]),
        (_NAME, " ".join(name for name, own in all_names().items() if own is seen)),
    ]
    return {stem: weight for weight, text in texts for stem in stems(text) if len(stem) > 2}
