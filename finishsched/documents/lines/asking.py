"""Doubts and the answers to them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from finishsched.documents.lines.said import Doubt, Notes, SaidStep
from finishsched.documents.nodes import Place
from finishsched.documents.wording import did_you_mean

Choice = tuple[str, str]
"""What may be answered, and what it means."""


class Asking:
    """Asks each doubt once: an answer that was given settles it."""

    def __init__(self, answers: Mapping[str, str], notes: Notes) -> None:
        self._answers = answers
        self._notes = notes
        self._asked: set[str] = set()

    def of_step(
        self, step: SaidStep, word: str, question: str, choices: Sequence[Choice], usual: str
    ) -> str:
        """Return the answer about one step, else the usual one with the doubt noted."""
        return self.at(step.place, f"{step.line}:{word}", question, choices, usual)

    def at(
        self, place: Place, key: str, question: str, choices: Sequence[Choice], usual: str
    ) -> str:
        """Return the answer to a doubt called ``key``, else the usual one with the doubt noted."""
        known = [value for value, _ in choices]
        given = self._answers.get(key)
        self._asked.add(key)
        if given in known:
            return given
        if given is not None:
            self._notes.fault(
                place, f"{key} cannot be {given!r:.40}", did_you_mean(given, known), "bad-answer"
            )
        doubt = Doubt(key, place, question, tuple(choices), usual)
        if all(each.key != key for each in self._notes.doubts):
            self._notes.doubts.append(doubt)
        return usual

    def idle_answers(self) -> list[str]:
        """Return the answers that no question was for."""
        return [key for key in self._answers if key not in self._asked]
