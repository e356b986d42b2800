"""What is asked of a new piece: each question once, for the bench and for the command line."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass, replace

from finishsched.model.shop import ShownUnits

_RESERVED = re.compile(r"con|prn|aux|nul|com\d|lpt\d")
"""Names that some systems give to devices, in a file's name too."""
_LONGEST = 60
USUAL_AREA = "0.1 m2"
"""Where nobody has measured: about the outside of a small box's lid (our assumption)."""


@dataclass(frozen=True, slots=True)
class Question:
    """One question, with what a person should picture."""

    key: str
    asks: str
    meant: str
    """No longer than a field of the form shows at eighty columns."""
    usual: str = ""
    """What enter takes; empty for what can be left open."""

    @property
    def option(self) -> str:
        """The option that answers it on the command line."""
        return f"--{self.key}"


QUESTIONS = (
    Question("title", "What is it?", "as you call it: Lid of the tea box", "A piece"),
    Question(
        "job", "For which job?", "pieces of one job are due together; left open, one of its own"
    ),
    Question("alike", "How many alike?", "made as one, each with a number of its own", "1"),
    Question(
        "faces",
        "Which faces get the finish?",
        "220 x 140 x 80 mm, a box; or top: 220 x 140 mm; edges: 0.015 m2",
        USUAL_AREA,
    ),
    Question(
        "wood",
        "Which wood shows?",
        "cherry, walnut, maple; left open, that of its job's first piece",
    ),
    Question("veneer", "How thick is the veneer?", "0.6 mm; solid; left open, as its wood"),
    Question(
        "inlay",
        "What is let into it?",
        "shell 0.3 mm; holly 0.9 mm, proud 0.3 mm; left open where none is",
    ),
    Question(
        "wear",
        "What will it live through?",
        "looked at, handled, water, alcohol, heat; one or several",
        "handled",
    ),
    Question("sheen", "How much should it shine?", "flat, satin, semi-gloss, gloss, high gloss"),
    Question("due", "When is it due?", "Dec 18, 2026-12-18; left open where nobody waits for it"),
    Question(
        "schedule",
        "By which schedule?",
        "left open, the best of those that fit; or one by its name",
    ),
    Question(
        "done",
        "What is done already?",
        "nothing; sanded to P220; sealed, 3 coats of shellac since yesterday",
        "nothing",
    ),
)
BY_KEY = {question.key: question for question in QUESTIONS}
_IN_INCHES = {
    "faces": ("9 x 6 x 3 in, a box; or top: 9 x 6 in; edges: 24 sqin", "1 sqft"),
    "veneer": ("1/40 in; solid; left open, as its wood", ""),
    "inlay": ("shell 12 mil; holly 1/32 in, proud 12 mil; left open where none is", ""),
}
"""What a person should picture, and what enter takes, where lengths are told in inches."""


def questions_for(units: ShownUnits) -> tuple[Question, ...]:
    """Return the questions with examples in the units that a shop wants to see."""
    if units.length != "in":
        return QUESTIONS
    return tuple(
        replace(one, meant=_IN_INCHES[one.key][0], usual=_IN_INCHES[one.key][1])
        if one.key in _IN_INCHES
        else one
        for one in QUESTIONS
    )


def name_of(title: str, taken: Collection[str] = (), otherwise: str = "piece") -> str:
    """Return an id for what people call ``title``, safe in every file name, and not yet ``taken``.

    Letters lose their accents, capitals and spaces; all other signs become hyphens.
    """
    plain = unicodedata.normalize("NFKD", title.lower()).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_LONGEST].strip("-") or otherwise
    if _RESERVED.fullmatch(name):
        name = f"{name}-{otherwise}"
    if name not in taken:
        return name
    number = 2
    while f"{name}-{number}" in taken:
        number += 1
    return f"{name}-{number}"
