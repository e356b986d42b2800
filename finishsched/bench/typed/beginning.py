"""What is typed to begin a piece or to change something, as the bench's forms offer it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class PieceAsked:
    """The answers about a new piece, which read without fault."""

    answers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class BoardAsked:
    """The answers about a sample board, which read without fault."""

    answers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ChangeAsked:
    """One key of something, and what it is to be; None to take it out."""

    what: str
    key: str
    value: str | None


@dataclass(frozen=True, slots=True)
class StepAsked:
    """A line that is to be a step, after a step or before it, or at the end of a stage."""

    where: str
    line: str
    before: bool


Asked: TypeAlias = PieceAsked | BoardAsked | ChangeAsked | StepAsked
"""What is written into a document."""


@dataclass(frozen=True, slots=True)
class LinesAsked:
    """Lines of a notebook, and what the schedule is to be called."""

    text: str
    name: str
