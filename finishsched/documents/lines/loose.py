"""Words of a line that no rule and no table knows: idle ones, slips, and words of one's own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from finishsched.documents.lines.cutting import Line
from finishsched.documents.lines.said import Notes, SaidStep
from finishsched.documents.lines.words import HINTS, IDLE, WORDS
from finishsched.documents.nodes import Text
from finishsched.documents.wording import nearest
from finishsched.near import nearest as near_to

_SPOKEN = ("coats", "between", "overnight", "thinned", "after the last", "check", "caution", "work")
"""Words that rules look for, for the one that a misspelt one was probably meant to be."""
_SHORTEST_SLIP, _SLIP = 5, 0.84
"""So long is a word at least, and so like a known one, that a finger slipped (our assumption)."""
_WHAT_IT_COUNTS = "say what it counts, such as 2 coats, 2 lb, 2 h or P320; or put it in quotes"


@dataclass(frozen=True, slots=True)
class _Run:
    """Words beside each other that no rule takes."""

    start: int
    end: int
    says: bool = False
    """True once one of them is not idle."""


class LooseWords:
    """Gathers such words of one step, and tells those that have to be written otherwise."""

    def __init__(self, line: Line, products: Mapping[str, str], notes: Notes) -> None:
        """``products`` gives each name that a line may use its id."""
        self._line = line
        self._products = products
        self._notes = notes
        self._run: _Run | None = None

    def add(self, step: SaidStep, start: int, end: int, *, known: bool = False) -> None:
        """Take a word; a ``known`` one is no slip, and kept with those beside it."""
        word = self._line.text[start:end]
        idle = word.lower() in IDLE
        if not idle and not known and (remedy := self._remedy(word)):
            self.end(step)
            place = self._line.place(start)
            self._notes.fault(place, f"{word!r:.60} says nothing here", remedy, "unknown-word")
            return
        begun = self._run or _Run(start, end)
        self._run = _Run(begun.start, end, says=begun.says or not idle)

    def end(self, step: SaidStep) -> None:
        """Give the words so far to the step, where one of them is not idle."""
        run, self._run = self._run, None
        if run is not None and run.says:
            said = self._line.text[run.start : run.end]
            step.loose.append(Text(said, self._line.place(run.start)))

    def _remedy(self, word: str) -> str | None:
        """Return what to write for a word; None where it may be a word of one's own."""
        if word.lower() in HINTS:
            return HINTS[word.lower()]
        near = nearest(word, [*WORDS, *_SPOKEN, *self._products])
        told = f"did you mean {near!r}?" if near else "put words of your own in quotes"
        if self._notes.exactly:
            return told
        if re.search(r"\d", word):
            return _WHAT_IT_COUNTS
        if re.search(r"\W", word.replace("-", "").replace("'", "")):
            return told
        return told if near and _is_slip(word, near) else None


def _is_slip(word: str, near: str) -> bool:
    return len(word) >= _SHORTEST_SLIP and near_to(word, [near], cutoff=_SLIP) is not None
