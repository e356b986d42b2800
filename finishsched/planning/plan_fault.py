"""What can be wrong with a problem before it is planned, and what is left of it then."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from finishsched.planning.problem import Problem

Say: TypeAlias = Callable[[str], str]
"""What people call an activity, by its key."""


class FaultKind(StrEnum):
    """What is wrong with a problem."""

    UNKNOWN = "unknown name"
    CYCLE = "cycle"
    BACKWARDS = "window before its wait"
    """A window closes before the least wait is over."""
    TOO_LONG = "longer than any stretch of hours"
    NO_HOURS = "no hours"
    TOO_MUCH = "more than there is"
    NO_WINDOW = "window that no hours can meet"
    PAST_DUE = "due date past"


@dataclass(frozen=True, slots=True)
class PlanFault:
    """One fault, and what would make it possible."""

    kind: FaultKind
    keys: tuple[str, ...]
    """The activities, or the goal, that it is about."""
    minutes: int
    """By how much, where that can be said; else 0."""
    sentence: str
    remedy: str
    """What would make it possible, as an errand: no sentence, no full stop."""
    left_out: tuple[str, ...] = ()
    """The activities that are therefore not planned."""


@dataclass(frozen=True, slots=True)
class Sound:
    """What of a problem can be planned, and what is wrong with it."""

    problem: Problem
    """Without whatever was taken out."""
    faults: tuple[PlanFault, ...]

    @property
    def left_out(self) -> tuple[str, ...]:
        """Every activity that was taken out."""
        gone: set[str] = set()
        for fault in self.faults:
            gone.update(fault.left_out)
        return tuple(sorted(gone))
