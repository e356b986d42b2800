"""What a document lets stand: a rule of the checker that it is silent about, and why."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Accepted:
    """One rule that is not told of in this document."""

    rule: str
    """Its code, such as ``one-face``."""
    because: str
    """Why it does not hold here."""
