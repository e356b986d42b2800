"""What is typed to begin a piece or to change something, as the bench's forms offer it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PieceAsked:
    """The answers about a new piece, which read without fault."""

    answers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ChangeAsked:
    """One key of something, and what it is to be; None to take it out."""

    what: str
    key: str
    value: str | None


@dataclass(frozen=True, slots=True)
class LinesAsked:
    """Lines of a notebook, and what the schedule is to be called."""

    text: str
    name: str
