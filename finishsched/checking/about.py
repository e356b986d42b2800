"""What of the work a finding is about, so that several rules tell one fault once."""

from __future__ import annotations

from finishsched.checking.cases import PieceCase
from finishsched.checking.moves import Move


def drying(move: Move) -> str:
    """Return the name of what is wrong when a step has too little time to dry."""
    return f"drying {move.path}"


def curing(move: Move) -> str:
    """Return the name of what is wrong when the last film is rubbed or used too young."""
    return f"curing {move.path}"


def cutting(move: Move) -> str:
    """Return the name of what is wrong when an abrasive takes what it must not."""
    return f"cutting {move.path}"


def grade(move: Move) -> str:
    """Return the name of what is wrong when an abrasive is of the wrong grade."""
    return f"grade {move.path}"


def remains(move: Move) -> str:
    """Return the name of what is wrong when nothing takes off what a step left on the face."""
    return f"remains {move.path}"


def veneer(case: PieceCase) -> str:
    """Return the name of what is wrong when paper uses up the face of a piece."""
    return f"veneer {case.path}"
