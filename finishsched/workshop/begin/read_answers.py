"""What people say of a piece, read in one way wherever it is asked: a form, an option, a word."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType
from typing import Any

from finishsched.documents.formats.schedule import LOOK, OVER
from finishsched.documents.leaves import DAY
from finishsched.model.kinds import ProductKind
from finishsched.model.readings import ALSO_CALLED
from finishsched.units import LENGTH, read
from finishsched.workshop.begin.face_words import read_faces
from finishsched.workshop.begin.finishes import read_wear


def read_sheen(text: str) -> str:
    """Return how much a piece should shine, by the word of the documents."""
    said = " ".join(text.lower().split())
    return LOOK.from_text(ALSO_CALLED.get(said, said))


def read_veneer(text: str) -> float:
    """Return how thick the veneer is, in mm."""
    return read(text, LENGTH)


def _read_over(text: str) -> ProductKind:
    """Return the kind of finish that is on a piece already."""
    return OVER.from_text(text.lower())


def read_day(text: str) -> date:
    """Return the day on which a piece is due."""
    return DAY.from_text(text)


READERS: Mapping[str, Callable[[str], Any]] = MappingProxyType(
    {
        "faces": read_faces,
        "sheen": read_sheen,
        "veneer": read_veneer,
        "wear": read_wear,
        "over": _read_over,
        "due": read_day,
    }
)
"""By the key of the question, each refusing by a RefusalError; a wood, a title and notes may be any
words."""
