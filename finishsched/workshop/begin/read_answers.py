"""What people say of a piece, read in one way wherever it is asked: a form, an option, a word."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from finishsched.documents.formats.schedule import LOOK, OVER
from finishsched.model.kinds import ProductKind
from finishsched.model.readings import ALSO_CALLED, LOOKS
from finishsched.units import LENGTH, read
from finishsched.workshop.begin.face_words import read_faces
from finishsched.workshop.begin.finishes import read_wear


def read_sheen(text: str) -> str:
    """Return how much a piece should shine, by the word of the documents."""
    said = " ".join(text.lower().split())
    look = ALSO_CALLED.get(said, said)
    return look if look in LOOKS else LOOK.from_text(text)


SOLID = ("solid", "solid wood", "none", "no")


def read_veneer(text: str) -> float | None:
    """Return how thick the veneer is, in mm; None for solid wood, where somebody says so."""
    return None if " ".join(text.lower().split()) in SOLID else read(text, LENGTH)


def _read_over(text: str) -> ProductKind:
    """Return the kind of finish that is on a piece already."""
    return OVER.from_text(text.lower())


READERS: Mapping[str, Callable[[str], Any]] = MappingProxyType(
    {
        "faces": read_faces,
        "sheen": read_sheen,
        "veneer": read_veneer,
        "wear": read_wear,
        "over": _read_over,
    }
)
"""By the key of the question, each refusing by a RefusalError; a wood, a title and notes may be any
words, and a day is read by ``read_typed_day``, which knows what day it is."""
