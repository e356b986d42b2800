"""What the exact planner answers."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from finishsched.planning.problem import Plan


class ExactStatus(StrEnum):
    """How far the exact planner came."""

    OPTIMAL = "optimal"
    """No plan is better; as fine as the grid of time, if that is coarser than the figures."""
    BETTER = "better"
    """A better plan than the one it started from, perhaps not the best."""
    NO_BETTER = "no better"
    """Nothing better was found in the time."""
    INFEASIBLE = "infeasible"
    """Proven: no plan holds every activity and keeps every hard window."""
    STOPPED = "stopped"
    """It was told to stop; the plan is the best up to then."""


@dataclass(frozen=True, slots=True)
class ExactAnswer:
    """The best plan known, and what is proven of it."""

    plan: Plan
    proven: bool
    """That nothing is left out or late by less, and nothing then ends earlier."""
    bound_min: int | None
    """No plan whose promises are kept as well as here is finished before; None when not known."""
    status: ExactStatus


class SolverMissingError(ImportError):
    """The optional solver is not installed."""

    def __init__(self) -> None:
        super().__init__(
            "the exact planner needs a solver that is not installed; "
            "pip install 'finishsched[exact]' adds it"
        )
